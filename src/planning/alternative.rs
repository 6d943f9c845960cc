//! When it does not fit: changes that would make it fit, each planned again by the same engine.

use std::cell::RefCell;
use std::collections::BTreeMap;

use crate::fabric::Price;
use crate::pattern::Pattern;
use crate::pattern::demand::{Demand, Loosened, SetId};
use crate::pattern::{BlockId, Matching, RoleId};
use crate::placements::{self, Placements};
use crate::planning::oracle::Answers;
use crate::planning::plan::{Alternative, Change, Outcome, Verdict};
use crate::planning::purchase::{self, Purchase};
use crate::planning::{Depth, Rules, Task, solve};
use crate::stash::{LotId, PrintId, Stash};

/// Rounds in which more block copies may be given mixed prints, or made fewer, before giving up.
const WIDENINGS: usize = 4;
/// Changes tried one by one for being needless.
const MOST_TRIMS: usize = 16;

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

/// What is changed together.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Changes {
    released: Vec<LotId>,
    /// Sets of the unchanged demand whose decided print is given up.
    freed: Vec<SetId>,
    mixed: Vec<(BlockId, u32, RoleId)>,
    makes: BTreeMap<BlockId, u32>,
    pub(super) bought: Vec<Purchase>,
}

/// A changed task and what planning it gave.
pub(super) struct Tried {
    changes: Changes,
    stash: Stash,
    demand: Demand,
    pub(super) outcome: Outcome,
}

impl Tried {
    pub(super) fn fits(&self) -> bool {
        self.outcome.verdict == Verdict::Fits
    }

    /// What it buys.
    pub(super) fn bought(&self) -> &[Purchase] {
        &self.changes.bought
    }

    /// The prints that the quilter decided for what is short.
    pub(super) fn short_pins(&self, inputs: &Inputs<'_>) -> Vec<PrintId> {
        let short = self.outcome.plan.short.iter().map(|short| self.demand.set(short.set));
        let mut prints = Vec::new();
        for set in short {
            let same = |id: &usize| {
                let other = &inputs.demand.sets[*id];
                other.block == set.block && other.role == set.role
            };
            let decided = (0..inputs.demand.sets.len()).filter(same);
            prints.extend(decided.filter_map(|id| inputs.pins.get(id).copied().flatten()));
        }
        prints
    }
}

/// The alternatives to `outcome`, cheapest first: least change to what the quilter sees, then fabric, then money.
pub(super) fn alternatives(inputs: &Inputs<'_>, outcome: &Outcome) -> Vec<Alternative> {
    let nothing = Tried {
        changes: Changes::default(),
        stash: inputs.stash.clone(),
        demand: inputs.demand.clone(),
        outcome: outcome.clone(),
    };
    let mut found = Vec::new();
    let bases = bases(inputs, nothing, &mut found);
    for base in &bases {
        found.extend(mixed_prints(inputs, base));
        found.extend(fewer_copies(inputs, base));
        found.extend(purchase::cheapest(inputs, base));
    }
    let mut alternatives: Vec<Alternative> =
        found.into_iter().map(|tried| alternative(inputs, tried)).collect();
    alternatives.sort_by_key(rank);
    alternatives.dedup_by(|a, b| a.changes == b.changes);
    alternatives.retain(|alternative| !alternative.changes.is_empty());
    alternatives
}

/// Starting points: as asked; with kept-back lots released; with decided prints given up. One that fits by
/// itself is an answer (trimmed to what it needs); one that does not is combined with the rest.
fn bases(inputs: &Inputs<'_>, nothing: Tried, found: &mut Vec<Tried>) -> Vec<Tried> {
    let kept: Vec<LotId> =
        (0..inputs.stash.lots.len()).map(LotId).filter(|&lot| inputs.stash.lot(lot).keep).collect();
    let short = short_sets(&nothing);
    let decided: Vec<SetId> = (0..inputs.demand.sets.len())
        .map(SetId)
        .filter(|set| inputs.pins.get(set.0).copied().flatten().is_some())
        .collect();
    let mut bases = vec![nothing];
    if !decided.is_empty() {
        let near: Vec<SetId> = decided.iter().copied().filter(|set| short.contains(set)).collect();
        let mut freed = false;
        for sets in [near, decided] {
            if sets.is_empty() || freed {
                continue;
            }
            let tried = attempt(inputs, Changes { freed: sets, ..Changes::default() });
            if tried.fits() {
                found.push(trimmed(inputs, tried));
                freed = true;
            }
        }
    }
    if !kept.is_empty() {
        let tried = attempt_whole(inputs, Changes { released: kept, ..Changes::default() });
        if tried.fits() {
            found.push(trimmed(inputs, tried));
        } else if tried.outcome.plan.short.len() < short.len() {
            bases.push(tried);
        }
    }
    bases
}

/// Plans the inputs with `changes`, for the verdict only: a try that does not fit has no plan.
pub(super) fn attempt(inputs: &Inputs<'_>, changes: Changes) -> Tried {
    attempt_to(inputs, changes, Depth::Verdict)
}

