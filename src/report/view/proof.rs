//! What the verdict rests on, in words, and for which ways of making the units it holds.

use crate::planning::{Outcome, RefusedWays, Verdict};
use crate::report::Unshown;

/// What the verdict rests on, in a sentence or two.
pub(crate) fn proof(outcome: &Outcome, unshown: &Unshown) -> String {
    let first = outcome.reasons.first().map(|reason| reason.text.trim_end_matches('.'));
    match outcome.verdict {
        Verdict::Fits if outcome.fabric.opened <= outcome.fabric.bound => {
            let ways = for_these_ways(outcome);
            format!("Every piece is placed. The search claims that no plan uses less fabric{ways}.")
        }
        Verdict::Fits if outcome.least_met < outcome.fabric.opened => format!(
            "Every piece is placed. A plan that uses {} % less fabric was found, but looks worse; one that uses up to {} % \
             less{} may exist.",
            gap(outcome.fabric.opened, outcome.least_met),
            gap(outcome.fabric.opened, outcome.fabric.bound),
            for_these_ways(outcome)
        ),
        Verdict::Fits => format!(
            "Every piece is placed. A plan that uses up to {} % less fabric{} may exist; none was found.",
            gap(outcome.fabric.opened, outcome.fabric.bound),
            for_these_ways(outcome)
        ),
        Verdict::Impossible => {
            let reason = first.unwrap_or("no plan places every piece");
            if is_proved_again(outcome, unshown) {
                format!("Proved: {reason}.")
            } else {
                format!("Proved by the search: {reason}. The independent checker has not proved it again.")
            }
        }
        Verdict::Undecided => {
            "The search ended before it found a full plan or a proof that there is none.".to_owned()
        }
    }
}

/// Has the check made again what proves that it does not fit: for the ways taken by any one reason, and for all others?
fn is_proved_again(outcome: &Outcome, unshown: &Unshown) -> bool {
    let refused = outcome.methods.iter().flat_map(|methods| &methods.refused).enumerate();
    (0..outcome.reasons.len()).any(|index| is_reason_proved_again(outcome, index, unshown))
        && refused.into_iter().all(|(index, ways)| are_ways_proved_again(ways, index, unshown))
}

/// Has the check made the proof of this reason again? That by area it makes from the inputs alone.
pub(crate) fn is_reason_proved_again(outcome: &Outcome, index: usize, unshown: &Unshown) -> bool {
    let reason = &outcome.reasons[index];
    let by_area = reason.code == "area" && outcome.verdict == Verdict::Impossible;
    (by_area || reason.weighing.is_some() || !reason.cases.is_empty()) && !unshown.reasons.contains(&index)
}

/// Has the check made again the proof that this way of making the units does not fit?
pub(crate) fn are_ways_proved_again(ways: &RefusedWays, index: usize, unshown: &Unshown) -> bool {
    (ways.weighing.is_some() || !ways.cases.is_empty()) && !unshown.ways.contains(&index)
}

/// By how many percent `bound` lies below what is opened, with one decimal; rounded up, so that it is never said to
/// be smaller than it is.
pub fn gap(opened: i128, bound: i128) -> String {
    let gap = ((opened - bound).max(0) * 1000 + opened - 1) / opened.max(1);
    format!("{}.{}", gap / 10, gap % 10)
}

/// Said of what was worked out for the ways taken.
pub(crate) const WITH_THESE_WAYS: &str = " with these ways of making the units";

/// Said of a bound that holds for the ways taken only.
fn for_these_ways(outcome: &Outcome) -> &'static str {
    match &outcome.methods {
        Some(methods) if !methods.settled => WITH_THESE_WAYS,
        _ => "",
    }
}
