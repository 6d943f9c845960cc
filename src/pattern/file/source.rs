//! The text being read, and everything found wrong with it so far.

use crate::diagnostic::{Diagnostic, Gathered, Place, Severity};
use crate::length::{Unit, Units};
use crate::spreadsheet::near;

/// A pattern file while it is read.
pub(super) struct Source<'a> {
    file: &'a str,
    line_starts: Vec<usize>,
    /// Unit of bare numbers.
    pub(super) unit: Unit,
    /// What was found, in the order of reading.
    problems: Gathered,
}

/// Codes of pattern problems, each with what it is for.
pub(super) mod code {
    /// The file is not UTF-8 text.
    pub(crate) const NOT_TEXT: &str = "T101";
    /// The text is not TOML.
    pub(crate) const NOT_TOML: &str = "T102";
    /// A key that means nothing here.
    pub(crate) const UNKNOWN_KEY: &str = "T103";
    /// A key that is missing.
    pub(crate) const MISSING: &str = "T104";
    /// A value of the wrong kind (a list for a text, and so on).
    pub(crate) const WRONG_KIND: &str = "T105";
    /// Not a length or a size.
    pub(crate) const NOT_A_LENGTH: &str = "T106";
    /// A number out of range.
    pub(crate) const OUT_OF_RANGE: &str = "T107";
    /// A word that is none of those possible.
    pub(crate) const UNKNOWN_WORD: &str = "T108";
    /// A role that is not declared.
    pub(crate) const UNKNOWN_ROLE: &str = "T109";
    /// One name for two things.
    pub(crate) const NAME_TAKEN: &str = "T110";
    /// A unit that cannot be made as asked.
    pub(crate) const UNIT: &str = "T111";
    /// A place in a row that is nothing known.
    pub(crate) const UNKNOWN_CELL: &str = "T112";
    /// Rows that do not make the size they should.
    pub(crate) const ROWS: &str = "T113";
    /// Two counts of one thing that differ.
    pub(crate) const COUNTS: &str = "T114";
    /// Something that is in no row.
    pub(crate) const NOT_IN_ROWS: &str = "T115";
    /// Rows that contain themselves.
    pub(crate) const CIRCLE: &str = "T116";
    /// A size between two marks of the ruler.
    pub(crate) const OFF_RULER: &str = "T117";
    /// The quilt's layout cannot be worked out.
    pub(crate) const LAYOUT: &str = "T118";
    /// Nothing to cut.
    pub(crate) const EMPTY: &str = "T119";
    /// A length moved to a whole tick.
    pub(crate) const ROUNDED: &str = "T120";
}

impl<'a> Source<'a> {
    pub(super) fn new(file: &'a str, text: &str) -> Source<'a> {
        let breaks = text.bytes().enumerate().filter(|&(_, byte)| byte == b'\n').map(|(at, _)| at + 1);
        let line_starts = std::iter::once(0).chain(breaks).collect();
        Source { file, line_starts, unit: Unit::Inch, problems: Gathered::default() }
    }

    /// The line, from 1, of a byte position.
    pub(super) fn line(&self, at: usize) -> u64 {
        u64::try_from(self.line_starts.partition_point(|&start| start <= at)).unwrap_or(u64::MAX)
    }

    /// How lengths are shown in messages: as the file writes them.
    pub(super) fn units(&self) -> Units {
        match self.unit {
            Unit::Millimetre | Unit::Centimetre | Unit::Metre => Units::Metric,
            _ => Units::Inches,
        }
    }

    /// Notes an error. An empty `field` means the whole line.
    pub(super) fn error(&mut self, code: &'static str, line: u64, field: &str, message: String, help: &str) {
        self.report(code, Severity::Error, Some(line), field, message, help);
    }

    /// Notes something that is likely a mistake but can be read one way.
    pub(super) fn warn(&mut self, code: &'static str, line: u64, field: &str, message: String, help: &str) {
        self.report(code, Severity::Warning, Some(line), field, message, help);
    }

    /// Notes something worth saying.
    pub(super) fn note(&mut self, code: &'static str, line: u64, field: &str, message: String, help: &str) {
        self.report(code, Severity::Note, Some(line), field, message, help);
    }

    /// Notes an error of the whole file.
    pub(super) fn whole_file(&mut self, code: &'static str, message: &str, help: &str) {
        self.report(code, Severity::Error, None, "", message.to_string(), help);
    }

    fn report(
        &mut self,
        code: &'static str,
        severity: Severity,
        line: Option<u64>,
        field: &str,
        message: String,
        help: &str,
    ) {
        let field = (!field.is_empty()).then(|| field.to_string());
        let place = Place { file: self.file.to_string(), line, field };
        self.problems.push(Diagnostic { code, severity, place, message, help: help.to_string() });
    }

    /// Everything found, in the order of the file.
    pub(super) fn into_problems(self) -> Vec<Diagnostic> {
        self.problems.in_file_order(0)
    }

    /// How many errors were found so far.
    pub(super) fn errors(&self) -> usize {
        self.problems.errors()
    }
}

/// `Did you mean "x"?` when something known is near, else `otherwise`.
pub(super) fn did_you_mean<'w>(
    word: &str,
    known: impl IntoIterator<Item = &'w str>,
    otherwise: &str,
) -> String {
    match near(word, known).first() {
        Some(near) => format!("did you mean \"{near}\"?"),
        None => otherwise.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_byte_position_becomes_its_line() {
        let source = Source::new("p.toml", "a\nbb\n\nc");
        let lines: Vec<u64> = [0, 1, 2, 4, 5, 6, 99].into_iter().map(|at| source.line(at)).collect();
        assert_eq!(lines, [1, 1, 2, 2, 3, 4, 4]);
    }
}
