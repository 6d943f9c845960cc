//! What one planning run found, as plain data: the verdict with its plan, and what was found beside it.

use crate::fabric::Price;
use crate::pattern::Pattern;
use crate::pattern::demand::Demand;
use crate::planning::finish::preferences::PreferenceBounds;
use crate::planning::plan::{Case, Change, Conflict, Fabric, Plan, Reason, Verdict, Weighing};
use crate::stash::Stash;

/// What one planning run found.
#[derive(Clone, Debug)]
pub struct Outcome {
    /// The verdict.
    pub verdict: Verdict,
    /// Why it is impossible, or what the proof of the verdict rests on; first the one that matters most.
    pub reasons: Vec<Reason>,
    /// The best plan reached; complete when the verdict is `Fits`.
    pub plan: Plan,
    /// Fabric opened, with its bound.
    pub fabric: Fabric,
    /// The least fabric that a complete plan was found to open; more may be opened for the sake of looks.
    pub least_met: i128,
    /// What is known of the preferences that come after the fabric.
    pub preferences: PreferenceBounds,
    /// What together does not fit, when that is proved and was looked for.
    pub conflicts: Vec<Conflict>,
    /// What keeping the up of directional prints costs; `None` where the plan keeps none.
    pub upright: Option<Upright>,
    /// What was planned of the ways to make units; `None` where the pattern leaves no choice.
    pub methods: Option<Methods>,
    /// What would make it fit, cheapest first.
    pub alternatives: Vec<Alternative>,
}

impl Outcome {
    /// Nothing was looked for yet.
    pub(crate) fn undecided() -> Outcome {
        Outcome {
            verdict: Verdict::Undecided,
            reasons: Vec::new(),
            plan: Plan::default(),
            fabric: Fabric::default(),
            least_met: 0,
            preferences: PreferenceBounds::default(),
            conflicts: Vec::new(),
            upright: None,
            methods: None,
            alternatives: Vec::new(),
        }
    }
}

/// A plan that keeps the up of directional prints beside one that need not.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Upright {
    /// Prints whose up the plan keeps, where turning a piece would make a difference.
    pub prints: usize,
    /// Fabric opened by the best plan found with every piece free to turn, and what no such plan goes below.
    pub freed: Fabric,
    /// Area of the sheets that these prints are cut into, up to the length used; not weighed, in square ticks.
    pub cut_into: i128,
    /// Area of the pieces on them. However these are turned, no less of the prints holds them.
    pub pieces: i128,
}

impl Upright {
    /// The least and the most that keeping the up costs, for a plan that opens `kept`; equal when it is known.
    ///
    /// The least fabric lies from the bound of either question to what was found for it, and every plan that
    /// keeps the up is one that may turn pieces and does not.
    pub fn costs(&self, kept: Fabric) -> (i128, i128) {
        ((kept.bound - self.freed.opened).max(0), kept.opened - self.freed.bound)
    }
}

/// What was planned of the ways in which units may be made.
#[derive(Clone, Debug)]
pub struct Methods {
    /// Combinations planned.
    pub tried: usize,
    /// Combinations there are; `None` where they are too many to count.
    pub of: Option<usize>,
    /// True when every combination was planned that the decisions allow.
    pub every: bool,
    /// True when verdict and bound hold for every combination, not only for the one taken.
    pub settled: bool,
    /// Where no combination fits: those besides the one taken.
    pub refused: Vec<RefusedWays>,
}

/// A combination that was planned and does not fit.
#[derive(Clone, Debug)]
pub struct RefusedWays {
    /// The pattern with its units made so.
    pub pattern: Pattern,
    /// What proves it, by the sets and pieces of that pattern; `None` as in [`Reason`].
    pub weighing: Option<Weighing>,
    /// As in [`Reason`].
    pub cases: Vec<Case>,
}

/// A set of changes that together make it fit.
#[derive(Clone, Debug)]
pub struct Alternative {
    /// What changes.
    pub changes: Vec<Change>,
    /// Money, when prices were given and something is bought.
    pub price: Option<Price>,
    /// The pattern it was planned for: another size, or a unit made another way, where that is the change.
    pub pattern: Pattern,
    /// The stash it was planned with: bought lots added at the end, kept-back lots released.
    pub stash: Stash,
    /// The demand it was planned for.
    pub demand: Demand,
    /// Its own plan; the verdict is always `Fits`.
    pub outcome: Outcome,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_cost_lies_between_what_bounds_and_plans_leave_open() {
        let fabric = |opened, bound| Fabric { opened, bound };
        let cost = |kept, freed| Upright { prints: 1, freed, cut_into: 0, pieces: 0 }.costs(kept);
        assert_eq!(cost(fabric(120, 120), fabric(100, 100)), (20, 20));
        assert_eq!(cost(fabric(120, 110), fabric(100, 90)), (10, 30));
        assert_eq!(cost(fabric(120, 95), fabric(100, 90)), (0, 30));
        assert_eq!(cost(fabric(100, 100), fabric(100, 100)), (0, 0));
    }
}
