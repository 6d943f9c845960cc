//! Binding: how long, how wide, how many strips, straight or on the bias.

use crate::length::{Area, Length};
use crate::need::joins::{Join, strips_joined};
use crate::pattern::Size;

/// What is added to the perimeter for corners and for closing the ring. Authors say 8, 10, 12, 16 and 24 in (the
/// figures are in `tests/need_values.csv`); 10 in gives the strip counts that magazines print.
pub const USUAL_EXTRA: Length = Length::from_inches(10);

/// Perimeter of a quilt top of `size` as sewn, plus `extra`.
pub fn length(size: Size, extra: Length) -> Length {
    size.width + size.height + size.width + size.height + extra
}

/// Strip width of a double-fold binding that shows `finished` on either side: four times, and 1/2 in for two seam
/// allowances. FM Quilters, "When binding, there will be math",
/// <https://fmquilters.org/tip-of-the-week-when-binding-there-will-be-math/>.
pub fn strip_width(finished: Length) -> Length {
    finished + finished + finished + finished + Length::from_eighths(4)
}

/// Strips across fabric of usable `width` for a binding of `length`; `None` when joins use up whole strips.
pub fn strips(length: Length, width: Length, strip_width: Length, join: Join, seam: Length) -> Option<u32> {
    strips_joined(length, width, join.loss(strip_width, seam))
}

/// Bias binding of `strip_width` that a square of `side` gives, cut as one continuous strip: its area over the strip
/// width, down to a tick. MyDecozo, "Making continuous piping strips", and others; seams of the tube not counted.
///
/// # Panics
/// When `strip_width` is not positive.
pub fn bias_length(side: Length, strip_width: Length) -> Length {
    Length::from_ticks(side.by(side).square_ticks() / strip_width.ticks())
}

/// Side of the least square, up to a multiple of `mark`, whose area gives `length` of bias binding; `margin` is added
/// before rounding, for the two seams of the tube: one author adds 2 in, others nothing.
///
/// # Panics
/// When `mark` is not positive.
pub fn bias_square(length: Length, strip_width: Length, margin: Length, mark: Length) -> Length {
    let area: Area = length.by(strip_width);
    let root = area.square_ticks().max(0).isqrt();
    let side = Length::from_ticks(root + i64::from(root * root < area.square_ticks()));
    crate::length::round::up(side + margin, mark)
}

/// Fabric of usable `width` for bias binding by area alone, up to a tick.
///
/// # Panics
/// When `width` is not positive.
pub fn bias_by_area(length: Length, strip_width: Length, width: Length) -> Length {
    let (area, across) = (length.by(strip_width).square_ticks(), width.ticks());
    Length::from_ticks(area / across + i64::from(area % across > 0))
}
