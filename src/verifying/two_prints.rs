//! A role of two prints: every block copy takes one of them, and each is taken by some.

use std::collections::BTreeSet;

use super::changes::Changes;
use super::fault::{Faults, Rule};
use super::record::Record;

/// Checks the sets of every role that an alternative cuts from two prints. That a block copy takes one print
/// throughout is asked of its set, like of any other.
pub(super) fn check(record: &Record, changes: &Changes, faults: &mut Faults) {
    for (role, prints) in &changes.two_prints {
        let sets = || record.sets.iter().filter(|placed| placed.set.role == *role);
        for placed in sets().filter(|placed| !prints.contains(&placed.print)) {
            let message = format!(
                "{} is cut from {}, the two prints of role {role} are {}",
                placed.set.say(),
                placed.print,
                prints.join(" and ")
            );
            faults.add(Rule::Matching, "", message);
        }
        let taken: BTreeSet<&String> = sets().map(|placed| &placed.print).collect();
        for print in prints.iter().filter(|print| !taken.contains(print)) {
            faults.add(Rule::Change, "", format!("\"two prints\": no block takes {print} for role {role}"));
        }
    }
}
