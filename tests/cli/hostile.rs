//! Names in files that would turn, hide or run something where they are shown.

use crate::support::{Shop, all_files, text};

/// Clears the screen and turns what follows; begins like a formula, in full width.
const NAME: &str = "\u{ff1d}teal\u{1b}[2J\u{202e}dot\u{9b}31m";
/// As it is shown.
const SHOWN: &str = "\u{ff1d}teal\u{241b}[2J[U+202E]dot[U+009B]31m";

/// The first sign of `text` that a terminal obeys, that turns what follows, or that ends a line unseen.
fn harmful(text: &str) -> Option<char> {
    let turns = |sign: char| matches!(sign, '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    text.chars().find(|&sign| turns(sign) || sign.is_control() && !matches!(sign, '\n' | '\r' | '\t'))
}

fn shop() -> Shop {
    let shop = Shop::small();
    shop.put(
        "stash.csv",
        &format!(
            "print,cut,count,where,note,own \u{202e}column\n{NAME},10-inch square,1,\u{1b}]0;box\u{7},\u{7f},{NAME}\n\
             \u{ff0b}rust,10-inch square,1,,,@x\n"
        ),
    );
    shop.put(
        "chart.csv",
        &format!(
            "quilt,block,make,label,role,width,height,count,shape,matching\n{NAME},Ur\u{2066}chin,2,A\u{1b}1,\u{1b}[31mA,4 1/2,4 1/2,2,,block\n\
             ,Ur\u{2066}chin,2,B1,B,2 1/2,4 1/2,1,,piece\n"
        ),
    );
    shop
}

#[test]
fn no_sign_that_cannot_be_seen_reaches_the_terminal_or_the_files() {
    let shop = shop();
    for arguments in [
        &["plan", "chart.csv", "--stash", "stash.csv", "--out", "out", "--date", "\u{1b}[5m today"][..],
        &["check", "chart.csv", "stash.csv"],
        &["chart", "chart.csv"],
        &["need", "chart.csv"],
        &["need", "chart.csv", "--format", "csv"],
        &["need", "chart.csv", "--format", "json"],
        &["verify", "out"],
    ] {
        let run = shop.run(arguments);
        assert_eq!(run.status.code(), Some(0), "{arguments:?}: {}", text(&run.stderr));
        for said in [&run.stdout, &run.stderr] {
            assert_eq!(harmful(&text(said)), None, "{arguments:?}: {:?}", text(said));
        }
    }
    let files = all_files(&shop.path("out"));
    let mut names = 0;
    for (name, bytes) in files.iter().filter(|(name, _)| !name.starts_with("inputs/")) {
        let content = text(bytes);
        assert_eq!(harmful(&content), None, "{name}");
        names += content.matches(SHOWN).count();
        if name.ends_with(".csv") {
            let disarmed = content.matches(&format!("'{SHOWN}")).count();
            assert_eq!(disarmed, content.matches(SHOWN).count(), "{name}: {content}");
            assert!(
                !content.contains(",\u{ff0b}rust") && !content.contains("\n\u{ff0b}rust"),
                "{name}: {content}"
            );
        }
    }
    assert!(names > 5, "the name is shown {names} times");
    assert_eq!(shop.get("out/inputs/stash.csv"), shop.get("stash.csv"), "the copies are what was given");
}

#[test]
fn what_a_plan_writes_is_read_again_under_the_names_shown() {
    let shop = shop();
    assert_eq!(
        shop.run(&["plan", "chart.csv", "--stash", "stash.csv", "--out", "out"]).status.code(),
        Some(0)
    );
    assert_eq!(shop.plan(&["--placements", "out/placements.csv", "--force"]).status.code(), Some(0));
    let again = shop.run(&["check", "out/leftovers.csv"]);
    assert_eq!(again.status.code(), Some(0), "{}", text(&again.stdout));
}

#[test]
fn a_message_about_a_name_keeps_to_its_line() {
    let shop = Shop::small();
    shop.put("stash.csv", "print,cut\nteal,\"fat\nstash.csv, line 9: all is well \u{1b}[1A\"\n");
    let run = shop.run(&["check", "stash.csv"]);
    let said = text(&run.stderr);
    assert_eq!(harmful(&said), None);
    assert!(said.contains("\"fat\u{240a}stash.csv, line 9"), "{said}");
    assert_eq!(said.lines().count(), 2, "{said}");
}
