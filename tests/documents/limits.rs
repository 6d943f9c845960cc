//! The table of what readers take in at most is the one in the code.

use cutcloth::diagnostic::limits::{LIMITS, grouped};

use crate::text_of;

#[test]
fn the_table_of_limits_is_that_of_the_program() {
    let page = text_of("data/files.md");
    let (_, section) = page.split_once("## How much is read").expect("the section");
    let rows: Vec<&str> = section.lines().filter(|line| line.starts_with("| ")).skip(1).collect();
    let expected: Vec<String> = LIMITS
        .iter()
        .map(|limit| format!("| {} | {} | {} |", limit.what, grouped(limit.most), limit.beyond))
        .collect();
    assert_eq!(rows, expected);
}
