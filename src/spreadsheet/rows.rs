//! Records -> rows under their headings: every known column found once, every row with a cell for each heading.

use crate::diagnostic::{Diagnostic, Place};
use crate::spreadsheet::heading::{Column, Found, find, words};
use crate::spreadsheet::records::{Record, Table};
use crate::spreadsheet::{Row, Sheet};

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
