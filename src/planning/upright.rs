//! What keeping the up of directional prints costs: the same question once more with every piece free to turn.

use std::collections::BTreeSet;

use crate::cutting::Stop;
use crate::pattern::rules::Direction;
use crate::planning::oracle::Answers;
use crate::planning::plan::{Fabric, Outcome, Plan, Verdict};
use crate::planning::{Depth, Task, solve};
use crate::stash::{PrintId, Stash};

/// A plan that keeps the up of directional prints beside one that need not.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Upright {
    /// Prints whose up the plan keeps, where turning a piece would make a difference.
    pub prints: usize,
    /// Fabric opened by the best plan found with every piece free to turn, and what no such plan goes below.
    pub freed: Fabric,
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

/// Plans `task` once more with every piece free to turn; `None` where `kept`, its complete plan, keeps no up.
pub(super) fn upright(task: &Task<'_>, kept: &Outcome, stop: &Stop) -> Option<Upright> {
    let prints = prints(task, &kept.plan).len();
    if prints == 0 || kept.verdict != Verdict::Fits {
        return None;
    }
    let mut stash: Stash = task.stash.clone();
    for lot in &mut stash.lots {
        lot.directional = false;
    }
    let freed = solve(&Task { stash: &stash, ..*task }, Depth::Verdict, &mut Answers::new(stop), &mut |_| {});
    // The plan that keeps the up is one of those asked for, whatever the search has found.
    let opened = match freed.verdict {
        Verdict::Fits => freed.fabric.opened.min(kept.fabric.opened),
        _ => kept.fabric.opened,
    };
    let bound = match freed.verdict {
        Verdict::Fits => freed.fabric.bound,
        _ => task.area_at_least_weight(),
    };
    Some(Upright { prints, freed: Fabric { opened, bound: bound.min(opened) } })
}

/// Directional prints from which pieces are cut that are no squares and whose role does not leave it free.
fn prints(task: &Task<'_>, plan: &Plan) -> BTreeSet<PrintId> {
    let upright = |index: usize| {
        let piece = &task.demand.pieces[index];
        piece.width != piece.height
            && task.demand.rules.get(piece.role.0).is_none_or(|rules| rules.direction != Direction::Free)
    };
    let sheets = plan.sheets.iter().filter(|sheet| task.stash.lot(sheet.lot).directional);
    let sheets = sheets.filter(|sheet| sheet.layout.pieces().iter().any(|&(index, _, _)| upright(index)));
    sheets.map(|sheet| task.stash.lot(sheet.lot).print).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_cost_lies_between_what_bounds_and_plans_leave_open() {
        let fabric = |opened, bound| Fabric { opened, bound };
        let cost = |kept, freed| Upright { prints: 1, freed }.costs(kept);
        assert_eq!(cost(fabric(120, 120), fabric(100, 100)), (20, 20));
        assert_eq!(cost(fabric(120, 110), fabric(100, 90)), (10, 30));
        assert_eq!(cost(fabric(120, 95), fabric(100, 90)), (0, 30));
        assert_eq!(cost(fabric(100, 100), fabric(100, 100)), (0, 0));
    }
}
