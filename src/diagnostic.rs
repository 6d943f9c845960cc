//! What is wrong with an input, as data: one writer prints it, tests read its code.

use std::fmt;

mod codes;
mod gathered;
pub mod limits;
mod visible;

pub use codes::{CODES, meaning};
pub use gathered::Gathered;
pub use visible::{visible, visible_line};

/// How bad it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Worth saying; nothing was refused (a length rounded, a default taken).
    Note,
    /// Likely a mistake, but there is one reasonable reading, and it was taken.
    Warning,
    /// The file cannot be used until this is mended.
    Error,
}

/// Where it is.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Place {
    /// File name as the user gave it.
    pub file: String,
    /// Line in the file, from 1; `None` when the whole file is meant.
    pub line: Option<u64>,
    /// Heading of the column or key; `None` when the whole line is meant.
    pub field: Option<String>,
}

/// One thing wrong with an input: where, what was found, what was expected and what to do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Diagnostic {
    /// Stable code, such as `S103`; listed in data/messages.md.
    pub code: &'static str,
    /// How bad it is.
    pub severity: Severity,
    /// Where it is.
    pub place: Place,
    /// What was found and what was expected, one sentence.
    pub message: String,
    /// What to do about it.
    pub help: String,
}

impl Place {
    /// The whole of a file.
    pub fn file(file: &str) -> Place {
        Place { file: file.to_string(), line: None, field: None }
    }

    /// A line of a file, from 1.
    pub fn line(file: &str, line: u64) -> Place {
        Place { file: file.to_string(), line: Some(line), field: None }
    }

    /// The same place, narrowed to one field.
    pub fn field(self, field: &str) -> Place {
        Place { field: Some(field.to_string()), ..self }
    }
}

impl Diagnostic {
    /// Something that makes the input unusable. `code` is one of [`CODES`].
    pub fn error(code: &'static str, place: Place, message: String, help: &str) -> Diagnostic {
        Diagnostic { code, severity: Severity::Error, place, message, help: help.to_string() }
    }

    /// A likely mistake that was read in the one reasonable way. `code` is one of [`CODES`].
    pub fn warning(code: &'static str, place: Place, message: String, help: &str) -> Diagnostic {
        Diagnostic { code, severity: Severity::Warning, place, message, help: help.to_string() }
    }

    /// Something worth knowing. `code` is one of [`CODES`].
    pub fn note(code: &'static str, place: Place, message: String, help: &str) -> Diagnostic {
        Diagnostic { code, severity: Severity::Note, place, message, help: help.to_string() }
    }

    /// True when the input cannot be used.
    pub fn is_error(&self) -> bool {
        self.severity == Severity::Error
    }
}

impl fmt::Display for Diagnostic {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{}", self.place.file)?;
        if let Some(line) = self.place.line {
            write!(out, ", line {line}")?;
        }
        if let Some(field) = &self.place.field {
            write!(out, ", field \"{field}\"")?;
        }
        let word = match self.severity {
            Severity::Note => "note: ",
            Severity::Warning => "warning: ",
            Severity::Error => "",
        };
        write!(out, ": {word}{}", self.message)?;
        if !self.help.is_empty() {
            write!(out, "\n  help: {}", self.help)?;
        }
        write!(out, "  [{}]", self.code)
    }
}

/// True when any of `diagnostics` is an error.
pub fn any_error(diagnostics: &[Diagnostic]) -> bool {
    diagnostics.iter().any(Diagnostic::is_error)
}