/// Plans the inputs with `changes`; what is short when it does not fit says what to change next.
fn attempt_whole(inputs: &Inputs<'_>, changes: Changes) -> Tried {
    attempt_to(inputs, changes, Depth::Whole)
}

fn attempt_to(inputs: &Inputs<'_>, changes: Changes, depth: Depth) -> Tried {
    let loosened =
        Loosened { mixed: changes.mixed.clone(), makes: changes.makes.clone(), waived: Vec::new() };
    let demand = Demand::expand(inputs.pattern, &loosened);
    let mut stash = inputs.stash.clone();
    for purchase in &changes.bought {
        purchase.add_to(&mut stash, inputs.rules.allowance);
    }
    let (mut pins, _) = placements::pins(inputs.placements, &stash, inputs.pattern, &demand);
    for (number, pin) in pins.iter_mut().enumerate() {
        let set = &demand.sets[number];
        let same = |freed: &SetId| {
            let freed = inputs.demand.set(*freed);
            freed.block == set.block && freed.role == set.role
        };
        if changes.freed.iter().any(same) {
            *pin = None;
        }
    }
    let released = changes.released.clone();
    let task = Task {
        stash: &stash,
        pattern: inputs.pattern,
        demand: &demand,
        pins: &pins,
        released: &released,
        rules: inputs.rules,
    };
    let outcome = solve(&task, depth, &mut inputs.answers.borrow_mut(), &mut |_| {});
    Tried { changes, stash, demand, outcome }
}

/// As `base`, with more changed.
pub(super) fn with(base: &Tried, change: impl FnOnce(&mut Changes)) -> Changes {
    let mut changes = base.changes.clone();
    change(&mut changes);
    changes
}

/// Sets that a try leaves short, by their number in its own demand.
fn short_sets(tried: &Tried) -> Vec<SetId> {
    tried.outcome.plan.short.iter().map(|short| short.set).collect()
}

/// Lets the short sets of a block copy come from several prints.
fn mixed_prints(inputs: &Inputs<'_>, base: &Tried) -> Option<Tried> {
    let mut changes = base.changes.clone();
    let mut last: Option<Tried> = None;
    for _ in 0..WIDENINGS {
        let from = last.as_ref().unwrap_or(base);
        let mut added = false;
        for set in short_sets(from) {
            let set = from.demand.set(set);
            if let (Matching::Block, Some((block, copy))) = (set.matching, set.block) {
                changes.mixed.push((block, copy, set.role));
                let here = |id: &SetId| {
                    let other = inputs.demand.set(*id);
                    other.block == set.block
                        && other.role == set.role
                        && inputs.pins.get(id.0).copied().flatten().is_some()
                };
                changes.freed.extend((0..inputs.demand.sets.len()).map(SetId).filter(here));
                added = true;
            }
        }
        if !added {
            return None;
        }
        changes.mixed.sort_unstable();
        let tried = attempt_whole(inputs, changes.clone());
        if tried.fits() {
            return Some(trimmed(inputs, tried));
        }
        last = Some(tried);
    }
    None
}

/// Makes only the copies that come out whole.
fn fewer_copies(inputs: &Inputs<'_>, base: &Tried) -> Option<Tried> {
    let mut changes = base.changes.clone();
    let mut last: Option<Tried> = None;
    for _ in 0..WIDENINGS {
        let from = last.as_ref().unwrap_or(base);
        let mut broken: BTreeMap<BlockId, Vec<u32>> = BTreeMap::new();
        for set in short_sets(from) {
            let (block, copy) = from.demand.set(set).block?;
            broken.entry(block).or_default().push(copy);
        }
        for (block, mut copies) in broken {
            copies.sort_unstable();
            copies.dedup();
            let now = changes.makes.get(&block).copied().unwrap_or(inputs.pattern.blocks[block.0].make);
            let make = now.saturating_sub(u32::try_from(copies.len()).unwrap_or(u32::MAX));
            if make == 0 {
                return None;
            }
            changes.makes.insert(block, make);
        }
        let tried = attempt_whole(inputs, changes.clone());
        if tried.fits() {
            return Some(trimmed(inputs, tried));
        }
        last = Some(tried);
    }
    None
}

/// Takes back every change that turns out needless.
pub(super) fn trimmed(inputs: &Inputs<'_>, tried: Tried) -> Tried {
    let mut best = tried;
    let mut trials = 0;
    for smaller in smaller_by_one(&best.changes) {
        trials += 1;
        if trials > MOST_TRIMS {
            break;
        }
        // Each is tried against what is left by now.
        let Some(changes) = smaller(&best.changes) else { continue };
        let again = attempt(inputs, changes);
        if again.fits() {
            best = again;
        }
    }
    best
}

type Smaller = Box<dyn Fn(&Changes) -> Option<Changes>>;

