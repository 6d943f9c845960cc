//! Borders: how long their strips are, and what they take of the fabric.

use crate::length::Length;
use crate::need::joins::{Join, strips_joined};
use crate::pattern::Size;

/// Cut lengths of a butted border round a top that measures `top` as sewn: two sides as long as the top is high,
/// then top and bottom as long as it is wide with the sides sewn on. Of each side's `cut` width one seam goes into
/// the top and one stays outside, so it widens the top by `cut` less two seams.
///
/// Without seams this is the rule of thumb "perimeter and four strip widths".
pub fn butted(top: Size, cut: Length, seam: Length) -> (Length, Length) {
    let grows = cut - seam - seam;
    (top.height, top.width + grows + grows)
}

/// Cut lengths of a mitred border: each strip reaches the outer edge at both ends, where the mitre runs out, so it
/// is as long as the outer side; `extra` is left over at the corners of each strip. Without seams this is the rule
/// of authors, side and two border widths and something more ([`crate::pattern::layout::MITRE_EXTRA`]).
pub fn mitred(top: Size, cut: Length, seam: Length, extra: Length) -> (Length, Length) {
    let grows = cut - seam - seam;
    let outer = |side: Length| side + grows + grows + extra;
    (outer(top.height), outer(top.width))
}

/// Length of all four strips.
pub fn total((sides, tops): (Length, Length)) -> Length {
    sides + sides + tops + tops
}

/// Strips across fabric of usable `width` from which all four are cut one after the other, joined straight;
/// `None` when the seams use up whole strips.
pub fn strips(lengths: (Length, Length), width: Length, seam: Length) -> Option<u32> {
    strips_joined(total(lengths), width, Join::Straight.loss(Length::ZERO, seam))
}

/// How much of the fabric's width is left beside four borders of `cut` width that run along it in one piece each,
/// and the fabric's length they take; `None` when they do not lie side by side.
pub fn lengthwise(lengths: (Length, Length), cut: Length, width: Length) -> Option<(Length, Length)> {
    let beside = width - (cut + cut + cut + cut);
    (beside >= Length::ZERO).then(|| (beside, lengths.0.max(lengths.1)))
}
