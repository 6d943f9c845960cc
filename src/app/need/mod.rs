//! What a pattern needs bought: read, worked out, written as text, CSV or JSON.

mod csv;
mod json;
mod sizes;
mod text;

use crate::app::Given;
use crate::app::given::at_size;
use crate::app::need::sizes::SizeNeed;
use crate::diagnostic::{Diagnostic, Place, any_error};
use crate::length::{self, Direction, Length, Unit};
use crate::need::{Need, need};
use crate::pattern::{self, Pattern};

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

/// What is asked.
#[derive(Clone, Copy, Debug)]
pub struct Asked<'a> {
    /// The pattern: a cutting chart or a pattern file.
    pub pattern: &'a Given,
    /// Which of its sizes; `None` for the main one.
    pub size: Option<&'a str>,
    /// What the requirement is worked out under.
    pub how: &'a Assumptions,
}

/// The answer, ready to be written.
#[derive(Clone, Debug)]
pub struct Requirement {
    /// Notes and warnings about the inputs.
    pub said: Vec<Diagnostic>,
    pattern: Pattern,
    how: Assumptions,
    need: Need,
    sizes: Vec<SizeNeed>,
}

impl Requirement {
    /// Works out what is asked.
    ///
    /// # Errors
    /// Everything that is wrong with the pattern, or that has no answer under the assumptions.
    pub fn of(asked: &Asked<'_>) -> Result<Requirement, Vec<Diagnostic>> {
        let (file, how) = (&asked.pattern.name, asked.how);
        let (pattern, mut said) = pattern::read(file, &asked.pattern.bytes);
        let pattern = at_size(pattern, file, asked.size, &mut said);
        if any_error(&said) {
            return Err(said);
        }
        let need = match need(&pattern, how) {
            Ok(need) => need,
            Err(wrong) => {
                let refused = wrong.iter().map(|error| {
                    Diagnostic::error("N100", Place::file(file), error.message(how.units), error.help())
                });
                return Err(said.into_iter().chain(refused).collect());
            }
        };
        let (sizes, more) = sizes::sizes(&pattern, &need, how, file);
        said.extend(more);
        Ok(Requirement { said, pattern, how: how.clone(), need, sizes })
    }

    /// The answer written out.
    pub fn written(&self, format: Format) -> Vec<u8> {
        match format {
            Format::Text => text::text(self).into_bytes(),
            Format::Csv => csv::csv(self),
            Format::Json => json::json(self),
        }
    }
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
