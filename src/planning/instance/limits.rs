//! What the rules between fabrics leave one print to serve.
//!
//! `different` and `at-most` tie block copies together, but each of them speaks of one print at a time, so they
//! can be kept inside the plan of a print: how many copies of a block may take it for this role and for that.
//! Where like copies are counted together these limits are necessary for any pairing of prints into block
//! copies, and enough for it when the roles that must differ form cliques that meet in single roles or a
//! forest (König 1916: a bipartite multigraph of greatest degree n falls into n matchings, one for each copy).
//! Elsewhere, such as in a ring of four roles, a block's copies are told apart, and the limits are the rules
//! themselves.

use std::collections::{BTreeMap, BTreeSet};

use crate::pattern::demand::{Demand, SetId};
use crate::pattern::{BlockId, Matching, RoleId};

/// Sets that a rule makes alike: of one role, in one block or over the quilt.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Group {
    pub(crate) role: RoleId,
    /// `None` for a set over the whole quilt.
    pub(crate) block: Option<BlockId>,
    /// The copy, where the copies of the block are told apart.
    pub(crate) copy: Option<u32>,
}

/// A limit on the bags that one print serves. What keeps it, keeps it with anything taken away.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Limit {
    /// So much for each of these bags, at most so much in all.
    Sum {
        /// (bag, how much one counts).
        weights: Vec<(usize, u32)>,
        /// The most in all.
        most: u32,
    },
    /// Bags from at most so many of these groups.
    FewOf {
        /// Bags, in groups.
        groups: Vec<Vec<usize>>,
        /// The most groups.
        most: u32,
    },
}

impl Limit {
    /// Is it kept by a print that serves `bags`?
    pub(crate) fn kept(&self, bags: &[(usize, u32)]) -> bool {
        match self {
            Limit::Sum { weights, most } => {
                let of = |bag: usize| weights.iter().find(|(other, _)| *other == bag).map_or(0, |&(_, w)| w);
                let sum: u64 = bags.iter().map(|&(bag, n)| u64::from(of(bag)) * u64::from(n)).sum();
                sum <= u64::from(*most)
            }
            Limit::FewOf { groups, most } => {
                let served = |group: &&Vec<usize>| bags.iter().any(|&(bag, n)| n > 0 && group.contains(&bag));
                groups.iter().filter(served).count() <= *most as usize
            }
        }
    }

    /// The same for the bags that `renamed` knows by another number; `None` when none are left.
    pub(crate) fn restricted(&self, renamed: &BTreeMap<usize, usize>) -> Option<Limit> {
        let limit = match self {
            Limit::Sum { weights, most } => Limit::Sum {
                weights: weights.iter().filter_map(|(bag, w)| Some((*renamed.get(bag)?, *w))).collect(),
                most: *most,
            },
            Limit::FewOf { groups, most } => {
                let kept = |group: &Vec<usize>| -> Vec<usize> {
                    group.iter().filter_map(|bag| renamed.get(bag).copied()).collect()
                };
                let groups = groups.iter().map(kept).filter(|group| !group.is_empty()).collect();
                Limit::FewOf { groups, most: *most }
            }
        };
        let binds = match &limit {
            Limit::Sum { weights, .. } => !weights.is_empty(),
            Limit::FewOf { groups, most } => groups.len() > *most as usize,
        };
        binds.then_some(limit)
    }
}

/// The sets of a demand that `different` and `at-most` speak of.
pub(crate) struct Governed<'a> {
    demand: &'a Demand,
    /// By block and copy: the roles that a rule governs there, each with its sets. A set over the whole quilt
    /// stands in every copy that has a piece of it.
    pub(crate) copies: BTreeMap<(BlockId, u32), BTreeMap<RoleId, Vec<SetId>>>,
}

