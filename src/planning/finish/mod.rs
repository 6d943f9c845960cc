//! From an assignment to a plan: every piece on its sheet, leftovers kept in the most useful shape.

use std::collections::{BTreeMap, VecDeque};

use crate::cutting::{self, Layout, Work};
use crate::pattern::demand::{Demand, PieceId, SetId};
use crate::planning::Rules;
use crate::planning::finish::pairing::Given;
use crate::planning::instance::Item;
use crate::planning::oracle::Oracle;
use crate::planning::oracle::cut_print::{CutSheet, Cutting};
use crate::planning::plan::{Plan, SheetPlan, Short};

pub(crate) mod alike;
pub(crate) mod beyond;
pub(crate) mod pairing;
pub(crate) mod polish;
pub(crate) mod preferences;
mod strips;

/// What was cut for most leftovers, by class, kind of sheet and pieces: sheets alike are worked out once.
type Kindest = BTreeMap<(usize, usize, Vec<u32>), Option<Layout>>;

/// Steps spent on the shape of one sheet's leftovers and on the kindest way to cut it.
const LEFTOVER_STEPS: u64 = 600_000;

/// Adds what is given to each print to a plan; sets of which not all is given are left out.
pub(crate) fn add(plan: &mut Plan, oracle: &mut Oracle<'_>, demand: &Demand, given: Given, rules: &Rules) {
    let instance = oracle.instance;
    let given = whole_sets(demand, given);
    let mut kindest = Kindest::new();
    for (class_index, holders) in given.iter().enumerate() {
        for (holder_index, items) in holders.iter().enumerate() {
            let holder = &instance.classes[class_index].holders[holder_index];
            for item in items {
                plan.prints[item.set.0] = Some(holder.print);
            }
            let sheets = cut_holder(oracle, demand, class_index, items, rules, &mut kindest);
            let mut next = vec![0; holder.sheets.len()];
            for (kind, sheet) in sheets {
                let (lot, copy) = holder.sheets[kind][next[kind]];
                next[kind] += 1;
                plan.sheets.push(SheetPlan { lot, copy, ..sheet });
            }
        }
    }
}

/// Puts the sheets in order and names what has no print: a set of which a piece has no place is short as a whole.
pub(crate) fn complete(plan: &mut Plan) {
    plan.sheets.sort_by_key(|sheet| (sheet.lot, sheet.copy));
    let without = (0..plan.prints.len()).map(SetId).filter(|set| plan.prints[set.0].is_none());
    let known: Vec<Short> = std::mem::take(&mut plan.short);
    plan.short = without
        .map(|set| {
            let said = known.iter().find(|short| short.set == set).map(|short| short.reason.clone());
            Short { set, reason: said.unwrap_or_default() }
        })
        .collect();
}

/// Weighted fabric of a plan.
pub(crate) fn opened(plan: &Plan, stash: &crate::stash::Stash, rules: &Rules) -> i128 {
    plan.sheets
        .iter()
        .map(|sheet| {
            if let Some(&cost) = rules.costs.get(&sheet.lot) {
                return i128::from(cost);
            }
            let family = stash.lot(sheet.lot).cut.entry().family;
            let area = sheet.layout.width().by(sheet.used).square_ticks();
            i128::from(area) * i128::from(rules.weights.of(family))
        })
        .sum()
}

/// Without the items of sets that are not placed whole.
fn whole_sets(demand: &Demand, mut given: Given) -> Given {
    let mut placed = vec![0usize; demand.sets.len()];
    for item in given.iter().flatten().flatten() {
        placed[item.set.0] += item.pieces.len();
    }
    for items in given.iter_mut().flatten() {
        items.retain(|item| placed[item.set.0] == demand.set(item.set).pieces.len());
        items.sort();
    }
    given
}

fn cut_holder(
    oracle: &mut Oracle<'_>,
    demand: &Demand,
    class_index: usize,
    items: &[Item],
    rules: &Rules,
    kindest: &mut Kindest,
) -> Vec<(usize, SheetPlan)> {
    let instance = oracle.instance;
    let class = &instance.classes[class_index];
    let mut waiting: BTreeMap<usize, VecDeque<PieceId>> = BTreeMap::new();
    let mut counts = vec![0u32; instance.sizes.len()];
    for item in items {
        for &piece in &item.pieces {
            let size = instance.size_of(demand, piece);
            counts[size] += 1;
            waiting.entry(size).or_default().push_back(piece);
        }
    }
    let cut = oracle.cut_in_the_end(class, &counts);
    let Cutting::Yes { sheets, .. } = &*cut else {
        panic!("an assignment only holds what the oracle has cut");
    };
    let mut dressed = |sheet| dress(oracle, class_index, sheet, &mut waiting, rules, kindest);
    sheets.iter().map(|sheet| (sheet.kind, dressed(sheet))).collect()
}

/// The sheet with its leftovers in the most useful shape and its leaves named by piece.
fn dress(
    oracle: &Oracle<'_>,
    class_index: usize,
    sheet: &CutSheet,
    waiting: &mut BTreeMap<usize, VecDeque<PieceId>>,
    rules: &Rules,
    kindest: &mut Kindest,
) -> SheetPlan {
    let instance = oracle.instance;
    let class = &instance.classes[class_index];
    let kind = &class.sheets[sheet.kind];
    let kinds = instance.kinds(class.turn);
    let strips = if kind.by_length && !oracle.stopped() {
        strips::in_strips(kind.sheet, &kinds, sheet, rules, oracle.stop())
    } else {
        None
    };
    let used = strips.as_ref().map_or(sheet.used, |(_, used)| *used);
    let instead_of = strips.as_ref().map(|_| strips::tighter(sheet));
    let best = if let Some((layout, _)) = strips {
        layout
    } else if kind.by_length || oracle.stopped() {
        cutting::tidy(&sheet.layout)
    } else {
        let mut counts = vec![0; kinds.len()];
        for (size, _, _) in sheet.layout.pieces() {
            counts[size] += 1;
        }
        let known = kindest.entry((class_index, sheet.kind, counts)).or_insert_with_key(|(.., counts)| {
            let mut work = Work::steps(LEFTOVER_STEPS).unless(oracle.stop());
            cutting::kindest(kind.sheet, &kinds, counts, rules.wishes(), &mut work)
        });
        known.clone().unwrap_or_else(|| cutting::tidy(&sheet.layout))
    };
    let layout = best.renamed(|size| {
        waiting
            .get_mut(&size)
            .and_then(VecDeque::pop_front)
            .expect("a layout holds exactly the pieces it was cut for")
            .0
    });
    SheetPlan { lot: crate::stash::LotId(0), copy: 0, used, layout, instead_of }
}
