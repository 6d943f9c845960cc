//! Which print goes where, so that the quilt is worth looking at: the aim `look`.
//!
//! The search has found a complete plan that opens little. Here prints change places in it: first those with the same sheets
//! with all that is cut from them, and the copies of a block the prints of one role ([`exchange`], free and exact while all else stays),
//! then anything that can be cut within the fabric allowed ([`walk`]). Every rule between fabrics, every decision and the up of prints are
//! kept. What is reached is good, not proved best.

use crate::looks::{Sight, Touches, meetings};
use crate::planning::finish::pairing::Given;
use crate::planning::instance::Instance;
use crate::planning::oracle::answers::Answers;
use crate::planning::{Depth, Task};

mod apart;
mod exchange;
mod scene;
mod table;
mod walk;

/// Steps of the walk, at the usual effort: a few hundredths of a second.
const STEPS: u64 = 200_000;
/// No more for each set that may go elsewhere.
const STEPS_EACH: u64 = 3_000;
/// New ways to cut a print that may be looked for.
const MOST_LOOKS: u32 = 1_500;

/// Chooses prints anew for a complete plan, of which the weighted fabric is known; `givens` has what comes from which print, by part.
/// Returns how much more may have been opened for it, and how much more was.
pub(super) fn choose(
    task: &Task<'_>,
    parts: &[Instance],
    givens: &mut [Given],
    (depth, reached): (Depth, i128),
    answers: &mut Answers,
) -> (i128, i128) {
    let touches = Touches::of(&meetings(task.pattern), task.demand);
    let sight = Sight::of(task.stash, task.rules.alike);
    let scene = scene::Scene::new(&touches, task.demand, &sight);
    let Some(mut table) = table::Table::new(parts, givens, scene, answers) else { return (0, 0) };
    let before = table.fabric;
    let more = i128::from(apart::apart(&mut table, &touches, task.demand, answers).max(0));
    exchange::exchange(&mut table);
    // An alternative is one of many that are looked at.
    let share = if depth == Depth::Whole { 1 } else { 4 };
    table.looks = MOST_LOOKS / share * task.rules.effort.max(1) / 100;
    let few = STEPS.min(STEPS_EACH * u64::try_from(table.things.len()).unwrap_or(u64::MAX));
    let steps = few / u64::from(share) * u64::from(task.rules.effort.max(1)) / 100;
    // What costs nothing first, so that fabric is given only for what it buys.
    walk::walk(&mut table, steps, answers);
    exchange::exchange(&mut table);
    let extra = reached * i128::from(task.rules.extra_fabric) / 100;
    if extra > 0 {
        table.limit = table.limit.saturating_add(i64::try_from(extra).unwrap_or(i64::MAX));
        walk::walk(&mut table, steps, answers);
        exchange::exchange(&mut table);
    }
    // What the parting of two roles opened on whole sheets is counted in both.
    let spent = i128::from(table.fabric - before).max(0).max(more);
    table.give(givens);
    (more + extra, spent)
}
