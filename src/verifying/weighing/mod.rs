//! The proof of "does not fit", made once more without the engine.
//!
//! A reason may carry weights: at these, what must be cut weighs more than all fabric together can serve. Whoever
//! wants to believe that needs three things only, and here they are computed afresh from the inputs: what the pieces
//! weigh, which print may serve which of them, and the most weight that can be cut from one print. The last is the
//! hard one; what is used for it is written in `most` and `room` as plainly as could be.
//!
//! Right, because a complete plan gives every set to one print: the weights it serves print by print add up to all
//! of them. A single piece may be weighed in place of its set, since it comes from one print as well.

mod bags;
mod bound;
mod cases;
mod governed;
mod limits;
#[cfg(test)]
mod limits_tests;
mod most;
mod prints;
mod room;
mod things;
mod work;

use std::rc::Rc;

use bags::Bag;
use bound::Bound;
use most::Class;
use prints::Print;
pub use work::Work;

use super::certificate::BY_AREA;
use super::fault::{Claim, Faults, Rule};
use super::record::{Case, Record, Verdict, Weighing};
use super::{Changes, Question, Wanted};
use crate::pattern::Pattern;

/// What the weights are held against.
#[derive(Clone, Copy)]
pub(super) struct Asked<'a> {
    pub(super) question: &'a Question,
    pub(super) pattern: &'a Pattern,
    pub(super) changes: &'a Changes,
    pub(super) wanted: &'a Wanted,
}

/// Checks the weights of every reason why it does not fit.
pub(super) fn check(record: &Record, asked: &Asked<'_>, work: &mut Work<'_>, faults: &mut Faults) {
    for (index, reason) in record.reasons.iter().enumerate() {
        let held = Held { weighing: reason.weighing.as_ref(), cases: &reason.cases };
        if held.is_nothing() {
            // Of areas the code alone is enough.
            let is_shown = record.verdict == Verdict::Impossible && reason.code == BY_AREA;
            held.must_show(Claim::Reason(index), reason.proved_again && !is_shown, faults);
            continue;
        }
        // Undecided may mean that other ways of making units are open; for the ways listed the weights hold.
        if record.verdict == Verdict::Fits {
            faults.add(Rule::Proof, "", "the verdict is fits, so there is nothing to weigh".to_owned());
            continue;
        }
        refuted(Claim::Reason(index), held, asked, work, faults);
    }
}

/// What refutes a claim, if anything does: weights, or weights case by case.
#[derive(Clone, Copy)]
pub(super) struct Held<'a> {
    pub(super) weighing: Option<&'a Weighing>,
    pub(super) cases: &'a [Case],
}

impl Held<'_> {
    /// True when the record has nothing to show.
    pub(super) fn is_nothing(self) -> bool {
        self.weighing.is_none() && self.cases.is_empty()
    }

    /// A proof that is `said` to be made again must be there.
    pub(super) fn must_show(self, claim: Claim, said: bool, faults: &mut Faults) {
        if said && self.is_nothing() {
            faults.add(
                Rule::Proof,
                &claim.place(),
                "it is said to be proved again, and nothing shows it".to_owned(),
            );
        }
    }
}

/// Checks what refutes a claim. What could not be shown because the work ended is told apart.
pub(super) fn refuted(
    claim: Claim,
    held: Held<'_>,
    asked: &Asked<'_>,
    work: &mut Work<'_>,
    faults: &mut Faults,
) {
    let mut found = Vec::new();
    work.ran_out();
    if let Some(weighing) = held.weighing {
        found.push(holds_in(weighing, &[], asked, work));
    }
    if !held.cases.is_empty() {
        found.push(cases::hold(held.cases, asked, work));
    }
    let ran_out = work.ran_out();
    for (rule, message) in found.into_iter().filter_map(Result::err) {
        let rule = if rule == Rule::ProofAgain && ran_out { Rule::WorkEnded } else { rule };
        faults.doubt(claim, rule, message);
    }
}

