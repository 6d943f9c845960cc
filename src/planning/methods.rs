//! The way each unit is made, where the pattern names several: the combination whose cuts fit best.
//!
//! Where there are few combinations each is planned. Else one unit after the other is tried in its other ways,
//! starting from the designer's first choices; then what is found is not claimed to be the best of all.

use std::sync::{Mutex, PoisonError};

use itertools::Itertools;

use crate::cutting::Stop;
use crate::pattern::Pattern;
use crate::pattern::demand::{Demand, Loosened};
use crate::pattern::ways::OpenUnit;
use crate::placements::Placements;
use crate::planning::contrast::{self, Questions};
use crate::planning::oracle::answers::Answers;
use crate::planning::outcome::{Methods, Outcome, RefusedWays};
use crate::planning::plan::{Reason, Verdict};
use crate::planning::{Depth, Progress, Rules, Task, as_asked, plan, side_by_side, solve, upright};
use crate::stash::Stash;

/// As many combinations are all planned; more would take too long, as each is a run of its own.
const MOST_COMBINATIONS: usize = 12;

/// Combinations looked through for one that the decisions suit; looking is quick, as nothing is planned for it.
const MOST_LOOKED_AT: usize = 243;

/// The pattern with every unit made one way, and what came of planning it.
#[derive(Clone, Debug)]
pub struct Planned {
    /// The pattern; its demand is that of the plan.
    pub pattern: Pattern,
    /// The outcome.
    pub outcome: Outcome,
}

/// Plans `pattern` with that combination of ways which fits and opens the least fabric; of equals the first, the
/// designer's first choices before all others. Ways that the quilter's decisions do not suit are left out.
///
/// Where a role must stand out from a fabric of the whole quilt, each print which can be that fabric is planned by itself. Of
/// these the best is taken: its bound is the least of all, and that none fits is claimed only where all were asked and refused. Such a
/// refusal has no weights, as they hold for one of the prints only.
pub fn plan_methods(
    stash: &Stash,
    pattern: &Pattern,
    placements: &Placements,
    rules: &Rules,
    stop: &Stop,
    progress: &mut (dyn FnMut(Progress) + Send),
) -> Planned {
    let Questions { patterns, every } = contrast::questions(stash, pattern, placements);
    let [only] = &patterns[..] else {
        return best_of(stash, &patterns, every, placements, rules, stop, progress);
    };
    let mut planned = plan_ways(stash, only, placements, rules, stop, progress);
    if only.roles.iter().any(|role| role.rules.contrast.is_some()) {
        without_weights(&mut planned.outcome);
    }
    planned
}

/// The best of several questions; what does not fit is explained for the first of them.
fn best_of(
    stash: &Stash,
    patterns: &[Pattern],
    every: bool,
    placements: &Placements,
    rules: &Rules,
    stop: &Stop,
    progress: &mut (dyn FnMut(Progress) + Send),
) -> Planned {
    let quick = Rules { conflicts: false, alternatives: false, ..rules.clone() };
    let tries: Vec<Planned> = patterns
        .iter()
        .map(|pattern| plan_ways(stash, pattern, placements, &quick, stop, progress))
        .collect();
    let least = tries.iter().map(|planned| planned.outcome.fabric.bound).min().unwrap_or_default();
    let refused = tries.iter().all(|planned| planned.outcome.verdict == Verdict::Impossible);
    let fits = |planned: &Planned| planned.outcome.verdict == Verdict::Fits;
    let best = tries.into_iter().filter(fits).min_by_key(|planned| planned.outcome.fabric.opened);
    if let Some(mut best) = best {
        // Fewer choices never open less, so a part that was not asked leaves the bound of no choice at all.
        best.outcome.fabric.bound = if every { least } else { 0 };
        return best;
    }
    let mut first = plan_ways(stash, &patterns[0], placements, rules, stop, progress);
    without_weights(&mut first.outcome);
    if !(every && refused) && first.outcome.verdict == Verdict::Impossible {
        first.outcome.verdict = Verdict::Undecided;
    }
    first
}

/// Leaves out weights that hold for one choice of the fabrics to stand out from, not for the pattern as it is written.
fn without_weights(outcome: &mut Outcome) {
    for reason in &mut outcome.reasons {
        (reason.weighing, reason.cases) = (None, Vec::new());
    }
    for refused in outcome.methods.iter_mut().flat_map(|methods| &mut methods.refused) {
        (refused.weighing, refused.cases) = (None, Vec::new());
    }
}

