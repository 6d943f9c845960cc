//! Prints alike change places with all that is cut from them, and copies of a block the prints of one role: two linear
//! assignments, each the best there is while all else stays.

use std::collections::BTreeMap;

use pathfinding::kuhn_munkres::kuhn_munkres_min;
use pathfinding::matrix::Matrix;

use crate::planning::appearance::table::{Slot, Table};

/// Larger assignments are left to exchanges two by two: the time grows with the third power.
const MOST: usize = 200;
/// What a broken rule counts: more than all looks together.
const BROKEN: i64 = 1 << 53;
/// What matters most counts so much more than what matters less.
const FIRST: i64 = 1 << 16;
/// Rounds over all classes and bags; each goes on only while the last one made it better.
const ROUNDS: u32 = 8;

/// Exchanges whole prints and pairs copies anew until neither makes it better.
pub(super) fn exchange(table: &mut Table<'_>) {
    for _ in 0..ROUNDS {
        let before = table.scene.worth();
        let mut kin: BTreeMap<(usize, usize), Vec<usize>> = BTreeMap::new();
        for (number, slot) in table.slots.iter().enumerate().filter(|(_, slot)| moves(table, slot)) {
            kin.entry((slot.part, slot.class)).or_default().push(number);
        }
        kin.values().for_each(|slots| prints(table, slots));
        let mut bags: BTreeMap<(usize, usize), Vec<usize>> = BTreeMap::new();
        for (number, thing) in table.things.iter().enumerate().filter(|(_, thing)| !thing.fixed) {
            bags.entry((table.slots[thing.slot].part, thing.bag)).or_default().push(number);
        }
        bags.values().for_each(|things| copies(table, things));
        if table.scene.worth() >= before {
            return;
        }
    }
}

/// May all that lies on a slot lie elsewhere?
fn moves(table: &Table<'_>, slot: &Slot) -> bool {
    slot.items.iter().all(|&thing| !table.things[thing].fixed)
}

/// Which print of a class takes which load.
fn prints(table: &mut Table<'_>, slots: &[usize]) {
    let loads: Vec<usize> =
        slots.iter().copied().filter(|&slot| !table.slots[slot].items.is_empty()).collect();
    if slots.len() < 2 || slots.len() > MOST || loads.is_empty() {
        return;
    }
    let (places, paid, before) = (table.places(), table.paid(), table.scene.worth());
    let sets_of = |slot: usize, table: &Table<'_>| -> Vec<usize> {
        table.slots[slot].items.iter().map(|&thing| table.things[thing].set).collect()
    };
    let sets: Vec<Vec<usize>> = loads.iter().map(|&slot| sets_of(slot, table)).collect();
    sets.iter().flatten().for_each(|&set| table.scene.put(set, None));
    let mut costs = Vec::new();
    for sets in &sets {
        for &slot in slots {
            costs.push(cost(table, sets, table.slots[slot].print));
        }
    }
    let costs = Matrix::from_vec(loads.len(), slots.len(), costs).expect("a row for each load");
    let (_, taken) = kuhn_munkres_min(&costs);
    for (&slot, sets) in loads.iter().zip(&sets) {
        let print = table.slots[slot].print;
        sets.iter().for_each(|&set| table.scene.put(set, Some(print)));
    }
    let mut moves = Vec::new();
    let mut opened: Vec<(usize, i64)> = slots.iter().map(|&slot| (slot, 0)).collect();
    for (&load, &to) in loads.iter().zip(&taken) {
        moves.extend(table.slots[load].items.iter().map(|&thing| (thing, slots[to])));
        opened[to].1 = paid[load];
    }
    let back = table.relocate(&moves);
    opened.into_iter().for_each(|(slot, paid)| table.pay(slot, paid));
    if table.scene.worth() >= before || !table.keeps(&back) {
        table.restore(&places, &paid);
    }
}

/// Which of its places takes which of the things of one bag.
fn copies(table: &mut Table<'_>, things: &[usize]) {
    if things.len() < 2 || things.len() > MOST {
        return;
    }
    let before = table.scene.worth();
    let slots: Vec<usize> = things.iter().map(|&thing| table.things[thing].slot).collect();
    let sets: Vec<usize> = things.iter().map(|&thing| table.things[thing].set).collect();
    sets.iter().for_each(|&set| table.scene.put(set, None));
    let mut costs = Vec::new();
    for &set in &sets {
        for &slot in &slots {
            costs.push(cost(table, &[set], table.slots[slot].print));
        }
    }
    for (&set, &slot) in sets.iter().zip(&slots) {
        table.scene.put(set, Some(table.slots[slot].print));
    }
    let costs = Matrix::square_from_vec(costs).expect("as many places as things");
    let (_, taken) = kuhn_munkres_min(&costs);
    let moves: Vec<(usize, usize)> =
        things.iter().zip(taken).map(|(&thing, to)| (thing, slots[to])).collect();
    let back = table.relocate(&moves);
    if table.scene.worth() >= before || !table.keeps(&back) {
        table.relocate(&back);
    }
}

/// What sets without a print add when they get this one.
fn cost(table: &mut Table<'_>, sets: &[usize], print: usize) -> i64 {
    let before = scalar(table);
    let mut broken = 0;
    for &set in sets {
        broken += i64::from(!table.scene.differs(set, print)) * BROKEN;
        table.scene.put(set, Some(print));
    }
    let cost = scalar(table) - before;
    sets.iter().for_each(|&set| table.scene.put(set, None));
    cost + broken.min(BROKEN)
}

/// What is to be small, in one number.
fn scalar(table: &Table<'_>) -> i64 {
    let (cost, extra) = table.scene.worth();
    cost * FIRST + extra
}
