//! What is said when it does not fit: what together does not, and what would make it fit. Each conflict search and each
//! idea for a change is work of its own, done side by side.

use crate::planning::alternative::{Idea, Ideas, Inputs, choose};
use crate::planning::outcome::{Alternative, Outcome};
use crate::planning::plan::{Conflict, Verdict};
use crate::planning::refusal::conflict;
use crate::planning::side_by_side;

/// Cutting questions, at the usual effort, that one idea for a change may have worked out anew. What it has found by then is
/// planned; what it would still have asked counts as not fitting.
const MOST_QUESTIONS: u64 = 100_000;

/// One piece of the work.
enum Job<'a> {
    Conflicts,
    Idea(Idea<'a>),
}

enum Done {
    Conflicts(Vec<Conflict>),
    Idea(Option<Box<Alternative>>),
}

/// The conflicts behind `outcome` and at most five alternatives to it, as far as they are asked for. The alternatives
/// come least cost first: change to what the quilter sees, then fabric, then money.
pub(super) fn explain(inputs: &Inputs<'_>, outcome: &Outcome) -> (Vec<Conflict>, Vec<Alternative>) {
    let mut jobs = Vec::new();
    if outcome.verdict == Verdict::Impossible && inputs.rules.conflicts {
        jobs.push(Job::Conflicts);
    }
    let wanted = outcome.verdict != Verdict::Fits && inputs.rules.alternatives;
    let spent = inputs.answers().fresh;
    let ideas = wanted.then(|| Ideas::new(inputs, outcome));
    jobs.extend(ideas.iter().flat_map(Ideas::all).map(Job::Idea));
    let threads = inputs.answers().threads;
    let most_questions = MOST_QUESTIONS * u64::from(inputs.rules.effort) / 100;
    let done = side_by_side::each(threads, &jobs, |job| {
        let answers = inputs.answers().beside().into();
        let inputs = Inputs { answers: &answers, most_questions, ..*inputs };
        match job {
            Job::Conflicts => Done::Conflicts(conflict::conflicts(&inputs, outcome, spent)),
            Job::Idea(idea) => Done::Idea(idea.alternative(&inputs).map(Box::new)),
        }
    });
    let (mut conflicts, mut found) = (Vec::new(), Vec::new());
    for one in done {
        match one {
            Done::Conflicts(some) => conflicts = some,
            Done::Idea(alternative) => found.extend(alternative.map(|alternative| *alternative)),
        }
    }
    (conflicts, choose(found))
}
