//! Stashes with prints: sheets as lots, matching groups as sets, planned by the same function as a real quilt.

use std::collections::BTreeMap;
use std::time::Instant;

use cutcloth::cutting::Layout;
use cutcloth::fabric::Cut;
use cutcloth::length::Length;
use cutcloth::pattern::demand::{Demand, Loosened};
use cutcloth::pattern::rules::Direction;
use cutcloth::pattern::{Block, Count, Matching, Pattern, PieceLine, Role, RoleId, RoleRules, Shape};
use cutcloth::placements::Placements;
use cutcloth::planning::{Outcome, Rules, Stop, Verdict, plan};
use cutcloth::stash::{Lot, LotId, Print, PrintId, Stash};

use crate::Answer;
use crate::format::{Instance, ItemRow};

/// Plans the instance until `deadline`; its unit is an eighth of an inch.
pub(crate) fn solve(instance: &Instance, deadline: Instant) -> Answer {
    let stash = stash(instance);
    let pattern = pattern(instance);
    let (costs, scale) = costs(instance, &stash);
    let rules = Rules {
        useful_side: Length::from_eighths(20),
        conflicts: false,
        alternatives: false,
        effort: 1_000, // the clock ends it
        costs,
        ..Rules::default()
    };
    let outcome = plan(&stash, &pattern, &Placements::default(), &rules, &Stop::at(deadline), &mut |_| {});
    let mut answer = answer(&outcome, &Demand::expand(&pattern, &Loosened::default()), scale);
    if instance.items.iter().any(|item| mixed(instance, item)) {
        answer.bound = None; // it was asked for more than the instance asks
    }
    answer
}

/// Every kind of sheet a lot. Of a kind without limit there are as many as there are pieces: no plan opens more.
fn stash(instance: &Instance) -> Stash {
    let pieces: u32 = instance.items.iter().filter_map(|item| item.demand).sum();
    let turning = instance.items.iter().all(|item| item.rotatable);
    let mut stash = Stash::default();
    let mut known: BTreeMap<String, PrintId> = BTreeMap::new();
    for (number, row) in instance.sheets.iter().enumerate() {
        let name = row.print.clone().unwrap_or_default();
        let print = *known.entry(name.clone()).or_insert_with(|| {
            stash.prints.push(Print { name });
            PrintId(stash.prints.len() - 1)
        });
        stash.lots.push(Lot {
            row: u32::try_from(number + 1).ok(),
            count: row.copies.unwrap_or(pieces),
            // Where some pieces keep their direction, the others are free of it by their role.
            directional: !turning,
            ..Lot::plain(print, Cut::scrap(), Length::from_eighths(row.w), Length::from_eighths(row.h))
        });
    }
    stash
}

/// A block of its own for every group, with a matching role; and blocks for the pieces that may come from anywhere.
/// A role's pieces all turn or all keep their direction, so a group turns when all of it may.
fn pattern(instance: &Instance) -> Pattern {
    let mut pattern = Pattern::default();
    let mut groups: BTreeMap<(Option<String>, bool), Vec<usize>> = BTreeMap::new();
    for (number, item) in instance.items.iter().enumerate() {
        let group = item.group.as_ref().map(ToString::to_string);
        let turns = item.rotatable && (group.is_none() || !mixed(instance, item));
        groups.entry((group, turns)).or_default().push(number);
    }
    for ((group, turns), items) in groups {
        let role = RoleId(pattern.roles.len());
        let direction = if turns { Direction::Free } else { Direction::Unsaid };
        let rules = RoleRules { direction, ..RoleRules::default() };
        let name = format!("{} {turns}", group.clone().unwrap_or_default());
        let matching = if group.is_some() { Matching::Block } else { Matching::Piece };
        let pieces = items.iter().map(|&item| line(item, &instance.items[item], role, matching)).collect();
        pattern.roles.push(Role { name: name.clone(), rules, ..Role::default() });
        pattern.blocks.push(Block { name, make: 1, pieces, ..Block::default() });
    }
    pattern
}

/// Are there pieces in the group of `item` that turn and others that do not?
fn mixed(instance: &Instance, item: &ItemRow) -> bool {
    let others = instance.items.iter().filter(|other| other.group.is_some() && other.group == item.group);
    others.map(|other| other.rotatable).any(|turns| turns != item.rotatable)
}

fn line(number: usize, item: &ItemRow, role: RoleId, matching: Matching) -> PieceLine {
    PieceLine {
        label: number.to_string(),
        role,
        width: Length::from_eighths(item.w),
        height: Length::from_eighths(item.h),
        count: Count::PerCopy(item.demand.unwrap_or(0)),
        shape: Shape::Rectangle,
        matching,
        line: 0,
    }
}

/// What opening a sheet of each lot counts, and how much of that is a cost of 1: a weight of about 1000.
fn costs(instance: &Instance, stash: &Stash) -> (BTreeMap<LotId, i64>, i64) {
    let area: i128 = stash.lots.iter().map(|lot| i128::from(lot.width.by(lot.length).square_ticks())).sum();
    let cost: i128 = instance.sheets.iter().map(|row| i128::from(row.cost)).sum();
    let scale = i64::try_from(area * 1000 / cost.max(1)).unwrap_or(1).max(1);
    let costs = instance.sheets.iter().enumerate().map(|(lot, row)| (LotId(lot), row.cost * scale));
    (costs.collect(), scale)
}

fn answer(outcome: &Outcome, demand: &Demand, scale: i64) -> Answer {
    let item = |piece: usize| demand.pieces[piece].label.parse().expect("labels are numbers of items");
    let layouts: Vec<(usize, Layout, u32)> =
        outcome.plan.sheets.iter().map(|sheet| (sheet.lot.0, sheet.layout.renamed(item), 1)).collect();
    let fits = outcome.verdict == Verdict::Fits;
    let whole = |amount: i128| i64::try_from(amount).ok();
    let scale = i128::from(scale);
    let objective = whole(outcome.fabric.opened / scale).filter(|_| fits);
    let bound = whole((outcome.fabric.bound + scale - 1) / scale).filter(|_| fits);
    Answer { layouts, unit: Length::from_eighths(1).ticks(), objective, bound }
}
