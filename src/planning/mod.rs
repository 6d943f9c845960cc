//! Which set from which print, which piece from which sheet, and why not.
//!
//! [`plan()`] is a function: frozen inputs in, outcome out; no files, no printing.

use std::cell::RefCell;
use std::collections::BTreeSet;

use crate::pattern::Pattern;
use crate::pattern::demand::{Demand, Loosened};
use crate::placements::Placements;
use crate::planning::instance::{Instance, Scope};
use crate::planning::oracle::{Answers, Oracle};
use crate::stash::{LotId, PrintId, Stash};

mod alternative;
mod best_plan;
mod bound;
mod enumerate;
mod finish;
mod instance;
mod lp;
mod oracle;
pub mod plan;
mod polish;
mod pool;
mod price;
mod reason;
pub mod rules;
mod search;

pub use plan::{Alternative, Change, Fabric, Outcome, Plan, Reason, SheetPlan, Short, Verdict};
pub use rules::{Rules, Weights};

/// How far a run has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Progress {
    /// Weighted fabric of the best complete plan so far.
    pub best: Option<i64>,
    /// No complete plan opens less.
    pub bound: i128,
}

/// Plans the cutting of `pattern` from `stash`, keeping what the quilter decided.
///
/// The plan and its sets are those of `Demand::expand(pattern, &Loosened::default())`.
pub fn plan(
    stash: &Stash,
    pattern: &Pattern,
    placements: &Placements,
    rules: &Rules,
    progress: &mut dyn FnMut(Progress),
) -> Outcome {
    let demand = Demand::expand(pattern, &Loosened::default());
    let (pins, _) = crate::placements::pins(placements, stash, pattern, &demand);
    let task = Task { stash, pattern, demand: &demand, pins: &pins, released: &[], rules };
    let answers = RefCell::new(Answers::default());
    let mut outcome = solve(&task, Depth::Whole, &mut answers.borrow_mut(), progress);
    if outcome.verdict != Verdict::Fits && rules.alternatives {
        let inputs = alternative::Inputs {
            stash,
            pattern,
            placements,
            demand: &demand,
            pins: &pins,
            rules,
            answers: &answers,
        };
        outcome.alternatives = alternative::alternatives(&inputs, &outcome);
    }
    outcome
}

/// One thing to plan: the inputs, or the inputs as an alternative changes them.
struct Task<'a> {
    stash: &'a Stash,
    pattern: &'a Pattern,
    demand: &'a Demand,
    /// By set: the print the quilter decided.
    pins: &'a [Option<PrintId>],
    /// Kept-back lots that may be used.
    released: &'a [LotId],
    rules: &'a Rules,
}

/// How much of an answer is wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Depth {
    /// The plan if it fits, and the best partial plan if it does not.
    Whole,
    /// The plan if it fits; if it does not, only that.
    Verdict,
}

/// Plans one task, without alternatives.
fn solve(
    task: &Task<'_>,
    depth: Depth,
    answers: &mut Answers,
    progress: &mut dyn FnMut(Progress),
) -> Outcome {
    let nothing = BTreeSet::new();
    let mut plan = Plan { prints: vec![None; task.demand.sets.len()], ..Plan::default() };
    let mut bound = 0;
    let mut reasons = Vec::new();
    let mut refused = false;
    for part in task.instance(Scope { without: &nothing, free: true }).parts() {
        let mut oracle = Oracle::new(&part, answers);
        let found = search::search(&mut oracle, task.rules.effort, &mut |best, least| {
            progress(Progress { best, bound: bound + least });
        });
        bound += found.bound;
        if found.complete {
            let assignment = polish::polish(&mut oracle, found.assignment, task.rules);
            finish::add(&mut plan, &mut oracle, task.demand, &assignment, task.rules);
            continue;
        }
        refused |= found.refusal.is_some();
        reasons.extend(reason::reasons(task, &part, &found));
        if depth == Depth::Verdict {
            break;
        }
    }
    reasons.sort_by_key(|reason| reason.code == "budget"); // proofs first
    let verdict = match (reasons.is_empty(), refused) {
        (true, _) => Verdict::Fits,
        (false, true) => Verdict::Impossible,
        (false, false) => Verdict::Undecided,
    };
    if verdict != Verdict::Fits && depth == Depth::Whole {
        plan = partial(task, answers);
        reason::explain_short(task, &mut plan, &reasons);
    }
    finish::complete(&mut plan);
    let opened = finish::opened(&plan, task.stash, task.rules);
    let bound = if verdict == Verdict::Fits { bound.min(opened) } else { 0 };
    Outcome { verdict, reasons, plan, fabric: Fabric { opened, bound }, alternatives: Vec::new() }
}

/// When not everything fits: the most whole blocks, then the most sets; and those from the least fabric.
fn partial(task: &Task<'_>, answers: &mut Answers) -> Plan {
    let nothing = BTreeSet::new();
    let empty = Plan { prints: vec![None; task.demand.sets.len()], ..Plan::default() };
    let mut plan = empty.clone();
    // Whole blocks tie the parts together, so this is one search over all of them.
    let instance = task.instance(Scope { without: &nothing, free: false });
    let mut oracle = Oracle::new(&instance, answers);
    let found = search::most_placed(&mut oracle, &block_needs(task, &instance), task.rules.effort);
    finish::add(&mut plan, &mut oracle, task.demand, &found.assignment, task.rules);
    finish::complete(&mut plan);
    // The same sets again, as if nothing else were asked for.
    let without = plan.short.iter().map(|short| short.set).collect();
    let mut again = empty;
    for part in task.instance(Scope { without: &without, free: true }).parts() {
        let mut oracle = Oracle::new(&part, answers);
        let found = search::search(&mut oracle, task.rules.effort, &mut |_, _| {});
        if !found.complete {
            return plan;
        }
        let assignment = polish::polish(&mut oracle, found.assignment, task.rules);
        finish::add(&mut again, &mut oracle, task.demand, &assignment, task.rules);
    }
    finish::complete(&mut again);
    if finish::opened(&again, task.stash, task.rules) <= finish::opened(&plan, task.stash, task.rules) {
        again
    } else {
        plan
    }
}

impl Task<'_> {
    fn instance(&self, scope: Scope<'_>) -> Instance {
        Instance::new(self.stash, self.demand, self.pins, self.released, self.rules, scope)
    }
}

/// Per block kind: its copies, and what one copy needs of each bag.
fn block_needs(task: &Task<'_>, instance: &Instance) -> Vec<(u32, Vec<(usize, u32)>)> {
    task.pattern
        .blocks
        .iter()
        .enumerate()
        .map(|(index, block)| {
            let mut copies = block.make;
            let needs: Vec<(usize, u32)> = instance
                .bags
                .iter()
                .enumerate()
                .filter_map(|(bag, all)| {
                    let mine = |item: &&instance::Item| {
                        task.demand
                            .set(item.set)
                            .block
                            .is_some_and(|(block, copy)| block.0 == index && copy == 1)
                    };
                    let each = u32::try_from(all.items.iter().filter(mine).count()).ok()?;
                    (each > 0).then_some((bag, each))
                })
                .collect();
            for &(bag, each) in &needs {
                copies = copies.min(instance.bags[bag].demand() / each);
            }
            (copies, needs)
        })
        .collect()
}
