//! Stories of files as people keep them: what is read, and what is said about the rest.

mod chart;
mod codes;
mod demo;
mod files;
mod fuzz;
mod idle;
mod limits;
mod placements;
mod stash;

use cutcloth::diagnostic::{Diagnostic, Severity};
use cutcloth::length::{Direction, Length, Unit, parse};

/// Line (0 for the whole file), field and code of each diagnostic of one severity, in the order given.
fn said(diagnostics: &[Diagnostic], severity: Severity) -> Vec<(u64, &str, &'static str)> {
    let of_severity = diagnostics.iter().filter(|diagnostic| diagnostic.severity == severity);
    of_severity.map(|d| (d.place.line.unwrap_or(0), d.place.field.as_deref().unwrap_or(""), d.code)).collect()
}

fn errors(diagnostics: &[Diagnostic]) -> Vec<(u64, &str, &'static str)> {
    said(diagnostics, Severity::Error)
}

fn warnings(diagnostics: &[Diagnostic]) -> Vec<(u64, &str, &'static str)> {
    said(diagnostics, Severity::Warning)
}

fn notes(diagnostics: &[Diagnostic]) -> Vec<(u64, &str, &'static str)> {
    said(diagnostics, Severity::Note)
}

fn inches(text: &str) -> Length {
    parse(text, Unit::Inch, Direction::Down).expect("a length in a test").length
}
