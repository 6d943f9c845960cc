//! Which set from which print, which piece from which sheet, and why not.
//!
//! [`plan()`] is a function: frozen inputs in, outcome out; no files, no printing.

use std::collections::BTreeSet;

use crate::pattern::demand::{Demand, Loosened};
use crate::pattern::{BlockId, Pattern};
use crate::placements::Placements;
use crate::planning::columns::relaxed;
use crate::planning::finish::pairing::Given;
use crate::planning::finish::{alike, beyond, pairing};
use crate::planning::instance::{Instance, Scope};
use crate::planning::oracle::Oracle;
use crate::planning::oracle::answers::Answers;
use crate::planning::refusal::{conflict, reason};
use crate::planning::searched::{Searched, searched};
use crate::stash::{LotId, PrintId, Stash};

mod alternative;
mod appearance;
mod columns;
mod contrast;
mod explain;
mod finish;
mod instance;
mod methods;
mod oracle;
mod outcome;
mod partial;
pub mod plan;
mod refusal;
pub mod rules;
mod search;
mod searched;
mod side_by_side;
mod upright;
mod verdict;

pub use crate::cutting::{Cause, Stop};
pub(crate) use finish::preferences::look;
pub use finish::preferences::{Measures, PreferenceBounds};
pub use instance::permits::permitted;
pub use methods::{Planned, plan_methods, some_ways_suit};
pub use outcome::{Alternative, Methods, Outcome, RefusedWays, Upright};
pub use plan::{
    Case, Change, Conflict, Fabric, OneSheet, Plan, Reason, SheetPlan, Short, Thing, Tighter, Verdict,
    Weighed, Weighing,
};
pub use rules::{Aim, Manner, Rules, Weights};

/// How far a run has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Progress {
    /// What is being done.
    pub doing: Doing,
    /// Weighted fabric of the best complete plan so far.
    pub best: Option<i64>,
    /// No complete plan opens less.
    pub bound: i128,
}

/// What a run is busy with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Doing {
    /// Looking for the best plan, or for a proof that there is none.
    Planning,
    /// Working out what keeping the up of prints costs.
    Upright,
    /// It does not fit: looking for what together does not, and for what would.
    Explaining,
    /// Giving the blocks their places.
    Arranging,
    /// Writing the sheet, and recomputing the plan from the inputs.
    Checking,
}

impl Progress {
    /// Busy with something after `outcome` was found.
    pub(crate) fn after(outcome: &Outcome, doing: Doing) -> Progress {
        let best = i64::try_from(outcome.fabric.opened).ok().filter(|_| outcome.verdict == Verdict::Fits);
        Progress { doing, best, bound: outcome.fabric.bound }
    }
}

/// Plans the cutting of `pattern` from `stash`, keeping what the quilter decided.
///
/// The plan and its sets are those of `Demand::expand(pattern, &Loosened::default())`. After `stop` the outcome is
/// what was reached and proved by then.
pub fn plan(
    stash: &Stash,
    pattern: &Pattern,
    placements: &Placements,
    rules: &Rules,
    stop: &Stop,
    progress: &mut (dyn FnMut(Progress) + Send),
) -> Outcome {
    as_asked(stash, pattern, placements, rules, |task| {
        let mut answers = Answers::new(stop, rules.threads);
        let mut outcome = solve_with_up(task, &mut answers, progress);
        if outcome.verdict != Verdict::Fits {
            progress(Progress::after(&outcome, Doing::Explaining));
            let (demand, pins) = (task.demand, task.pins);
            let answers = &answers.into();
            let most_questions = u64::MAX;
            let inputs = alternative::Inputs {
                stash,
                pattern,
                placements,
                demand,
                pins,
                rules,
                answers,
                most_questions,
            };
            (outcome.conflicts, outcome.alternatives) = explain::explain(&inputs, &outcome);
            outcome.reasons.splice(0..0, conflict::reasons(&inputs, &outcome.conflicts));
        }
        outcome
    })
}

