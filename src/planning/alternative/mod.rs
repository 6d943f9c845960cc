//! When it does not fit: changes that would make it fit, each planned again by the same engine.
//!
//! `changes` is what may be changed together, `attempt` asks whether the inputs so changed fit and plans what is kept, `trim` takes back what turns
//! out needless, `described` says what is left, `choose` ranks and picks. Each kind of change has a file of its own.

use std::cell::RefCell;

use crate::pattern::Pattern;
use crate::pattern::demand::Demand;
use crate::placements::Placements;
use crate::planning::Rules;
use crate::planning::answers::Answers;
use crate::planning::plan::{Alternative, Outcome};
use crate::stash::{PrintId, Stash};

mod attempt;
mod changes;
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

use attempt::Tried;
use changes::Changes;

/// The inputs, as the quilter gave them.
pub(super) struct Inputs<'a> {
    pub(super) stash: &'a Stash,
    pub(super) pattern: &'a Pattern,
    pub(super) placements: &'a Placements,
    pub(super) demand: &'a Demand,
    pub(super) pins: &'a [Option<PrintId>],
    pub(super) rules: &'a Rules,
    /// Shared by all tries.
    pub(super) answers: &'a RefCell<Answers>,
}

/// The alternatives to `outcome`, at most five, the least cost first: change to what the quilter sees, then fabric,
/// then money.
pub(super) fn alternatives(inputs: &Inputs<'_>, outcome: &Outcome) -> Vec<Alternative> {
    let nothing = Tried {
        changes: Changes::default(),
        pattern: inputs.pattern.clone(),
        stash: inputs.stash.clone(),
        demand: inputs.demand.clone(),
        outcome: outcome.clone(),
    };
    let mut found: Vec<Tried> = Vec::new();
    found.extend(decided::given_up(inputs, &nothing));
    // Fabric kept back makes it fit, or is a start from which less else must change.
    let released = kept::released(inputs, &nothing);
    let mut starts = vec![&nothing];
    match &released {
        Some(tried) if tried.fits() => found.push(trim::trimmed(inputs, tried.clone())),
        Some(tried) if tried.short() < nothing.short() => starts.push(tried),
        _ => {}
    }
    type Kind = fn(&Inputs<'_>, &Tried) -> Option<Tried>;
    let kinds: [Kind; 7] = [
        waive::rules_given_up,
        two_prints::two_prints,
        mixed::mixed_prints,
        method::other_method,
        size::smaller,
        fewer::fewer_copies,
        purchase::cheapest,
    ];
    for start in starts {
        found.extend(kinds.iter().filter_map(|kind| kind(inputs, start)));
    }
    let planned = found.into_iter().filter_map(|tried| attempt::planned(inputs, tried));
    choose::choose(planned.map(|tried| described::alternative(inputs, tried)).collect())
}
