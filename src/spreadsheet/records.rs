//! Text -> records: the delimiter, the headings' row, line numbers, and quotation marks that never close.

use csv::StringRecord;

use crate::diagnostic::limits::{CELL, COLUMNS, ROWS, grouped};
use crate::diagnostic::{Diagnostic, Gathered, Place};
use crate::spreadsheet::heading::{Column, recognised};

/// Delimiters looked for, in order of preference when nothing tells them apart.
const DELIMITERS: [char; 3] = [',', ';', '\t'];
/// Rows searched for the headings; people put a title and a date above them, not a page.
const ROWS_BEFORE_HEADINGS: usize = 10;

/// One record and where it begins.
#[derive(Debug)]
pub(super) struct Record {
    /// Line in the file, from 1.
    pub(super) line: u64,
    /// Blank records between this one and the one before.
    blank_before: usize,
    /// How many cells the row has.
    pub(super) width: usize,
    /// Its cells as written, without the empty ones at the end: some programs write a thousand of those in every row.
    pub(super) cells: StringRecord,
}

/// The records of a file from its headings on, blank ones left out and counted.
#[derive(Debug)]
pub(super) struct Table {
    /// The headings; `None` when every record is blank.
    pub(super) headings: Option<Record>,
    /// The rows below.
    pub(super) rows: Vec<Record>,
    /// Blank records below the headings.
    pub(super) blank: usize,
}

impl Table {
    /// True when it is within the limits; reports each it passes. A row with too long a cell is left out.
    pub(super) fn keeps_limits(&mut self, file: &str, diagnostics: &mut Gathered) -> bool {
        let before = self.rows.len();
        let mut refuse = |line: u64, code: &'static str, message: String, help: &str| {
            diagnostics.push(Diagnostic::error(code, Place::line(file, line), message, help));
        };
        let wrong_file = "check that it is the right file";
        let said = |most: usize| grouped(u64::try_from(most).unwrap_or(u64::MAX));
        let too_wide = self.headings.as_ref().filter(|headings| headings.cells.len() > COLUMNS);
        if let Some(headings) = too_wide {
            let message =
                format!("the table has {} columns; no more than {COLUMNS} are read", headings.cells.len());
            refuse(headings.line, "F115", message, wrong_file);
        }
        let too_many = self.rows.get(ROWS);
        if let Some(row) = too_many {
            let message =
                format!("this row and those below it are more than the {} rows that are read", said(ROWS));
            refuse(row.line, "F117", message, wrong_file);
        }
        let (too_wide, too_many) = (too_wide.is_some(), too_many.is_some());
        let mut short = |record: &Record| {
            // Bytes are at least as many as characters, and quickly counted.
            let mut cells = record.cells.iter().enumerate();
            let long = cells.find(|(_, cell)| cell.len() > CELL && cell.chars().count() > CELL);
            if let Some((index, cell)) = long {
                let letters = said(cell.chars().count());
                let message = format!(
                    "the cell in column {} has {letters} characters; no more than {} are read",
                    index + 1,
                    said(CELL)
                );
                refuse(record.line, "F116", message, "shorten it, or keep that text elsewhere");
            }
            long.is_none()
        };
        let headings = self.headings.as_ref().is_none_or(&mut short);
        self.rows.retain(short);
        headings && !too_wide && !too_many && (before == 0 || !self.rows.is_empty())
    }
}

