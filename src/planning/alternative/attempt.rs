//! Planning the inputs as changed.

use crate::pattern::Pattern;
use crate::pattern::demand::{Demand, SetId};
use crate::placements;
use crate::planning::alternative::Inputs;
use crate::planning::alternative::changes::{Changes, SetName};
use crate::planning::oracle::answers::Answers;
use crate::planning::outcome::Outcome;
use crate::planning::plan::{Plan, Verdict};
use crate::planning::{Depth, Task, partial, solve, verdict};
use crate::stash::{PrintId, Stash};

/// A changed task and what is known of planning it.
#[derive(Clone)]
pub(super) struct Tried {
    pub(super) changes: Changes,
    pub(super) pattern: Pattern,
    pub(super) stash: Stash,
    pub(super) demand: Demand,
    pub(super) outcome: Outcome,
}

impl Tried {
    pub(super) fn fits(&self) -> bool {
        self.outcome.verdict == Verdict::Fits
    }

    /// How many sets it leaves short.
    pub(super) fn short(&self) -> usize {
        self.outcome.plan.short.len()
    }

    /// The sets it leaves short, by their number in its own demand.
    pub(super) fn short_sets(&self) -> impl Iterator<Item = SetId> {
        self.outcome.plan.short.iter().map(|short| short.set)
    }

    /// As this, with more changed.
    pub(super) fn with(&self, change: impl FnOnce(&mut Changes)) -> Changes {
        let mut changes = self.changes.clone();
        change(&mut changes);
        changes
    }
}

/// The sets of the unchanged demand for which the quilter decided a print, with the print.
pub(super) fn decided<'a>(inputs: &'a Inputs<'_>) -> impl Iterator<Item = (SetName, PrintId)> + 'a {
    let pinned = inputs.pins.iter().enumerate().filter_map(|(set, pin)| Some((SetId(set), (*pin)?)));
    pinned.map(|(set, print)| (SetName::of(inputs.demand, set), print))
}

/// Whether the inputs with `changes` fit; no plan is made.
pub(super) fn attempt(inputs: &Inputs<'_>, changes: Changes) -> Tried {
    if spent(inputs) {
        return not_tried(inputs, changes);
    }
    changed(inputs, changes, |task, answers| Outcome {
        verdict: verdict::verdict(task, answers),
        ..Outcome::undecided()
    })
}

/// The same; what is short when it does not fit says what to change next.
pub(super) fn attempt_short(inputs: &Inputs<'_>, changes: Changes) -> Tried {
    if spent(inputs) {
        return not_tried(inputs, changes);
    }
    changed(inputs, changes, |task, answers| {
        let verdict = verdict::verdict(task, answers);
        let plan = if verdict == Verdict::Fits { Plan::default() } else { partial::most(task, answers) };
        Outcome { verdict, plan, ..Outcome::undecided() }
    })
}

/// A try that fits with its plan; `None` when none is found after all.
pub(super) fn planned(inputs: &Inputs<'_>, tried: Tried) -> Option<Tried> {
    if !tried.outcome.plan.prints.is_empty() {
        return Some(tried);
    }
    let whole = |task: &Task<'_>, answers: &mut Answers| solve(task, Depth::Verdict, answers, &mut |_| {});
    Some(changed(inputs, tried.changes, whole)).filter(Tried::fits)
}

/// Has so much been asked that nothing more is tried?
fn spent(inputs: &Inputs<'_>) -> bool {
    inputs.answers().fresh >= inputs.most_questions
}

fn changed(
    inputs: &Inputs<'_>,
    changes: Changes,
    ask: impl FnOnce(&Task<'_>, &mut Answers) -> Outcome,
) -> Tried {
    if inputs.answers().stop.seen() {
        return not_tried(inputs, changes);
    }
    let pattern = changes.pattern(inputs.pattern).unwrap_or_else(|| inputs.pattern.clone());
    let loosened = changes.loosened(&pattern, inputs.stash);
    let demand = Demand::expand(&pattern, &loosened);
    let mut stash = inputs.stash.clone();
    for purchase in &changes.bought {
        purchase.add_to(&mut stash, inputs.rules.allowance);
    }
    let (mut pins, _) = placements::pins(inputs.placements, &stash, &pattern, &demand);
    for (number, pin) in pins.iter_mut().enumerate().filter(|(_, pin)| pin.is_some()) {
        let set = SetName::of(&demand, SetId(number));
        if changes.freed.iter().any(|freed| freed.holds(&set)) {
            *pin = None;
        }
    }
    let released: Vec<_> = changes.released.iter().copied().collect();
    let task = Task {
        stash: &stash,
        pattern: &pattern,
        demand: &demand,
        pins: &pins,
        released: &released,
        rules: inputs.rules,
    };
    let outcome = ask(&task, &mut inputs.answers());
    Tried { changes, pattern, stash, demand, outcome }
}

/// What a try is after a stop: one of which nothing is known.
fn not_tried(inputs: &Inputs<'_>, changes: Changes) -> Tried {
    Tried {
        changes,
        pattern: inputs.pattern.clone(),
        stash: inputs.stash.clone(),
        demand: inputs.demand.clone(),
        outcome: Outcome::undecided(),
    }
}
