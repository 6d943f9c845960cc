//! Exact lengths and areas. Knows nothing of fabric.
//!
//! A length is a whole number of ticks, 8128 to the inch, so that 1/64 in = 127 ticks and
//! 0.1 mm = 32 ticks: the marks of inch and metric rulers are both exact. Every rounding has a direction.

mod parse;
pub mod round;
mod show;
mod value;

pub use parse::{LengthError, Parsed, Unit, parse, parse_size};
pub use round::Direction;
pub use show::Units;
pub use value::{Area, Length};
