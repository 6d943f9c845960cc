//! Fewer copies of a block.

use std::collections::BTreeSet;

use crate::planning::alternative::Inputs;
use crate::planning::alternative::attempt::Tried;
use crate::planning::alternative::widened::widened;

/// Makes only the copies that come out whole; at least one of each block.
pub(super) fn fewer_copies(inputs: &Inputs<'_>, start: &Tried) -> Option<Tried> {
    widened(inputs, start, |last, changes| {
        let short = last.short_sets().map(|set| last.demand.set(set).block);
        let Some(broken) = short.collect::<Option<BTreeSet<_>>>() else {
            return false; // what is short belongs to no block
        };
        for &(block, _) in &broken {
            let out = changes.left_out.entry(block).or_insert(0);
            *out += 1;
            if *out >= inputs.pattern.blocks[block.0].make {
                return false;
            }
        }
        !broken.is_empty()
    })
}
