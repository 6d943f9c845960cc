//! Which of the things weighed `at-most` and `different` speak of, and where they lie.

use std::collections::{BTreeMap, BTreeSet};

use crate::pattern::{Pattern, Role};
use crate::verifying::changes::{Changes, Kept};
use crate::verifying::wanted::{PieceKind, Wanted};

/// A block, and a copy of it.
pub(super) type Copy = (String, u64);

/// The rules that nobody gave up.
pub(super) struct InForce<'a> {
    pattern: &'a Pattern,
    changes: &'a Changes,
    /// Roles that have a piece in each block copy.
    here: BTreeMap<(&'a str, u64), BTreeSet<&'a str>>,
}

/// What the rules say of a bag.
#[derive(Clone, Debug)]
pub(super) struct Governed {
    pub(super) role: String,
    /// Of each block so many copies may take one print for the role.
    pub(super) at_most: Option<u64>,
    /// In no copy may one print serve one of these roles and this one.
    pub(super) different: BTreeSet<String>,
    /// How many things of the bag have a piece in each copy.
    pub(super) copies: BTreeMap<Copy, u64>,
    /// True when one thing has pieces in several copies.
    pub(super) wide: bool,
}

impl<'a> InForce<'a> {
    pub(super) fn new(pattern: &'a Pattern, changes: &'a Changes, wanted: &'a Wanted) -> InForce<'a> {
        let mut here: BTreeMap<(&str, u64), BTreeSet<&str>> = BTreeMap::new();
        for kind in wanted.pieces.keys() {
            here.entry((&kind.block, kind.copy)).or_default().insert(&kind.role);
        }
        InForce { pattern, changes, here }
    }

    fn at_most(&self, role: &Role) -> Option<u64> {
        let most = role.rules.at_most.filter(|_| !self.changes.waives(Kept::AtMost, &role.name, None));
        most.map(u64::from)
    }

    fn different(&self, role: &Role) -> BTreeSet<String> {
        let names = |one: &Role, two: &Role| {
            one.rules.different.iter().any(|r| self.pattern.roles[r.0].name == two.name)
        };
        let others = self.pattern.roles.iter().filter(|other| other.name != role.name);
        let differ = others.filter(|other| names(role, other) || names(other, role));
        let kept =
            differ.filter(|other| !self.changes.waives(Kept::Different, &role.name, Some(&other.name)));
        kept.map(|other| other.name.clone()).collect()
    }

    /// What the rules say of one thing with these pieces; `None` when they say nothing.
    pub(super) fn of<'p>(
        &self,
        role: &Role,
        pieces: impl Iterator<Item = &'p PieceKind>,
    ) -> Option<Governed> {
        let (at_most, different) = (self.at_most(role), self.different(role));
        let copies: BTreeMap<Copy, u64> = pieces.map(|kind| ((kind.block.clone(), kind.copy), 1)).collect();
        let beside = |(block, copy): &Copy| {
            let here = self.here.get(&(block.as_str(), *copy));
            here.is_some_and(|roles| roles.iter().any(|other| different.contains(*other)))
        };
        let spoken_of = at_most.is_some() || copies.keys().any(beside);
        let wide = copies.len() > 1;
        spoken_of.then(|| Governed { role: role.name.clone(), at_most, different, copies, wide })
    }

    /// Is a set of these pieces in more copies of one block than may take one print?
    pub(super) fn in_too_many_copies<'p>(
        &self,
        role: &Role,
        pieces: impl Iterator<Item = &'p PieceKind>,
    ) -> bool {
        let Some(most) = self.at_most(role) else { return false };
        let mut copies: BTreeMap<&str, BTreeSet<u64>> = BTreeMap::new();
        for piece in pieces {
            copies.entry(&piece.block).or_default().insert(piece.copy);
        }
        copies.values().any(|copies| copies.len() as u64 > most)
    }
}

impl Governed {
    /// Things are counted together when this is the same.
    pub(super) fn known_by(&self) -> (String, BTreeSet<String>) {
        (self.role.clone(), self.copies.keys().map(|(block, _)| block.clone()).collect())
    }

    /// Takes in another thing of the same bag.
    pub(super) fn with(&mut self, other: &Governed) {
        for (copy, things) in &other.copies {
            *self.copies.entry(copy.clone()).or_insert(0) += things;
        }
        self.wide |= other.wide;
    }
}
