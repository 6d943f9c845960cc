//! Which roles meet, from the pattern.

use std::collections::{BTreeMap, BTreeSet};

use super::seams::{self, Patch};
use crate::pattern::{Block, Matching, Pattern, geometry};

/// Two roles that meet, by their numbers.
pub(super) struct Met {
    /// In every copy of this block; `None` over the whole quilt.
    pub(super) block: Option<usize>,
    pub(super) roles: [usize; 2],
    /// Ticks of seam of one copy, or of the quilt; `None` where it is not drawn.
    pub(super) seam: Option<i64>,
}

/// Block, and two roles in rising order, with all seam there is of it, and whether it is all drawn.
type Sums = BTreeMap<(Option<usize>, usize, usize), (i64, bool)>;

/// Every two roles that meet.
pub(super) fn all(pattern: &Pattern) -> Vec<Met> {
    if pattern.blends {
        return Vec::new();
    }
    let wide = wide(pattern);
    let mut sums = Sums::new();
    let mut add = |block: Option<usize>, one: usize, other: usize, seam: Option<i64>| {
        let block = if wide.contains(&one) && wide.contains(&other) { None } else { block };
        let sum = sums.entry((block, one.min(other), one.max(other))).or_insert((0, true));
        sum.0 = sum.0.saturating_add(seam.unwrap_or(0));
        sum.1 &= seam.is_some();
    };
    let top = geometry::quilt(pattern);
    let laid: BTreeSet<usize> = pattern
        .layout
        .iter()
        .flat_map(|layout| layout.rows.iter().chain(&layout.between).flatten())
        .map(|cell| cell.block.0)
        .collect();
    for (number, block) in pattern.blocks.iter().enumerate() {
        match drawn(block) {
            Some(patches) => {
                for ((one, other), seam) in seams::inside(&patches) {
                    add(Some(number), one, other, Some(seam.saturating_mul(i64::from(block.make))));
                }
            }
            None if top.is_none() || laid.contains(&number) => {
                let own: BTreeSet<usize> = block.pieces.iter().map(|line| line.role.0).collect();
                let through = wide.iter().filter(|&&role| copies_with(pattern, role) > 1);
                let all: BTreeSet<usize> = own.iter().chain(through).copied().collect();
                for &one in &own {
                    for &other in all.iter().filter(|&&other| other > one || !own.contains(&other)) {
                        add(Some(number), one, other, None);
                    }
                }
            }
            None => {}
        }
    }
    if let Some(patches) = top {
        let patches: Vec<Patch> = patches
            .iter()
            .filter_map(|patch| {
                let owner = patch.block.map(|(block, copy)| (block.0, copy));
                Some(Patch::new(patch.patch.role?.0, owner, &patch.patch.corners))
            })
            .collect();
        for (one, other, seam) in seams::between(&patches) {
            let (one, other) = (&patches[one], &patches[other]);
            let of = |patch: &Patch| patch.owner.map(|(block, _)| block);
            match (of(one), of(other)) {
                (Some(_), there) if there.is_some() && wide.contains(&one.role) => {
                    // The fabric of the whole quilt is one side; the copy of the other counts. With two of them it does not matter.
                    add(there, one.role, other.role, Some(seam));
                }
                (here, Some(_)) if here.is_some() => {
                    if wide.contains(&other.role) {
                        add(here, one.role, other.role, Some(seam));
                    }
                }
                (here, there) => add(here.or(there), one.role, other.role, Some(seam)),
            }
        }
    } else {
        let listed: Vec<usize> = wide.iter().copied().collect();
        for (index, &one) in listed.iter().enumerate() {
            for &other in &listed[index + 1..] {
                sums.entry((None, one, other)).or_insert((0, false));
            }
        }
    }
    sums.into_iter().filter_map(|(key, sum)| kept(pattern, key, sum)).collect()
}

/// A meeting that counts: no binding, nothing that is meant to blend, nothing that only meets others.
fn kept(
    pattern: &Pattern,
    (block, one, other): (Option<usize>, usize, usize),
    (seam, is_drawn): (i64, bool),
) -> Option<Met> {
    let leaves = |role: usize, beside: usize| {
        let role = &pattern.roles[role];
        let binding = format!("{} {}", role.name, role.title).to_lowercase().contains("binding");
        let others = role.looks.meets.as_ref();
        binding
            || role.looks.blends
            || others.is_some_and(|others| others.iter().all(|other| other.0 != beside))
    };
    if one == other || leaves(one, other) || leaves(other, one) {
        return None;
    }
    let copies = block.map_or(1, |block| i64::from(pattern.blocks[block].make.max(1)));
    let seam = is_drawn.then_some(seam / copies);
    (seam != Some(0)).then_some(Met { block, roles: [one, other], seam })
}

/// Roles of which some piece is one print over the whole quilt.
fn wide(pattern: &Pattern) -> BTreeSet<usize> {
    let lines = pattern.blocks.iter().flat_map(|block| &block.pieces);
    lines.filter(|line| line.matching == Matching::Quilt).map(|line| line.role.0).collect()
}

/// In how many block copies a role comes.
fn copies_with(pattern: &Pattern, role: usize) -> u64 {
    let having = pattern.blocks.iter().filter(|block| block.pieces.iter().any(|line| line.role.0 == role));
    having.map(|block| u64::from(block.make)).sum()
}

/// The patches of a block of which all is known.
fn drawn(block: &Block) -> Option<Vec<Patch>> {
    let patches = geometry::block(block);
    let known: Option<Vec<Patch>> =
        patches.iter().map(|patch| Some(Patch::new(patch.role?.0, None, &patch.corners))).collect();
    known.filter(|patches| !patches.is_empty())
}
