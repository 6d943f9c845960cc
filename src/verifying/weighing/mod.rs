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
mod limits;
mod most;
mod room;

use bags::{Bag, Print};
use most::Class;

use super::fault::{Claim, Faults, Rule};
use super::record::{Record, Verdict, Weighing};
use super::{Changes, Question, Wanted};
use crate::pattern::Pattern;

/// Steps of work for one reason: a few seconds at most.
const WORK: u64 = 20_000_000;

/// Checks the weights of every reason why it does not fit.
pub(super) fn check(
    record: &Record,
    question: &Question,
    pattern: &Pattern,
    changes: &Changes,
    wanted: &Wanted,
    faults: &mut Faults,
) {
    for (index, reason) in record.reasons.iter().enumerate() {
        let Some(weighing) = &reason.weighing else { continue };
        // Undecided may mean that other ways of making units are open; for the ways listed the weights hold.
        if record.verdict == Verdict::Fits {
            faults.add(Rule::Proof, "", "the verdict is fits, so there is nothing to weigh".to_owned());
            continue;
        }
        if let Err((rule, message)) = holds(weighing, question, pattern, changes, wanted) {
            faults.doubt(Claim::Reason(index), rule, message);
        }
    }
}

/// Checks one set of weights.
///
/// # Errors
/// The rule that is broken, and how.
pub(super) fn holds(
    weighing: &Weighing,
    question: &Question,
    pattern: &Pattern,
    changes: &Changes,
    wanted: &Wanted,
) -> Result<(), (Rule, String)> {
    let wrong = |message: String| (Rule::Proof, message);
    let bags = bags::read(weighing, question, pattern, changes, wanted).map_err(wrong)?;
    let needed: i128 = bags.iter().map(|bag| i128::from(bag.weight) * i128::from(bag.count)).sum();
    if needed != i128::from(weighing.needed) {
        return Err(wrong(format!("the pieces are said to weigh {}, they weigh {needed}", weighing.needed)));
    }
    if needed <= i128::from(weighing.most) {
        let message = format!("the pieces weigh {needed}, the fabric is said to serve {}", weighing.most);
        return Err(wrong(message));
    }
    let prints = bags::prints(&question.stash, changes);
    let classes = classes(&bags, &prints);
    let shown = shown(&classes, i128::from(weighing.most));
    if shown > i128::from(weighing.most) {
        let message = format!(
            "the fabric is said to serve a weight of {}; this check can only show that it serves no more than {shown}",
            weighing.most
        );
        return Err((Rule::ProofAgain, message));
    }
    Ok(())
}

/// Prints that may serve the same bags from the same sheets, with how many they are.
fn classes<'a>(bags: &'a [Bag], prints: &[Print]) -> Vec<(Class<'a>, u64)> {
    let mut classes: Vec<(Class<'_>, u64)> = Vec::new();
    for print in prints {
        let class = Class::new(bags, print);
        if class.serves_nothing() {
            continue;
        }
        match classes.iter_mut().find(|(other, _)| *other == class) {
            Some((_, many)) => *many += 1,
            None => classes.push((class, 1)),
        }
    }
    classes
}

/// A weight that all prints together are shown not to pass. Quick ways first; the slow one is taken for one class
/// after the other, those with most to gain first, until `enough` is shown or the work is done.
fn shown(classes: &[(Class<'_>, u64)], enough: i128) -> i128 {
    let mut work = WORK;
    let mut most: Vec<i128> = classes.iter().map(|(class, _)| class.quickly(&mut work)).collect();
    let total = |most: &[i128]| -> i128 {
        most.iter().zip(classes).map(|(most, (_, many))| most * i128::from(*many)).sum()
    };
    let mut order: Vec<usize> = (0..classes.len()).collect();
    order.sort_by_key(|&class| -most[class] * i128::from(classes[class].1));
    for class in order {
        if total(&most) <= enough || work == 0 {
            break;
        }
        most[class] = classes[class].0.slowly(most[class], &mut work);
    }
    total(&most)
}
