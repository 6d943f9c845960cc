//! Cells -> values: lengths, counts, yes or no, one word of several. What cannot be read is reported at once.

use crate::diagnostic::limits::{COUNT, grouped};
use crate::diagnostic::{Diagnostic, Gathered, Severity};
use crate::length::{Direction, Length, LengthError, Parsed, parse, parse_size};
use crate::spreadsheet::{Row, Sheet, list, same_name};

/// Proof that a fault was reported: a reader that holds one has nothing left to say about that cell.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Reported;

const YES: &[&str] = &[
    "yes",
    "y",
    "true",
    "1",
    "x",
    "\u{2713}",
    "\u{2714}",
    "one way",
    "one-way",
    "directional",
    "kept",
    "keep",
];
const NO: &[&str] = &["no", "n", "false", "0", "none", "two way", "two-way", "not directional", "all ways"];

/// Reads the cells of one row. An empty cell is `Ok(None)`, an unreadable one is reported and `Err`.
pub struct Cells<'s, 'd> {
    /// The sheet.
    pub sheet: &'s Sheet,
    /// The row.
    pub row: &'s Row,
    diagnostics: &'d mut Gathered,
}

impl<'s, 'd> Cells<'s, 'd> {
    /// The cells of `row`, with faults going to `diagnostics`.
    pub fn new(sheet: &'s Sheet, row: &'s Row, diagnostics: &'d mut Gathered) -> Cells<'s, 'd> {
        Cells { sheet, row, diagnostics }
    }

