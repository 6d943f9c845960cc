//! Cutting rectangles from rectangles with straight edge-to-edge cuts. Knows no prints and no blocks.
//!
//! Everything here is integer exact. A search either proves its answer or says that its work budget ended.
//!
//! The questions, one file each: [`fit_one`] (do these pieces come out of this sheet?), [`fit_all`]
//! (out of these sheets?), [`shortest`] (how much yardage?), [`knapsack`] (what is the best to cut?),
//! [`most_leftover`] and [`kindest`] (how do I cut it kindly?), [`steps`] (in what order?), [`least_sheet`]
//! (how small may the sheet be?). Underneath: `order` turns lengths into small whole numbers,
//! `raster` lists the positions worth cutting at, `value_table` and `outer_table` bound,
//! `greedy`, `strips`, `fill` and `add` construct, `shapes` and `best_first` search to the end.

use std::time::Instant;

use crate::length::Length;

mod add;
mod around;
mod basis;
mod best_first;
mod block;
mod bricks;
mod cheapest;
mod columns;
mod counts;
mod cover;
mod dual_feasible;
mod exchange;
mod fill;
mod filling;
mod first_sheets;
mod fit;
mod friendly;
mod greedy;
mod joined;
mod kindest;
mod knapsack;
mod knapsacks;
mod lagrange;
mod last_part;
pub mod layout;
mod least_sheet;
mod leftover;
mod lp;
mod measure;
mod order;
mod outer_table;
mod perfect;
mod positions;
mod pricing;
mod proof;
mod raster;
mod recut;
mod residues;
mod segments;
mod several;
mod shapes;
mod shortest;
mod steps;
mod stock;
mod stop;
mod strips;
mod tidy;
mod two_stage;
mod value_table;
mod ways;
mod whole_sets;

pub(crate) use add::{add, cut_back};
pub use cheapest::{Cheapest, Purchasable, cheapest};
pub(crate) use filling::Filling;
pub use fit::{Fit, fit_one};
pub use friendly::{Effort, effort};
pub use kindest::kindest;
pub use knapsack::{Knapsack, knapsack};
pub use knapsacks::{Knapsacks, knapsacks};
pub(crate) use layout::stacked;
pub use layout::{Axis, Layout, Node, Rect, Split};
pub use least_sheet::least_sheet;
pub use leftover::{Wishes, leftover_value, most_leftover};
pub use measure::{Measure, measures};
pub(crate) use order::gcd;
pub use proof::Proof;
pub use several::{FitAll, fit_all};
pub use shortest::{Shortest, length_bound, shortest};
pub use steps::{CutOff, Step, steps};
pub use stop::{Cause, Stop};
pub(crate) use tidy::holds_long;
pub use tidy::tidy;
pub use two_stage::two_stage_knapsack;
pub use value_table::{ValueTable, value_bound};
pub(crate) use whole_sets::{Lacks, Set, SetTable};

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
