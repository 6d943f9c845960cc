//! That it does not fit whichever way the units are made: every combination that the pattern allows is the one
//! taken, is refused by itself, or has nothing that the quilter's decisions could mean.

use std::collections::BTreeSet;

use itertools::Itertools;

use super::fault::{Claim, Faults, Rule};
use super::record::{Record, Verdict};
use super::ways::{self, Combination};
use super::weighing::{self, Asked, Held, Work};
use super::{Changes, Question, Wanted, decided};
use crate::pattern::Pattern;

/// No record lists more; so many are quickly counted out.
const MOST_COMBINATIONS: usize = 100;

/// Checks the combinations refused besides the one taken. `pattern` leaves the choice.
pub(super) fn check(
    record: &Record,
    question: &Question,
    pattern: &Pattern,
    changes: &Changes,
    work: &mut Work<'_>,
    faults: &mut Faults,
) {
    let methods = &record.methods;
    let choices = ways::choices(pattern);
    if record.verdict != Verdict::Impossible || choices.is_empty() {
        if !methods.refused.is_empty() {
            let message = "ways of making the units are refused, and there is nothing to refuse".to_owned();
            faults.add(Rule::EveryWay, "", message);
        }
        return;
    }
    if !methods.settled {
        let message = "the verdict is impossible, and other ways of making the units are open".to_owned();
        faults.add(Rule::EveryWay, "", message);
        return;
    }
    let mut seen: BTreeSet<Combination> = BTreeSet::new();
    // The one taken was read before; what is wrong with it is not told twice.
    seen.extend(ways::listed(pattern, &methods.units, "", &mut Faults::of("")).map(|(_, taken)| taken));
    for (index, refused) in methods.refused.iter().enumerate() {
        let place = Claim::Ways(index).place();
        let Some((made, combination)) = ways::listed(pattern, &refused.units, &place, faults) else {
            continue;
        };
        if !seen.insert(combination) {
            let message = "these ways of making the units are taken, or refused before".to_owned();
            faults.add(Rule::EveryWay, &place, message);
            continue;
        }
        let Ok(wanted) = Wanted::count(&made, changes) else { continue };
        let asked = Asked { question, pattern: &made, changes, wanted: &wanted };
        let held = Held { weighing: refused.weighing.as_ref(), cases: &refused.cases };
        held.must_show(Claim::Ways(index), refused.proved_again, faults);
        weighing::refuted(Claim::Ways(index), held, &asked, work, faults);
    }
    let all = choices.iter().try_fold(1, |all: usize, choice| all.checked_mul(choice.ways));
    if all.is_none_or(|all| all > MOST_COMBINATIONS) {
        let message = "the units may be made in more ways than are ever all refused".to_owned();
        faults.add(Rule::EveryWay, "", message);
        return;
    }
    for combination in choices.iter().map(|choice| 0..choice.ways).multi_cartesian_product() {
        let combination: Combination = choices.iter().map(|choice| choice.at).zip(combination).collect();
        if !seen.contains(&combination) && suits(question, pattern, changes, &combination) {
            let made = ways::say(pattern, &combination);
            faults.add(Rule::EveryWay, "", format!("{made} is another way, and it is not refused"));
        }
    }
}

/// Do all decisions name something when the units are made so?
fn suits(question: &Question, pattern: &Pattern, changes: &Changes, combination: &Combination) -> bool {
    let Some(wanted) = ways::made(pattern, combination).and_then(|made| Wanted::count(&made, changes).ok())
    else {
        return true;
    };
    let mut said = Faults::of("");
    decided::decided(&question.placements, &wanted, changes, &mut said);
    said.count() == 0
}
