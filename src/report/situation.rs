//! One plan with the stash and the demand it was made for: the main one, or an alternative's.

use crate::arranging::Arrangement;
use crate::pattern::Pattern;
use crate::pattern::demand::{Demand, Piece};
use crate::planning::{Change, Measures, Outcome};
use crate::report::paint::Paint;
use crate::report::{Job, ReportError, Total, totals};
use crate::stash::{PrintId, Stash};

/// What one plan is read with.
#[derive(Clone, Copy)]
pub(crate) struct Situation<'a> {
    /// The run.
    pub(crate) job: &'a Job<'a>,
    /// The pattern of this plan.
    pub(crate) pattern: &'a Pattern,
    /// The stash of this plan.
    pub(crate) stash: &'a Stash,
    /// The demand of this plan.
    pub(crate) demand: &'a Demand,
    /// The outcome that holds it.
    pub(crate) outcome: &'a Outcome,
    /// Where its blocks lie, when it is complete and the pattern says how they are set.
    pub(crate) arrangement: Option<&'a Arrangement>,
    /// What an alternative changes; nothing for the main plan.
    pub(crate) changes: &'a [Change],
}

impl<'a> Situation<'a> {
    /// The main plan of a run.
    pub(crate) fn main(job: &'a Job<'a>) -> Situation<'a> {
        Situation {
            job,
            pattern: job.pattern,
            stash: job.stash,
            demand: job.demand,
            outcome: job.outcome,
            arrangement: job.arranged.plan.as_ref(),
            changes: &[],
        }
    }

    /// The plan of the alternative with this index.
    pub(crate) fn alternative(job: &'a Job<'a>, index: usize) -> Situation<'a> {
        let alternative = &job.outcome.alternatives[index];
        Situation {
            job,
            pattern: &alternative.pattern,
            stash: &alternative.stash,
            demand: &alternative.demand,
            outcome: &alternative.outcome,
            arrangement: job.arranged.alternatives.get(index).and_then(Option::as_ref),
            changes: &alternative.changes,
        }
    }

    /// The piece a layout names by its index.
    pub(crate) fn piece(&self, index: usize) -> &'a Piece {
        &self.demand.pieces[index]
    }

    /// True when two pieces are the same to the person who cuts them: label, role, size and shape.
    pub(crate) fn alike(&self, one: usize, other: usize) -> bool {
        let (a, b) = (self.piece(one), self.piece(other));
        a.label == b.label && a.role == b.role && (a.width, a.height, a.shape) == (b.width, b.height, b.shape)
    }

    /// Name of the block a piece belongs to.
    pub(crate) fn block_name(&self, piece: &Piece) -> &'a str {
        &self.pattern.blocks[piece.block.0].name
    }

    /// Name of the role a piece is cut for.
    pub(crate) fn role_name(&self, piece: &Piece) -> &'a str {
        &self.pattern.roles[piece.role.0].name
    }

    /// The print of the set a piece belongs to.
    pub(crate) fn print_of(&self, piece: &Piece) -> Option<PrintId> {
        self.outcome.plan.prints.get(piece.set.0).copied().flatten()
    }

    /// How a print is painted.
    pub(crate) fn paint(&self, print: PrintId) -> Paint {
        Paint::of(self.stash, print)
    }

    /// What the plan is measured by after its fabric.
    pub(crate) fn measures(&self) -> Measures {
        Measures::of(&self.outcome.plan, self.stash, self.job.rules)
    }

    /// The totals by piece, which close.
    pub(crate) fn totals(&self) -> Result<Vec<Total>, ReportError> {
        totals(self.pattern, self.demand, &self.outcome.plan, self.changes)
    }
}
