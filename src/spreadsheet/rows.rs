//! Records -> rows under their headings: every known column found once, every row with a cell for each heading.

use std::collections::BTreeMap;

use csv::StringRecord;

use crate::diagnostic::{Diagnostic, Gathered, Place};
use crate::length::Unit;
use crate::spreadsheet::heading::{Column, Found, find, nearest, not_understood, words};
use crate::spreadsheet::records::{Record, Table};
use crate::spreadsheet::{Row, Sheet};

/// Puts the rows of `table` under its headings. `None` when there are no headings or no rows.
pub(super) fn assign(
    file: &str,
    table: Table,
    columns: &'static [Column],
    diagnostics: &mut Gathered,
) -> Option<Sheet> {
    let Some(headings) = table.headings else {
        let help = "write a line of headings and a row for each entry";
        diagnostics.push(Diagnostic::error("F103", Place::file(file), "the file is empty".to_string(), help));
        return None;
    };
    let found = match_columns(file, &headings, columns, diagnostics);
    let heading_line = headings.line;
    let width = headings.width;
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
        let line = record.line;
        if let Some(cells) = square_up(file, (&headings, width), record, diagnostics) {
            rows.push(Row { line, number, cells });
        }
    }
    Some(Sheet { file: file.to_string(), heading_line, rows, headings, found })
}

/// The cells of a row that has one for each heading; reports a row that has not. Empty cells too many are what some
/// programs write at the end of a row. `headings` come with their number, empty ones at the end counted.
fn square_up(
    file: &str,
    (headings, want): (&[String], usize),
    record: Record,
    out: &mut Gathered,
) -> Option<StringRecord> {
    let have = record.width;
    let place = || Place::line(file, record.line);
    let surplus = record.cells.len() > want;
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
    for (index, cell) in record.cells.iter().enumerate() {
        if headings.get(index).is_none_or(String::is_empty) && !cell.trim().is_empty() {
            let message = format!("\"{}\" stands in column {}, which has no heading", cell.trim(), index + 1);
            out.push(Diagnostic::error("F111", place(), message, "give the column a heading"));
        }
    }
    Some(record.cells)
}

/// Which column each heading names. One that names none and is nearly the name of a column that is not there is taken as
/// that one; other names are left to the reader.
fn match_columns(
    file: &str,
    headings: &Record,
    columns: &'static [Column],
    out: &mut Gathered,
) -> Vec<Found> {
    let mut found: Vec<Found> = Vec::new();
    // Headings of no known column, by their words.
    let mut others: BTreeMap<Vec<String>, usize> = BTreeMap::new();
    for (index, heading) in headings.cells.iter().enumerate() {
        let earlier = match find(heading, columns) {
            Some((name, unit)) => match found.iter().find(|other| other.name == name) {
                Some(other) => Some(other.index),
                None => {
                    found.push(Found { name, index, unit });
                    None
                }
            },
            None => match words(heading) {
                none if none.is_empty() => None,
                words => {
                    let first = *others.entry(words).or_insert(index);
                    Some(first).filter(|&first| first != index)
                }
            },
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
    let mut unknown: Vec<usize> = others.into_values().collect();
    unknown.sort_unstable();
    for index in unknown {
        let heading = headings.cells[index].trim();
        let free: Vec<&Column> =
            columns.iter().filter(|column| found.iter().all(|other| other.name != column.name)).collect();
        if let Some(name) = nearest(heading, &free) {
            out.push(not_understood(file, headings.line, heading, name));
            let unit = words(heading).last().and_then(|last| Unit::find(last));
            found.push(Found { name, index, unit });
        }
    }
    found
}
