//! What a pattern needs bought: read, worked out, written as text, CSV or JSON.

mod csv;
mod json;
mod text;

use crate::app::Given;
use crate::diagnostic::{Diagnostic, Place, any_error};
use crate::length::{self, Direction, Length, Unit};
use crate::need::{Need, need};
use crate::pattern;

pub use crate::need::{Assumptions, Borders, Join, Meeting, Step};

/// How the requirement is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Format {
    /// For reading.
    Text,
    /// For a spreadsheet.
    Csv,
    /// For a program; lengths in ticks.
    Json,
}

/// The requirement of the pattern in `file`, written out, with notes and warnings about it.
///
/// # Errors
/// Everything that is wrong with the pattern, or that has no answer under `how`.
pub fn requirement(
    file: &Given,
    how: &Assumptions,
    format: Format,
) -> Result<(Vec<u8>, Vec<Diagnostic>), Vec<Diagnostic>> {
    let (pattern, said) = pattern::read(&file.name, &file.bytes);
    if any_error(&said) {
        return Err(said);
    }
    let answer: Need = match need(&pattern, how) {
        Ok(answer) => answer,
        Err(wrong) => {
            let refused = wrong.iter().map(|error| {
                Diagnostic::error("N100", Place::file(&file.name), error.message(how.units), error.help())
            });
            return Err(said.into_iter().chain(refused).collect());
        }
    };
    let written = match format {
        Format::Text => text::text(&pattern, &answer, how).into_bytes(),
        Format::Csv => csv::csv(&answer, how),
        Format::Json => json::json(&pattern, &answer, how),
    };
    Ok((written, said))
}

/// Narrower than any fabric sold by the yard.
const NARROWEST: Length = Length::from_inches(1);
/// Wider than any.
const WIDEST: Length = Length::from_inches(120);

/// Reads a usable width such as `40 1/2` or `110 cm`; a bare number is inches, and what lies between two exact
/// lengths is rounded down.
///
/// # Errors
/// What was expected.
pub fn width(text: &str) -> Result<Length, String> {
    let read = length::parse(text, Unit::Inch, Direction::Down).map_err(|error| error.to_string())?.length;
    if read < NARROWEST || read > WIDEST {
        return Err("expected the usable width of a fabric, from 1 to 120 in".to_owned());
    }
    Ok(read)
}
