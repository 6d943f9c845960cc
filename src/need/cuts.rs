//! The amount as squares of a pack, strips of a roll or fat quarters, for a role that may be taken from them.

use std::collections::BTreeMap;

use crate::cutting::{self, Kind, Purchasable, Sheet, Work};
use crate::fabric::{Cut, Family};
use crate::length::Length;
use crate::need::{Assumptions, Wanted, sizes};
use crate::pattern::demand::{Demand, Loosened, Piece};
use crate::pattern::{Matching, Pattern, RoleId};

/// How many sheets of one size it takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Sheets {
    /// The fewest found.
    pub count: u32,
    /// Fewer do not do.
    pub bound: u32,
}

/// One cut of fabric a role may be taken from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FromCut {
    /// The cut, at its nominal size, nothing squared up.
    pub cut: Cut,
    /// All pieces of the role together, as if prints could be shared freely; `None` when a piece does not fit.
    pub all: Option<Sheets>,
    /// Sets that need one print each: how many sets take how many sheets, each set for itself.
    pub sets: Vec<(usize, Sheets)>,
}

/// The cuts a role of `pattern` may be taken from, yardage left out: that is what all else is about.
pub(super) fn from_cuts(pattern: &Pattern, role: RoleId, how: &Assumptions) -> Vec<FromCut> {
    let named = pattern.roles[role.0].from.iter();
    let cuts: Vec<Cut> = named
        .copied()
        .filter(|cut| matches!(cut.entry().family, Family::Precut | Family::FatQuarter))
        .collect();
    if cuts.is_empty() {
        return Vec::new();
    }
    let demand = Demand::expand(pattern, &Loosened::default());
    let of_role = demand.pieces.iter().filter(|piece| piece.role == role);
    let all = sizes(pattern, of_role, how);
    let mut kinds: Vec<(Vec<Wanted>, usize)> = Vec::new();
    for set in demand.sets.iter().filter(|set| set.role == role && set.matching == Matching::Block) {
        let pieces: Vec<&Piece> = set.pieces.iter().map(|&id| demand.piece(id)).collect();
        let wanted = sizes(pattern, pieces.into_iter(), how);
        match kinds.iter_mut().find(|(alike, _)| *alike == wanted) {
            Some((_, count)) => *count += 1,
            None => kinds.push((wanted, 1)),
        }
    }
    let one = |cut: Cut| {
        let entry = cut.entry();
        let (width, height) = (entry.width?, entry.length?);
        let sheet = Sheet { width, height };
        let mut sets: BTreeMap<Sheets, usize> = BTreeMap::new();
        for (wanted, count) in &kinds {
            *sets.entry(sheets(sheet, wanted, how.work / 8)?).or_default() += count;
        }
        Some((sheets(sheet, &all, how.work / 4)?, sets))
    };
    let answer = |cut: Cut| match one(cut) {
        None => FromCut { cut, all: None, sets: Vec::new() },
        Some((all, sets)) => FromCut {
            cut,
            all: Some(all),
            sets: sets.into_iter().map(|(sheets, count)| (count, sheets)).collect(),
        },
    };
    cuts.into_iter().map(answer).collect()
}

/// The fewest sheets found for `wanted`, within `work` steps; `None` when a piece does not fit.
pub fn sheets(sheet: Sheet, wanted: &[Wanted], work: u64) -> Option<Sheets> {
    let goes_in = |width: Length, height: Length| width <= sheet.width && height <= sheet.height;
    if !wanted
        .iter()
        .all(|one| goes_in(one.width, one.height) || (one.turn && goes_in(one.height, one.width)))
    {
        return None;
    }
    let kinds: Vec<Kind> = wanted.iter().map(Wanted::kind).collect();
    let counts: Vec<u32> = wanted.iter().map(|one| one.count).collect();
    let found = cutting::cheapest(&[Purchasable { sheet, cost: 1 }], &kinds, &counts, &mut Work::steps(work));
    let count = u32::try_from(found.cost?).ok()?;
    Some(Sheets { count, bound: u32::try_from(found.bound.max(0)).ok()?.min(count) })
}
