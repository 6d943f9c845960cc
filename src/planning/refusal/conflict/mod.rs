//! What together does not fit: as few things as can be, so that without any one of them the others fit.
//!
//! A deletion filter (Chinneck and Dravnieks 1991) over proved answers: things are given up, many at once first, as
//! long as what is left is still proved impossible. What cannot be given up is the conflict. It is minimal when
//! for each of its things a plan without that thing was found; where the work allowed left one open, that is said.

use std::collections::{BTreeMap, BTreeSet};

use crate::pattern::demand::{Demand, Loosened};
use crate::placements;
use crate::planning::alternative::Inputs;
use crate::planning::outcome::Outcome;
use crate::planning::plan::{Conflict, Thing, Verdict};
use crate::planning::{Task, verdict};

mod things;
mod words;

pub(crate) use words::reasons;

/// Conflicts looked for, one after the other.
const MOST_CONFLICTS: usize = 3;
/// Verdicts asked for in one run.
const MOST_VERDICTS: usize = 120;
/// Verdicts that may stay open: where so many do, what is left of the deletions mostly does too.
const MOST_OPEN: usize = 10;
/// Cutting questions that may be worked out anew: so many, and so many times as many as the plan itself took.
const MOST_QUESTIONS: (u64, u64) = (60_000, 2);
/// What holds more things than this and is not shown minimal tells nobody anything.
const MOST_UNSURE: usize = 8;

/// The conflicts behind an `outcome` that is impossible, the first over all that was asked; each further one
/// stays when a piece of every earlier one is not asked for. `spent` is how many cutting questions the outcome took.
pub(crate) fn conflicts(inputs: &Inputs<'_>, outcome: &Outcome, spent: u64) -> Vec<Conflict> {
    let groups = things::in_order(inputs, outcome);
    let (least, times) = MOST_QUESTIONS;
    let mut filter = Filter { inputs, known: BTreeMap::new(), open: 0, ends_at: spent * (times + 1) + least };
    let mut aside: BTreeSet<Thing> = BTreeSet::new();
    let mut conflicts = Vec::new();
    while conflicts.len() < MOST_CONFLICTS {
        let (things, minimal) = filter.conflict(&groups, &aside);
        if !minimal && things.len() > MOST_UNSURE {
            break;
        }
        let mut whole = Verdict::Fits;
        let mut next = None;
        for &thing in &things {
            let without: BTreeSet<Thing> = aside.iter().copied().chain([thing]).collect();
            match filter.verdict(&without) {
                Verdict::Fits => {}
                Verdict::Impossible => {
                    // Giving this up is not enough: there is another conflict.
                    whole = Verdict::Impossible;
                    next = Some(thing).filter(|thing| matches!(thing, Thing::Asked { .. }));
                    break;
                }
                Verdict::Undecided => whole = Verdict::Undecided,
            }
        }
        conflicts.push(Conflict { things, minimal, whole });
        match next {
            Some(thing) => aside.insert(thing),
            None => break,
        };
    }
    conflicts
}

struct Filter<'a> {
    inputs: &'a Inputs<'a>,
    /// Verdicts by what is given up.
    known: BTreeMap<BTreeSet<Thing>, Verdict>,
    /// How many of them are undecided.
    open: usize,
    /// No verdict is asked for once so many cutting questions were worked out.
    ends_at: u64,
}

