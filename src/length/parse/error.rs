//! Why a text is not a length, in words for the person who wrote it.

use std::error::Error;
use std::fmt;

/// Why a text is not a length.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LengthError {
    /// Nothing is written.
    Empty,
    /// It does not begin with a number.
    NoNumber {
        /// The first thing that is in the way.
        found: String,
    },
    /// A length, and then something more.
    Extra {
        /// What to take away.
        remove: String,
    },
    /// A minus sign in front.
    Negative,
    /// A comma that may part thousands or decimals.
    Comma {
        /// One reading.
        decimal: String,
        /// The other.
        thousands: String,
    },
    /// A fraction that cannot be meant, such as `1/0` or `2 9/8`.
    Fraction {
        /// The fraction as written.
        found: String,
    },
    /// A number without its unit after one with a unit, such as `1 yd 9`.
    NoUnit {
        /// The number.
        number: String,
    },
    /// Two sides were expected.
    NotASize,
    /// More digits than any ruler has.
    TooFine,
    /// Longer than any fabric.
    TooLong,
}

impl fmt::Display for LengthError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            LengthError::Empty
            | LengthError::NoNumber { .. }
            | LengthError::Extra { .. }
            | LengthError::NoUnit { .. } => {
                out.write_str("expected a number with in, cm, mm, yd or m after it, e.g. 9 7/8 in")
            }
            LengthError::Negative => out.write_str("a length is never below zero"),
            LengthError::Comma { .. } => out.write_str("the comma can be read in two ways"),
            LengthError::Fraction { found } => {
                write!(out, "\"{found}\" is not a fraction below one, such as 7/8")
            }
            LengthError::NotASize => out.write_str("expected two sides, e.g. 2 1/2 x 4 1/2 in"),
            LengthError::TooFine => out.write_str("it has more digits than any ruler shows"),
            LengthError::TooLong => out.write_str("it is longer than any fabric"),
        }
    }
}

impl LengthError {
    /// What to do about it, one short sentence without a full stop.
    pub fn help(&self) -> String {
        match self {
            LengthError::Empty => "write the length".to_string(),
            LengthError::NoNumber { found } | LengthError::Extra { remove: found } => {
                format!("remove \"{found}\"")
            }
            LengthError::Negative => "remove the minus sign".to_string(),
            LengthError::Comma { decimal, thousands } => format!("write {decimal} or {thousands}"),
            LengthError::Fraction { .. } => "write whole inches, a space and a fraction: 2 7/8".to_string(),
            LengthError::NoUnit { number } => format!("write a unit after \"{number}\""),
            LengthError::NotASize => "write the width, an x and the height".to_string(),
            LengthError::TooFine => "write it to the nearest mark of the ruler".to_string(),
            LengthError::TooLong => "check the number and its unit".to_string(),
        }
    }
}

impl Error for LengthError {}
