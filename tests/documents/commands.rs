//! data/commands.md holds the help of every command as the program prints it, so that no option can drift from it.
//! `CUTCLOTH_WRITE=1 cargo test --test documents` writes the page anew.

use std::process::Command;

use crate::fences::{fences, table};
use crate::text_of;

fn help(words: &[&str]) -> String {
    let output = Command::new(env!("CARGO_BIN_EXE_cutcloth")).args(words).arg("--help").output().unwrap();
    assert!(output.status.success(), "{words:?}");
    let help = String::from_utf8(output.stdout).unwrap();
    help.lines().map(|line| line.trim_end().to_owned() + "\n").collect()
}

/// The commands that the program lists.
fn commands() -> Vec<String> {
    let top = help(&[]);
    let listed = top.split("Commands:\n").nth(1).unwrap().split("\n\n").next().unwrap();
    let names = listed.lines().filter(|line| line.starts_with("  ") && !line.starts_with("   "));
    names.map(|line| line.split_whitespace().next().unwrap().to_owned()).collect()
}

/// Between these two lines stands what the program prints.
const FROM: &str = "Their help, as the program prints it.\n";
const TO: &str = "## More about `need`\n";

#[test]
fn the_help_of_every_command_stands_on_its_page() {
    let page = text_of("data/commands.md");
    let commands = commands();
    assert!(commands.len() >= 5, "{commands:?}");
    let mut parts = vec![format!("\n```help\n{}```\n", help(&[]))];
    parts.extend(commands.iter().map(|name| format!("\n## `{name}`\n\n```help\n{}```\n", help(&[name]))));
    let now = parts.concat() + "\n";
    let (before, rest) = page.split_once(FROM).expect("the line before the help");
    let (told, after) = rest.split_once(TO).expect("the heading after the help");
    if std::env::var_os("CUTCLOTH_WRITE").is_some() {
        let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("data/commands.md");
        std::fs::write(path, [before, FROM, &now, TO, after].concat()).unwrap();
        return;
    }
    assert_eq!(told, now, "write the page anew: CUTCLOTH_WRITE=1 cargo test --test documents");
    assert_eq!(fences(&page).iter().filter(|fence| fence.language == "help").count(), commands.len() + 1);
}

#[test]
fn every_way_a_command_may_end_is_listed() {
    let rows = table(&text_of("data/commands.md"), "exit code");
    let told: Vec<&str> = rows.iter().map(|row| row[0].as_str()).collect();
    let top = help(&[]);
    let codes = top.split("Exit codes:").nth(1).unwrap().split(". The first").next().unwrap();
    let known: Vec<&str> = codes
        .split([' ', ';', '\n'])
        .filter(|word| !word.is_empty() && word.chars().all(|sign| sign.is_ascii_digit()))
        .collect();
    assert!(known.len() >= 6, "{known:?}");
    assert!(known.iter().all(|code| told.contains(code)) && told.len() == known.len(), "{told:?} {known:?}");
}
