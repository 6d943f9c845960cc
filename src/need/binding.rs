//! Binding: how long, how wide, how many strips, from strips across the fabric. On the bias: [`crate::need::bias`].

use crate::length::Length;
use crate::need::joins::{Join, strips_joined};
use crate::pattern::Size;

/// What is added to the perimeter for corners and for closing the ring. Authors say 8, 10, 12, 16 and 24 in (the
/// figures are in `tests/need/values.csv`); 10 in gives the strip counts that magazines print.
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
