//! Every example of the README and of the page on files runs as written; links lead to files.

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

/// The pages whose examples a reader may copy.
const PAGES: [&str; 2] = ["README.md", "data/files.md"];

/// The example files of a page by name.
fn examples(fences: &[Fence]) -> Vec<(&str, &Fence)> {
    let data = fences.iter().filter(|fence| ["csv", "toml"].contains(&fence.language.as_str()));
    data.map(|fence| {
        (fence.file.as_deref().unwrap_or_else(|| panic!("no file name before\n{}", fence.body)), fence)
    })
    .collect()
}

#[test]
fn every_example_file_is_read_and_every_command_runs() {
    for (page, files) in PAGES.into_iter().zip([2, 5]) {
        let fences = fences(&text_of(page));
        let folder = TempDir::new().unwrap();
        let mut names = BTreeSet::new();
        for (name, fence) in examples(&fences) {
            assert!(names.insert(name), "{page}: {name} stands twice");
            fs::write(folder.path().join(name), &fence.body).unwrap();
        }
        assert_eq!(names.len(), files, "{page}: {names:?}");
        let mut used = BTreeSet::new();
        let mut last = String::new();
        for fence in &fences {
            if fence.language == "text" {
                for line in fence.body.lines() {
                    assert!(last.contains(line), "{page}: \"{line}\" is not in\n{last}");
                }
            }
            if fence.language != "sh" {
                continue;
            }
            for line in fence.body.lines().filter(|line| *line != "cargo test") {
                let output = run(line, folder.path());
                let expected = if line.contains("broken") { 2 } else { 0 };
                assert_eq!(output.status.code(), Some(expected), "{page}: {line}\n{}", said(&output));
                last = said(&output);
                used.extend(line.split(' ').map(str::to_owned));
            }
        }
        for name in names {
            assert!(used.contains(name), "{page}: no command uses {name}");
        }
    }
}

#[test]
fn the_examples_without_mistakes_need_no_remark() {
    for page in PAGES {
        for (name, fence) in examples(&fences(&text_of(page))) {
            let bytes = fence.body.as_bytes();
            let diagnostics = match name {
                "my-stash.csv" => cutcloth::stash::read(name, bytes, cutcloth::length::Length::ZERO).1,
                "my-placements.csv" => cutcloth::placements::read(name, bytes).1,
                "my-chart.csv" | "my-pattern.toml" => cutcloth::pattern::read(name, bytes).1,
                _ => continue,
            };
            assert!(diagnostics.is_empty(), "{page}: {diagnostics:?}");
        }
    }
}

#[test]
fn every_file_that_is_written_is_listed() {
    let rows = table(&text_of("data/commands.md"), "file in --out");
    let folder = TempDir::new().unwrap();
    let readme = fences(&text_of("README.md"));
    let output = run(&readme[0].body.trim_end().replace("pack.csv", "other-pack.csv"), folder.path());
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
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut documents: Vec<_> =
        ["README.md", "DEVELOPERS.md", "benches/README.md"].map(|name| root.join(name)).into();
    let pages = fs::read_dir(root.join("data")).unwrap().map(|entry| entry.unwrap().path());
    documents.extend(pages.filter(|path| path.extension().is_some_and(|extension| extension == "md")));
    assert!(documents.len() > 7, "the pages of data were found");
    for document in documents {
        let text = fs::read_to_string(&document).unwrap();
        let links = text.split("](").skip(1).map(|rest| rest.split(')').next().unwrap());
        for link in links.filter(|link| !link.starts_with("https://") && !link.starts_with('#')) {
            let path = document.parent().unwrap().join(link.split('#').next().unwrap());
            assert!(path.exists(), "{} links to {link}", document.display());
        }
    }
}
