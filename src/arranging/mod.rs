//! The design wall: which copy of a block lies at which place of the quilt, so that like prints are apart and
//! colours spread.
//!
//! A quadratic assignment after Koopmans and Beckmann 1957: every two places have a nearness (how far apart they
//! are, [`Wall`]), every two copies a likeness (what prints and colours they share, [`Likeness`]), and the sum of
//! nearness times likeness over all pairs, the crowding, is to be small. A print that two copies share counts
//! [`SAME_PRINT`], a group of colours [`SAME_COLOR`]. Copies change places only within their
//! kind of block, so the pattern stays as drawn; what the quilter has placed stays. The search
//! ([`search`](self::search())) is simulated annealing (Kirkpatrick, Gelatt and Vecchi 1983) in whole numbers, with
//! a budget of swaps and fixed seeds. [`bound`](self::bound()) says below what no arrangement can go; only an
//! arrangement that meets it is called best.

use std::collections::BTreeMap;

use crate::pattern::demand::Demand;
use crate::pattern::layout::Place;
use crate::pattern::{BlockId, Pattern};
use crate::stash::{PrintId, Stash};

mod bound;
mod closest;
mod likeness;
mod search;
mod wall;

pub use bound::{bound, weighted_bound};
pub use closest::{Closest, closest};
pub use likeness::{Feature, Likeness, SAME_COLOR, SAME_PRINT};
pub use search::search;
pub use wall::{NEARNESS, Wall};

/// Where every block copy lies.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Arrangement {
    /// Every place with its block and copy, in reading order.
    pub places: Vec<(Place, BlockId, u32)>,
    /// How crowded copies lie that share a print: the sum of the nearness of each two for each print they share.
    pub prints: Crowding,
    /// The same for groups of colours.
    pub colors: Crowding,
    /// The two copies nearest to each other that share a print; `None` when no two do.
    pub closest: Option<ClosestCopies>,
}

/// A crowding with its bound.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Crowding {
    /// Of this arrangement.
    pub reached: u64,
    /// No arrangement has less.
    pub bound: u64,
}

/// The arrangements of a run.
#[derive(Clone, Debug, Default)]
pub struct Arranged {
    /// Of the plan; `None` when it is not complete, or the pattern does not say how its blocks are set.
    pub plan: Option<Arrangement>,
    /// Of each alternative's plan.
    pub alternatives: Vec<Option<Arrangement>>,
}

/// The most places that are arranged. The work grows with their square.
pub const MOST_PLACES: usize = 2500;

/// Two block copies that share a print.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ClosestCopies {
    /// How many places apart: 1 for neighbours, also corner to corner.
    pub distance: u32,
    /// The print.
    pub print: PrintId,
    /// Block, copy and place of the two, in reading order.
    pub copies: [(BlockId, u32, Place); 2],
}

/// Arranges the blocks of a complete plan; when `stopped` says so, without more care.
///
/// `prints` has the print of every set of `demand`, `decided` the places that are kept. `None` when the pattern does
/// not say how its blocks are set or has more than [`MOST_PLACES`], and when the demand makes fewer copies than its
/// layout has.
pub fn arrange(
    pattern: &Pattern,
    stash: &Stash,
    demand: &Demand,
    prints: &[Option<PrintId>],
    decided: &BTreeMap<(BlockId, u32), Place>,
    stopped: &dyn Fn() -> bool,
) -> Option<Arrangement> {
    let layout = pattern.layout.as_ref()?;
    let copies: Vec<(BlockId, u32)> =
        layout.places().into_iter().map(|(_, cell)| (cell.block, cell.copy)).collect();
    if !(1..=MOST_PLACES).contains(&copies.len())
        || prints.iter().any(Option::is_none)
        || !all_made(pattern, demand)
    {
        return None;
    }
    let wall = Wall::of(layout);
    let likeness = Likeness::of(&copies, stash, demand, prints);
    let kept: Vec<Option<usize>> = copies
        .iter()
        .map(|copy| decided.get(copy).and_then(|place| wall.places.iter().position(|other| other == place)))
        .collect();
    let seats = search(&wall, &likeness, &kept, stopped);
    let closest = closest(&wall, &likeness, &seats).map(|found| ClosestCopies {
        distance: found.distance,
        print: found.print,
        copies: found.copies.map(|copy| (copies[copy].0, copies[copy].1, wall.places[seats[copy]])),
    });
    let mut places: Vec<(Place, BlockId, u32)> =
        copies.iter().zip(&seats).map(|(&(block, copy), &seat)| (wall.places[seat], block, copy)).collect();
    places.sort_unstable();
    let crowding = |of: fn(Feature) -> bool| Crowding {
        reached: likeness.crowding(&wall, &seats, of),
        bound: bound(&wall, &likeness, of),
    };
    Some(Arrangement {
        prints: crowding(|feature| matches!(feature, Feature::Print(_))),
        colors: crowding(|feature| matches!(feature, Feature::Color(_))),
        places,
        closest,
    })
}

/// True when no alternative leaves copies of a block out.
fn all_made(pattern: &Pattern, demand: &Demand) -> bool {
    let mut made: BTreeMap<BlockId, u32> = BTreeMap::new();
    for piece in &demand.pieces {
        let most = made.entry(piece.block).or_default();
        *most = piece.copy.max(*most);
    }
    let each_has_a_piece = |index: usize| {
        let lines = &pattern.blocks[index].pieces;
        lines.iter().any(|line| matches!(line.count, crate::pattern::Count::PerCopy(each) if each > 0))
    };
    pattern.blocks.iter().enumerate().all(|(index, block)| {
        !each_has_a_piece(index) || made.get(&BlockId(index)).is_some_and(|&most| most == block.make)
    })
}