impl Filter<'_> {
    /// Things that together are impossible without `aside`, and whether without any one of them they fit.
    fn conflict(&mut self, groups: &[Vec<Thing>], aside: &BTreeSet<Thing>) -> (Vec<Thing>, bool) {
        let mut given_up = aside.clone();
        let mut kept = Vec::new();
        let mut needed = BTreeSet::new();
        for group in groups {
            let group: Vec<Thing> = group.iter().copied().filter(|thing| !aside.contains(thing)).collect();
            self.give_up(&group, &mut given_up, &mut kept, &mut needed);
        }
        let minimal = kept.iter().all(|thing| {
            // What fits without it beside more, fits without it beside less.
            needed.contains(thing) || {
                let mut without = given_up.clone();
                without.insert(*thing);
                self.verdict(&without) == Verdict::Fits
            }
        });
        kept.sort_unstable(); // what is asked for first
        (kept, minimal)
    }

    /// Gives up as much of `group` as leaves the rest impossible: all at once, else half by half.
    fn give_up(
        &mut self,
        group: &[Thing],
        given_up: &mut BTreeSet<Thing>,
        kept: &mut Vec<Thing>,
        needed: &mut BTreeSet<Thing>,
    ) {
        if group.is_empty() {
            return;
        }
        let more: BTreeSet<Thing> = given_up.iter().chain(group).copied().collect();
        let verdict = self.verdict(&more);
        match (verdict, group) {
            (Verdict::Impossible, _) => *given_up = more,
            (Verdict::Fits, &[thing]) => {
                kept.push(thing);
                needed.insert(thing);
            }
            (Verdict::Undecided, &[thing]) => kept.push(thing),
            _ => {
                let (first, second) = group.split_at(group.len().div_ceil(2));
                self.give_up(first, given_up, kept, needed);
                self.give_up(second, given_up, kept, needed);
            }
        }
    }

    /// The verdict on the inputs without these things; undecided when no more may be asked.
    fn verdict(&mut self, given_up: &BTreeSet<Thing>) -> Verdict {
        if let Some(&known) = self.known.get(given_up) {
            return known;
        }
        if self.inputs.answers().stop.seen() {
            return Verdict::Undecided;
        }
        let spent = self.known.len() >= MOST_VERDICTS || self.open >= MOST_OPEN;
        if spent || self.inputs.answers().fresh >= self.ends_at {
            return Verdict::Undecided;
        }
        let less = things::without(self.inputs, given_up);
        let demand = Demand::expand(&less.pattern, &Loosened::default());
        let (pins, _) = placements::pins(&less.placements, &less.stash, &less.pattern, &demand);
        let task = Task {
            stash: &less.stash,
            pattern: &less.pattern,
            demand: &demand,
            pins: &pins,
            released: &[],
            rules: self.inputs.rules,
        };
        let verdict = verdict::verdict(&task, &mut self.inputs.answers());
        self.open += usize::from(verdict == Verdict::Undecided);
        self.known.insert(given_up.clone(), verdict);
        verdict
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fabric::Cut;
    use crate::length::Length;
    use crate::pattern::{Block, BlockId, Count, Matching, Pattern, PieceLine, Role, RoleId, Shape};
    use crate::placements::Placements;
    use crate::planning::oracle::answers::Answers;
    use crate::planning::{Rules, Stop, plan};
    use crate::stash::{Lot, Print, PrintId, Stash};

    /// One scrap of 4 in, and two blocks that each need a square of it.
    #[test]
    fn once_many_verdicts_stay_open_no_more_are_asked_for() {
        let four = Length::from_inches(4);
        let mut stash = Stash::default();
        stash.prints.push(Print { name: "shell".into() });
        stash.lots.push(Lot::plain(PrintId(0), Cut::scrap(), four, four));
        let line = |role: usize| PieceLine {
            role: RoleId(role),
            width: four,
            height: four,
            label: "A".into(),
            count: Count::PerCopy(1),
            shape: Shape::Rectangle,
            matching: Matching::Piece,
            line: 0,
        };
        let block = |role: usize| Block {
            name: format!("urchin {role}"),
            make: 1,
            pieces: vec![line(role)],
            ..Block::default()
        };
        let role = |name: &str| Role { name: name.into(), ..Role::default() };
        let pattern = Pattern {
            roles: vec![role("tide"), role("foam")],
            blocks: vec![block(0), block(1)],
            ..Pattern::default()
        };
        let placements = Placements::default();
        let rules = Rules { conflicts: false, alternatives: false, ..Rules::default() };
        let outcome = plan(&stash, &pattern, &placements, &rules, &Stop::never(), &mut |_| {});
        assert_eq!(outcome.verdict, Verdict::Impossible);
        let demand = Demand::expand(&pattern, &Loosened::default());
        let pins = vec![None; demand.sets.len()];
        let answers = &Answers::default().into();
        let (stash, pattern, placements, rules) = (&stash, &pattern, &placements, &rules);
        let (demand, pins, most_questions) = (&demand, &pins[..], u64::MAX);
        let inputs = Inputs { stash, pattern, placements, demand, pins, rules, answers, most_questions };
        let groups = things::in_order(&inputs, &outcome);
        let both = [0, 1].map(|n| Thing::Asked { block: BlockId(n), role: RoleId(n) });
        for open in [0, MOST_OPEN] {
            let mut filter = Filter { inputs: &inputs, known: BTreeMap::new(), open, ends_at: u64::MAX };
            let (things, minimal) = filter.conflict(&groups, &BTreeSet::new());
            assert_eq!(things, both);
            assert_eq!((minimal, filter.known.is_empty()), (open == 0, open == MOST_OPEN));
        }
    }
}
