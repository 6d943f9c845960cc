//! A pattern of several sizes has one column for each, with the amounts of a pattern of that size alone.

use crate::jobs::no_spare;
use cutcloth::app::Given;
use cutcloth::app::need::{Asked, Format, Requirement};
use cutcloth::length::Length;
use cutcloth::need::{Assumptions, Borders, need};
use cutcloth::pattern::{Pattern, read_toml};

const QUILT: &str = r#"
[quilt]
name = "Rock pools"
size = "throw"
[role]
A = "weed"
B = "water"
[[block]]
name = "Pool"
finished = "8 in"
rows = ["A B", "B A"]
[layout]
across = 4
down = 5
[[layout.border]]
width = "3 in"
role = "B"
[[size]]
name = "baby"
across = 3
down = 4
border = []
[[size]]
name = "bed"
across = 7
down = 9
"#;

fn how() -> Assumptions {
    no_spare(Length::from_inches(42))
}

fn pattern() -> Pattern {
    let (pattern, problems) = read_toml("pools.toml", QUILT.as_bytes());
    assert!(problems.is_empty(), "{problems:?}");
    pattern
}

fn answer(size: Option<&str>, how: &Assumptions) -> Requirement {
    let file = Given { name: "pools.toml".to_owned(), bytes: QUILT.as_bytes().to_vec() };
    Requirement::of(&Asked { pattern: &file, size, how, owned: None }).expect("it can be worked out")
}

fn text(size: Option<&str>, how: &Assumptions) -> String {
    String::from_utf8(answer(size, how).written(Format::Text)).expect("text")
}

/// Amounts by strips of every fabric of a size, worked out for that size alone.
fn amounts(index: usize) -> Vec<String> {
    let alone = pattern().at_size(index).expect("a size");
    let answer = need(&alone, &how()).expect("it can be worked out");
    answer.roles.iter().map(|role| role.at.by_strips.amount.show()).collect()
}

#[test]
fn the_text_has_a_column_for_every_size() {
    let text = text(None, &how());
    let table: Vec<&str> = text.lines().skip_while(|line| !line.starts_with("Every size")).take(5).collect();
    assert!(table[1].contains("throw, 38 x 46 in"), "{text}");
    assert!(table[1].contains("baby, 24 x 32 in") && table[1].contains("bed, 62 x 78 in"), "{text}");
    for (row, line) in table[2..4].iter().enumerate() {
        let mut rest = *line;
        for size in 0..3 {
            let amount = &amounts(size)[row];
            let at = rest.find(amount.as_str()).unwrap_or_else(|| panic!("{amount} is not in {line}"));
            rest = &rest[at + amount.len()..];
        }
    }
    assert!(amounts(1) != amounts(0) && amounts(2) != amounts(0), "the sizes differ");
}

#[test]
fn csv_and_json_have_every_size_whichever_is_told_in_full() {
    let how = how();
    for size in [None, Some("bed")] {
        let answer = answer(size, &how);
        let csv = String::from_utf8(answer.written(Format::Csv)).expect("text");
        let mut rows = csv::Reader::from_reader(csv.as_bytes());
        let headings = rows.headers().expect("headings").clone();
        let row = rows.records().next().expect("a row").expect("a row");
        let json: serde_json::Value = serde_json::from_slice(&answer.written(Format::Json)).expect("JSON");
        assert_eq!(json["size"], size.unwrap_or("throw"));
        for (index, name) in ["throw", "baby", "bed"].into_iter().enumerate() {
            let column = headings.iter().position(|cell| cell == format!("{name}: buy by strips"));
            assert_eq!(row[column.expect("a column")], amounts(index)[0]);
            let there = &json["sizes"][index];
            assert_eq!(there["name"], name);
            assert_eq!(there["fabrics"][0]["at"]["by_strips"]["text"], amounts(index)[0].as_str());
        }
        assert_eq!(
            json["fabrics"][0]["at"]["by_strips"]["text"],
            amounts(if size.is_some() { 2 } else { 0 })[0].as_str()
        );
    }
}

#[test]
fn a_size_that_has_no_answer_is_a_warning_with_its_name() {
    let how = Assumptions { borders: Borders::Crosswise, joins: false, ..how() };
    let answer = answer(None, &how);
    let said: Vec<String> = answer.said.iter().map(ToString::to_string).collect();
    assert_eq!(said.len(), 1, "{said:?}");
    assert!(said[0].contains("size \"bed\": border 1 needs 72 1/2 in"), "{said:?}");
    assert!(answer.said.iter().all(|one| !one.is_error()));
    assert!(text(None, &how).lines().any(|line| line.starts_with("  A ") && line.ends_with('-')));
}