impl<'a> Governed<'a> {
    /// Looks for them among the sets that are not left out.
    pub(crate) fn new(demand: &'a Demand, without: &BTreeSet<SetId>) -> Governed<'a> {
        let mut copies: BTreeMap<(BlockId, u32), BTreeMap<RoleId, Vec<SetId>>> = BTreeMap::new();
        let ruled = |role: RoleId| {
            demand.rules.get(role.0).is_some_and(|r| r.at_most.is_some() || !r.different.is_empty())
        };
        for piece in demand.pieces.iter().filter(|piece| ruled(piece.role) && !without.contains(&piece.set)) {
            let sets = copies.entry((piece.block, piece.copy)).or_default().entry(piece.role).or_default();
            if !sets.contains(&piece.set) {
                sets.push(piece.set);
            }
        }
        for roles in copies.values_mut() {
            let here: BTreeSet<RoleId> = roles.keys().copied().collect();
            roles.retain(|role, _| {
                let rules = &demand.rules[role.0];
                rules.at_most.is_some() || rules.different.iter().any(|other| here.contains(other))
            });
        }
        copies.retain(|_, roles| !roles.is_empty());
        Governed { demand, copies }
    }

    /// The group of a set; `None` when no rule speaks of it.
    pub(crate) fn group(&self, set: SetId, apart: &BTreeSet<BlockId>) -> Option<Group> {
        let of = self.demand.set(set);
        let stands = |at: &(BlockId, u32)| {
            self.copies.get(at).is_some_and(|roles| roles.get(&of.role).is_some_and(|s| s.contains(&set)))
        };
        match of.block {
            Some(at) => stands(&at).then(|| Group {
                role: of.role,
                block: Some(at.0),
                copy: apart.contains(&at.0).then_some(at.1),
            }),
            None => {
                let mut places = self.copies.keys();
                places.any(stands).then_some(Group { role: of.role, block: None, copy: None })
            }
        }
    }

    /// Blocks in which a rule speaks of some set.
    pub(crate) fn blocks(&self) -> BTreeSet<BlockId> {
        self.copies.keys().map(|(block, _)| *block).collect()
    }

    /// The limits for the copies of `block` after number `after`, over bags known by their group.
    pub(crate) fn limits(
        &self,
        block: BlockId,
        after: u32,
        apart: bool,
        bags: &BTreeMap<Group, Vec<usize>>,
    ) -> Vec<Limit> {
        let copies: BTreeMap<u32, &BTreeMap<RoleId, Vec<SetId>>> = self
            .copies
            .range((block, after + 1)..=(block, u32::MAX))
            .map(|((_, copy), roles)| (*copy, roles))
            .collect();
        let roles: BTreeSet<RoleId> = copies.values().flat_map(|roles| roles.keys().copied()).collect();
        let block = InBlock { demand: self.demand, block, copies, bags };
        let mut limits: Vec<Limit> = Vec::new();
        let roles: Vec<RoleId> = roles.into_iter().collect();
        for (index, &one) in roles.iter().enumerate() {
            limits.extend(block.at_most(one, apart));
            for &other in roles[index + 1..].iter().filter(|other| block.differ(one, **other)) {
                if apart {
                    limits.extend(block.never_together(one, other))
                } else {
                    limits.push(block.pair(one, other))
                }
            }
        }
        if !apart {
            limits.extend(block.cliques(&roles));
        }
        limits
    }
}

/// The copies of one block.
struct InBlock<'a> {
    demand: &'a Demand,
    block: BlockId,
    copies: BTreeMap<u32, &'a BTreeMap<RoleId, Vec<SetId>>>,
    bags: &'a BTreeMap<Group, Vec<usize>>,
}

