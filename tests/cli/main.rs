//! The binary, end to end, in temporary folders.

mod folders;
mod hostile;
mod killed;
mod output;
mod support;
mod verdicts;

use support::{DEMO, Shop, cutcloth, text};

#[test]
fn the_allowance_is_said_as_it_is_taken_wherever_it_can_be_set() {
    for command in ["plan", "need"] {
        let run = cutcloth(&[command, "--help"]);
        let told = text(&run.stdout).split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(
            told.contains(
                "What squaring up takes off the width and, once more, off the length of every sheet"
            )
        );
        assert!(!told.contains("off each side"), "{told}");
    }
}

#[test]
fn help_names_every_command_and_shows_an_example() {
    let run = cutcloth(&["--help"]);
    assert_eq!(run.status.code(), Some(0));
    let said = text(&run.stdout);
    for word in ["plan", "check", "verify", "chart", "cutcloth plan chart.csv --stash pack.csv --out plan"] {
        assert!(said.contains(word), "{word} is missing:\n{said}");
    }
    assert!(said.contains("Exit codes"), "{said}");
}

#[test]
fn a_command_that_does_not_exist_is_a_usage_error() {
    for arguments in
        [&["fly"][..], &[], &["plan"], &["plan", "chart.csv", "--stash", "a.csv", "--layers", "0"]]
    {
        let run = cutcloth(arguments);
        assert_eq!(run.status.code(), Some(2), "{arguments:?}");
        assert!(!run.stderr.is_empty());
    }
}

#[test]
fn options_that_cannot_be_read_say_what_was_expected() {
    for (option, value, expected) in [
        ("--allowance", "1o in", "1o in"),
        ("--allowance", "-1", "below zero"),
        ("--allowance", "2 yd", "0 to 36 in"),
        ("--weights", "wool=3", "scrap, precut, fat-quarter or yardage"),
        ("--units", "ells", "metric"),
    ] {
        let joined = format!("{option}={value}");
        let run = cutcloth(&["plan", "chart.csv", "--stash", "pack.csv", &joined]);
        assert_eq!(run.status.code(), Some(2), "{joined}");
        assert!(text(&run.stderr).contains(expected), "{joined}:\n{}", text(&run.stderr));
    }
}

#[test]
fn bad_input_lists_every_fault_of_every_file_and_writes_nothing() {
    let shop = Shop::new();
    shop.put(
        "chart.csv",
        "block,make,label,role,width,height,count\nUrchin,2,A1,A,4 1/2x,2,1\nUrchin,2,B1,B,2,2,none\n",
    );
    shop.put(
        "stash.csv",
        "print,cut,count\nteal dot,10-inch square,0\nrust leaf,fat quarter,many\n,fat quarter,1\n",
    );
    let run = shop.run(&["plan", "chart.csv", "--stash", "stash.csv", "--out", "out"]);
    assert_eq!(run.status.code(), Some(2));
    let said = text(&run.stderr);
    for fault in [
        "chart.csv, line 2, field \"width\"",
        "chart.csv, line 3, field \"count\"",
        "stash.csv, line 2, field \"count\"",
        "stash.csv, line 3, field \"count\"",
        "stash.csv, line 4, field \"print\"",
    ] {
        assert!(said.contains(fault), "{fault} is missing:\n{said}");
    }
    assert!(!shop.path("out").exists(), "nothing may be written");
    assert!(run.stdout.is_empty(), "no verdict may be shown");
}

#[test]
fn files_that_do_not_exist_are_all_named() {
    let shop = Shop::new();
    let run = shop.run(&["plan", "no-chart.csv", "--stash", "no-stash.csv", "--placements", "no-wall.csv"]);
    assert_eq!(run.status.code(), Some(2));
    for name in ["no-chart.csv", "no-stash.csv", "no-wall.csv"] {
        assert!(text(&run.stderr).contains(name), "{}", text(&run.stderr));
    }
}

#[test]
fn check_knows_each_file_by_its_headings_and_reports_all_at_once() {
    let shop = Shop::small();
    let run = shop.run(&["check", "stash.csv", "chart.csv", "wall.csv"]);
    assert_eq!(run.status.code(), Some(0), "{}", text(&run.stderr));
    let said = text(&run.stdout);
    for line in ["stash.csv: a stash: 2 lots", "chart.csv: a pattern: 2 blocks", "wall.csv: placements"] {
        assert!(said.contains(line), "{line} is missing:\n{said}");
    }
    shop.put("odd.csv", "one,two\n1,2\n");
    shop.put("bad.csv", "print,cut,count\nteal dot,10-inch square,none\n");
    let run = shop.run(&["check", "odd.csv", "bad.csv", "chart.csv"]);
    assert_eq!(run.status.code(), Some(2));
    let said = text(&run.stderr);
    assert!(said.contains("[F113]") && said.contains("bad.csv, line 2"), "{said}");
}

#[test]
fn check_of_all_three_says_when_they_do_not_go_together() {
    let shop = Shop::small();
    shop.put("wall.csv", "block,copy,role,print\nUrchin,1,A,purple whale\n");
    assert_eq!(shop.run(&["check", "wall.csv"]).status.code(), Some(0));
    let run = shop.run(&["check", "stash.csv", "chart.csv", "wall.csv"]);
    assert_eq!(run.status.code(), Some(2));
    assert!(text(&run.stderr).contains("purple whale"));
}

#[test]
fn chart_prints_what_reads_back_as_the_same_chart() {
    let shop = Shop::new();
    let first = cutcloth(&["chart", &format!("{DEMO}/chart.csv")]);
    assert_eq!(first.status.code(), Some(0));
    shop.put("again.csv", &text(&first.stdout));
    let second = shop.run(&["chart", "again.csv"]);
    assert_eq!(text(&first.stdout), text(&second.stdout));
    assert!(text(&first.stdout).starts_with("block,make,label,role,width,height,count"));
    // Metric is exact as well: back in inches it is the same chart.
    let metric = shop.run(&["chart", "again.csv", "--units", "metric"]);
    shop.put("metric.csv", &text(&metric.stdout));
    assert_ne!(metric.stdout, first.stdout);
    assert_eq!(shop.run(&["chart", "metric.csv"]).stdout, first.stdout);
}

#[test]
#[cfg(unix)]
fn a_reader_that_goes_away_is_no_trouble() {
    let chart = format!("{DEMO}/chart.csv");
    let binary = env!("CARGO_BIN_EXE_cutcloth");
    for arguments in [format!("chart {chart}"), "--help".to_owned(), format!("check {chart}")] {
        // The shell closes the reading end at once and hands on the exit code of the writer.
        let script = format!("set -o pipefail; {{ sleep 0.1; {binary} {arguments}; }} | true");
        let run = std::process::Command::new("bash").args(["-c", &script]).output().expect("a shell");
        assert_eq!(run.status.code(), Some(0), "{arguments}: {}", text(&run.stderr));
        assert!(run.stderr.is_empty(), "{arguments}: {}", text(&run.stderr));
    }
}

#[test]
fn control_characters_in_names_do_not_reach_the_terminal() {
    let shop = Shop::new();
    shop.put("chart.csv", "block,make,label,role,width,height,count\nUr\u{1b}[31mchin,1,A1,A,30,30,1\n");
    shop.put("stash.csv", "print,cut\nteal,10-inch square\n");
    let run = shop.run(&["plan", "chart.csv", "--stash", "stash.csv"]);
    assert!(!text(&run.stdout).contains('\u{1b}') && !text(&run.stderr).contains('\u{1b}'));
}
