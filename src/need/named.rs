//! What pieces are called where all blocks of a pattern are cut together, and what becomes of squares.

use std::collections::{BTreeMap, BTreeSet};

use crate::length::Length;
use crate::pattern::{Pattern, RoleId, Shape};

/// Squares that are not sewn as squares.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Triangles {
    /// The label, as [`told_apart`] tells it.
    pub label: String,
    /// Side of the square.
    pub side: Length,
    /// How it is cut.
    pub shape: Shape,
}

/// `pattern` with the block in every label that means several sizes of one fabric.
pub fn told_apart(mut pattern: Pattern) -> Pattern {
    let mut sizes: BTreeMap<(RoleId, String), BTreeSet<(Length, Length)>> = BTreeMap::new();
    for line in pattern.blocks.iter().flat_map(|block| &block.pieces) {
        sizes.entry((line.role, line.label.clone())).or_default().insert((line.width, line.height));
    }
    for block in &mut pattern.blocks {
        for line in &mut block.pieces {
            if sizes[&(line.role, line.label.clone())].len() > 1 {
                line.label = format!("{} of {}", line.label, block.name);
            }
        }
    }
    pattern
}

/// The squares of a role that are then cut corner to corner.
pub(super) fn triangles(pattern: &Pattern, role: RoleId) -> Vec<Triangles> {
    let apart = told_apart(pattern.clone());
    let lines = apart.blocks.iter().flat_map(|block| &block.pieces);
    let cut = lines.filter(|line| line.role == role && line.shape != Shape::Rectangle);
    let mut found = Vec::new();
    for line in cut {
        let one = Triangles { label: line.label.clone(), side: line.width, shape: line.shape };
        if !found.contains(&one) {
            found.push(one);
        }
    }
    found
}

/// Every role as a person may name it: `A (rose)`.
pub(super) fn roles(pattern: &Pattern) -> Vec<String> {
    let named = |role: &crate::pattern::Role| match role.title.as_str() {
        "" => role.name.clone(),
        title => format!("{} ({title})", role.name),
    };
    pattern.roles.iter().map(named).collect()
}