/// Plans one task, and works out what keeping the up of prints costs; that goes on beside it where threads allow.
fn solve_with_up(
    task: &Task<'_>,
    answers: &mut Answers,
    progress: &mut (dyn FnMut(Progress) + Send),
) -> Outcome {
    if answers.threads < 2 || !upright::may_matter(task) {
        let mut outcome = solve(task, Depth::Whole, answers, progress);
        progress(Progress::after(&outcome, Doing::Upright));
        outcome.upright = upright::upright(task, &outcome, || upright::freed(task, answers));
        return outcome;
    }
    let threads = answers.threads;
    answers.threads = threads.div_ceil(2);
    let mut beside = answers.beside();
    beside.stop = answers.stop.of_part();
    let stop = beside.stop.clone();
    let whole = || {
        let outcome = solve(task, Depth::Whole, answers, progress);
        if outcome.verdict == Verdict::Fits {
            progress(Progress::after(&outcome, Doing::Upright));
        } else {
            stop.raise();
        }
        outcome
    };
    let (mut outcome, freed) = side_by_side::both(whole, || upright::freed(task, &mut beside));
    answers.threads = threads;
    outcome.upright = upright::upright(task, &outcome, || freed);
    outcome
}

/// What `ask` makes of the inputs as they are.
fn as_asked<R>(
    stash: &Stash,
    pattern: &Pattern,
    placements: &Placements,
    rules: &Rules,
    ask: impl FnOnce(&Task<'_>) -> R,
) -> R {
    let demand = Demand::expand(pattern, &Loosened::default());
    let (pins, _) = crate::placements::pins(placements, stash, pattern, &demand);
    ask(&Task { stash, pattern, demand: &demand, pins: &pins, released: &[], rules })
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

/// Plans one task, without alternatives. Blocks whose prints cannot be paired into their copies are planned
/// again with the copies told apart.
fn solve(
    task: &Task<'_>,
    depth: Depth,
    answers: &mut Answers,
    progress: &mut (dyn FnMut(Progress) + Send),
) -> Outcome {
    pairing::with_copies_apart(|apart| solve_with(task, depth, apart, answers, progress))
}

/// # Errors
/// A block whose prints cannot be paired while its copies are counted together.
fn solve_with(
    task: &Task<'_>,
    depth: Depth,
    apart: &BTreeSet<BlockId>,
    answers: &mut Answers,
    progress: &mut (dyn FnMut(Progress) + Send),
) -> Result<Outcome, BlockId> {
    let nothing = BTreeSet::new();
    let mut plan = task.empty_plan();
    let mut bound = 0;
    let mut reasons = Vec::new();
    let mut refused = false;
    let parts = task.instance(Scope { without: &nothing, free: true, apart }).parts();
    let searched = searched(task, &parts, depth, answers, progress);
    let least_found: Vec<i128> = searched.iter().map(|searched| searched.found.bound).collect();
    let reached: i128 = searched.iter().map(|searched| i128::from(searched.found.cost)).sum();
    let mut givens = Vec::new();
    let (mut for_looks, mut spent) = (0, 0);
    for (part, Searched { found, polished }) in parts.iter().zip(&searched) {
        bound += found.bound;
        if found.complete {
            let given = pairing::pair(part, task.demand, polished)
                .or_else(|_| pairing::pair(part, task.demand, &found.assignment))?;
            givens.push(Some(given));
            continue;
        }
        let reached = || pairing::pair(part, task.demand, &found.assignment).ok();
        givens.push(if answers.stop.seen() { reached() } else { None });
        refused |= found.refusal.is_some();
        reasons.extend(reason::reasons(task, part, found, answers.stop.cause()));
    }
    if task.rules.aim == Aim::Look && reasons.is_empty() {
        let mut all: Vec<Given> = givens.into_iter().flatten().collect();
        (for_looks, spent) = appearance::choose(task, &parts, &mut all, (depth, reached), answers);
        givens = all.into_iter().map(Some).collect();
    }
    for (part, given) in parts.iter().zip(givens) {
        if let Some(given) = given {
            finish::add(&mut plan, &mut Oracle::new(part, answers), task.demand, given, task.rules);
        }
    }
    reasons.sort_by_key(|reason| ["budget", "stopped"].contains(&reason.code)); // proofs first
    let mut verdict = match (reasons.is_empty(), refused) {
        (true, _) => Verdict::Fits,
        (false, true) => Verdict::Impossible,
        (false, false) => Verdict::Undecided,
    };
    if verdict != Verdict::Fits && depth == Depth::Whole {
        let placed = |plan: &Plan| plan.prints.iter().flatten().count();
        let fuller = if answers.stop.seen() { None } else { Some(partial::partial(task, apart, answers)?) };
        match fuller {
            Some(fuller) if !answers.stop.seen() || placed(&fuller) >= placed(&plan) => plan = fuller,
            _ => finish::complete(&mut plan),
        }
        // What a short search for everything left open, the search for the most blocks may settle: nothing is short.
        if verdict == Verdict::Undecided && plan.prints.iter().all(Option::is_some) {
            verdict = Verdict::Fits;
            // The short search has left it with no bound where no round of prices was finished.
            let (effort, threads, stop) = (task.rules.effort, answers.threads, &answers.stop);
            let apart = |part: &Instance| relaxed::least(part, effort, threads, stop);
            let least =
                |(part, &known): (&Instance, &i128)| known.max(part.area_at_least_weight()).max(apart(part));
            bound = parts.iter().zip(&least_found).map(least).sum();
            reasons.clear();
        }
        reason::explain_short(task, &mut plan, &reasons, answers.stop.cause());
    }
    finish::complete(&mut plan);
    alike::share(task, &mut plan, &answers.stop);
    let opened = finish::opened(&plan, task.stash, task.rules);
    debug_assert!(
        !reasons.is_empty() || task.rules.cutting != Manner::Nested || opened <= reached + for_looks,
        "the plan is cut as cheaply as the search has cut it"
    );
    let bound = if verdict == Verdict::Fits { bound.min(opened) } else { 0 };
    let least_met = (opened - spent).max(bound);
    let preferences = match verdict {
        Verdict::Fits => beyond::beyond(&parts, &least_found, opened, task.rules, &answers.stop),
        Verdict::Impossible | Verdict::Undecided => PreferenceBounds::default(),
    };
    Ok(Outcome {
        verdict,
        reasons,
        plan,
        fabric: Fabric { opened, bound },
        least_met,
        preferences,
        conflicts: Vec::new(),
        upright: None,
        methods: None,
        alternatives: Vec::new(),
    })
}

impl Task<'_> {
    fn empty_plan(&self) -> Plan {
        Plan { prints: vec![None; self.demand.sets.len()], ..Plan::default() }
    }

    /// Area of all fabric that may be used, squared up.
    fn usable(&self) -> i128 {
        let lots = self.stash.lots.iter().enumerate();
        let lots = lots.filter(|(number, lot)| !lot.keep || self.released.contains(&LotId(*number)));
        lots.map(|(_, lot)| {
            i128::from(lot.sheet_width().by(lot.sheet_length()).square_ticks()) * i128::from(lot.count)
        })
        .sum()
    }

    /// What no complete plan goes below: every piece covers its own area, at the least weight of any fabric held.
    fn area_at_least_weight(&self) -> i128 {
        let weights = self.stash.lots.iter().map(|lot| self.rules.weights.of(lot.cut.entry().family));
        let pieces = self.demand.pieces.iter().map(|piece| i128::from(piece.area().square_ticks()));
        pieces.sum::<i128>() * i128::from(weights.min().unwrap_or(0))
    }

    fn instance(&self, scope: Scope<'_>) -> Instance {
        Instance::new(self.stash, self.demand, self.pins, self.released, self.rules, scope)
    }
}
