//! What may be changed together, as a list of single things that can be taken back one by one.

use std::collections::{BTreeMap, BTreeSet};

use crate::pattern::demand::{Demand, Loosened, SetId};
use crate::pattern::rules::Waived;
use crate::pattern::unit::Method;
use crate::pattern::{BlockId, Matching, Pattern, RoleId};
use crate::planning::alternative::purchase::Purchase;
use crate::stash::{LotId, PrintId, Stash};

/// What is changed together.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Changes {
    /// Kept-back lots that may be used.
    pub(super) released: BTreeSet<LotId>,
    /// Sets whose decided print is given up.
    pub(super) freed: BTreeSet<SetName>,
    /// Block copies and roles whose matching is given up.
    pub(super) mixed: BTreeSet<(BlockId, u32, RoleId)>,
    /// Roles that take these two prints instead of one over the whole quilt.
    pub(super) two_prints: BTreeMap<RoleId, [PrintId; 2]>,
    /// Rules between fabrics that are given up.
    pub(super) waived: BTreeSet<Waived>,
    /// Units made by a method that the pattern does not name for them.
    pub(super) methods: BTreeMap<(BlockId, usize), Method>,
    /// Another size of the quilt; blocks named above are then those of this size.
    pub(super) size: Option<usize>,
    /// How many copies of a block are left out.
    pub(super) left_out: BTreeMap<BlockId, u32>,
    pub(super) bought: Vec<Purchase>,
}

/// One thing that can be taken back.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Single {
    Released(LotId),
    Freed(SetName),
    Mixed((BlockId, u32, RoleId)),
    TwoPrints(RoleId),
    Waived(Waived),
    /// One of the copies left out.
    LeftOut(BlockId),
}

impl Changes {
    /// The pattern in the size and with the methods chosen; `None` when it does not come so.
    pub(super) fn pattern(&self, pattern: &Pattern) -> Option<Pattern> {
        let sized = match self.size {
            Some(size) => pattern.at_size(size)?,
            None => pattern.clone(),
        };
        let mut made = self.methods.iter();
        made.try_fold(sized, |pattern, (&(block, unit), &method)| pattern.with_method(block, unit, method))
    }

    /// What of the pattern's wishes is taken back.
    pub(super) fn loosened(&self, pattern: &Pattern, stash: &Stash) -> Loosened {
        let make =
            |(&block, &out): (&BlockId, &u32)| (block, pattern.blocks[block.0].make.saturating_sub(out));
        let names = |prints: &[PrintId; 2]| prints.map(|print| stash.print(print).name.clone());
        Loosened {
            mixed: self.mixed.iter().copied().collect(),
            makes: self.left_out.iter().map(make).collect(),
            waived: self.waived.iter().copied().collect(),
            two_prints: self.two_prints.iter().map(|(&role, prints)| (role, names(prints))).collect(),
        }
    }

    /// Everything that can be taken back. Purchases are no part of it: they are bought as few as will do.
    pub(super) fn singles(&self) -> Vec<Single> {
        let released = self.released.iter().copied().map(Single::Released);
        let freed = self.freed.iter().cloned().map(Single::Freed);
        let mixed = self.mixed.iter().copied().map(Single::Mixed);
        let two_prints = self.two_prints.keys().copied().map(Single::TwoPrints);
        let waived = self.waived.iter().copied().map(Single::Waived);
        let left_out = self
            .left_out
            .iter()
            .flat_map(|(&block, &out)| std::iter::repeat_n(Single::LeftOut(block), out as usize));
        released.chain(freed).chain(mixed).chain(two_prints).chain(waived).chain(left_out).collect()
    }

    /// The same with these taken back.
    pub(super) fn without(&self, singles: &[Single]) -> Changes {
        let mut less = self.clone();
        for single in singles {
            match single {
                Single::Released(lot) => {
                    less.released.remove(lot);
                }
                Single::Freed(set) => {
                    less.freed.remove(set);
                }
                Single::Mixed(copy) => {
                    less.mixed.remove(copy);
                }
                Single::TwoPrints(role) => {
                    less.two_prints.remove(role);
                }
                Single::Waived(rule) => {
                    less.waived.remove(rule);
                }
                Single::LeftOut(block) => {
                    if let Some(out) = less.left_out.get_mut(block) {
                        *out -= 1;
                    }
                    less.left_out.retain(|_, out| *out > 0);
                }
            }
        }
        less
    }
}

/// What a set is in every demand: the numbers of sets change with the changes.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct SetName {
    block: Option<(BlockId, u32)>,
    role: RoleId,
    /// Label and number, for a set of one piece that nothing ties to others.
    piece: Option<(String, u32)>,
}

impl SetName {
    pub(super) fn of(demand: &Demand, id: SetId) -> SetName {
        let set = demand.set(id);
        let single = set.pieces.first().filter(|_| set.matching == Matching::Piece);
        let piece = single.map(|&piece| demand.piece(piece)).map(|piece| (piece.label.clone(), piece.number));
        SetName { block: set.block, role: set.role, piece }
    }

    /// True for the set that ties a role over the whole quilt.
    pub(super) fn is_of_quilt(&self, role: RoleId) -> bool {
        self.block.is_none() && self.role == role
    }

    /// True when the other is this set or, its matching being given up, a part of it.
    pub(super) fn holds(&self, other: &SetName) -> bool {
        self.role == other.role
            && (self.block.is_none() || self.block == other.block)
            && (self.piece.is_none() || self.piece == other.piece)
    }
}
