//! When it does not fit: changes that would make it fit, each planned again by the same engine.
//!
//! `changes` is what may be changed together, `purchase` fabric that is bought with it; `attempt` asks whether the inputs so
//! changed fit and plans what is kept, `trim` takes back what turns out needless, `widened` changes more of one kind until it
//! fits, `described` says what is left, `choose` ranks and picks. Each kind of change has a file of its own.

use std::sync::{Mutex, MutexGuard, PoisonError};

use crate::pattern::Pattern;
use crate::pattern::demand::Demand;
use crate::placements::Placements;
use crate::planning::Rules;
use crate::planning::oracle::answers::Answers;
use crate::planning::outcome::{Alternative, Outcome};
use crate::stash::{PrintId, Stash};

mod attempt;
mod changes;
mod cheapest;
mod choose;
mod decided;
mod described;
mod fewer;
mod kept;
mod method;
mod mixed;
mod purchase;
mod size;
mod trim;
mod two_prints;
mod waive;
mod widened;

use attempt::Tried;
use changes::Changes;
pub(super) use choose::choose;

/// The inputs, as the quilter gave them.
#[derive(Clone, Copy)]
pub(super) struct Inputs<'a> {
    pub(super) stash: &'a Stash,
    pub(super) pattern: &'a Pattern,
    pub(super) placements: &'a Placements,
    pub(super) demand: &'a Demand,
    pub(super) pins: &'a [Option<PrintId>],
    pub(super) rules: &'a Rules,
    /// Shared by all tries of one task; they follow each other.
    pub(super) answers: &'a Mutex<Answers>,
    /// Cutting questions that may be worked out anew before nothing more is tried.
    pub(super) most_questions: u64,
}

impl Inputs<'_> {
    /// The answers, for one question at a time.
    pub(super) fn answers(&self) -> MutexGuard<'_, Answers> {
        self.answers.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// One kind of change, made to what was tried so far.
type Kind = fn(&Inputs<'_>, &Tried) -> Option<Tried>;

const KINDS: [Kind; 7] = [
    waive::rules_given_up,
    two_prints::two_prints,
    mixed::mixed_prints,
    method::other_method,
    size::smaller,
    fewer::fewer_copies,
    cheapest::cheapest,
];

/// Changes to look for, each by itself.
pub(super) struct Ideas {
    nothing: Tried,
    /// All that is kept back released, if anything is.
    released: Option<Tried>,
}

/// One of them.
#[derive(Clone, Copy)]
pub(super) struct Idea<'a> {
    kind: Kind,
    start: &'a Tried,
}

impl Ideas {
    /// Those for `outcome`.
    pub(super) fn new(inputs: &Inputs<'_>, outcome: &Outcome) -> Ideas {
        let nothing = Tried {
            changes: Changes::default(),
            pattern: inputs.pattern.clone(),
            stash: inputs.stash.clone(),
            demand: inputs.demand.clone(),
            outcome: outcome.clone(),
        };
        Ideas { released: kept::released(inputs, &nothing), nothing }
    }

    /// All of them.
    pub(super) fn all(&self) -> Vec<Idea<'_>> {
        let mut ideas = vec![Idea { kind: decided::given_up, start: &self.nothing }];
        // Fabric kept back makes it fit, or is a start from which less else must change.
        let mut starts = vec![&self.nothing];
        match &self.released {
            Some(tried) if tried.fits() => ideas.push(Idea { kind: kept::as_few, start: tried }),
            Some(tried) if tried.short() < self.nothing.short() => starts.push(tried),
            _ => {}
        }
        ideas.extend(starts.into_iter().flat_map(|start| KINDS.map(|kind| Idea { kind, start })));
        ideas
    }
}

impl Idea<'_> {
    /// The alternative it comes to, planned, if it makes the quilt fit.
    pub(super) fn alternative(self, inputs: &Inputs<'_>) -> Option<Alternative> {
        let tried = (self.kind)(inputs, self.start)?;
        Some(described::alternative(inputs, attempt::planned(inputs, tried)?))
    }
}
