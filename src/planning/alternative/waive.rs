//! Rules between fabrics: the fewest of them given up.

use std::collections::BTreeSet;

use crate::pattern::RoleId;
use crate::pattern::rules::{self, Waived};
use crate::planning::alternative::Inputs;
use crate::planning::alternative::attempt::{Tried, attempt};
use crate::planning::alternative::trim::trimmed;

/// Rules tried alone before several are given up together.
const MOST_SINGLE: usize = 12;

/// `start` with one rule of one role given up; if none alone will do, with as few as will.
pub(super) fn rules_given_up(inputs: &Inputs<'_>, start: &Tried) -> Option<Tried> {
    let mut rules = rules::stated(&inputs.demand.rules);
    let short: BTreeSet<RoleId> = start.short_sets().map(|set| start.demand.set(set).role).collect();
    // Those of what is short first; of these, limits on repeating before lists of prints.
    rules.sort_by_key(|rule| !roles(*rule).iter().any(|role| short.contains(role)));
    for &rule in rules.iter().take(MOST_SINGLE) {
        let tried = attempt(inputs, start.with(|changes| changes.waived.extend([rule])));
        if tried.fits() {
            return Some(tried);
        }
    }
    if rules.len() < 2 {
        return None;
    }
    let all = attempt(inputs, start.with(|changes| changes.waived.extend(rules)));
    all.fits().then(|| trimmed(inputs, all))
}

fn roles(rule: Waived) -> Vec<RoleId> {
    match rule {
        Waived::Different(one, other) => vec![one, other],
        Waived::AtMost(role) | Waived::Only(role) | Waived::Never(role) => vec![role],
    }
}
