//! Reading a table out of a CSV file that a person keeps: what every reader of the program shares.
//!
//! Knows encodings, delimiters, headings in any order and spelling, line numbers and cells; knows nothing of
//! what the columns mean. Every mistake becomes a diagnostic, and reading goes on.

use csv::StringRecord;

use crate::diagnostic::{Diagnostic, Gathered, Place};
use crate::length::Unit;

mod cells;
mod heading;
mod names;
mod records;
mod rows;
mod text;

pub use cells::{Cells, Reported};
pub use heading::Column;
pub use names::{key, list, near, same_name, tidy};

use heading::Found;

/// Signs with which a spreadsheet program begins a formula, full-width ones included, which some of them read alike.
pub const FORMULA_SIGNS: [char; 8] = ['=', '+', '-', '@', '\u{ff1d}', '\u{ff0b}', '\u{ff0d}', '\u{ff20}'];

/// One data row.
#[derive(Clone, Debug)]
pub struct Row {
    /// Line in the file where it begins, from 1.
    pub line: u64,
    /// Number among the rows below the headings, blank ones not counted, from 1.
    pub number: u32,
    cells: StringRecord,
}

impl Row {
    /// The cell at `index`, without spaces around it.
    pub fn at(&self, index: usize) -> &str {
        self.cells.get(index).map_or("", str::trim)
    }
}

/// A table with known headings; every row has as many cells as there are headings, or fewer when its last ones are empty.
#[derive(Clone, Debug)]
pub struct Sheet {
    /// File name as the user gave it.
    pub file: String,
    /// Line of the headings, from 1.
    pub heading_line: u64,
    /// Rows with content, in file order.
    pub rows: Vec<Row>,
    headings: Vec<String>,
    found: Vec<Found>,
}

impl Sheet {
    /// True when the column `name` is there.
    pub fn has(&self, name: &str) -> bool {
        self.found(name).is_some()
    }

    /// The heading of the column `name` as the user wrote it; the name itself when there is none.
    pub fn heading(&self, name: &str) -> String {
        self.found(name).map_or(name.to_string(), |found| self.headings[found.index].clone())
    }

    /// The unit that the heading of column `name` gives to bare numbers, inches when it names none.
    pub fn unit(&self, name: &str) -> Unit {
        self.found(name).and_then(|found| found.unit).unwrap_or(Unit::Inch)
    }

    /// The cell of `row` under column `name`; empty when there is no such column or only a dash stands there.
    pub fn cell<'r>(&self, row: &'r Row, name: &str) -> &'r str {
        let cell = self.found(name).map_or("", |found| row.at(found.index));
        // An apostrophe before a formula's first sign only says that the cell is text; our own files write it so.
        let text = cell.strip_prefix('\'').filter(|rest| rest.starts_with(FORMULA_SIGNS));
        let cell = text.unwrap_or(cell);
        if matches!(cell, "-" | "\u{2013}" | "\u{2014}") { "" } else { cell }
    }

    /// Place of column `name` in `row`.
    pub fn place(&self, row: &Row, name: &str) -> Place {
        Place::line(&self.file, row.line).field(&self.heading(name))
    }

    /// Index and heading of every column that the reader does not know, in file order.
    pub fn other_columns(&self) -> Vec<(usize, &str)> {
        let known = |index| self.found.iter().any(|found| found.index == index);
        let others =
            self.headings.iter().enumerate().filter(|&(index, heading)| !known(index) && !heading.is_empty());
        others.map(|(index, heading)| (index, heading.as_str())).collect()
    }

    /// Reports a compulsory column that is not there, with the heading that may be meant.
    pub fn require(&self, name: &str, diagnostics: &mut Gathered) {
        if self.has(name) {
            return;
        }
        let others = self.other_columns();
        let close = near(name, others.iter().map(|&(_, heading)| heading));
        let help = match close.first() {
            Some(heading) => format!("rename \"{heading}\" to \"{name}\", if that is what it holds"),
            None => format!("the first line holds the headings: add one called \"{name}\""),
        };
        let place = Place::line(&self.file, self.heading_line).field(name);
        let message = format!("there is no column \"{name}\"");
        diagnostics.push(Diagnostic::error("F109", place, message, &help));
    }

    /// Takes the column at `index`, whose heading says something else, as the column `name`, and says so: its heading was not
    /// understood, and read so every other mistake is told as it will be once that one is mended.
    pub fn take(&mut self, index: usize, name: &'static str, diagnostics: &mut Gathered) {
        let heading = &self.headings[index];
        diagnostics.push(heading::not_understood(&self.file, self.heading_line, heading, name));
        self.found.push(Found { name, index, unit: None });
    }

    /// Notes the columns that the reader does not know and does not carry along.
    pub fn note_unused(&self, diagnostics: &mut Gathered) {
        let others = self.other_columns();
        if others.is_empty() {
            return;
        }
        let names = list(others.iter().map(|&(_, heading)| format!("\"{heading}\"")));
        let place = Place::line(&self.file, self.heading_line);
        diagnostics.push(Diagnostic::note("F110", place, format!("not used here: {names}"), ""));
    }

    fn found(&self, name: &str) -> Option<&Found> {
        self.found.iter().find(|found| found.name == name)
    }
}

/// Reads `bytes` as a table with `columns`.
///
/// The sheet is `None` when there is nothing to read rows from (no text, no rows); what is wrong is in the
/// diagnostics either way. A row with too few or too many cells is reported and left out of the sheet, since
/// its cells stand under the wrong headings.
pub fn read(file: &str, bytes: &[u8], columns: &'static [Column]) -> (Option<Sheet>, Gathered) {
    let mut diagnostics = Gathered::default();
    let Some(text) = text::decode(file, bytes, &mut diagnostics) else {
        return (None, diagnostics);
    };
    if text.chars().all(|sign| sign.is_whitespace() || ",;".contains(sign)) {
        let help = "write a line of headings and a row for each entry";
        diagnostics.push(Diagnostic::error("F103", Place::file(file), "the file is empty".to_string(), help));
        return (None, diagnostics);
    }
    let mut table = records::split(file, &text, columns, &mut diagnostics);
    if !table.keeps_limits(file, &mut diagnostics) {
        return (None, diagnostics);
    }
    let sheet = rows::assign(file, table, columns, &mut diagnostics);
    (sheet, diagnostics)
}
