//! The plan of a quilt that does not fit: the most whole blocks, then the most sets; and those from the least fabric.

use std::collections::BTreeSet;

use crate::pattern::BlockId;
use crate::planning::answers::Answers;
use crate::planning::instance::{self, Instance, Scope};
use crate::planning::oracle::Oracle;
use crate::planning::plan::Plan;
use crate::planning::{Task, finish, pairing, polish, search};

/// The most of `task` that can be made, from the least fabric found for it.
///
/// # Errors
/// A block whose prints cannot be paired while its copies are counted together.
pub(super) fn partial(
    task: &Task<'_>,
    apart: &BTreeSet<BlockId>,
    answers: &mut Answers,
) -> Result<Plan, BlockId> {
    let plan = most_placed(task, apart, answers)?;
    // The same sets again, as if nothing else were asked for.
    let without = plan.short.iter().map(|short| short.set).collect();
    let mut again = task.empty_plan();
    for part in task.instance(Scope { without: &without, free: true, apart }).parts() {
        let mut oracle = Oracle::new(&part, answers);
        let found = search::search(&mut oracle, task.rules.effort, &mut |_, _| {});
        if !found.complete {
            return Ok(plan);
        }
        let assignment = polish::polish(&mut oracle, found.assignment, task.rules);
        let Ok(given) = pairing::pair(&part, task.demand, &assignment) else { return Ok(plan) };
        finish::add(&mut again, &mut oracle, task.demand, given, task.rules);
    }
    finish::complete(&mut again);
    let opened = |plan: &Plan| finish::opened(plan, task.stash, task.rules);
    Ok(if opened(&again) <= opened(&plan) { again } else { plan })
}

/// The most of `task` that can be made, whatever fabric that opens: enough to know what comes out short.
pub(super) fn most(task: &Task<'_>, answers: &mut Answers) -> Plan {
    let mut apart = BTreeSet::new();
    loop {
        match most_placed(task, &apart, answers) {
            Ok(plan) => return plan,
            Err(block) => assert!(apart.insert(block), "copies told apart need no pairing"),
        }
    }
}

/// # Errors
/// A block whose prints cannot be paired while its copies are counted together.
fn most_placed(task: &Task<'_>, apart: &BTreeSet<BlockId>, answers: &mut Answers) -> Result<Plan, BlockId> {
    let nothing = BTreeSet::new();
    let mut plan = task.empty_plan();
    // Whole blocks tie the parts together, so this is one search over all of them.
    let instance = task.instance(Scope { without: &nothing, free: false, apart });
    let mut oracle = Oracle::new(&instance, answers);
    let found = search::most_placed(&mut oracle, &block_needs(task, &instance, apart), task.rules.effort);
    let given = pairing::pair(&instance, task.demand, &found.assignment)?;
    finish::add(&mut plan, &mut oracle, task.demand, given, task.rules);
    finish::complete(&mut plan);
    Ok(plan)
}

/// Per block kind: its copies, and what one copy needs of each bag. Copies told apart come one by one.
fn block_needs(
    task: &Task<'_>,
    instance: &Instance,
    apart: &BTreeSet<BlockId>,
) -> Vec<(u32, Vec<(usize, u32)>)> {
    let mut all = Vec::new();
    for (index, block) in task.pattern.blocks.iter().enumerate() {
        let block_id = BlockId(index);
        if apart.contains(&block_id) {
            all.extend((1..=block.make).map(|copy| (1, copy_needs(task, instance, (block_id, copy)))));
            continue;
        }
        let needs = copy_needs(task, instance, (block_id, 1));
        let copies = needs.iter().map(|&(bag, each)| instance.bags[bag].demand() / each);
        all.push((copies.fold(block.make, u32::min), needs));
    }
    all
}

/// What one block copy needs of each bag.
fn copy_needs(task: &Task<'_>, instance: &Instance, at: (BlockId, u32)) -> Vec<(usize, u32)> {
    let mine = |item: &&instance::Item| task.demand.set(item.set).block == Some(at);
    let each = |bag: &instance::Bag| u32::try_from(bag.items.iter().filter(mine).count()).unwrap_or(u32::MAX);
    instance.bags.iter().map(each).enumerate().filter(|&(_, each)| each > 0).collect()
}
