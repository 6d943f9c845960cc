//! Whether a task fits, without making its plan.

use std::collections::BTreeSet;

use crate::pattern::BlockId;
use crate::planning::finish::pairing;
use crate::planning::instance::Scope;
use crate::planning::oracle::Oracle;
use crate::planning::oracle::answers::Answers;
use crate::planning::plan::Verdict;
use crate::planning::{Task, search};

/// The verdict on `task`; "fits" by the first assignment found, "impossible" by a proof for one of its parts.
pub(super) fn verdict(task: &Task<'_>, answers: &mut Answers) -> Verdict {
    pairing::with_copies_apart(|apart| with(task, apart, answers))
}

/// # Errors
/// A block whose prints cannot be paired while its copies are counted together.
fn with(task: &Task<'_>, apart: &BTreeSet<BlockId>, answers: &mut Answers) -> Result<Verdict, BlockId> {
    let nothing = BTreeSet::new();
    let mut verdict = Verdict::Fits;
    for part in task.instance(Scope { without: &nothing, free: true, apart }).parts() {
        if part.wanted() > part.held() {
            return Ok(Verdict::Impossible);
        }
        let key = part.key();
        match key.as_ref().and_then(|key| answers.verdict(key)) {
            Some(Verdict::Fits) => continue,
            Some(Verdict::Impossible) => return Ok(Verdict::Impossible),
            Some(Verdict::Undecided) => {
                verdict = Verdict::Undecided;
                continue;
            }
            None => {}
        }
        // Nothing that this task has learned before: the verdict is kept for all, whoever asks first.
        let mut own = answers.beside();
        let found = search::any(&mut Oracle::new(&part, &mut own), task.rules.effort);
        answers.fresh += own.fresh;
        let of_part = match found.refusal {
            _ if found.complete => Verdict::Fits,
            Some(_) => Verdict::Impossible,
            None => Verdict::Undecided,
        };
        if let Some(key) = key {
            answers.keep_verdict(key, of_part, own.fresh);
        }
        match of_part {
            Verdict::Fits => {
                pairing::pair(&part, task.demand, &found.assignment)?;
            }
            Verdict::Impossible => return Ok(Verdict::Impossible),
            Verdict::Undecided => verdict = Verdict::Undecided,
        }
    }
    Ok(verdict)
}