impl InBlock<'_> {
    fn differ(&self, one: RoleId, other: RoleId) -> bool {
        self.demand.rules[one.0].different.contains(&other)
    }

    /// Is the role one print over the whole quilt?
    fn is_quilt(&self, role: RoleId) -> bool {
        let mut sets = self.copies.values().filter_map(|roles| roles.get(&role)).flatten();
        sets.any(|set| self.demand.set(*set).matching == Matching::Quilt)
    }

    fn bags(&self, role: RoleId, copy: Option<u32>) -> Vec<usize> {
        let block = (!self.is_quilt(role)).then_some(self.block);
        let copy = copy.filter(|_| block.is_some());
        self.bags.get(&Group { role, block, copy }).cloned().unwrap_or_default()
    }

    fn weighted(&self, role: RoleId, weight: u32) -> impl Iterator<Item = (usize, u32)> {
        self.bags(role, None).into_iter().map(move |bag| (bag, weight))
    }

    /// How many sets of a role a copy has.
    fn count(&self, copy: u32, role: RoleId) -> u32 {
        let sets = self.copies.get(&copy).and_then(|roles| roles.get(&role)).map_or(0, Vec::len);
        u32::try_from(sets).unwrap_or(u32::MAX)
    }

    fn most(&self, role: RoleId) -> u32 {
        self.copies.keys().map(|&copy| self.count(copy, role)).max().unwrap_or(0)
    }

    fn total(&self, role: RoleId) -> u32 {
        self.copies.keys().map(|&copy| self.count(copy, role)).sum()
    }

    /// Copies that have a set of any of these roles.
    fn having(&self, roles: &[RoleId]) -> u32 {
        let has = |copy: &&u32| roles.iter().any(|&role| self.count(**copy, role) > 0);
        u32::try_from(self.copies.keys().filter(has).count()).unwrap_or(u32::MAX)
    }

    /// At most so many copies take one print for this role: told apart, or as many sets as so many copies have.
    fn at_most(&self, role: RoleId, apart: bool) -> Option<Limit> {
        let most = self.demand.rules[role.0].at_most.filter(|&most| most < self.having(&[role]))?;
        if self.is_quilt(role) {
            return Some(Limit::Sum { weights: self.weighted(role, 1).collect(), most: 0 });
        }
        if apart {
            let groups = self.copies.keys().map(|&copy| self.bags(role, Some(copy)));
            return Some(Limit::FewOf { groups: groups.filter(|bags| !bags.is_empty()).collect(), most });
        }
        let most = most.saturating_mul(self.most(role));
        Some(Limit::Sum { weights: self.weighted(role, 1).collect(), most })
    }

    /// In no copy may one print serve both.
    fn never_together(&self, one: RoleId, other: RoleId) -> Vec<Limit> {
        let both =
            self.copies.keys().filter(|&&copy| self.count(copy, one) > 0 && self.count(copy, other) > 0);
        both.map(|&copy| Limit::FewOf {
            groups: vec![self.bags(one, Some(copy)), self.bags(other, Some(copy))],
            most: 1,
        })
        .collect()
    }

    /// What "in no copy both" means for the copies counted together.
    fn pair(&self, one: RoleId, other: RoleId) -> Limit {
        let (one, other) = if self.is_quilt(other) { (other, one) } else { (one, other) };
        if self.is_quilt(one) {
            if self.is_quilt(other) {
                let weights = self.weighted(one, 1).chain(self.weighted(other, 1)).collect();
                return Limit::Sum { weights, most: 1 };
            }
            // The quilt's print is in all copies that have it: there the other role cannot take it.
            let beside = self.copies.keys().filter(|&&copy| self.count(copy, one) > 0);
            let barred = beside.map(|&copy| self.count(copy, other)).sum();
            let weights = self.weighted(one, barred).chain(self.weighted(other, 1)).collect();
            return Limit::Sum { weights, most: self.total(other) };
        }
        let (few, many) = if self.most(one) <= self.most(other) { (one, other) } else { (other, one) };
        if self.most(many) == 1 {
            let weights = self.weighted(few, 1).chain(self.weighted(many, 1)).collect();
            return Limit::Sum { weights, most: self.having(&[few, many]) };
        }
        if self.most(few) == 1 {
            // A copy that takes the print for the one leaves none of its sets of the other.
            let beside = self.copies.keys().filter(|&&copy| self.count(copy, few) > 0);
            let barred = beside.map(|&copy| self.count(copy, many)).min().unwrap_or(0);
            let weights = self.weighted(few, barred).chain(self.weighted(many, 1)).collect();
            return Limit::Sum { weights, most: self.total(many) };
        }
        let (a, b) = (self.most(few), self.most(many));
        let weights = self.weighted(few, b).chain(self.weighted(many, a)).collect();
        Limit::Sum { weights, most: a.saturating_mul(b).saturating_mul(self.having(&[few, many])) }
    }

    /// Three and more roles that all differ, each with one set in a copy: one print, one of them in each copy.
    fn cliques(&self, roles: &[RoleId]) -> Vec<Limit> {
        let single: Vec<RoleId> =
            roles.iter().copied().filter(|&role| self.most(role) == 1 && !self.is_quilt(role)).collect();
        let mut found: Vec<Vec<RoleId>> = Vec::new();
        self.grow(&mut Vec::new(), &single, &mut found);
        found
            .into_iter()
            .map(|clique| Limit::Sum {
                weights: clique.iter().flat_map(|&role| self.weighted(role, 1)).collect(),
                most: self.having(&clique),
            })
            .collect()
    }

    /// Every clique of three or more that no role can be added to.
    fn grow(&self, clique: &mut Vec<RoleId>, rest: &[RoleId], found: &mut Vec<Vec<RoleId>>) {
        if rest.is_empty() && clique.len() > 2 && !found.iter().any(|f| clique.iter().all(|r| f.contains(r)))
        {
            found.push(clique.clone());
        }
        for (index, &next) in rest.iter().enumerate() {
            let more: Vec<RoleId> =
                rest[index + 1..].iter().copied().filter(|&role| self.differ(next, role)).collect();
            clique.push(next);
            self.grow(clique, &more, found);
            clique.pop();
        }
    }
}
