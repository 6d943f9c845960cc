//! [`Length`] and [`Area`]: integers with their unit in the type.

use std::iter::Sum;
use std::ops::{Add, AddAssign, Sub, SubAssign};

/// A length: a whole number of ticks, 8128 to the inch. Never negative once read from a file.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Length(i64);

/// An area: a whole number of square ticks.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Area(i64);

/// What the arithmetic operators promise: readers refuse anything over 100 yd, far below the limit.
const IN_RANGE: &str = "lengths of real fabric stay far below the limit of 64 bits";

impl Length {
    /// Ticks in one inch. 8128 = 64 x 127, and 254 mm is 10 in, so 0.1 mm is 32 ticks exactly.
    pub const TICKS_PER_INCH: i64 = 8128;
    /// Ticks in a tenth of a millimetre.
    pub const TICKS_PER_TENTH_MM: i64 = 32;
    /// No length at all.
    pub const ZERO: Length = Length(0);

    /// A length of `ticks`.
    pub const fn from_ticks(ticks: i64) -> Length {
        Length(ticks)
    }

    /// A whole number of inches.
    pub const fn from_inches(inches: i64) -> Length {
        Length(inches * Length::TICKS_PER_INCH)
    }

    /// A whole number of eighths of an inch, the marks of the usual ruler.
    pub const fn from_eighths(eighths: i64) -> Length {
        Length(eighths * (Length::TICKS_PER_INCH / 8))
    }

    /// The number of ticks.
    pub const fn ticks(self) -> i64 {
        self.0
    }

    /// Sum, or `None` on overflow.
    pub fn checked_add(self, other: Length) -> Option<Length> {
        self.0.checked_add(other.0).map(Length)
    }

    /// Difference, or `None` on overflow.
    pub fn checked_sub(self, other: Length) -> Option<Length> {
        self.0.checked_sub(other.0).map(Length)
    }

    /// `times` this length, or `None` on overflow.
    pub fn checked_mul(self, times: i64) -> Option<Length> {
        self.0.checked_mul(times).map(Length)
    }

    /// The area of a rectangle with sides `self` and `other`.
    ///
    /// # Panics
    /// When the product passes 64 bits, which no readable file can cause.
    pub fn by(self, other: Length) -> Area {
        Area(self.0.checked_mul(other.0).expect(IN_RANGE))
    }

    /// The smaller of two lengths.
    pub fn min(self, other: Length) -> Length {
        Length(self.0.min(other.0))
    }

    /// The larger of two lengths.
    pub fn max(self, other: Length) -> Length {
        Length(self.0.max(other.0))
    }
}

impl Add for Length {
    type Output = Length;
    fn add(self, other: Length) -> Length {
        self.checked_add(other).expect(IN_RANGE)
    }
}

impl Sub for Length {
    type Output = Length;
    fn sub(self, other: Length) -> Length {
        self.checked_sub(other).expect(IN_RANGE)
    }
}

impl AddAssign for Length {
    fn add_assign(&mut self, other: Length) {
        *self = *self + other;
    }
}

impl SubAssign for Length {
    fn sub_assign(&mut self, other: Length) {
        *self = *self - other;
    }
}

impl Sum for Length {
    fn sum<I: Iterator<Item = Length>>(lengths: I) -> Length {
        lengths.fold(Length::ZERO, Add::add)
    }
}

impl Area {
    /// No area at all.
    pub const ZERO: Area = Area(0);
    /// Square ticks in one square inch.
    pub const PER_SQUARE_INCH: i64 = Length::TICKS_PER_INCH * Length::TICKS_PER_INCH;

    /// An area of `square_ticks`.
    pub const fn from_square_ticks(square_ticks: i64) -> Area {
        Area(square_ticks)
    }

    /// The number of square ticks.
    pub const fn square_ticks(self) -> i64 {
        self.0
    }

    /// `times` this area, or `None` on overflow.
    pub fn checked_mul(self, times: i64) -> Option<Area> {
        self.0.checked_mul(times).map(Area)
    }
}

impl Add for Area {
    type Output = Area;
    fn add(self, other: Area) -> Area {
        Area(self.0.checked_add(other.0).expect(IN_RANGE))
    }
}

impl Sub for Area {
    type Output = Area;
    fn sub(self, other: Area) -> Area {
        Area(self.0.checked_sub(other.0).expect(IN_RANGE))
    }
}

impl Sum for Area {
    fn sum<I: Iterator<Item = Area>>(areas: I) -> Area {
        areas.fold(Area::ZERO, Add::add)
    }
}
