//! Batting: one piece, a little larger than the quilt top.

use crate::length::{Length, round};
use crate::pattern::Size;

/// Packaged sizes as two published lists give them: Kay Stephenson, "Quilt sizes", and Karen Daniel, "Common Quilt
/// and Batting Sizes" (width and height in inches). Sizes between are not in what was read of the lists.
pub const PACKAGED: [(&str, i64, i64); 4] =
    [("crib", 45, 60), ("full", 81, 96), ("queen", 90, 108), ("California king", 120, 120)];

/// Batting for a quilt top of `size`: larger by `overage` in all, up to a whole inch.
pub fn size(size: Size, overage: Length) -> Size {
    let up = |side: Length| round::up(side + overage, Length::from_inches(1));
    Size { width: up(size.width), height: up(size.height) }
}

/// The first packaged size that `size` comes out of, turned if need be.
pub fn packaged(size: Size) -> Option<&'static str> {
    let (short, long) = (size.width.min(size.height), size.width.max(size.height));
    PACKAGED
        .iter()
        .find(|(_, width, height)| {
            let (width, height) = (Length::from_inches(*width), Length::from_inches(*height));
            short <= width.min(height) && long <= width.max(height)
        })
        .map(|(name, ..)| *name)
}