/// The same for a pattern without rules of contrast, or with the prints they leave out.
fn plan_ways(
    stash: &Stash,
    pattern: &Pattern,
    placements: &Placements,
    rules: &Rules,
    stop: &Stop,
    progress: &mut (dyn FnMut(Progress) + Send),
) -> Planned {
    let open = pattern.open_units();
    if open.is_empty() {
        let outcome = plan(stash, pattern, placements, rules, stop, progress);
        return Planned { pattern: pattern.clone(), outcome };
    }
    let answers = Answers::new(stop, rules.threads);
    let mut tries =
        Tries { stash, pattern, placements, rules, stop, progress, open: &open, answers, made: Vec::new() };
    let of = combinations(&open);
    let every = of.is_some_and(|all| all <= MOST_COMBINATIONS);
    if every {
        tries.every()
    } else {
        tries.unit_by_unit()
    }
    tries.settle(of, every)
}

/// How many combinations there are; `None` when they are too many to count.
fn combinations(open: &[OpenUnit]) -> Option<usize> {
    open.iter().try_fold(1usize, |all, unit| all.checked_mul(unit.ways))
}

/// Combinations planned so far.
struct Tries<'a> {
    stash: &'a Stash,
    pattern: &'a Pattern,
    placements: &'a Placements,
    rules: &'a Rules,
    stop: &'a Stop,
    progress: &'a mut (dyn FnMut(Progress) + Send),
    open: &'a [OpenUnit],
    /// Shared by all tries.
    answers: Answers,
    made: Vec<Try>,
}

/// One combination, planned without alternatives; the way of each open unit.
struct Try {
    ways: Vec<usize>,
    planned: Planned,
}

impl Try {
    /// What fits comes before what does not, then what opens less.
    fn rank(&self) -> (bool, i128) {
        let outcome = &self.planned.outcome;
        match outcome.verdict {
            Verdict::Fits => (false, outcome.fabric.opened),
            _ => (true, 0),
        }
    }

    fn refused(self) -> RefusedWays {
        let Planned { pattern, outcome } = self.planned;
        // Any one of its proofs is enough.
        let proves = |reason: &Reason| reason.weighing.is_some() || !reason.cases.is_empty();
        let (weighing, cases) = match outcome.reasons.into_iter().find(proves) {
            Some(reason) => (reason.weighing, reason.cases),
            None => (None, Vec::new()),
        };
        RefusedWays { pattern, weighing, cases }
    }
}

