//! Text -> length, in the spellings people use: `2 1/2`, `2-1/2`, `2½"`, `2.5in`, `6 cm`, `1 yd 9 in`, `5' 6"`.
//!
//! Arithmetic is exact; a length that is not a whole number of ticks is moved in the direction the caller
//! names, and [`Parsed::rounded`] says so.

use std::fmt;

use crate::length::{Direction, Length};

mod error;
mod number;

pub use error::LengthError;
use number::{Ratio, Scanner};

/// A unit a length may be written in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Unit {
    /// Inch, the unit of a bare number unless the caller says otherwise.
    Inch,
    /// Foot of 12 in.
    Foot,
    /// Yard of 36 in.
    Yard,
    /// Millimetre.
    Millimetre,
    /// Centimetre.
    Centimetre,
    /// Metre.
    Metre,
}

impl Unit {
    /// Ticks in one of this unit; whole for every unit, which is why the tick is what it is.
    pub const fn ticks(self) -> i64 {
        let mm = 10 * Length::TICKS_PER_TENTH_MM;
        match self {
            Unit::Inch => Length::TICKS_PER_INCH,
            Unit::Foot => 12 * Length::TICKS_PER_INCH,
            Unit::Yard => 36 * Length::TICKS_PER_INCH,
            Unit::Millimetre => mm,
            Unit::Centimetre => 10 * mm,
            Unit::Metre => 1000 * mm,
        }
    }

    /// The unit with this name or sign, however written: `in`, `inches`, `"`, `yd`, `cm` ...
    pub fn find(name: &str) -> Option<Unit> {
        Some(match name.trim().trim_end_matches('.').to_lowercase().as_str() {
            "in" | "ins" | "inch" | "inches" | "\"" => Unit::Inch,
            "ft" | "foot" | "feet" | "'" => Unit::Foot,
            "yd" | "yds" | "yard" | "yards" => Unit::Yard,
            "mm" | "mms" | "millimetre" | "millimetres" | "millimeter" | "millimeters" => Unit::Millimetre,
            "cm" | "cms" | "centimetre" | "centimetres" | "centimeter" | "centimeters" => Unit::Centimetre,
            "m" | "metre" | "metres" | "meter" | "meters" => Unit::Metre,
            _ => return None,
        })
    }

    fn is_metric(self) -> bool {
        self >= Unit::Millimetre
    }

    /// True when `self` may follow `larger` in one length, as in `1 yd 9 in`.
    fn may_follow(self, larger: Unit) -> bool {
        self.is_metric() == larger.is_metric() && self < larger
    }
}

/// A length as read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Parsed {
    /// The length in whole ticks.
    pub length: Length,
    /// The way it was moved, by less than one tick; `None` when it is exactly what was written.
    pub rounded: Option<Direction>,
    /// The unit that was written, the last one of several; `None` for a bare number.
    pub unit: Option<Unit>,
}

/// Reads one length.
///
/// * `default`: the unit of a bare number, inches unless a heading says otherwise.
/// * `direction`: which way a length moves that is not a whole number of ticks: down for what is held,
///   up for what is to be cut.
///
/// Zero is a length; whether it makes sense is for the caller to say.
///
/// # Errors
/// [`LengthError`] says what was expected, and its `help` what to change.
///
/// ```
/// use cutcloth::length::{parse, Direction, Length, Unit};
/// let strip = parse("2½\"", Unit::Inch, Direction::Down)?;
/// assert_eq!(strip.length, Length::from_eighths(20));
/// assert_eq!(strip.rounded, None);
/// assert_eq!(parse("63 mm", Unit::Inch, Direction::Up)?.length.ticks(), 63 * 320);
/// # Ok::<(), cutcloth::length::LengthError>(())
/// ```
pub fn parse(text: &str, default: Unit, direction: Direction) -> Result<Parsed, LengthError> {
    let cleaned = number::clean(text);
    let mut scanner = Scanner::new(&cleaned);
    scanner.skip_spaces();
    if scanner.is_done() {
        return Err(LengthError::Empty);
    }
    let mut total = Ratio::ZERO;
    let mut last_unit = None;
    loop {
        let begin = scanner.rest();
        let amount = scanner.quantity()?;
        scanner.skip_spaces();
        let unit = scanner.unit();
        let written = begin[..begin.len() - scanner.rest().len()].trim().to_string();
        let ticks = match (unit, last_unit) {
            (Some(unit), Some(larger)) if !Unit::may_follow(unit, larger) => {
                return Err(LengthError::Extra { remove: written });
            }
            (None, Some(_)) if scanner.is_done() => return Err(LengthError::NoUnit { number: written }),
            (None, Some(_)) => return Err(LengthError::Extra { remove: begin.trim().to_string() }),
            (unit, _) => unit.unwrap_or(default).ticks(),
        };
        total = total.plus_times(amount, ticks).ok_or(LengthError::TooFine)?;
        let bare = unit.is_none();
        last_unit = unit;
        scanner.skip_spaces();
        if scanner.is_done() {
            break;
        }
        if bare || !scanner.starts_number() {
            return Err(LengthError::Extra { remove: scanner.rest().trim().to_string() });
        }
    }
    let (ticks, exact) = total.whole(direction).ok_or(LengthError::TooLong)?;
    Ok(Parsed {
        length: Length::from_ticks(ticks),
        rounded: if exact { None } else { Some(direction) },
        unit: last_unit,
    })
}

/// Reads two sides written together, such as `2 1/2 x 4 1/2`, `6 x 8 cm` or `10 in square`.
///
/// A side without a unit takes the unit of the other; with no unit at all, `default`.
///
/// # Errors
/// As [`parse`]; [`LengthError::NotASize`] when there are not two sides.
///
/// ```
/// use cutcloth::length::{parse_size, Direction, Unit};
/// let (width, height) = parse_size("6 × 8 cm", Unit::Inch, Direction::Up)?;
/// assert_eq!((width.length.ticks(), height.length.ticks()), (6 * 3200, 8 * 3200));
/// # Ok::<(), cutcloth::length::LengthError>(())
/// ```
pub fn parse_size(text: &str, default: Unit, direction: Direction) -> Result<(Parsed, Parsed), LengthError> {
    let lower = number::clean(text).to_lowercase();
    if lower.trim().is_empty() {
        return Err(LengthError::Empty);
    }
    for word in ["squares", "square", "sq.", "sq"] {
        if let Some(side) = lower.trim_end().strip_suffix(word) {
            // `10 x 10 square` says the same thing twice; a bare `10 square` is one side.
            if sides(side).len() == 1 {
                let side = parse(side, default, direction)?;
                return Ok((side, side));
            }
            return parse_size(side, default, direction);
        }
    }
    let [first, second] = sides(&lower)[..] else {
        return Err(LengthError::NotASize);
    };
    let (mut width, mut height) = (parse(first, default, direction)?, parse(second, default, direction)?);
    match (width.unit, height.unit) {
        (None, Some(unit)) => width = parse(first, unit, direction)?,
        (Some(unit), None) => height = parse(second, unit, direction)?,
        _ => {}
    }
    Ok((width, height))
}

fn sides(text: &str) -> Vec<&str> {
    let by_word: Vec<&str> = text.split(" by ").collect();
    if by_word.len() == 2 { by_word } else { text.split(['x', '\u{d7}', '*']).collect() }
}

impl fmt::Display for Direction {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(match self {
            Direction::Up => "up",
            Direction::Down => "down",
        })
    }
}

#[cfg(test)]
mod tests;
