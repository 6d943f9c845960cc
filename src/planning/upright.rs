//! What keeping the up of directional prints costs: the same question once more with every piece free to turn.

use std::collections::BTreeSet;

use crate::length::Area;
use crate::pattern::rules::Direction;
use crate::planning::Task;
use crate::planning::finish::pairing;
use crate::planning::instance::Scope;
use crate::planning::oracle::answers::Answers;
use crate::planning::outcome::{Outcome, Upright};
use crate::planning::plan::{Fabric, Plan, SheetPlan, Verdict};
use crate::planning::searched::best_or_any;
use crate::stash::{PrintId, Stash};

/// What keeping the up costs `kept`; `None` where `kept`, a complete plan of `task`, keeps no up.
pub(super) fn upright(task: &Task<'_>, kept: &Outcome, freed: impl FnOnce() -> Fabric) -> Option<Upright> {
    let sheets = sheets(task, &kept.plan);
    if sheets.is_empty() || kept.verdict != Verdict::Fits {
        return None;
    }
    let freed = freed();
    // The plan that keeps the up is one of those asked for, whatever the search has found.
    let opened = freed.opened.min(kept.least_met);
    let prints: BTreeSet<PrintId> = sheets.iter().map(|sheet| task.stash.lot(sheet.lot).print).collect();
    let area = |area: Area| i128::from(area.square_ticks());
    let on = |sheet: &&SheetPlan| sheet.layout.pieces();
    let pieces = sheets.iter().flat_map(on).map(|(index, _, _)| area(task.demand.pieces[index].area()));
    Some(Upright {
        prints: prints.len(),
        freed: Fabric { opened, bound: freed.bound.min(opened) },
        cut_into: sheets.iter().map(|sheet| area(sheet.layout.width().by(sheet.used))).sum(),
        pieces: pieces.sum(),
    })
}

/// Could a plan of `task` keep the up of a print?
pub(super) fn may_matter(task: &Task<'_>) -> bool {
    let pieces = 0..task.demand.pieces.len();
    task.stash.lots.iter().any(|lot| lot.directional) && pieces.into_iter().any(|piece| has_up(task, piece))
}

/// Searches `task` once more with every piece free to turn: the fabric of the best plan found and its bound. Only these
/// are wanted, so nothing is polished or drawn, and what the plan itself asked of fabric without an up is known already.
pub(super) fn freed(task: &Task<'_>, answers: &mut Answers) -> Fabric {
    let mut stash: Stash = task.stash.clone();
    for lot in &mut stash.lots {
        lot.directional = false;
    }
    let task = Task { stash: &stash, ..*task };
    let nothing = BTreeSet::new();
    let mut freed = Fabric { opened: 0, bound: 0 };
    for part in task.instance(Scope { without: &nothing, free: true, apart: &BTreeSet::new() }).parts() {
        let found = best_or_any(&part, answers, task.rules.effort, &mut |_, _| {});
        let whole = found.complete && pairing::pair(&part, task.demand, &found.assignment).is_ok();
        freed.opened = freed.opened.saturating_add(if whole { i128::from(found.cost) } else { i128::MAX });
        freed.bound += found.bound;
    }
    Fabric { bound: freed.bound.max(task.area_at_least_weight()), ..freed }
}

/// Does it make a difference to a piece which way up it lies?
fn has_up(task: &Task<'_>, piece: usize) -> bool {
    let piece = &task.demand.pieces[piece];
    piece.width != piece.height
        && task.demand.rules.get(piece.role.0).is_none_or(|rules| rules.direction != Direction::Free)
}

/// Sheets of directional prints from which pieces are cut that are no squares and whose role does not leave it free.
fn sheets<'a>(task: &Task<'_>, plan: &'a Plan) -> Vec<&'a SheetPlan> {
    let kept = |sheet: &&SheetPlan| task.stash.lot(sheet.lot).directional;
    let matters = |sheet: &&SheetPlan| sheet.layout.pieces().iter().any(|&(index, _, _)| has_up(task, index));
    plan.sheets.iter().filter(kept).filter(matters).collect()
}
