//! What the verdict rests on, in words, and for which ways of making the units it holds.

use crate::planning::{Outcome, Verdict};

/// What the verdict rests on, in one sentence.
pub(crate) fn proof(outcome: &Outcome) -> String {
    let first = outcome.reasons.first().map(|reason| reason.text.trim_end_matches('.'));
    match outcome.verdict {
        Verdict::Fits if outcome.fabric.opened <= outcome.fabric.bound => {
            let ways = for_these_ways(outcome);
            format!("Every piece is placed. No plan uses less fabric{ways}; that is proved.")
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
        Verdict::Impossible => match first {
            Some(reason) => format!("Proved: {reason}."),
            None => "Proved: no plan places every piece.".to_owned(),
        },
        Verdict::Undecided => {
            "The search ended before it found a full plan or a proof that there is none.".to_owned()
        }
    }
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
