//! What becomes of an answer that cannot be written, and of one that nobody reads.

use std::fs::OpenOptions;
use std::process::{Command, Output, Stdio};

use crate::support::{Shop, text};

/// Every command that answers on standard output, with its usual exit code.
const COMMANDS: &[(&[&str], i32)] = &[
    (&["plan", "chart.csv", "--stash", "stash.csv"], 0),
    (&["plan", "chart.csv", "--stash", "little.csv"], 1),
    (&["check", "chart.csv", "stash.csv"], 0),
    (&["verify", "out"], 0),
    (&["verify", "broken"], 1),
    (&["chart", "chart.csv"], 0),
    (&["need", "chart.csv"], 0),
    (&["need", "chart.csv", "--format", "csv"], 0),
    (&["need", "chart.csv", "--format", "json"], 0),
    (&["need", "chart.csv", "--stash", "little.csv"], 0),
    (&["--help"], 0),
    (&["plan", "--help"], 0),
    (&["--version"], 0),
];

fn shop() -> Shop {
    let shop = Shop::small();
    shop.put("little.csv", "print,cut\nteal dot,10-inch square\n");
    assert_eq!(shop.plan(&[]).status.code(), Some(0));
    for (name, bytes) in crate::support::all_files(&shop.path("out")) {
        shop.put(&format!("broken/{name}"), &text(&bytes).replace("\"fits\"", "\"impossible\""));
    }
    shop
}

fn run(shop: &Shop, arguments: &[&str], stdout: Stdio) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_cutcloth"));
    let child =
        command.args(arguments).current_dir(shop.path("")).stdout(stdout).stderr(Stdio::piped()).spawn();
    child.expect("the program starts").wait_with_output().expect("it ends")
}

#[test]
fn an_answer_that_cannot_be_written_is_told_and_ends_in_2() {
    if !std::path::Path::new("/dev/full").exists() {
        return;
    }
    let shop = shop();
    for (arguments, _) in COMMANDS {
        let full = OpenOptions::new().write(true).open("/dev/full").expect("a full disk");
        let run = run(&shop, arguments, full.into());
        assert_eq!(run.status.code(), Some(2), "{arguments:?}: {}", text(&run.stderr));
        assert!(
            text(&run.stderr).contains("the answer could not be written"),
            "{arguments:?}: {}",
            text(&run.stderr)
        );
    }
}

#[test]
fn a_reader_that_has_gone_away_is_no_trouble() {
    let shop = shop();
    for (arguments, usual) in COMMANDS {
        let (reader, writer) = std::io::pipe().expect("a pipe");
        drop(reader);
        let run = run(&shop, arguments, writer.into());
        assert_eq!(run.status.code(), Some(*usual), "{arguments:?}");
        assert_eq!(text(&run.stderr), "", "{arguments:?}");
    }
}
