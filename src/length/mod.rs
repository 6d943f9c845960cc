//! Exact lengths and areas. Knows nothing of fabric.
//!
//! A length is a whole number of ticks, 8128 to the inch, so that 1/64 in = 127 ticks and
//! 0.1 mm = 32 ticks: the marks of inch and metric rulers are both exact. Every rounding has a direction.

mod value;

pub use value::{Area, Length};
