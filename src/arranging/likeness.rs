//! How like two block copies are: the prints they share, and the groups of colours.

use std::collections::{BTreeMap, BTreeSet};

use crate::arranging::Wall;
use crate::color::ColorGroup;
use crate::pattern::BlockId;
use crate::pattern::demand::Demand;
use crate::stash::{PrintId, Stash};

/// What a print that two copies share counts, besides its colour.
pub const SAME_PRINT: u64 = 17;

/// What a group of colours counts that both copies have: with its colour, a shared print counts 20, so a shared
/// colour alone is three twentieths of it. Our own choice.
pub const SAME_COLOR: u64 = 3;

/// Something that copies may share.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Feature {
    /// A print.
    Print(PrintId),
    /// A group of colours.
    Color(ColorGroup),
}

impl Feature {
    /// What it counts when two copies share it.
    pub fn weight(self) -> u64 {
        match self {
            Feature::Print(_) => SAME_PRINT,
            Feature::Color(_) => SAME_COLOR,
        }
    }
}

/// What each copy has that another may have too.
#[derive(Clone, Debug)]
pub struct Likeness {
    /// By copy, in order.
    pub features: Vec<Vec<Feature>>,
    /// For every two copies, what they share.
    pairs: Vec<u64>,
}

impl Likeness {
    /// The likeness of block copies by the prints of their sets. A print that a role has over the whole quilt says
    /// nothing about a copy and is left out.
    pub fn of(
        copies: &[(BlockId, u32)],
        stash: &Stash,
        demand: &Demand,
        prints: &[Option<PrintId>],
    ) -> Likeness {
        let mut found: BTreeMap<(BlockId, u32), BTreeSet<Feature>> = BTreeMap::new();
        for (set, print) in demand.sets.iter().zip(prints) {
            let (Some(copy), Some(print)) = (set.block, *print) else { continue };
            let features = found.entry(copy).or_default();
            features.insert(Feature::Print(print));
            features.extend(stash.print_color_group(print).map(Feature::Color));
        }
        let of_copy =
            |copy| found.get(copy).map_or(Vec::new(), |features| features.iter().copied().collect());
        Likeness::new(copies.iter().map(of_copy).collect())
    }

    /// From the features of each copy, sorted and each once.
    pub fn new(features: Vec<Vec<Feature>>) -> Likeness {
        let number = features.len();
        let mut pairs = vec![0; number * number];
        for (one, ours) in features.iter().enumerate() {
            for (other, theirs) in features.iter().enumerate() {
                let shared = ours.iter().filter(|feature| theirs.contains(feature));
                pairs[one * number + other] = shared.map(|feature| feature.weight()).sum();
            }
        }
        Likeness { features, pairs }
    }

    /// How like two copies are.
    pub fn between(&self, one: usize, other: usize) -> u64 {
        self.pairs[one * self.features.len() + other]
    }

    /// The copies that have each feature which more than one has.
    pub fn shared(&self) -> Vec<(Feature, Vec<usize>)> {
        let mut copies: BTreeMap<Feature, Vec<usize>> = BTreeMap::new();
        for (copy, features) in self.features.iter().enumerate() {
            for &feature in features {
                copies.entry(feature).or_default().push(copy);
            }
        }
        copies.into_iter().filter(|(_, copies)| copies.len() > 1).collect()
    }

    /// The sum of nearness times likeness over all pairs, with each copy on its seat.
    pub fn weighted(&self, wall: &Wall, seats: &[usize]) -> u64 {
        pairs(wall, seats).map(|(one, other, near)| near * self.between(one, other)).sum()
    }

    /// The sum of nearness over all pairs, once for each feature of a kind that the two share.
    pub fn crowding(&self, wall: &Wall, seats: &[usize], of: fn(Feature) -> bool) -> u64 {
        let each = pairs(wall, seats).map(|(one, other, near)| {
            let shared = self.features[one]
                .iter()
                .filter(|feature| of(**feature) && self.features[other].contains(feature));
            shared.map(|_| near).sum::<u64>()
        });
        each.sum()
    }
}

/// Every two copies on near places, with the nearness.
fn pairs(wall: &Wall, seats: &[usize]) -> impl Iterator<Item = (usize, usize, u64)> {
    let mut copy_on = vec![None; wall.places.len()];
    for (copy, &seat) in seats.iter().enumerate() {
        copy_on[seat] = Some(copy);
    }
    let mut pairs = Vec::new();
    for (copy, &seat) in seats.iter().enumerate() {
        for &(other, near) in wall.near[seat].iter().filter(|(other, _)| seat < *other) {
            pairs.extend(copy_on[other].map(|other| (copy, other, near)));
        }
    }
    pairs.into_iter()
}