fn smaller_by_one(changes: &Changes) -> Vec<Smaller> {
    let mut ways: Vec<Smaller> = Vec::new();
    for lot in changes.released.clone() {
        ways.push(Box::new(move |now| {
            let released: Vec<LotId> = now.released.iter().copied().filter(|l| *l != lot).collect();
            (released.len() < now.released.len()).then(|| Changes { released, ..now.clone() })
        }));
    }
    for set in changes.freed.clone() {
        ways.push(Box::new(move |now| {
            let freed: Vec<SetId> = now.freed.iter().copied().filter(|s| *s != set).collect();
            (freed.len() < now.freed.len()).then(|| Changes { freed, ..now.clone() })
        }));
    }
    for copy in changes.mixed.clone() {
        ways.push(Box::new(move |now| {
            let mixed: Vec<_> = now.mixed.iter().copied().filter(|m| *m != copy).collect();
            (mixed.len() < now.mixed.len()).then(|| Changes { mixed, ..now.clone() })
        }));
    }
    for block in changes.makes.keys().copied().collect::<Vec<_>>() {
        ways.push(Box::new(move |now| {
            let mut makes = now.makes.clone();
            *makes.get_mut(&block)? += 1;
            Some(Changes { makes, ..now.clone() })
        }));
    }
    ways
}

fn alternative(inputs: &Inputs<'_>, tried: Tried) -> Alternative {
    let mut changes = described(inputs, &tried);
    let Tried { stash, demand, mut outcome, changes: Changes { bought, .. } } = tried;
    for (index, purchase) in bought.iter().enumerate() {
        let lot = LotId(inputs.stash.lots.len() + index);
        if let Some(count) = opened(&mut outcome, lot).filter(|&count| count > 0) {
            changes.push(purchase.change(&stash, count));
        }
    }
    let prices: Vec<Option<i64>> = changes
        .iter()
        .filter_map(|change| match change {
            Change::Buy { price, count, .. } => Some(price.map(|price| price.0 * i64::from(*count))),
            _ => None,
        })
        .collect();
    let price = (!prices.is_empty()).then(|| prices.into_iter().sum::<Option<i64>>()).flatten().map(Price);
    Alternative { changes, price, stash, demand, outcome }
}

/// How many sheets of a bought lot are cut from; only those need be bought, so they are numbered from 1.
fn opened(outcome: &mut Outcome, lot: LotId) -> Option<u32> {
    let sheets = outcome.plan.sheets.iter_mut().filter(|sheet| sheet.lot == lot);
    let mut count: u32 = 0;
    for sheet in sheets {
        count = count.checked_add(1)?;
        sheet.copy = count;
    }
    Some(count)
}

/// What is changed, except for what is bought. Changes that the plan makes no use of are left out.
fn described(inputs: &Inputs<'_>, tried: &Tried) -> Vec<Change> {
    let plan = &tried.outcome.plan;
    let mut changes = Vec::new();
    let used = |lot: &LotId| plan.sheets.iter().any(|sheet| sheet.lot == *lot);
    changes.extend(tried.changes.released.iter().copied().filter(used).map(|lot| Change::Release { lot }));
    // By the sets of the changed demand, whose numbers may differ from those of the demand as asked.
    let (decided, _) = placements::pins(inputs.placements, &tried.stash, inputs.pattern, &tried.demand);
    for (number, (decided, print)) in decided.into_iter().zip(&plan.prints).enumerate() {
        if let Some(decided) = decided.filter(|decided| *print != Some(*decided)) {
            changes.push(Change::OtherPrint { set: SetId(number), decided });
        }
    }
    let mut by_role: BTreeMap<(BlockId, RoleId), Vec<u32>> = BTreeMap::new();
    for &(block, copy, role) in &tried.changes.mixed {
        by_role.entry((block, role)).or_default().push(copy);
    }
    changes.extend(by_role.into_iter().map(|((block, role), copies)| Change::MixedPrints {
        block,
        copies,
        role,
    }));
    changes.extend(tried.changes.makes.iter().filter_map(|(&block, &make)| {
        let was = inputs.pattern.blocks[block.0].make;
        (make < was).then_some(Change::FewerCopies { block, was, make })
    }));
    changes
}

/// Least change to what the quilter sees, then fabric, then money.
fn rank(alternative: &Alternative) -> (u32, i128, i64, usize) {
    let seen = |change: &Change| match change {
        Change::Release { .. } | Change::Buy { .. } => 0,
        Change::OtherPrint { .. } => 10,
        Change::MixedPrints { copies, .. } => 100 * u32::try_from(copies.len()).unwrap_or(u32::MAX),
        Change::FewerCopies { was, make, .. } => 10_000 * (was - make),
    };
    let visible = alternative.changes.iter().map(seen).sum();
    let bought: i128 = alternative
        .changes
        .iter()
        .map(|change| match change {
            Change::Buy { width, length, count, .. } => {
                i128::from(width.by(*length).square_ticks()) * i128::from(*count)
            }
            _ => 0,
        })
        .sum();
    (visible, bought, alternative.price.map_or(i64::MAX, |price| price.0), alternative.changes.len())
}
