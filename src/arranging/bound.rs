//! What no arrangement can go below: the pigeonhole.
//!
//! Take one print and a distance d, and tile the grid with squares of d + 1 places a side: two copies in one square
//! are at most d apart. However m copies are spread over the squares, some squares get several, and the fewest
//! pairs within squares come of spreading them evenly, as far as the squares have places for these kinds of block.
//! So at least that many pairs are within d, whatever the arrangement. Each way of laying the tiling gives such a
//! number, and the largest counts. The nearness of a pair at distance d is the sum of its steps from d on, so the
//! crowding of a print is at least the sum over d of step times pairs within d; over all prints and colours the
//! bounds add up, because the crowding does.

use std::collections::{BTreeMap, BTreeSet};

use crate::arranging::{Feature, Likeness, NEARNESS, Wall};
use crate::pattern::BlockId;

/// A bound on the crowding of every arrangement, counting features of one kind.
///
/// The copies' kinds of block are those of their places to begin with: copy i belongs to place i.
pub fn bound(wall: &Wall, likeness: &Likeness, of: fn(Feature) -> bool) -> u64 {
    likeness.shared().iter().filter(|(feature, _)| of(*feature)).map(|(_, copies)| least(wall, copies)).sum()
}

/// The same for both kinds, each with its weight.
pub fn weighted_bound(wall: &Wall, likeness: &Likeness) -> u64 {
    let shared = likeness.shared();
    shared.iter().map(|(feature, copies)| feature.weight() * least(wall, copies)).sum()
}

/// The least sum of nearness over the pairs of these copies.
fn least(wall: &Wall, copies: &[usize]) -> u64 {
    let kinds: BTreeSet<BlockId> = copies.iter().map(|&copy| wall.kinds[copy]).collect();
    let free = wall.spots.iter().zip(&wall.kinds).filter(|(_, kind)| kinds.contains(kind));
    let spots: Vec<(i64, i64)> = free.map(|(&spot, _)| spot).collect();
    let steps = (0..NEARNESS.len()).map(|at| NEARNESS[at] - NEARNESS.get(at + 1).copied().unwrap_or(0));
    (2..).zip(steps).map(|(side, step)| step * pairs_within(&spots, side, copies.len())).sum()
}

/// The fewest pairs within squares of `side` places, over all tilings the largest such number.
fn pairs_within(spots: &[(i64, i64)], side: i64, copies: usize) -> u64 {
    let tilings = (0..side).flat_map(|right| (0..side).map(move |down| (right, down)));
    let each = tilings.map(|(right, down)| {
        let mut squares: BTreeMap<(i64, i64), usize> = BTreeMap::new();
        for (x, y) in spots {
            *squares.entry(((x + right).div_euclid(side), (y + down).div_euclid(side))).or_default() += 1;
        }
        spread(&squares.into_values().collect::<Vec<_>>(), copies)
    });
    each.max().unwrap_or(0)
}

/// The fewest pairs in one square when so many copies are spread over squares with so many places: the next copy
/// always goes where it makes the fewest new pairs, which is best because each copy in a square makes one pair more
/// than the one before.
fn spread(places: &[usize], copies: usize) -> u64 {
    let (mut left, mut pairs) = (copies, 0);
    for level in 0.. {
        let open = places.iter().filter(|&&places| places > level).count();
        let taken = left.min(open);
        pairs += u64::try_from(level * taken).unwrap_or(u64::MAX);
        left -= taken;
        if left == 0 || open == 0 {
            return pairs;
        }
    }
    pairs
}

#[cfg(test)]
mod tests {
    use super::spread;

    #[test]
    fn copies_are_spread_evenly_as_far_as_there_are_places() {
        assert_eq!(spread(&[4, 4], 2), 0);
        assert_eq!(spread(&[4, 4], 5), 1 + 3);
        assert_eq!(spread(&[1, 4], 4), 3);
        // Seven copies in six places cannot be; what fits is counted.
        assert_eq!(spread(&[2, 4], 7), 1 + 6);
    }
}