/// Splits `text` at the delimiter that makes most sense of its headings.
pub(super) fn split(file: &str, text: &str, columns: &[Column], diagnostics: &mut Gathered) -> Table {
    let (text, first_line, declared) = declared_delimiter(text);
    // Headings recognised, then cells in their row; the last of equals wins, so the preferred delimiter comes last.
    let best = DELIMITERS.iter().rev().max_by_key(|&&delimiter| {
        let (top, _) = records(text, delimiter, first_line, ROWS_BEFORE_HEADINGS);
        headings_row(&top, columns).map(|(row, known)| (known, top[row].width))
    });
    let delimiter = declared.or(best.copied()).unwrap_or(',');
    if let Some(line) = unclosed_quote(text, delimiter) {
        diagnostics.push(Diagnostic::error(
            "F107",
            Place::line(file, line + first_line - 1),
            "a cell begins with a quotation mark that is never closed, so the rest of the file would be one cell"
                .to_string(),
            "close the quotation mark; an inch sign inside quotation marks is written twice",
        ));
    }
    // One row more than is allowed, so that it is seen.
    let (mut all, blank_after) = records(text, delimiter, first_line, ROWS_BEFORE_HEADINGS + ROWS + 1);
    let Some((at, _)) = headings_row(&all, columns) else {
        return Table { headings: None, rows: Vec::new(), blank: blank_after };
    };
    let rows = all.split_off(at + 1);
    let headings = all.pop();
    note_lines_above(file, &all, diagnostics);
    let blank = rows.iter().map(|row| row.blank_before).sum::<usize>() + blank_after;
    Table { headings, rows, blank }
}

fn note_lines_above(file: &str, above: &[Record], diagnostics: &mut Gathered) {
    for record in above {
        let words: Vec<&str> =
            record.cells.iter().map(|cell| cell.trim()).filter(|cell| !cell.is_empty()).collect();
        diagnostics.push(Diagnostic::note(
            "F112",
            Place::line(file, record.line),
            format!("\"{}\" stands above the headings and was left out", words.join(" ")),
            "",
        ));
    }
}

/// Some spreadsheet programs write `sep=;` as a first line; it names the delimiter and is no row.
fn declared_delimiter(text: &str) -> (&str, u64, Option<char>) {
    let (first, rest) = text.split_once('\n').unwrap_or((text, ""));
    let sign = first.trim_end().strip_prefix("sep=").and_then(|sign| sign.chars().next());
    match sign.filter(|sign| DELIMITERS.contains(sign)) {
        Some(sign) => (rest, 2, Some(sign)),
        None => (text, 1, None),
    }
}

/// The first of the top rows with most known headings, and how many; the first row with content when none has two.
fn headings_row(records: &[Record], columns: &[Column]) -> Option<(usize, usize)> {
    let top = records.iter().take(ROWS_BEFORE_HEADINGS).enumerate();
    let known = top.map(|(row, record)| (row, recognised(&record.cells, columns)));
    let best = known.filter(|&(_, known)| known >= 2).min_by_key(|&(row, known)| (usize::MAX - known, row));
    best.or_else(|| records.first().map(|first| (0, recognised(&first.cells, columns))))
}

/// At most `most` records of `text` that are not blank, and how many blank ones follow them. A bare line feed, a carriage
/// return and both together end a record.
fn records(text: &str, delimiter: char, first_line: u64, most: usize) -> (Vec<Record>, usize) {
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(u8::try_from(delimiter).unwrap_or(b','))
        .from_reader(text.as_bytes());
    let mut lines = LineCounter { text: text.as_bytes(), at: 0, line: first_line };
    let mut all = Vec::new();
    let mut record = StringRecord::new();
    let mut blank = 0;
    while all.len() < most {
        let start = usize::try_from(reader.position().byte()).unwrap_or(usize::MAX);
        // Text from memory cannot fail to be read, and is UTF-8.
        if !matches!(reader.read_record(&mut record), Ok(true)) {
            break;
        }
        let empty = record.iter().rev().take_while(|cell| cell.trim().is_empty()).count();
        let content = record.len() - empty;
        if content == 0 {
            blank += 1;
            continue;
        }
        let cells = record.iter().take(content).collect();
        let blank_before = std::mem::take(&mut blank);
        all.push(Record { line: lines.at_content(start), blank_before, width: record.len(), cells });
    }
    (all, blank)
}

/// Counts line ends on the way from record to record. The CSV reader's own count is taken before it passes the
/// blank lines and the second half of a line end in front of a record, so it would name the line before.
struct LineCounter<'t> {
    text: &'t [u8],
    at: usize,
    line: u64,
}

