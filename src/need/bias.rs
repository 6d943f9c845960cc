//! Bias binding from one square: cut along a diagonal, sewn to a parallelogram, cut into strips along the bias.
//!
//! A square of side a makes two triangles. Sewn together along a leg they are a parallelogram whose bias edges are
//! a sqrt 2 long and a / sqrt 2 apart. Strips of width w along them: n = the whole part of a / (w sqrt 2). The seam runs at 45
//! degrees to the strips, so of each strip its two allowances s take 2 s sqrt 2; a join of two strips takes as much.
//! Together: n (a - 2 s) sqrt 2 - (n - 1) 2 s sqrt 2 = sqrt 2 (n (a - 4 s) + 2 s). Marked on a tube and cut as one strip it
//! comes to the same. Authors divide areas instead, which counts a last strip too narrow to be cut and no seams; both
//! are here, the second for comparing.

use crate::length::{Area, Length, round};

/// Strips of `strip_width` that a square of `side` gives.
///
/// # Panics
/// When `strip_width` is not positive.
pub fn strips(side: Length, strip_width: Length) -> i64 {
    let (side, wide) = (side.ticks().max(0), strip_width.ticks());
    (side * side / (2 * wide * wide)).isqrt()
}

/// Binding of `strip_width` that a square of `side` gives, down to a tick.
///
/// ```
/// use cutcloth::length::Length;
/// use cutcloth::need::bias;
/// let inches = Length::from_inches;
/// // Seven strips of 28.28 in; by area it were 200.
/// assert_eq!(bias::gives(inches(20), inches(2), Length::ZERO).ticks(), 8128 * 19_798_989 / 100_000);
/// ```
///
/// # Panics
/// When `strip_width` is not positive.
pub fn gives(side: Length, strip_width: Length, seam: Length) -> Length {
    let (count, seam) = (strips(side, strip_width), seam.ticks());
    let legs = count * (side.ticks() - 4 * seam) + 2 * seam;
    if count == 0 || legs <= 0 {
        return Length::ZERO;
    }
    Length::from_ticks((2 * legs * legs).isqrt())
}

/// Side of the least square, a multiple of `mark`, that gives `length` of binding.
///
/// # Panics
/// When `strip_width` or `mark` is not positive.
pub fn square(length: Length, strip_width: Length, seam: Length, mark: Length) -> Length {
    let mut side = area_square(length, strip_width, Length::ZERO, mark);
    while gives(side, strip_width, seam) < length {
        side += mark;
    }
    side
}

/// What a square of `side` gives by area: its area over the strip width, down to a tick.
///
/// # Panics
/// When `strip_width` is not positive.
pub fn area_gives(side: Length, strip_width: Length) -> Length {
    Length::from_ticks(side.by(side).square_ticks() / strip_width.ticks())
}

/// Side of the least square, a multiple of `mark`, whose area is that of the binding; `margin` is added before
/// rounding: one author adds 2 in, others nothing.
///
/// # Panics
/// When `mark` is not positive.
pub fn area_square(length: Length, strip_width: Length, margin: Length, mark: Length) -> Length {
    let area: Area = length.by(strip_width);
    let root = area.square_ticks().max(0).isqrt();
    let side = Length::from_ticks(root + i64::from(root * root < area.square_ticks()));
    round::up(side + margin, mark)
}

/// Fabric of usable `width` that has the area of `length` of anything `deep`, up to a tick.
///
/// # Panics
/// When `width` is not positive.
pub fn area_across(length: Length, deep: Length, width: Length) -> Length {
    let (area, across) = (length.by(deep).square_ticks(), width.ticks());
    Length::from_ticks(area / across + i64::from(area % across > 0))
}
