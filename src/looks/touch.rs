//! Meetings of roles -> which sets of a demand touch, copy by copy.

use std::collections::{BTreeMap, BTreeSet};

use crate::looks::{Meeting, Sight};
use crate::pattern::demand::{Demand, SetId};
use crate::pattern::{BlockId, RoleId};
use crate::stash::PrintId;

/// What a meeting counts where its seam is not known.
pub const WHOLE: i64 = 1000;

/// Two roles that meet in one block copy, or over the whole quilt, with the sets that serve them there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Touch {
    /// The block copy; `None` for two fabrics of the whole quilt.
    pub copy: Option<(BlockId, u32)>,
    /// The two roles.
    pub roles: [RoleId; 2],
    /// The sets of each: one, or as many as there are loose pieces, each of which counts its share.
    pub sets: [Vec<SetId>; 2],
    /// What it counts: ticks of seam, or [`WHOLE`].
    pub weight: i64,
}

/// Everything that touches.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Touches {
    /// One for each meeting of each copy.
    pub list: Vec<Touch>,
    /// Whether weights are ticks of seam: true when the seam of every meeting is known.
    pub by_seam: bool,
}

impl Touch {
    /// Every two sets, one of each side.
    pub fn pairs(&self) -> impl Iterator<Item = (SetId, SetId)> {
        let [ones, others] = &self.sets;
        ones.iter().flat_map(move |&one| others.iter().map(move |&other| (one, other)))
    }

    /// What two of its sets count, rounded down.
    pub fn share(&self) -> i64 {
        let pairs = self.sets[0].len() * self.sets[1].len();
        self.weight / i64::try_from(pairs.max(1)).unwrap_or(i64::MAX)
    }

    /// How many of its pairs look each way, by [`Pair::index`](crate::looks::Pair::index); pairs with a set that has no print are left out.
    pub fn count(&self, prints: &[Option<PrintId>], sight: &Sight) -> [i64; 5] {
        let mut counts = [0; 5];
        for (one, other) in self.pairs() {
            if let (Some(one), Some(other)) = (prints[one.0], prints[other.0]) {
                counts[sight.pair(one, other).index()] += 1;
            }
        }
        counts
    }
}

impl Touches {
    /// The meetings of a pattern on the sets of its demand.
    pub fn of(meetings: &[Meeting], demand: &Demand) -> Touches {
        let by_seam = meetings.iter().all(|meeting| meeting.seam.is_some());
        // Sets by block copy and role, and by role.
        let mut here: BTreeMap<(BlockId, u32, RoleId), BTreeSet<SetId>> = BTreeMap::new();
        let mut all: BTreeMap<RoleId, BTreeSet<SetId>> = BTreeMap::new();
        let mut copies: BTreeMap<BlockId, BTreeSet<u32>> = BTreeMap::new();
        for piece in &demand.pieces {
            here.entry((piece.block, piece.copy, piece.role)).or_default().insert(piece.set);
            all.entry(piece.role).or_default().insert(piece.set);
            copies.entry(piece.block).or_default().insert(piece.copy);
        }
        let mut list = Vec::new();
        for meeting in meetings {
            let weight = meeting.seam.filter(|_| by_seam).map_or(WHOLE, |seam| seam.ticks());
            let of = |sets: Option<&BTreeSet<SetId>>| -> Vec<SetId> {
                sets.into_iter().flatten().copied().collect()
            };
            let mut add = |copy: Option<(BlockId, u32)>, sets: [Vec<SetId>; 2]| {
                // A role that an alternative does not make any more meets nothing.
                if sets.iter().all(|sets| !sets.is_empty()) {
                    list.push(Touch { copy, roles: meeting.roles, sets, weight });
                }
            };
            match meeting.block {
                None => add(None, meeting.roles.map(|role| of(all.get(&role)))),
                Some(block) => {
                    for &copy in copies.get(&block).into_iter().flatten() {
                        let sets = meeting
                            .roles
                            .map(|role| of(here.get(&(block, copy, role)).or_else(|| all.get(&role))));
                        add(Some((block, copy)), sets);
                    }
                }
            }
        }
        Touches { list, by_seam }
    }
}
