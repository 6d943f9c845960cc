//! A smaller quilt, in a size that the pattern comes in.

use crate::pattern::Pattern;
use crate::pattern::demand::{Demand, Loosened};
use crate::planning::alternative::Inputs;
use crate::planning::alternative::attempt::{Tried, attempt};

/// `start` in the largest smaller size that fits.
pub(super) fn smaller(inputs: &Inputs<'_>, start: &Tried) -> Option<Tried> {
    let now = area(inputs.pattern);
    let sizes = (0..inputs.pattern.sizes.len()).filter(|&size| size != inputs.pattern.size);
    let mut smaller: Vec<(i64, usize)> = sizes
        .filter_map(|size| Some((area(&inputs.pattern.at_size(size)?), size)))
        .filter(|&(area, _)| area < now)
        .collect();
    smaller.sort_unstable_by_key(|&(area, size)| (-area, size));
    smaller.into_iter().find_map(|(_, size)| {
        let tried = attempt(inputs, start.with(|changes| changes.size = Some(size)));
        tried.fits().then_some(tried)
    })
}

/// Area of all pieces of a quilt.
fn area(pattern: &Pattern) -> i64 {
    let pieces = Demand::expand(pattern, &Loosened::default()).pieces;
    pieces.iter().map(|piece| piece.area().square_ticks()).sum()
}
