//! The least usable width at which an amount still works.

use crate::length::{Length, Units};

/// Wider than any fabric sold for backings (108 in), with room.
pub const WIDEST: Length = Length::from_inches(120);

/// The least mark of the ruler from which on, up to `width`, `works` holds at every mark; when it does not hold at
/// `width` itself, the first mark above at which it does. `None` when it holds at no mark up to 120 in.
///
/// Mark by mark, because a wider fabric does not always take fewer plain strips: the longest-first rule may fill a
/// wider strip less well.
pub(super) fn least(width: Length, units: Units, works: impl Fn(Length) -> bool) -> Option<Length> {
    let mark = units.mark();
    if works(width) {
        let mut least = width;
        let mut next = crate::length::round::down(width - Length::from_ticks(1), mark);
        while next > Length::ZERO && works(next) {
            least = next;
            next -= mark;
        }
        return Some(least);
    }
    let mut next = crate::length::round::up(width + Length::from_ticks(1), mark);
    while next <= WIDEST {
        if works(next) {
            return Some(next);
        }
        next += mark;
    }
    None
}