/// Checks one set of weights, in a case that bounds lead to, each with its price.
///
/// # Errors
/// The rule that is broken, and how.
fn holds_in(
    weighing: &Weighing,
    bounds: &[(Rc<Bound>, i64)],
    asked: &Asked<'_>,
    work: &mut Work<'_>,
) -> Result<(), (Rule, String)> {
    let wrong = |message: String| (Rule::Proof, message);
    let bags = bags::read(weighing, bounds, asked).map_err(wrong)?;
    let needed: i128 = bags.iter().map(|bag| i128::from(bag.weight) * i128::from(bag.count)).sum();
    if needed != i128::from(weighing.needed) {
        return Err(wrong(format!("the pieces are said to weigh {}, they weigh {needed}", weighing.needed)));
    }
    if needed <= i128::from(weighing.most) {
        let message = format!("the pieces weigh {needed}, the fabric is said to serve {}", weighing.most);
        return Err(wrong(message));
    }
    let let_through: i128 =
        bounds.iter().map(|(bound, price)| i128::from(*price) * i128::from(bound.most)).sum();
    let prints = prints::prints(&asked.question.stash, asked.changes);
    let classes = classes(&bags, &prints, bounds);
    let shown = shown(&classes, i128::from(weighing.most) - let_through, work) + let_through;
    if shown > i128::from(weighing.most) {
        let message = format!(
            "the fabric is said to serve a weight of {}; this check can only show that it serves no more than {shown}",
            weighing.most
        );
        return Err((Rule::ProofAgain, message));
    }
    Ok(())
}

/// Prints that may serve the same bags from the same sheets, with how many they are. Where a bound speaks of some sheets
/// of a print and no bag ties pieces together that come from it, each sheet stands for itself.
fn classes<'a>(bags: &'a [Bag], prints: &[Print], bounds: &[(Rc<Bound>, i64)]) -> Vec<(Class<'a>, u64)> {
    let mut classes: Vec<(Class<'_>, u64)> = Vec::new();
    let mut add = |print: &Print| {
        let class = Class::new(bags, print);
        if class.serves_nothing() {
            return;
        }
        match classes.iter_mut().find(|(other, _)| *other == class) {
            Some((_, many)) => *many += 1,
            None => classes.push((class, 1)),
        }
    };
    for print in prints {
        let named = bounds.iter().any(|(bound, _)| bound.names_sheets_of(print));
        if named && bags.iter().filter(|bag| bag.may_come_from(print)).all(Bag::is_alone) {
            print.one_by_one().for_each(|sheet| add(&sheet));
        } else {
            add(print);
        }
    }
    classes
}

/// A weight that all prints together are shown not to pass. Quick ways first; the slow one is taken for one class
/// after the other, those with most to gain first, until `enough` is shown or the work is done.
fn shown(classes: &[(Class<'_>, u64)], enough: i128, work: &mut Work<'_>) -> i128 {
    let mut most: Vec<i128> = classes.iter().map(|(class, _)| class.quickly(work)).collect();
    let total = |most: &[i128]| -> i128 {
        most.iter().zip(classes).map(|(most, (_, many))| most * i128::from(*many)).sum()
    };
    let mut order: Vec<usize> = (0..classes.len()).collect();
    order.sort_by_key(|&class| -most[class] * i128::from(classes[class].1));
    for (place, &class) in order.iter().enumerate() {
        let (total, many) = (total(&most), i128::from(classes[class].1));
        if total <= enough || work.is_done() {
            break;
        }
        let will_do = (enough - (total - most[class] * many)).div_euclid(many);
        let slowly = |work: &mut Work<'_>| classes[class].0.slowly(most[class], will_do, work);
        // What takes too long for one class is not taken from all others.
        most[class] = if place + 1 < order.len() { work.half(slowly) } else { slowly(work) };
    }
    total(&most)
}
