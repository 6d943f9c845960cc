//! Rules between fabrics: the fewest of them given up.

use std::collections::BTreeSet;

use crate::pattern::RoleId;
use crate::pattern::rules::Waived;
use crate::planning::alternative::Inputs;
use crate::planning::alternative::attempt::{Tried, attempt};
use crate::planning::alternative::trim::trimmed;

/// Rules tried alone before several are given up together.
const MOST_SINGLE: usize = 12;

/// `start` with one rule of one role given up; if none alone will do, with as few as will.
pub(super) fn rules_given_up(inputs: &Inputs<'_>, start: &Tried) -> Option<Tried> {
    let mut rules = stated(inputs);
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

/// Every rule the pattern states, each once.
fn stated(inputs: &Inputs<'_>) -> Vec<Waived> {
    let mut rules = Vec::new();
    let each = || inputs.demand.rules.iter().enumerate().map(|(role, rules)| (RoleId(role), rules));
    rules.extend(each().filter(|(_, rules)| rules.at_most.is_some()).map(|(role, _)| Waived::AtMost(role)));
    for (role, rules_here) in each() {
        // It is mutual, so each pair is met twice.
        let others = rules_here.different.iter().filter(|&&other| role < other);
        rules.extend(others.map(|&other| Waived::Different(role, other)));
    }
    rules.extend(each().filter(|(_, rules)| !rules.never.is_empty()).map(|(role, _)| Waived::Never(role)));
    rules.extend(each().filter(|(_, rules)| !rules.only.is_empty()).map(|(role, _)| Waived::Only(role)));
    rules
}

fn roles(rule: Waived) -> Vec<RoleId> {
    match rule {
        Waived::Different(one, other) => vec![one, other],
        Waived::AtMost(role) | Waived::Only(role) | Waived::Never(role) => vec![role],
    }
}