    /// The text under column `name`, without spaces around it.
    pub fn text(&self, name: &str) -> &'s str {
        self.sheet.cell(self.row, name)
    }

    /// The text under column `name`, which must not be empty.
    pub fn required(&mut self, name: &str) -> Result<&'s str, Reported> {
        match self.text(name) {
            "" => Err(self.error(
                "F208",
                name,
                "nothing is written here".to_string(),
                &format!("fill in \"{name}\""),
            )),
            text => Ok(text),
        }
    }

    /// A length above zero; a bare number is in the unit of the heading.
    pub fn length(&mut self, name: &str, direction: Direction) -> Result<Option<Length>, Reported> {
        let length = self.length_or_zero(name, direction)?;
        if length == Some(Length::ZERO) {
            let message = format!("\"{}\" leaves no fabric", self.text(name));
            return Err(self.error("F203", name, message, "write the measured length, or leave it empty"));
        }
        Ok(length)
    }

    /// A length, zero allowed.
    pub fn length_or_zero(&mut self, name: &str, direction: Direction) -> Result<Option<Length>, Reported> {
        let text = self.text(name);
        if text.is_empty() {
            return Ok(None);
        }
        match parse(text, self.sheet.unit(name), direction) {
            Ok(parsed) => Ok(Some(self.note_rounding(name, parsed))),
            Err(fault) => Err(self.not_a_length(name, &fault)),
        }
    }

    /// Width and height written in one cell, both above zero.
    pub fn size(&mut self, name: &str, direction: Direction) -> Result<Option<(Length, Length)>, Reported> {
        let text = self.text(name);
        if text.is_empty() {
            return Ok(None);
        }
        let (width, height) = match parse_size(text, self.sheet.unit(name), direction) {
            Ok((width, height)) => (self.note_rounding(name, width), self.note_rounding(name, height)),
            Err(fault) => return Err(self.not_a_length(name, &fault)),
        };
        if width == Length::ZERO || height == Length::ZERO {
            let message = format!("\"{text}\" leaves no fabric");
            return Err(self.error("F203", name, message, "write the measured size"));
        }
        Ok(Some((width, height)))
    }

    fn not_a_length(&mut self, name: &str, fault: &LengthError) -> Reported {
        let text = self.text(name);
        if *fault == LengthError::Negative {
            let message = format!("\"{text}\" is below zero");
            return self.error("F203", name, message, &fault.help());
        }
        let what = if *fault == LengthError::NotASize { "size" } else { "length" };
        self.error("F201", name, format!("\"{text}\" is not a {what}: {fault}"), &fault.help())
    }

    fn note_rounding(&mut self, name: &str, parsed: Parsed) -> Length {
        if let Some(direction) = parsed.rounded {
            let message = format!(
                "\"{}\" lies between two exact lengths; it was rounded {direction}, by less than 1/8000 in",
                self.text(name)
            );
            self.push(Severity::Note, "F202", name, message, "");
        }
        parsed.length
    }

    /// A whole number from 1 to [`COUNT`].
    pub fn count(&mut self, name: &str) -> Result<Option<u32>, Reported> {
        let text = self.text(name);
        if text.is_empty() {
            return Ok(None);
        }
        let found = format!("\"{text}\"");
        let digits = whole_part(text);
        if let Some(rest) = text.strip_prefix(['-', '\u{2212}'])
            && whole_part(rest).is_some()
        {
            let message = format!("{found} is below one");
            return Err(self.error("F205", name, message, "write how many there are, or remove the row"));
        }
        let Some(digits) = digits else {
            let message = format!("{found} is not a whole number");
            return Err(self.error("F204", name, message, "write how many there are in digits, e.g. 3"));
        };
        match digits.parse::<u32>() {
            Ok(0) => {
                let message = format!("{found} is below one");
                Err(self.error("F205", name, message, "write how many there are, or remove the row"))
            }
            Ok(number) if number <= COUNT => Ok(Some(number)),
            _ => {
                let message = format!("{found} is more than {}", grouped(COUNT.into()));
                Err(self.error("F206", name, message, "check the number"))
            }
        }
    }

    /// Yes or no, in the words people use for it.
    pub fn yes_no(&mut self, name: &str) -> Result<Option<bool>, Reported> {
        let text = self.text(name);
        if text.is_empty() {
            return Ok(None);
        }
        let is = |words: &[&str]| words.iter().any(|word| same_name(word, text));
        if is(YES) {
            return Ok(Some(true));
        }
        if is(NO) {
            return Ok(Some(false));
        }
        Err(self.error("F207", name, format!("\"{text}\" is neither yes nor no"), "write yes or no"))
    }

    /// One word of several; each choice may have many spellings, the first of a value being its name.
    pub fn choice<T: Copy + PartialEq>(
        &mut self,
        name: &str,
        code: &'static str,
        severity: Severity,
        choices: &[(&str, T)],
    ) -> Result<Option<T>, Reported> {
        let text = self.text(name);
        if text.is_empty() {
            return Ok(None);
        }
        if let Some(&(_, value)) = choices.iter().find(|(word, _)| same_name(word, text)) {
            return Ok(Some(value));
        }
        self.push(severity, code, name, not_among(text, choices), &format!("write {}", names(choices)));
        Err(Reported)
    }

    /// Reports an error in column `name`.
    pub fn error(&mut self, code: &'static str, name: &str, message: String, help: &str) -> Reported {
        self.push(Severity::Error, code, name, message, help);
        Reported
    }

    /// Reports a likely mistake in column `name`.
    pub fn warning(&mut self, code: &'static str, name: &str, message: String, help: &str) {
        self.push(Severity::Warning, code, name, message, help);
    }

    /// Reports something worth knowing in column `name`.
    pub fn note(&mut self, code: &'static str, name: &str, message: String, help: &str) {
        self.push(Severity::Note, code, name, message, help);
    }

    fn push(&mut self, severity: Severity, code: &'static str, name: &str, message: String, help: &str) {
        let place = self.sheet.place(self.row, name);
        self.diagnostics.push(Diagnostic { code, severity, place, message, help: help.to_string() });
    }
}

/// The digits of a whole number, which spreadsheets also write `3.0` or `3,00`; `None` when it is not one.
fn whole_part(text: &str) -> Option<&str> {
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    match text.split_once(['.', ',']) {
        None => digits(text).then_some(text),
        Some((whole, rest)) => {
            (digits(whole) && rest.len() < 3 && !rest.is_empty() && rest.bytes().all(|b| b == b'0'))
                .then_some(whole)
        }
    }
}

fn not_among<T>(text: &str, choices: &[(&str, T)]) -> String {
    let close = crate::spreadsheet::near(text, choices.iter().map(|&(word, _)| word));
    match close.first() {
        Some(word) => format!("\"{text}\" is not known here; did you mean \"{word}\"?"),
        None => format!("\"{text}\" is not known here"),
    }
}

fn names<T: Copy + PartialEq>(choices: &[(&str, T)]) -> String {
    let first =
        |&(index, (_, value)): &(usize, &(&str, T))| choices[..index].iter().all(|(_, other)| other != value);
    let words: Vec<String> =
        choices.iter().enumerate().filter(first).map(|(_, (word, _))| word.to_string()).collect();
    list(words).replace(" and ", " or ")
}