impl Tries<'_> {
    fn every(&mut self) {
        let all = self.open.iter().map(|unit| 0..unit.ways).multi_cartesian_product();
        self.make(&all.collect_vec());
    }

    /// One pass over the units: each in its other ways, the rest as in the best so far.
    fn unit_by_unit(&mut self) {
        let Some(start) = first_suiting(self.placements, self.stash, self.pattern) else { return };
        self.make(std::slice::from_ref(&start));
        for (index, unit) in self.open.iter().enumerate() {
            let from = self.best().map_or_else(|| start.clone(), |best| self.made[best].ways.clone());
            let others = (0..unit.ways).filter(|&way| way != from[index]).map(|way| {
                let mut ways = from.clone();
                ways[index] = way;
                ways
            });
            self.make(&others.collect_vec());
        }
    }

    /// Plans combinations side by side, except those of which decisions name pieces that they do not have.
    fn make(&mut self, combinations: &[Vec<usize>]) {
        let suiting = combinations.iter().filter_map(|ways| {
            let pattern = self.pattern.with_ways(self.open, ways)?;
            suits(self.placements, self.stash, &pattern).then_some((ways, pattern))
        });
        let suiting = suiting.collect_vec();
        // How far one combination is says nothing about all of them: only that there is a full plan.
        let fits = self.made.iter().map(Try::rank).filter(|&(short, _)| !short);
        let known = fits.filter_map(|(_, opened)| i64::try_from(opened).ok()).min();
        let none_yet = self.made.is_empty();
        let progress = Mutex::new(&mut *self.progress);
        let (stash, placements, rules, answers) = (self.stash, self.placements, self.rules, &self.answers);
        let made = side_by_side::each(answers.threads, &suiting, |(ways, pattern)| {
            // After a stop one combination is looked at all the same, where there is none yet.
            let first = none_yet && suiting.first().is_some_and(|(first, _)| first == ways);
            if !first && answers.stop.seen() {
                return None;
            }
            let mut answers = answers.beside();
            let outcome = as_asked(stash, pattern, placements, rules, |task| {
                solve(task, Depth::Verdict, &mut answers, &mut |step| {
                    let best = step.best.into_iter().chain(known).min();
                    let mut progress = progress.lock().unwrap_or_else(PoisonError::into_inner);
                    progress(Progress { best, bound: 0, ..step });
                })
            });
            Some(Try { ways: (*ways).clone(), planned: Planned { pattern: pattern.clone(), outcome } })
        });
        self.made.extend(made.into_iter().flatten());
    }

    fn best(&self) -> Option<usize> {
        (0..self.made.len()).min_by_key(|&index| self.made[index].rank())
    }

    /// The combination taken, with what is known of the others.
    fn settle(mut self, of: Option<usize>, every: bool) -> Planned {
        let tried = self.made.len();
        let Some(best) = self.best() else {
            // No combination suits the decisions, which was told when they were read.
            let outcome =
                plan(self.stash, self.pattern, self.placements, self.rules, self.stop, self.progress);
            return Planned { pattern: self.pattern.clone(), outcome };
        };
        let decided = self.made.iter().all(|made| made.planned.outcome.verdict != Verdict::Undecided);
        let every = every && self.stop.cause().is_none();
        let settled = every && decided;
        let fits = self.made.iter().filter(|made| made.planned.outcome.verdict == Verdict::Fits);
        let bound = fits.map(|made| made.planned.outcome.fabric.bound).min();
        let mut planned = self.made.remove(best).planned;
        if planned.outcome.verdict == Verdict::Fits {
            let (pattern, outcome) = (&planned.pattern, &planned.outcome);
            let answers = &mut self.answers;
            let cost = |task: &Task<'_>| upright::upright(task, outcome, || upright::freed(task, answers));
            planned.outcome.upright = as_asked(self.stash, pattern, self.placements, self.rules, cost);
        } else {
            // What together does not fit made these ways might fit made another, so it is said of these ways.
            let rules = Rules { conflicts: self.rules.conflicts && settled, ..self.rules.clone() };
            planned.outcome =
                plan(self.stash, &planned.pattern, self.placements, &rules, self.stop, self.progress);
            for reason in planned.outcome.reasons.iter_mut().filter(|reason| reason.code == "conflict") {
                reason.text += " (with the units made the ways taken)";
            }
        }
        let outcome = &mut planned.outcome;
        let mut refused = Vec::new();
        match outcome.verdict {
            Verdict::Fits if settled => outcome.fabric.bound = bound.unwrap_or(0).min(outcome.fabric.opened),
            Verdict::Fits => {}
            Verdict::Impossible if settled => {
                let text = format!("each of the {tried} ways of making the units was planned, and none fits");
                outcome.reasons.push(Reason::new("every method", text));
                refused = self.made.into_iter().map(Try::refused).collect();
            }
            Verdict::Impossible | Verdict::Undecided => {
                outcome.verdict = Verdict::Undecided;
                let text = format!(
                    "{tried} ways of making the units were planned; whether another one fits is not known"
                );
                outcome.reasons.push(Reason::new("methods", text));
            }
        }
        outcome.methods = Some(Methods { tried, of, every, settled, refused });
        for alternative in &mut outcome.alternatives {
            let these_only = Methods { tried: 1, every: false, settled: false, of, refused: Vec::new() };
            alternative.outcome.methods = Some(these_only);
        }
        planned
    }
}

/// Do all decisions name something in `pattern`?
fn suits(placements: &Placements, stash: &Stash, pattern: &Pattern) -> bool {
    let demand = Demand::expand(pattern, &Loosened::default());
    let (_, said) = crate::placements::pins(placements, stash, pattern, &demand);
    !said.iter().any(|one| one.is_error())
}

/// Is there a combination of ways which the decisions suit, so that `plan_methods` can keep them?
pub fn some_ways_suit(placements: &Placements, stash: &Stash, pattern: &Pattern) -> bool {
    first_suiting(placements, stash, pattern).is_some()
}

/// The first combination which the decisions suit, the designer's first choices before all others. Where there are
/// very many, only the last units are tried otherwise.
fn first_suiting(placements: &Placements, stash: &Stash, pattern: &Pattern) -> Option<Vec<usize>> {
    let open = pattern.open_units();
    let all = open.iter().map(|unit| 0..unit.ways).multi_cartesian_product();
    all.take(MOST_LOOKED_AT)
        .find(|ways| pattern.with_ways(&open, ways).is_some_and(|pattern| suits(placements, stash, &pattern)))
}
