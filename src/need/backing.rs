//! Backing: panels of yardage sewn side by side, the way that takes the least fabric.

use crate::length::Length;
use crate::need::joins::strips_joined;
use crate::pattern::Size;

/// What a backing is larger than the quilt top, both sides together: 4 in all round. One shop says 4 in all round
/// and adds 4 in in all; magazines print 6 to 9 in in all.
pub const USUAL_OVERAGE: Length = Length::from_inches(8);

/// What a seam between panels takes: two allowances of 1/2 in, as in a published backing of 83 in from twice 42 in.
pub const USUAL_SEAM_LOSS: Length = Length::from_inches(1);

/// Panels of one length.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Panels {
    /// How many.
    pub count: u32,
    /// Length of each.
    pub length: Length,
    /// True when their seams run from top to bottom of the quilt.
    pub upright: bool,
}

impl Panels {
    /// Fabric they take.
    pub fn total(self) -> Length {
        super::strips::times(self.length, self.count)
    }
}

/// Size of a backing (or batting) for a quilt top of `size`.
pub fn size(size: Size, overage: Length) -> Size {
    Size { width: size.width + overage, height: size.height + overage }
}

/// Both ways of piecing a backing of `size` from fabric of usable `width`: seams upright, seams level. The last
/// panel is trimmed. `None` when seams use up whole panels.
pub fn ways(size: Size, width: Length, seam_loss: Length) -> Option<[Panels; 2]> {
    let count = |side: Length| strips_joined(side, width, seam_loss);
    Some([
        Panels { count: count(size.width)?, length: size.height, upright: true },
        Panels { count: count(size.height)?, length: size.width, upright: false },
    ])
}

/// The way that takes less fabric; of two alike, the one with fewer seams, then the upright one.
pub fn fewest(size: Size, width: Length, seam_loss: Length) -> Option<Panels> {
    ways(size, width, seam_loss)?.into_iter().min_by_key(|way| (way.total(), way.count))
}
