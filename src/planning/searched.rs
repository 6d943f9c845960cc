//! The parts of a task, which have no print in common, each searched by itself and side by side.

use std::sync::{Mutex, PoisonError};

use crate::planning::finish::polish;
use crate::planning::instance::Instance;
use crate::planning::oracle::Oracle;
use crate::planning::oracle::answers::Answers;
use crate::planning::search::{self, Assignment, Found};
use crate::planning::{Depth, Doing, Progress, Task, side_by_side};

/// What the search found for a part.
pub(super) struct Searched {
    pub(super) found: Found,
    /// A complete assignment with better leftovers; as found where it is not complete.
    pub(super) polished: Assignment,
}

/// Searches `parts` in their order. Where only a verdict and its plan are wanted, it ends with the first part that has
/// no complete plan.
pub(super) fn searched(
    task: &Task<'_>,
    parts: &[Instance],
    depth: Depth,
    answers: &mut Answers,
    progress: &mut (dyn FnMut(Progress) + Send),
) -> Vec<Searched> {
    let firsts = firsts(task, parts, answers);
    let board = Mutex::new(Board::new(parts.len(), &firsts, progress));
    let one = |number: usize, answers: &mut Answers| {
        let mut found = best_or_any(&parts[number], answers, task.rules.effort, &mut |best, bound| {
            board.lock().unwrap_or_else(PoisonError::into_inner).show(number, best, bound);
        });
        if !found.complete
            && found.refusal.is_none()
            && answers.stop.seen()
            && let Some(first) = firsts.get(number).filter(|first| first.complete)
        {
            found = Found { bound: found.bound.max(first.bound), ..first.clone() };
        }
        let mut oracle = Oracle::new(&parts[number], answers);
        let polished = match found.complete {
            true => polish::polish(&mut oracle, found.assignment.clone(), task.rules),
            false => found.assignment.clone(),
        };
        Searched { found, polished }
    };
    if depth == Depth::Verdict || parts.len() == 1 {
        let mut all = Vec::new();
        for number in 0..parts.len() {
            all.push(one(number, answers));
            if depth == Depth::Verdict && all.last().is_some_and(|last| !last.found.complete) {
                break;
            }
        }
        return all;
    }
    let numbers: Vec<usize> = (0..parts.len()).collect();
    let done = side_by_side::each(answers.threads, &numbers, |&number| {
        let mut own = answers.beside();
        (one(number, &mut own), own)
    });
    // How the plans found are cut is needed again when they are written down.
    let keep = |(searched, own)| {
        answers.join(own);
        searched
    };
    done.into_iter().map(keep).collect()
}

/// The best plan of a part; what prices for the least fabric leave open may be settled without them.
pub(super) fn best_or_any(
    part: &Instance,
    answers: &mut Answers,
    effort: u32,
    progress: &mut dyn FnMut(Option<i64>, i128),
) -> Found {
    let found = search::search(&mut Oracle::new(part, answers), effort, progress);
    if found.complete || found.refusal.is_some() || answers.stop.seen() {
        return found;
    }
    let mut own = answers.beside();
    let any = search::any_improved(&mut Oracle::new(part, &mut own), effort);
    if !any.complete && any.refusal.is_none() {
        return found;
    }
    answers.join(own);
    any
}

/// A first plan of every part, so that a stop in one part does not leave the others without; nothing where no stop
/// may come, or where the only part makes its first plan anyway.
fn firsts(task: &Task<'_>, parts: &[Instance], answers: &mut Answers) -> Vec<Found> {
    if parts.len() < 2 || !answers.stop.may_come() {
        return Vec::new();
    }
    let done = side_by_side::each(answers.threads, parts, |part| {
        let mut own = answers.beside();
        (search::first(&mut Oracle::new(part, &mut own), task.rules.effort), own)
    });
    let keep = |(found, own)| {
        answers.join(own);
        found
    };
    done.into_iter().map(keep).collect()
}

/// How far all parts together have come.
struct Board<'a> {
    /// By part: the fabric of its best plan, and its bound.
    parts: Vec<(Option<i64>, i128)>,
    progress: &'a mut (dyn FnMut(Progress) + Send),
}

impl Board<'_> {
    fn new<'a>(parts: usize, firsts: &[Found], progress: &'a mut (dyn FnMut(Progress) + Send)) -> Board<'a> {
        let first = |number: usize| Some(firsts.get(number).filter(|first| first.complete)?.cost);
        Board { parts: (0..parts).map(|number| (first(number), 0)).collect(), progress }
    }

    fn show(&mut self, part: usize, best: Option<i64>, bound: i128) {
        self.parts[part] = (best.or(self.parts[part].0), bound);
        let best = self.parts.iter().map(|&(best, _)| best).sum();
        let bound = self.parts.iter().map(|&(_, bound)| bound).sum();
        (self.progress)(Progress { doing: Doing::Planning, best, bound });
    }
}