impl LineCounter<'_> {
    /// Line of the first byte from `start` on that ends no line.
    fn at_content(&mut self, start: usize) -> u64 {
        let is_end = |byte: u8| byte == b'\n' || byte == b'\r';
        let skipped = self.text.iter().skip(start).take_while(|&&byte| is_end(byte)).count();
        let target = start.saturating_add(skipped).min(self.text.len());
        while self.at < target {
            let byte = self.text[self.at];
            let pair = byte == b'\r' && self.text.get(self.at + 1) == Some(&b'\n');
            if is_end(byte) && !pair {
                self.line += 1;
            }
            self.at += 1;
        }
        self.line
    }
}

/// The line, from 1, of a quotation mark that opens a cell and is never closed (RFC 4180, section 2).
fn unclosed_quote(text: &str, delimiter: char) -> Option<u64> {
    let mut line = 1;
    let mut opened = None;
    let mut at_cell_start = true;
    let mut signs = text.chars().peekable();
    while let Some(sign) = signs.next() {
        let ends_line = sign == '\n' || sign == '\r' && signs.peek() != Some(&'\n');
        match (opened, sign) {
            (Some(_), '"') if signs.peek() == Some(&'"') => {
                signs.next();
            }
            (Some(_), '"') => opened = None,
            (Some(_), _) => {}
            (None, '"') if at_cell_start => {
                opened = Some(line);
                at_cell_start = false;
            }
            (None, _) => at_cell_start = sign == delimiter || sign == '\n' || sign == '\r',
        }
        if ends_line {
            line += 1;
        }
    }
    opened
}

#[cfg(test)]
mod tests {
    use super::*;

    const COLUMNS: &[Column] = &[
        Column { name: "print", spellings: &["fabric"] },
        Column { name: "count", spellings: &["qty"] },
        Column { name: "note", spellings: &[] },
    ];

    fn lines(text: &str) -> Vec<(u64, Vec<String>)> {
        let table = split("a.csv", text, COLUMNS, &mut Gathered::default());
        let cells = |record: &Record| record.cells.iter().map(str::to_string).collect();
        table.headings.iter().chain(&table.rows).map(|record| (record.line, cells(record))).collect()
    }

    #[test]
    fn line_numbers_are_right_with_every_line_end_and_breaks_inside_cells() {
        for end in ["\n", "\r\n", "\r"] {
            let text = ["print,count", "a,1", "", "\"b", "b\",2", "", "", "c,3", ""].join(end);
            let found: Vec<u64> = lines(&text).into_iter().map(|(line, _)| line).collect();
            assert_eq!(found, [1, 2, 4, 8], "{end:?}");
        }
    }

    #[test]
    fn the_delimiter_is_the_one_that_makes_sense_of_the_headings() {
        for delimiter in [",", ";", "\t"] {
            let text = ["print", "count", "note"].join(delimiter) + "\n" + &["a", "1", "x"].join(delimiter);
            assert_eq!(lines(&text)[1].1, ["a", "1", "x"], "{delimiter:?}");
        }
        assert_eq!(lines("print;count;note, with comma\na;1;2,5")[1].1, ["a", "1", "2,5"]);
        assert_eq!(lines("sep=;\nprint;count\na;1")[1], (3, vec!["a".to_string(), "1".to_string()]));
        assert_eq!(lines("print\na")[1].1, ["a"]);
    }

    #[test]
    fn a_title_above_the_headings_is_passed_over_and_said() {
        let mut said = Gathered::default();
        let table = split("a.csv", "My shelf,\n,\nprint,qty\na,1\n,\nb,2\n", COLUMNS, &mut said);
        let diagnostics = said.into_list();
        assert_eq!(table.headings.unwrap().line, 3);
        assert_eq!((table.rows.len(), table.blank), (2, 1));
        assert_eq!(diagnostics.len(), 1);
        assert_eq!((diagnostics[0].code, diagnostics[0].place.line), ("F112", Some(1)));
    }

    #[test]
    fn a_quotation_mark_that_never_closes_is_named_by_its_line() {
        assert_eq!(unclosed_quote("a,b\n\"c\",\"d\"\"\"\n", ','), None);
        assert_eq!(unclosed_quote("a,b\n2 1/2\",x\n", ','), None);
        assert_eq!(unclosed_quote("a,b\r\n\"c\nc\",1\r\n\"d,2\r\ne,3\r\n", ','), Some(4));
    }
}
