//! Every example of the README runs as written; its lists of options and files are complete.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use std::process::{Command, Output};

use tempfile::TempDir;

use crate::fences::{Fence, fences, table};
use crate::text_of;

/// Runs a command line of the README in `folder` with the program that was just built.
fn run(line: &str, folder: &Path) -> Output {
    let words = line.strip_prefix("cargo run --release -- ").or_else(|| line.strip_prefix("cutcloth "));
    let words = words.unwrap_or_else(|| panic!("\"{line}\" is a command of cutcloth"));
    let data = Path::new(env!("CARGO_MANIFEST_DIR")).join("data");
    let words = words.split(' ').map(|word| match word.strip_prefix("data/") {
        Some(inside) => data.join(inside).display().to_string(),
        None => word.to_owned(),
    });
    let output = Command::new(env!("CARGO_BIN_EXE_cutcloth")).args(words).current_dir(folder).output();
    output.unwrap_or_else(|error| panic!("{line}: {error}"))
}

fn said(output: &Output) -> String {
    format!("{}{}", String::from_utf8_lossy(&output.stderr), String::from_utf8_lossy(&output.stdout))
}

fn commands(fences: &[Fence]) -> Vec<&str> {
    fences.iter().filter(|fence| fence.language == "sh").flat_map(|fence| fence.body.lines()).collect()
}

#[test]
fn the_first_two_blocks_are_the_main_job_and_the_tests() {
    let readme = text_of("README.md");
    let fences = fences(&readme);
    assert_eq!((fences[0].language.as_str(), fences[1].language.as_str()), ("sh", "sh"));
    assert_eq!(fences[0].body.lines().count(), 1);
    assert_eq!(fences[1].body, "cargo test\n");
    let folder = TempDir::new().unwrap();
    for time in ["first", "second"] {
        let output = run(fences[0].body.trim_end(), folder.path());
        assert_eq!(output.status.code(), Some(0), "the {time} time: {}", said(&output));
    }
    assert!(readme.contains("`tidepool-plan/sheet.html`"));
    assert!(folder.path().join("tidepool-plan/sheet.html").exists());
    let ignored = text_of(".gitignore");
    assert!(ignored.lines().any(|line| line == "/tidepool-plan"), "the plan of the demo is no source");
}

#[test]
fn every_example_file_is_read_and_every_command_runs() {
    let fences = fences(&text_of("README.md"));
    let folder = TempDir::new().unwrap();
    let mut names = BTreeSet::new();
    for fence in fences.iter().filter(|fence| ["csv", "toml"].contains(&fence.language.as_str())) {
        let name = fence.file.as_ref().unwrap_or_else(|| panic!("no file name before\n{}", fence.body));
        assert!(names.insert(name.clone()), "{name} stands twice");
        fs::write(folder.path().join(name), &fence.body).unwrap();
    }
    assert_eq!(names.len(), 5, "stash, chart, pattern, placements and one with mistakes: {names:?}");
    let mut used = BTreeSet::new();
    let mut last = String::new();
    for fence in &fences {
        if fence.language == "text" {
            for line in fence.body.lines() {
                assert!(last.contains(line), "\"{line}\" is not in\n{last}");
            }
        }
        if fence.language != "sh" {
            continue;
        }
        for line in fence.body.lines().filter(|line| *line != "cargo test") {
            let output = run(line, folder.path());
            let expected = if line.contains("broken") { 2 } else { 0 };
            assert_eq!(output.status.code(), Some(expected), "{line}\n{}", said(&output));
            last = said(&output);
            used.extend(line.split(' ').map(str::to_owned));
        }
    }
    for name in names {
        assert!(used.contains(&name), "no command uses {name}");
    }
}

#[test]
fn the_examples_without_mistakes_need_no_remark() {
    let fences = fences(&text_of("README.md"));
    for fence in fences.iter().filter(|fence| ["csv", "toml"].contains(&fence.language.as_str())) {
        let name = fence.file.as_deref().unwrap();
        let bytes = fence.body.as_bytes();
        let diagnostics = match name {
            "my-stash.csv" => cutcloth::stash::read(name, bytes, cutcloth::length::Length::ZERO).1,
            "my-placements.csv" => cutcloth::placements::read(name, bytes).1,
            "my-chart.csv" | "my-pattern.toml" => cutcloth::pattern::read(name, bytes).1,
            _ => continue,
        };
        assert!(diagnostics.is_empty(), "{diagnostics:?}");
    }
}

/// Words such as `--out` in `text`.
fn options(text: &str) -> BTreeSet<String> {
    let sign = |sign: char| !(sign.is_ascii_lowercase() || sign == '-');
    text.split(sign)
        .filter(|word| word.len() > 3 && word.starts_with("--") && !word.starts_with("---"))
        .map(|word| word.trim_end_matches('-').to_owned())
        .collect()
}

#[test]
fn every_command_and_option_is_in_the_readme_and_no_other() {
    let readme = text_of("README.md");
    let help = |words: &str| {
        let output = Command::new(env!("CARGO_BIN_EXE_cutcloth")).args(words.split(' ')).output().unwrap();
        String::from_utf8(output.stdout).unwrap()
    };
    let top = help("--help");
    let listed = top.split("Commands:\n").nth(1).unwrap().split("\n\n").next().unwrap();
    let names = listed.lines().filter(|line| line.starts_with("  ") && !line.starts_with("   "));
    let mut known = options(&top);
    let mut count = 0;
    for name in names.map(|line| line.split_whitespace().next().unwrap()) {
        assert!(readme.contains(&format!("| `cutcloth {name} ")), "{name} is not in the table");
        known.extend(options(&help(&format!("{name} --help"))));
        count += 1;
    }
    assert_eq!(count, table(&readme, "command").len());
    let mut told = options(&readme);
    for of_cargo in ["--features", "--path", "--release"] {
        told.remove(of_cargo);
    }
    assert_eq!(told, known);
}

#[test]
fn every_file_that_is_written_is_in_the_readme() {
    let readme = text_of("README.md");
    let rows = table(&readme, "file in --out");
    let folder = TempDir::new().unwrap();
    let line = commands(&fences(&readme))[0].replace("pack.csv", "other-pack.csv");
    let output = run(&line, folder.path());
    assert_eq!(output.status.code(), Some(1), "{}", said(&output));
    let mut written = BTreeSet::new();
    for entry in fs::read_dir(folder.path().join("tidepool-plan")).unwrap() {
        written.insert(entry.unwrap().file_name().to_string_lossy().into_owned());
    }
    for name in &written {
        let in_row = |row: &Vec<String>| row[0].trim_end_matches('/') == name;
        assert!(rows.iter().any(in_row), "{name} is not in the table");
    }
    assert!(written.contains("buy.csv"), "something is to be bought here");
}

#[test]
fn every_link_and_picture_leads_to_a_file() {
    for document in ["README.md", "DEVELOPERS.md"] {
        let text = text_of(document);
        let links = text.split("](").skip(1).map(|rest| rest.split(')').next().unwrap());
        for link in links.filter(|link| !link.starts_with("https://") && !link.starts_with('#')) {
            let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(link.split('#').next().unwrap());
            assert!(path.exists(), "{document} links to {link}");
        }
    }
}
