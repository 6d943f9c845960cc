//! How one plan looks: what meets, what of it looks alike, how often a print comes. Worked out once for record and sheet.

use std::collections::{BTreeMap, BTreeSet};

use crate::looks::{self, Figures, Pair, Sight, Touches};
use crate::pattern::{BlockId, RoleId};
use crate::report::situation::Situation;
use crate::stash::PrintId;

/// One plan, looked at.
pub(crate) struct Looked {
    /// What meets.
    pub(crate) touches: Touches,
    /// Every two prints.
    pub(crate) sight: Sight,
    /// In numbers.
    pub(crate) figures: Figures,
}

/// Two prints that look alike where they meet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Clash {
    /// In this block copy; `None` over the whole quilt.
    pub(crate) copy: Option<(BlockId, u32)>,
    /// The roles.
    pub(crate) roles: [RoleId; 2],
    /// Their prints.
    pub(crate) prints: [PrintId; 2],
    /// [`Pair::Same`] or [`Pair::Blend`].
    pub(crate) pair: Pair,
}

impl Looked {
    /// Looks at the plan of a situation.
    pub(crate) fn of(here: &Situation<'_>) -> Looked {
        let touches = Touches::of(&looks::meetings(here.pattern), here.demand);
        let sight = Sight::of(here.stash, here.job.rules.alike);
        let figures = looks::measure(&touches, here.demand, &here.outcome.plan.prints, &sight);
        Looked { touches, sight, figures }
    }

    /// Every two prints that look alike where they meet, each once a meeting.
    pub(crate) fn clashes(&self, here: &Situation<'_>) -> Vec<Clash> {
        let prints = &here.outcome.plan.prints;
        let mut found = BTreeSet::new();
        for touch in &self.touches.list {
            for (one, other) in touch.pairs() {
                let (Some(one), Some(other)) = (prints[one.0], prints[other.0]) else { continue };
                let pair = self.sight.pair(one, other);
                if matches!(pair, Pair::Same | Pair::Blend) {
                    found.insert(Clash { copy: touch.copy, roles: touch.roles, prints: [one, other], pair });
                }
            }
        }
        found.into_iter().collect()
    }

    /// The prints that meet a role in a block copy, or anywhere for a fabric of the whole quilt.
    pub(crate) fn beside(
        &self,
        here: &Situation<'_>,
        copy: Option<(BlockId, u32)>,
        role: RoleId,
    ) -> BTreeSet<PrintId> {
        let prints = &here.outcome.plan.prints;
        let there = |touch: &&looks::Touch| copy.is_none() || touch.copy == copy;
        let other = |touch: &looks::Touch| match touch.roles {
            [one, _] if one == role => touch.sets[1].clone(),
            [_, two] if two == role => touch.sets[0].clone(),
            _ => Vec::new(),
        };
        self.touches.list.iter().filter(there).flat_map(other).filter_map(|set| prints[set.0]).collect()
    }

    /// How many block copies have something that meets.
    pub(crate) fn copies(&self) -> usize {
        self.touches.list.iter().filter_map(|touch| touch.copy).collect::<BTreeSet<_>>().len()
    }

    /// By block copy, how much of each print is cut for some of its roles, in square ticks, the most first.
    pub(crate) fn areas(
        here: &Situation<'_>,
        counts: &dyn Fn(RoleId) -> bool,
    ) -> BTreeMap<(BlockId, u32), Vec<(PrintId, i128)>> {
        let mut areas: BTreeMap<(BlockId, u32), BTreeMap<PrintId, i128>> = BTreeMap::new();
        for piece in here.demand.pieces.iter().filter(|piece| counts(piece.role)) {
            if let Some(print) = here.print_of(piece) {
                let area = i128::from(piece.area().square_ticks());
                *areas.entry((piece.block, piece.copy)).or_default().entry(print).or_default() += area;
            }
        }
        let sorted = |prints: BTreeMap<PrintId, i128>| {
            let mut prints: Vec<(PrintId, i128)> = prints.into_iter().collect();
            prints.sort_by_key(|&(print, area)| (std::cmp::Reverse(area), print));
            prints
        };
        areas.into_iter().map(|(copy, prints)| (copy, sorted(prints))).collect()
    }
}
