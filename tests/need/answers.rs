//! The answer as text, CSV and JSON.

use crate::jobs::no_spare;
use cutcloth::app::Given;
use cutcloth::app::need::{Asked, Format, Requirement};
use cutcloth::app::run::Failure;
use cutcloth::diagnostic::Diagnostic;
use cutcloth::length::Length;
use cutcloth::need::{Assumptions, Spare};

fn chart() -> Given {
    let rows = "block,make,label,role,width,height,count\nall,1,=A1,sea,4 1/2,4 1/2,60\n";
    Given { name: "squares.csv".to_owned(), bytes: rows.as_bytes().to_vec() }
}

fn written(format: Format) -> String {
    let mut how = no_spare(Length::from_inches(40));
    how.spare = Spare::default();
    let answer = asked(&chart(), &how).expect("it can be worked out");
    assert!(answer.said.iter().all(|one| !one.is_error()));
    String::from_utf8(answer.written(format)).expect("text")
}

/// The requirement of `file` in its main size.
pub(crate) fn asked(file: &Given, how: &Assumptions) -> Result<Requirement, Vec<Diagnostic>> {
    Requirement::of(&Asked { pattern: file, size: None, how, owned: None }).map_err(|failure| match failure {
        Failure::Inputs(said) => said,
        Failure::Internal(said) => panic!("{said:?}"),
    })
}

#[test]
fn the_text_shows_every_step_from_strips_to_the_shop() {
    let text = written(Format::Text);
    for part in [
        "usable width 40 in",
        "1 in for squaring up each fabric",
        "rounded up to 1/8 yd",
        "8 strips 4 1/2 in deep = 36 in",
        "7 with 8 x =A1",
        "36 in + 1 in squaring up = 37 in, up to 1 1/8 yd (40 1/2 in), 3 1/2 in over",
        "1 yd by strips is too little at 40 in; it works from 40 1/2 in",
        "at 42 in: 1 yd by strips (31 1/2 in)",
        "no cutting takes less",
    ] {
        assert!(text.contains(part), "{part:?} is not in\n{text}");
    }
}

#[test]
fn the_csv_has_a_row_for_each_width() {
    let text = written(Format::Csv);
    let mut rows = csv::Reader::from_reader(text.as_bytes());
    let rows: Vec<csv::StringRecord> = rows.records().map(|row| row.expect("a row")).collect();
    assert_eq!(rows.len(), 2);
    assert_eq!((&rows[0][0], &rows[0][2], &rows[0][7]), ("sea", "40 in", "1 1/8 yd"));
    assert_eq!((&rows[1][2], &rows[1][7]), ("42 in", "1 yd"));
}

#[test]
fn the_json_is_exact() {
    let value: serde_json::Value = serde_json::from_str(&written(Format::Json)).expect("JSON");
    assert_eq!(value["format"], "cutcloth-need");
    let fabric = &value["fabrics"][0];
    assert_eq!(fabric["at"]["by_strips"]["exact"], 36 * 8128);
    assert_eq!(fabric["at"]["by_strips"]["text"], "1 1/8 yd");
    assert_eq!(fabric["works_from"][1]["from_width"], 81 * 4064);
    assert_eq!(fabric["at"]["proved"], true);
}

#[test]
fn what_has_no_answer_is_told_like_any_mistake_in_a_file() {
    let how = no_spare(Length::from_inches(4));
    let said = asked(&chart(), &how).expect_err("4 in is too narrow");
    assert_eq!(said.iter().filter(|one| one.is_error()).map(|one| one.code).collect::<Vec<_>>(), ["N100"]);
}

#[test]
fn the_cuts_of_the_least_length_can_be_listed() {
    let rows = "block,make,label,role,width,height,count\n\
                all,1,tall,sea,4 1/2,8 1/2,3\nall,1,small,sea,4,4,12\n";
    let file = Given { name: "shared.csv".to_owned(), bytes: rows.as_bytes().to_vec() };
    let mut how = no_spare(Length::from_inches(40));
    how.cutting = true;
    let answer = asked(&file, &how).expect("it can be worked out");
    let text = String::from_utf8(answer.written(Format::Text)).expect("text");
    assert!(text.contains("in working order:\n    1. of the part 40 x "), "{text}");
    let value: serde_json::Value = serde_json::from_slice(&answer.written(Format::Json)).expect("JSON");
    let at = &value["fabrics"][0]["at"];
    assert_eq!(at["layout"].as_array().map(Vec::len), Some(15), "every piece has its place");
    assert!(at["at_least"]["exact"].as_i64() < at["by_strips"]["exact"].as_i64());
}

#[test]
fn a_label_that_means_two_sizes_is_told_with_its_block() {
    let rows = "block,make,label,role,width,height,count\n\
                sail,1,A1,sea,4,4,3\nsail,1,A2,sea,3,3,1\nmast,2,A1,sea,2,6,1\nmast,2,A2,sea,3,3,1\n";
    let file = Given { name: "two.csv".to_owned(), bytes: rows.as_bytes().to_vec() };
    let answer = asked(&file, &no_spare(Length::from_inches(40))).expect("it can be worked out");
    let text = String::from_utf8(answer.written(Format::Text)).expect("text");
    for part in ["3 x A1 of sail (4 x 4 in)", "2 x A1 of mast (2 x 6 in)", "3 x A2 (3 x 3 in)"] {
        assert!(text.contains(part), "{part:?} is not in\n{text}");
    }
}
