//! The tables of DEVELOPERS.md and of data/messages.md are those of the sources, and the guides stay short.

use std::collections::BTreeSet;

use cutcloth::diagnostic::CODES;
use cutcloth::verifying::Rule;

use crate::fences::{fences, table};
use crate::text_of;

/// The words between quotation marks.
fn quoted(text: &str) -> Vec<String> {
    text.split('"').skip(1).step_by(2).map(str::to_owned).collect()
}

/// Keys and values of the sections of Cargo.toml under `heading`.
fn keys_of(heading: &str) -> Vec<(String, String)> {
    let manifest = text_of("Cargo.toml");
    let mut inside = false;
    let mut keys = Vec::new();
    for line in manifest.lines() {
        if line.starts_with('[') {
            inside = line == heading;
        } else if let (true, Some((key, value))) = (inside, line.split_once(" = ")) {
            keys.push((key.to_owned(), value.to_owned()));
        }
    }
    keys
}

#[test]
fn the_module_arrows_are_those_that_are_tested() {
    let test = text_of("tests/architecture/main.rs");
    let list = test.split("const ARROWS").nth(1).unwrap().split("];").next().unwrap();
    // An entry too long for one line begins on the next.
    let list: String = list.split_whitespace().collect();
    let tested: Vec<(String, BTreeSet<String>)> = list
        .split("(\"")
        .skip(1)
        .map(|entry| {
            let mut names = quoted(&format!("\"{entry}")).into_iter();
            (names.next().unwrap(), names.collect())
        })
        .collect();
    assert!(tested.len() > 10, "the list was found");
    let developers = text_of("DEVELOPERS.md");
    let fences = fences(&developers);
    let arrows = fences.iter().find(|fence| fence.language == "arrows").expect("a block of arrows");
    let told: Vec<(String, BTreeSet<String>)> = arrows
        .body
        .lines()
        .map(|line| {
            let (module, uses) = line.split_once("->").unwrap_or_else(|| panic!("{line} is an arrow"));
            let uses = uses.split(',').map(|name| name.trim().to_owned());
            (module.trim().to_owned(), uses.filter(|name| name != "nothing").collect())
        })
        .collect();
    assert_eq!(told, tested);
}

#[test]
fn every_dependency_has_its_sentence() {
    let mut used = BTreeSet::new();
    for section in ["[dependencies]", "[target.'cfg(unix)'.dependencies]", "[dev-dependencies]"] {
        used.extend(keys_of(section).into_iter().map(|(name, _)| name));
    }
    assert!(used.contains("serde"), "the section was found");
    let rows = table(&text_of("DEVELOPERS.md"), "crate");
    let told: BTreeSet<String> = rows.iter().map(|row| row[0].clone()).collect();
    assert_eq!(told, used);
    assert!(rows.iter().all(|row| row[1].ends_with('.')), "a sentence each");
}

#[test]
fn the_codes_of_the_readers_are_listed_with_their_meaning() {
    let rows = table(&text_of("data/messages.md"), "code");
    let told: Vec<(&str, &str)> = rows.iter().map(|row| (row[0].as_str(), row[1].as_str())).collect();
    assert_eq!(told, CODES);
}

#[test]
fn the_rules_of_the_check_are_listed_with_their_codes() {
    let rows = table(&text_of("data/messages.md"), "rule");
    let told: Vec<(&str, &str)> = rows.iter().map(|row| (row[0].as_str(), row[1].as_str())).collect();
    let known: Vec<(&str, &str)> = Rule::ALL.iter().map(|rule| (rule.code(), rule.says())).collect();
    assert_eq!(told, known);
}

#[test]
fn every_source_folder_and_bench_is_named() {
    let developers = text_of("DEVELOPERS.md");
    let library = text_of("src/lib.rs");
    for module in library.lines().filter_map(|line| line.strip_prefix("pub mod ")) {
        let name = module.trim_end_matches(';');
        assert!(developers.contains(&format!("`{name}`")), "{name} is not explained");
    }
    let benches = keys_of("[[bench]]");
    for (_, name) in benches.iter().filter(|(key, _)| key == "name") {
        let name = name.trim_matches('"');
        assert!(developers.contains(&format!("cargo bench --bench {name}")), "{name} is not explained");
    }
    assert!(benches.len() >= 3, "the section was found");
}

/// The guides are read by newcomers: what is longer belongs beside the data it describes.
#[test]
fn the_guides_stay_short() {
    assert!(text_of("README.md").lines().count() <= 150);
    assert!(text_of("DEVELOPERS.md").len() <= 20_000);
}
