//! Cutting rectangles from rectangles with straight edge-to-edge cuts. Knows no prints and no blocks.
//!
//! Everything here is integer exact. A search either proves its answer or says that its work budget ended.
//!
//! The questions: [`fit_one`] (do these pieces come out of this sheet?), [`fit_all`] (out of these sheets?),
//! [`shortest`] (how much yardage?), [`knapsack`] (what is the best to cut?), [`cheapest`] (which sheets?),
//! [`most_leftover`] and [`kindest`] (how do I cut it kindly?), [`steps`] (in what order?), [`least_sheet`]
//! (how small may the sheet be?).
//!
//! A folder uses those above it: `layout` (the tree of cuts), `grid` (lengths as small whole numbers, positions,
//! blocks), `bounds`, `fit`, `knapsack`, `stock` (many sheets), `yardage`, `ease`.

use std::time::Instant;

use crate::length::Length;

mod bounds;
mod ease;
mod fit;
mod grid;
mod knapsack;
pub mod layout;
mod stock;
mod stop;
mod strips;
mod yardage;

pub use bounds::measure::{Measure, measures};
pub use bounds::proof::Proof;
pub use bounds::value_table::{ValueTable, value_bound};
pub use ease::friendly::{Effort, effort};
pub use ease::kindest::kindest;
pub use ease::leftover::{Wishes, leftover_value, most_leftover};
pub(crate) use fit::add::{add, cut_back};
pub use fit::several::{FitAll, fit_all};
pub use fit::{Fit, fit_one};
pub(crate) use grid::order::gcd;
pub(crate) use knapsack::filling::Filling;
pub use knapsack::knapsacks::{Knapsacks, knapsacks};
pub use knapsack::two_stage::two_stage_knapsack;
pub(crate) use knapsack::whole_sets::{Lacks, Set, SetTable};
pub use knapsack::{Knapsack, knapsack};
pub use layout::least_sheet::least_sheet;
pub(crate) use layout::stacked;
pub use layout::steps::{CutOff, Step, steps};
pub(crate) use layout::tidy::holds_long;
pub use layout::tidy::tidy;
pub use layout::{Axis, Layout, Node, Rect, Split};
pub use stock::cheapest::{Cheapest, Purchasable, cheapest};
pub use stop::{Cause, Stop};
pub use strips::{InStrips, Style, in_strips};
pub use yardage::shortest::{Shortest, length_bound, shortest};

/// A size of piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Kind {
    /// Across the grain.
    pub width: Length,
    /// Along the grain.
    pub height: Length,
    /// True when a quarter turn is allowed.
    pub turn: bool,
}

impl Kind {
    /// Has a sheet room for one such piece?
    pub(crate) fn fits(&self, sheet: Sheet) -> bool {
        let lies = |width, height| width <= sheet.width && height <= sheet.height;
        lies(self.width, self.height) || (self.turn && lies(self.height, self.width))
    }
}

/// A rectangle of fabric to cut from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Sheet {
    /// Across the grain.
    pub width: Length,
    /// Along the grain.
    pub height: Length,
}

/// How much searching may still be done, counted in steps, so that answers do not depend on the clock.
///
/// A step is one turn of an innermost loop, of the order of a nanosecond to ten.
#[derive(Clone, Debug)]
pub struct Work {
    left: u64,
    unlooked: u64,
    deadline: Option<Instant>,
    stop: Stop,
}

/// Steps between two looks at the clock or the stop, when there is one: well under a millisecond's worth.
const STEPS_PER_LOOK: u64 = 100_000;

impl Work {
    /// A budget of `steps`.
    pub const fn steps(steps: u64) -> Work {
        Work { left: steps, unlooked: 0, deadline: None, stop: Stop::never() }
    }

    /// The same budget that also ends at `deadline`; answers may then depend on the machine.
    pub fn until(self, deadline: Instant) -> Work {
        Work { deadline: Some(deadline), ..self }
    }

    /// The same budget that also ends with `stop`.
    pub fn unless(self, stop: &Stop) -> Work {
        Work { stop: stop.clone(), ..self }
    }

    /// Takes `steps` from the budget; false when it is spent.
    pub fn spend(&mut self, steps: u64) -> bool {
        self.left = self.left.saturating_sub(steps);
        if self.deadline.is_some() || self.stop.may_come() {
            self.unlooked = self.unlooked.saturating_add(steps);
            if self.unlooked >= STEPS_PER_LOOK {
                self.unlooked = 0;
                if self.deadline.is_some_and(|deadline| Instant::now() >= deadline) || self.stop.seen() {
                    self.left = 0;
                }
            }
        }
        self.left > 0
    }

    /// Looks at the clock and the stop, if there is one, however little has been spent.
    fn look(&mut self) {
        self.unlooked = STEPS_PER_LOOK;
        self.spend(0);
    }

    /// Steps left.
    pub fn left(&self) -> u64 {
        self.left
    }

    /// Steps that can be hoped for: those left, or one a nanosecond until the deadline. For dividing up.
    pub(crate) fn horizon(&self) -> u64 {
        let until = |deadline: Instant| {
            let nanoseconds = deadline.saturating_duration_since(Instant::now()).as_nanos();
            u64::try_from(nanoseconds).unwrap_or(u64::MAX)
        };
        self.deadline.map_or(self.left, |deadline| self.left.min(until(deadline)))
    }

    /// `steps` beside this budget, whatever is left of it, that end with the same stop and deadline.
    pub(crate) fn allowance(&self, steps: u64) -> Work {
        Work { left: steps, unlooked: 0, deadline: self.deadline, stop: self.stop.clone() }
    }

    /// A share of this budget, at most `steps`; what the share spends must be given back with [`Work::charge`].
    pub(crate) fn share(&self, steps: u64) -> Work {
        Work { left: self.left.min(steps), unlooked: 0, deadline: self.deadline, stop: self.stop.clone() }
    }

    /// Takes from this budget what `share`, once worth `steps`, has spent.
    pub(crate) fn charge(&mut self, steps: u64, share: &Work) {
        let given = self.left.min(steps);
        self.spend(given.saturating_sub(share.left));
        self.look();
    }
}
