//! Headings as people write them -> the columns a reader knows.

use crate::diagnostic::{Diagnostic, Place};
use crate::length::Unit;
use crate::spreadsheet::records::{Record, Table};
use crate::spreadsheet::{Row, Sheet};

/// A column a reader knows.
#[derive(Clone, Copy, Debug)]
pub struct Column {
    /// Its name in this program.
    pub name: &'static str,
    /// Other headings people give it, in lower case, words parted by one space.
    pub spellings: &'static [&'static str],
}

/// A known column and where it stands.
#[derive(Clone, Debug)]
pub(super) struct Found {
    pub(super) name: &'static str,
    pub(super) index: usize,
    pub(super) unit: Option<Unit>,
}

/// How many of `cells` are headings of different `columns`.
pub(super) fn recognised(cells: &[String], columns: &[Column]) -> usize {
    let mut names: Vec<&str> =
        cells.iter().filter_map(|cell| find(cell, columns)).map(|(name, _)| name).collect();
    names.sort_unstable();
    names.dedup();
    names.len()
}

/// Puts the rows of `table` under its headings. `None` when there are no headings or no rows.
pub(super) fn assign(
    file: &str,
    table: Table,
    columns: &[Column],
    diagnostics: &mut Vec<Diagnostic>,
) -> Option<Sheet> {
    let Some(headings) = table.headings else {
        let help = "write a line of headings and a row for each entry";
        diagnostics.push(Diagnostic::error("F103", Place::file(file), "the file is empty".to_string(), help));
        return None;
    };
    let found = match_columns(file, &headings, columns, diagnostics);
    let heading_line = headings.line;
    let headings: Vec<String> = headings.cells.iter().map(|cell| cell.trim().to_string()).collect();
    if table.rows.is_empty() {
        let message = "there are headings and no rows below them".to_string();
        let place = Place::line(file, heading_line);
        diagnostics.push(Diagnostic::error("F104", place, message, "write a row for each entry"));
        return None;
    }
    if table.blank > 0 {
        let message = match table.blank {
            1 => "one blank row was left out".to_string(),
            many => format!("{many} blank rows were left out"),
        };
        diagnostics.push(Diagnostic::note("F108", Place::file(file), message, ""));
    }
    let mut rows = Vec::new();
    for (number, record) in (1..).zip(table.rows) {
        if let Some(cells) = square_up(file, &headings, &record, diagnostics) {
            rows.push(Row { line: record.line, number, cells });
        }
    }
    Some(Sheet { file: file.to_string(), heading_line, rows, headings, found })
}

/// The cells of a row, as many as there are headings; reports a row that has not. Empty cells too many are
/// what some programs write at the end of a row, and are dropped.
fn square_up(
    file: &str,
    headings: &[String],
    record: &Record,
    out: &mut Vec<Diagnostic>,
) -> Option<Vec<String>> {
    let (have, want) = (record.cells.len(), headings.len());
    let place = || Place::line(file, record.line);
    let surplus = record.cells.iter().skip(want).any(|cell| !cell.trim().is_empty());
    if have < want || surplus {
        let message = format!("the row has {have} cells, the headings {want}");
        let help = if surplus {
            "put quotation marks around a cell that contains the delimiter, or remove what is too much"
        } else {
            "add the missing cells, empty if need be"
        };
        out.push(Diagnostic::error("F106", place(), message, help));
        return None;
    }
    let cells: Vec<String> = record.cells.iter().take(want).cloned().collect();
    for (index, (heading, cell)) in headings.iter().zip(&cells).enumerate() {
        if heading.is_empty() && !cell.trim().is_empty() {
            let message = format!("\"{}\" stands in column {}, which has no heading", cell.trim(), index + 1);
            out.push(Diagnostic::error("F111", place(), message, "give the column a heading"));
        }
    }
    Some(cells)
}

fn match_columns(file: &str, headings: &Record, columns: &[Column], out: &mut Vec<Diagnostic>) -> Vec<Found> {
    let mut found: Vec<Found> = Vec::new();
    for (index, heading) in headings.cells.iter().enumerate() {
        let earlier = match find(heading, columns) {
            Some((name, unit)) => match found.iter().find(|other| other.name == name) {
                Some(other) => Some(other.index),
                None => {
                    found.push(Found { name, index, unit });
                    None
                }
            },
            None => {
                let same = |other: &String| !words(heading).is_empty() && words(other) == words(heading);
                headings.cells.iter().take(index).position(same)
            }
        };
        if let Some(earlier) = earlier {
            let message = format!(
                "columns {} and {} mean the same: \"{}\" and \"{}\"",
                earlier + 1,
                index + 1,
                headings.cells[earlier].trim(),
                heading.trim()
            );
            let place = Place::line(file, headings.line).field(heading.trim());
            out.push(Diagnostic::error("F105", place, message, "remove or rename one of them"));
        }
    }
    found
}

/// The column `heading` names, and the unit it gives to bare numbers, as in `Width (cm)`.
fn find(heading: &str, columns: &[Column]) -> Option<(&'static str, Option<Unit>)> {
    let all = words(heading);
    let named = |words: &[String]| {
        let joined = words.join(" ");
        let same = |column: &&Column| column.name == joined || column.spellings.contains(&joined.as_str());
        columns.iter().find(same).map(|column| column.name)
    };
    if let Some(name) = named(&all) {
        return Some((name, None));
    }
    let (last, before) = all.split_last()?;
    let unit = Unit::find(last)?;
    // "width in cm"
    let before = before.strip_suffix(&["in".to_string()]).unwrap_or(before);
    named(before).map(|name| (name, Some(unit)))
}

/// The words of a heading in lower case, signs dropped; an inch sign in brackets is a word of its own.
fn words(heading: &str) -> Vec<String> {
    let signs: String = heading
        .to_lowercase()
        .chars()
        .map(|c| if matches!(c, '"' | '\u{201d}' | '\u{2033}') { "  in ".to_string() } else { c.to_string() })
        .collect();
    signs
        .split(|c: char| !c.is_alphanumeric() && c != '#')
        .filter(|w| !w.is_empty())
        .map(str::to_string)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const COLUMNS: &[Column] = &[
        Column { name: "print", spellings: &["fabric name"] },
        Column { name: "width", spellings: &["w", "width across"] },
    ];

    #[test]
    fn headings_are_found_in_any_case_and_with_units() {
        assert_eq!(find(" PRINT ", COLUMNS), Some(("print", None)));
        assert_eq!(find("Fabric_name:", COLUMNS), Some(("print", None)));
        assert_eq!(find("Width (cm)", COLUMNS), Some(("width", Some(Unit::Centimetre))));
        assert_eq!(find("W [\"]", COLUMNS), Some(("width", Some(Unit::Inch))));
        assert_eq!(find("width in mm", COLUMNS), Some(("width", Some(Unit::Millimetre))));
        assert_eq!(find("width in", COLUMNS), Some(("width", Some(Unit::Inch))));
        assert_eq!(find("printed", COLUMNS), None);
        assert_eq!(find("", COLUMNS), None);
    }
}
