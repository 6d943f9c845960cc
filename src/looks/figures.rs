//! What a choice of prints comes to, in numbers.

use std::collections::{BTreeMap, BTreeSet};

use crate::looks::{Pair, Sight, Touches};
use crate::pattern::demand::{Demand, SetId};
use crate::pattern::{BlockId, Matching, RoleId};
use crate::stash::PrintId;

/// How much of what touches looks each way: ticks of seam, or thousandths of a meeting.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Tally {
    /// All of it.
    pub all: i64,
    /// One print beside itself.
    pub same: i64,
    /// Two prints that blend.
    pub blends: i64,
    /// Two prints alike in light and dark only.
    pub alike: i64,
    /// Of which the stash does not say enough.
    pub not_known: i64,
}

/// The blocks a print comes in, roles of the whole quilt left out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Repeat {
    /// The print.
    pub print: PrintId,
    /// The block copies, in order.
    pub copies: Vec<(BlockId, u32)>,
}

/// How a quilt looks, in numbers.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Figures {
    /// Whether `tally` counts ticks of seam, and not thousandths of a meeting.
    pub by_seam: bool,
    /// How much looks each way.
    pub tally: Tally,
    /// Pairs of copies of one block with one print in one role, each role counted.
    pub copies_alike: u64,
    /// Pairs of loose pieces of one role in one block copy that have one print.
    pub pieces_alike: u64,
    /// How many prints the quilt has, whatever they serve.
    pub prints: usize,
    /// By print, the block copies it comes in; those in most copies first, then in the order of the stash.
    pub repeats: Vec<Repeat>,
}

impl Figures {
    /// In how many block copies the print that comes most often is.
    pub fn largest_repeat(&self) -> usize {
        self.repeats.first().map_or(0, |repeat| repeat.copies.len())
    }
}

/// Sums up a choice: `prints` has the print that serves each set, `None` where it is left out.
pub fn measure(touches: &Touches, demand: &Demand, prints: &[Option<PrintId>], sight: &Sight) -> Figures {
    let mut tally = Tally::default();
    for touch in &touches.list {
        let counts = touch.count(prints, sight);
        let served: i64 = counts.iter().sum();
        if served == 0 {
            continue;
        }
        let part = |pair: Pair| touch.weight * counts[pair.index()] / served;
        tally.all += touch.weight;
        tally.same += part(Pair::Same);
        tally.blends += part(Pair::Blend);
        tally.alike += part(Pair::AlikeInValue);
        tally.not_known += part(Pair::NotKnown);
    }
    let used: BTreeSet<PrintId> = prints.iter().copied().flatten().collect();
    Figures {
        by_seam: touches.by_seam,
        tally,
        copies_alike: copies_alike(demand, prints),
        pieces_alike: pieces_alike(demand, prints),
        prints: used.len(),
        repeats: repeats(demand, prints),
    }
}

/// Pairs of one kind among the counts of each.
fn pairs<K>(counts: BTreeMap<K, u64>) -> u64 {
    counts.into_values().map(|count| count * (count - 1) / 2).sum()
}

fn copies_alike(demand: &Demand, prints: &[Option<PrintId>]) -> u64 {
    let mut counts: BTreeMap<(BlockId, RoleId, PrintId), u64> = BTreeMap::new();
    for (set, print) in demand.sets.iter().zip(prints).filter(|(set, _)| set.matching == Matching::Block) {
        if let (Some((block, _)), Some(print)) = (set.block, *print) {
            *counts.entry((block, set.role, print)).or_default() += 1;
        }
    }
    pairs(counts)
}

fn pieces_alike(demand: &Demand, prints: &[Option<PrintId>]) -> u64 {
    let mut counts: BTreeMap<((BlockId, u32), RoleId, PrintId), u64> = BTreeMap::new();
    for (set, print) in demand.sets.iter().zip(prints).filter(|(set, _)| set.matching == Matching::Piece) {
        if let (Some(copy), Some(print)) = (set.block, *print) {
            *counts.entry((copy, set.role, print)).or_default() += 1;
        }
    }
    pairs(counts)
}

fn repeats(demand: &Demand, prints: &[Option<PrintId>]) -> Vec<Repeat> {
    let mut copies: BTreeMap<PrintId, BTreeSet<(BlockId, u32)>> = BTreeMap::new();
    for (set, print) in (0..demand.sets.len()).map(SetId).zip(prints) {
        if let (Some(copy), Some(print)) = (demand.set(set).block, *print) {
            copies.entry(print).or_default().insert(copy);
        }
    }
    let mut repeats: Vec<Repeat> = copies
        .into_iter()
        .map(|(print, copies)| Repeat { print, copies: copies.into_iter().collect() })
        .collect();
    repeats.sort_by_key(|repeat| (std::cmp::Reverse(repeat.copies.len()), repeat.print));
    repeats
}
