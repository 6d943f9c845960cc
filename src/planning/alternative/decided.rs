//! Prints the quilter has decided.

use std::collections::BTreeSet;

use crate::planning::alternative::Inputs;
use crate::planning::alternative::attempt::{Tried, attempt, decided};
use crate::planning::alternative::changes::SetName;
use crate::planning::alternative::trim::trimmed;

/// `start` with decided prints given up: those of what is short, or if that is not enough, as few as will do.
pub(super) fn given_up(inputs: &Inputs<'_>, start: &Tried) -> Option<Tried> {
    let all: BTreeSet<SetName> = decided(inputs).map(|(set, _)| set).collect();
    let short: BTreeSet<SetName> = start
        .short_sets()
        .map(|set| SetName::of(&start.demand, set))
        .filter(|set| all.contains(set))
        .collect();
    for sets in [short, all] {
        if sets.is_empty() {
            continue;
        }
        let tried = attempt(inputs, start.with(|changes| changes.freed.extend(sets)));
        if tried.fits() {
            return Some(trimmed(inputs, tried));
        }
    }
    None
}
