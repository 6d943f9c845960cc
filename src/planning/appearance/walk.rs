//! A walk over choices of prints: loads, alike sets and, as far as the fabric allows, any sets change places.
//!
//! Late acceptance (Burke and Bykov 2017), in whole numbers: a step is taken when it is no worse than where the walk is or was
//! some steps ago. Then every two loads and every two alike sets are exchanged as long as that makes it better. Seeded, and
//! steps are counted.

use rand::rngs::SmallRng;
use rand::{Rng, SeedableRng};

use crate::looks::WHOLE;
use crate::planning::appearance::table::{Moved, Table};
use crate::planning::oracle::answers::Answers;

/// How many steps back a step may be compared.
const MEMORY: usize = 1500;
/// Steps between two looks whether the search is to end.
const BREATH: u64 = 1024;
/// Exchanges tried in the end, at most.
const MOST_EXCHANGES: u64 = 2_000_000;

/// A step that was taken.
enum Step {
    Loads(usize, usize, Moved),
    Alike(Moved),
    Recut((Moved, Vec<(usize, i64)>)),
}

/// Rounds of a walk: in each more fabric than allowed counts twice as much as in the one before, so that a load can be divided among
/// prints that are opened one after the other.
const ROUNDS: u32 = 8;
/// By how much more than allowed the fabric may be on the way, in hundredths of all.
const DETOUR: i64 = 15;

/// Walks so many steps and ends at the best place met.
pub(super) fn walk(table: &mut Table<'_>, steps: u64, answers: &mut Answers) {
    let free: Vec<usize> = (0..table.things.len()).filter(|&thing| !table.things[thing].fixed).collect();
    if free.is_empty() || table.slots.len() < 2 {
        return;
    }
    let limit = table.limit;
    let mut walk = Walk::new(table, free);
    let mut random = SmallRng::seed_from_u64(1);
    let mut best = walk.worth();
    let mut kept = (walk.table.places(), walk.table.paid());
    walk.table.limit = limit.saturating_add(limit / 100 * DETOUR);
    for round in 0..ROUNDS {
        // A hundredth of the fabric counts a quarter of a blend at first.
        let price = |table: &Table<'_>| {
            let over = i128::from((table.fabric - limit).max(0)) << round;
            let counts = over * 25 * i128::from(WHOLE) * 100 / i128::from((limit).max(1));
            (table.scene.cost + i64::try_from(counts).unwrap_or(i64::MAX / 4), table.scene.extra)
        };
        let mut now = price(walk.table);
        let mut memory = vec![now; MEMORY];
        for step in 0..steps / u64::from(ROUNDS) {
            if step % BREATH == 0 && answers.stop.seen() {
                break;
            }
            let place = usize::try_from(step).unwrap_or(0) % MEMORY;
            if let Some(taken) = walk.step(&mut random, answers) {
                let then = price(walk.table);
                if then <= memory[place] || then <= now {
                    now = then;
                    let worth = walk.worth();
                    if walk.table.fabric <= limit && worth < best {
                        best = worth;
                        kept = (walk.table.places(), walk.table.paid());
                    }
                } else {
                    walk.back(taken);
                }
            }
            memory[place] = now;
        }
    }
    walk.table.limit = limit;
    walk.table.restore(&kept.0, &kept.1);
    walk.descend();
}

struct Walk<'t, 'a> {
    table: &'t mut Table<'a>,
    /// Things that may move.
    free: Vec<usize>,
    /// The same by shape.
    shapes: Vec<Vec<usize>>,
    /// Slots by kin.
    kins: Vec<Vec<usize>>,
    /// Slots by part.
    parts: Vec<Vec<usize>>,
}

impl<'t, 'a> Walk<'t, 'a> {
    fn new(table: &'t mut Table<'a>, free: Vec<usize>) -> Walk<'t, 'a> {
        let shapes = free.iter().map(|&thing| table.things[thing].shape + 1).max().unwrap_or(0);
        let kins = table.slots.iter().map(|slot| slot.kin + 1).max().unwrap_or(0);
        let mut walk = Walk {
            shapes: vec![Vec::new(); shapes],
            kins: vec![Vec::new(); kins],
            parts: vec![Vec::new(); table.parts.len()],
            free,
            table,
        };
        for &thing in &walk.free {
            walk.shapes[walk.table.things[thing].shape].push(thing);
        }
        for (number, slot) in walk.table.slots.iter().enumerate() {
            walk.kins[slot.kin].push(number);
            walk.parts[slot.part].push(number);
        }
        walk
    }

    /// What is to be small: what the eye minds most, fabric, what it minds less.
    fn worth(&self) -> (i64, i64, i64) {
        (self.table.scene.cost, self.table.fabric, self.table.scene.extra)
    }

    fn step(&mut self, random: &mut SmallRng, answers: &mut Answers) -> Option<Step> {
        let thing = self.free[random.random_range(0..self.free.len())];
        let slot = self.table.things[thing].slot;
        match random.random_range(0..10) {
            0..4 => {
                let alike = &self.shapes[self.table.things[thing].shape];
                let other = alike[random.random_range(0..alike.len())];
                self.table.swap_alike(thing, other).map(Step::Alike)
            }
            4..7 => {
                let kin = &self.kins[self.table.slots[slot].kin];
                let other = kin[random.random_range(0..kin.len())];
                self.table.swap_loads(slot, other).map(|moved| Step::Loads(slot, other, moved))
            }
            way => {
                let slots = &self.parts[self.table.slots[slot].part];
                let to = slots[random.random_range(0..slots.len())];
                if to == slot {
                    return None;
                }
                let mut moves = vec![(thing, to)];
                let there = &self.table.slots[to].items;
                match way {
                    7 => {}
                    8 => {
                        let back = *there.get(random.random_range(0..there.len().max(1)))?;
                        moves.push((back, slot));
                    }
                    _ => {
                        let back: Vec<(usize, usize)> = there.iter().map(|&other| (other, slot)).collect();
                        moves = self.table.slots[slot].items.iter().map(|&thing| (thing, to)).collect();
                        moves.extend(back);
                    }
                }
                self.table.recut(&moves, answers).map(Step::Recut)
            }
        }
    }

    fn back(&mut self, step: Step) {
        match step {
            Step::Loads(one, other, moved) => self.table.swap_back(one, other, &moved),
            Step::Alike(moved) => drop(self.table.relocate(&moved)),
            Step::Recut(before) => self.table.recut_back(&before),
        }
    }

    /// Exchanges two and two as long as that is better.
    fn descend(&mut self) {
        let mut left = MOST_EXCHANGES;
        loop {
            let before = self.table.scene.worth();
            for kin in self.kins.clone() {
                for (at, &one) in kin.iter().enumerate() {
                    for &other in &kin[at + 1..] {
                        let cost = self.table.scene.worth();
                        if let Some(moved) = self.table.swap_loads(one, other)
                            && self.table.scene.worth() >= cost
                        {
                            self.table.swap_back(one, other, &moved);
                        }
                        left = left.saturating_sub(1);
                    }
                }
            }
            for alike in self.shapes.clone() {
                for (at, &one) in alike.iter().enumerate() {
                    for &other in &alike[at + 1..] {
                        let cost = self.table.scene.worth();
                        if let Some(moved) = self.table.swap_alike(one, other)
                            && self.table.scene.worth() >= cost
                        {
                            self.table.relocate(&moved);
                        }
                        left = left.saturating_sub(1);
                        if left == 0 {
                            return;
                        }
                    }
                }
            }
            if self.table.scene.worth() >= before || left == 0 {
                return;
            }
        }
    }
}
