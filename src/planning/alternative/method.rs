//! A unit made by a method that its kind allows and the pattern does not name: the same sewn result, other cuts.

use std::collections::BTreeSet;

use crate::pattern::unit::Method;
use crate::pattern::{BlockId, RoleId};
use crate::planning::alternative::Inputs;
use crate::planning::alternative::attempt::{Tried, attempt};

/// Units and methods tried.
const MOST_TRIES: usize = 12;

/// `start` with one unit of what is short made another way.
pub(super) fn other_method(inputs: &Inputs<'_>, start: &Tried) -> Option<Tried> {
    // A decision about a piece by its label may name another piece when there are more ways to label.
    if inputs.placements.rows.iter().any(|row| row.label.is_some()) {
        return None;
    }
    let short: BTreeSet<RoleId> = start.short_sets().map(|set| start.demand.set(set).role).collect();
    let mut tries: Vec<(BlockId, usize, Method)> = Vec::new();
    for (index, block) in inputs.pattern.blocks.iter().enumerate() {
        for (number, unit) in block.units.iter().enumerate() {
            let cuts = unit.way().map_or(&[][..], |way| &way.recipe.cuts);
            if unit.each > 0 && cuts.iter().any(|cut| short.contains(&cut.role)) {
                tries.extend(unit.kind.methods().iter().map(|&method| (BlockId(index), number, method)));
            }
        }
    }
    let can_be_made = |&(block, unit, method): &(BlockId, usize, Method)| {
        inputs.pattern.with_method(block, unit, method).is_some()
    };
    tries.into_iter().filter(can_be_made).take(MOST_TRIES).find_map(|(block, unit, method)| {
        let changes = start.with(|changes| {
            changes.methods.insert((block, unit), method);
        });
        let tried = attempt(inputs, changes);
        tried.fits().then_some(tried)
    })
}
