//! The verdict and the sentences beside it.

use super::fault::{Faults, Rule};
use super::record::{Record, Verdict};

/// Checks that the verdict agrees with the plan and that everything said says something.
pub(super) fn check(record: &Record, faults: &mut Faults) {
    let short = record.short.len();
    if (record.verdict == Verdict::Fits) != (short == 0) {
        let message = format!("the verdict is {}, and {short} sets are short", record.verdict.word());
        faults.add(Rule::Verdict, "", message);
    }
    if record.proof.trim().is_empty() {
        faults.add(Rule::Reason, "", "the verdict says nothing about what it rests on".to_owned());
    }
    if record.verdict == Verdict::Impossible && record.reasons.is_empty() {
        faults.add(Rule::Reason, "", "the verdict is impossible, and no reason is given".to_owned());
    }
    for (index, reason) in record.reasons.iter().enumerate() {
        if reason.code.trim().is_empty() || reason.text.trim().is_empty() {
            faults.add(Rule::Reason, "", format!("reason {} says nothing", index + 1));
        }
    }
    for short in record.short.iter().filter(|short| short.reason.trim().is_empty()) {
        faults.add(Rule::Reason, "", format!("{} is short, and no reason is given", short.set.say()));
    }
}
