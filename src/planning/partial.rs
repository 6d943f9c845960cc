//! The plan of a quilt that does not fit: the most whole blocks, then the most sets; and those from little fabric.

use std::collections::BTreeSet;

use crate::pattern::BlockId;
use crate::planning::finish::pairing;
use crate::planning::finish::polish;
use crate::planning::instance::{self, Instance, Scope};
use crate::planning::oracle::Oracle;
use crate::planning::oracle::answers::Answers;
use crate::planning::plan::Plan;
use crate::planning::{Task, finish, search};

/// The most of `task` that can be made, from little fabric and with good leftovers.
///
/// # Errors
/// A block whose prints cannot be paired while its copies are counted together.
pub(super) fn partial(
    task: &Task<'_>,
    apart: &BTreeSet<BlockId>,
    answers: &mut Answers,
) -> Result<Plan, BlockId> {
    most_placed(task, apart, answers, true)
}

/// The most of `task` that can be made, however it is cut: enough to know what comes out short.
pub(super) fn most(task: &Task<'_>, answers: &mut Answers) -> Plan {
    pairing::with_copies_apart(|apart| most_placed(task, apart, answers, false))
}

/// # Errors
/// A block whose prints cannot be paired while its copies are counted together.
fn most_placed(
    task: &Task<'_>,
    apart: &BTreeSet<BlockId>,
    answers: &mut Answers,
    polished: bool,
) -> Result<Plan, BlockId> {
    let nothing = BTreeSet::new();
    let mut plan = task.empty_plan();
    // Whole blocks tie the parts together, so this is one search over all of them.
    let instance = task.instance(Scope { without: &nothing, free: false, apart });
    let mut oracle = Oracle::new(&instance, answers);
    let needs = block_needs(task, &instance, apart);
    let found = search::most_placed(&mut oracle, &needs, polished, task.rules.effort);
    let mut given = pairing::pair(&instance, task.demand, &found.assignment)?;
    if polished {
        let better = polish::polish(&mut oracle, found.assignment, task.rules);
        given = pairing::pair(&instance, task.demand, &better).unwrap_or(given);
    }
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
