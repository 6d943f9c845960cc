//! Why a unit cannot be made as asked.

use crate::length::{Length, Units};
use crate::pattern::Size;
use crate::pattern::seam::SeamError;
use crate::pattern::unit::Method;

/// Why a unit cannot be made as asked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum UnitError {
    /// A cut size cannot be computed.
    Seam(SeamError),
    /// The unit is square by nature and was given two different sides.
    NotSquare(Size),
    /// Flying geese must be twice as wide as high.
    NotTwoToOne(Size),
    /// The corner triangles of this side meet or pass each other.
    CornersTooLarge {
        /// Finished short side of the triangles.
        side: Length,
        /// The side of the unit they must fit on.
        on: Length,
    },
    /// The finished strips add up to another height than the unit's.
    StripsDoNotAddUp {
        /// Sum of the finished strips.
        strips: Length,
        /// Finished height of the unit.
        unit: Length,
    },
    /// The strips are shorter than one unit is wide, seams included.
    StripsTooShort {
        /// Length of the strips.
        length: Length,
        /// What one unit takes.
        unit: Length,
    },
    /// The kind is not made by this method.
    NoSuchMethod(Method),
    /// A kind that is cut exactly was given an extra.
    NoOversize,
}

impl From<SeamError> for UnitError {
    fn from(error: SeamError) -> UnitError {
        UnitError::Seam(error)
    }
}

impl UnitError {
    /// What is wrong, as one clause, with lengths in the given units.
    pub fn describe(&self, units: Units) -> String {
        let show = |length: &Length| length.show(units);
        match self {
            UnitError::Seam(error) => error.to_string(),
            UnitError::NotSquare(size) => format!("{} is not square, and this unit is", size.show(units)),
            UnitError::NotTwoToOne(size) => {
                format!("{} is not twice as wide as high, and flying geese are", size.show(units))
            }
            UnitError::CornersTooLarge { side, on } => {
                format!("corner triangles of {} do not fit on a side of {}", show(side), show(on))
            }
            UnitError::StripsDoNotAddUp { strips, unit } => {
                format!("the finished strips add up to {}, and the unit is {} high", show(strips), show(unit))
            }
            UnitError::StripsTooShort { length, unit } => {
                format!("strips of {} are shorter than the {} that one unit takes", show(length), show(unit))
            }
            UnitError::NoSuchMethod(method) => format!("this unit is not made \"{}\"", method.name()),
            UnitError::NoOversize => "this unit is cut exactly, so there is nothing to trim".to_string(),
        }
    }
}
