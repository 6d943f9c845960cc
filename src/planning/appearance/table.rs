//! The prints laid out, each with what is cut from it; what changes place, and what that opens.

use std::collections::HashMap;

use crate::planning::appearance::scene::Scene;
use crate::planning::finish::pairing::Given;
use crate::planning::instance::{Class, Instance};
use crate::planning::oracle::answers::Answers;
use crate::planning::oracle::{Oracle, QUICK};

/// A print, or an independent part of it.
pub(super) struct Slot {
    pub(super) part: usize,
    pub(super) class: usize,
    holder: usize,
    /// Number of the print in the stash.
    pub(super) print: usize,
    /// What is cut from it, as indexes into the items.
    pub(super) items: Vec<usize>,
    /// The same as pieces by size.
    counts: Vec<u32>,
    /// Weighted fabric that opens; of yardage it does not count here.
    paid: i64,
    /// Slots of one part with the same sheets, equally free to turn pieces, have one number.
    pub(super) kin: usize,
}

/// What goes to one print together.
pub(super) struct Thing {
    /// Which slot it is cut from.
    pub(super) slot: usize,
    pub(super) bag: usize,
    pub(super) set: usize,
    /// True for a part of a set that lies on several slots: it stays where it is.
    pub(super) fixed: bool,
    /// Things of one part with the same pieces have one number.
    pub(super) shape: usize,
    item: crate::planning::instance::Item,
}

/// Everything that may change places.
pub(super) struct Table<'a> {
    pub(super) parts: &'a [Instance],
    pub(super) scene: Scene,
    pub(super) slots: Vec<Slot>,
    pub(super) things: Vec<Thing>,
    /// Weighted fabric that all slots with whole sheets open.
    pub(super) fabric: i64,
    /// No more than this.
    pub(super) limit: i64,
    /// What is known to open for so many pieces; `None` where no way to cut them is known.
    known: HashMap<(usize, usize, Vec<u32>), Option<i64>>,
    /// Pieces that no way is known to cut, by part and class: nor is there one for more.
    unknown: HashMap<(usize, usize), Vec<Vec<u32>>>,
    /// New ways to cut a print that may still be looked for.
    pub(super) looks: u32,
}

/// Are there as many of each in `more` as in `less`?
fn holds(more: &[u32], less: &[u32]) -> bool {
    more.iter().zip(less).all(|(more, less)| more >= less)
}

/// Things that moved, each with where it was.
pub(super) type Moved = Vec<(usize, usize)>;

impl<'a> Table<'a> {
    /// Lays out what is given; `None` where the fabric of a print is not known after all.
    pub(super) fn new(
        parts: &'a [Instance],
        givens: &[Given],
        scene: Scene,
        answers: &mut Answers,
    ) -> Option<Table<'a>> {
        let mut table = Table {
            parts,
            scene,
            slots: Vec::new(),
            things: Vec::new(),
            fabric: 0,
            limit: 0,
            known: HashMap::new(),
            unknown: HashMap::new(),
            looks: 0,
        };
        let mut kins = HashMap::new();
        let mut shapes = HashMap::new();
        for (part, (instance, given)) in parts.iter().zip(givens).enumerate() {
            let mut bags = std::collections::BTreeMap::new();
            for (number, bag) in instance.bags.iter().enumerate() {
                bags.extend(bag.items.iter().map(|item| (item, number)));
            }
            for (class, (of, holders)) in instance.classes.iter().zip(given).enumerate() {
                let number = kins.len();
                let kin = *kins.entry((part, of.sheets.clone(), of.turn)).or_insert(number);
                for (holder, items) in holders.iter().enumerate() {
                    let slot = table.slots.len();
                    let print = of.holders[holder].print.0;
                    let counts = vec![0; instance.sizes.len()];
                    let items_here = Vec::new();
                    table.slots.push(Slot {
                        part,
                        class,
                        holder,
                        print,
                        items: items_here,
                        counts,
                        paid: 0,
                        kin,
                    });
                    for item in items {
                        let bag = *bags.get(item)?;
                        let number = shapes.len();
                        let shape = *shapes.entry((part, instance.bags[bag].needs.clone())).or_insert(number);
                        table.things.push(Thing {
                            slot,
                            bag,
                            set: item.set.0,
                            fixed: false,
                            shape,
                            item: item.clone(),
                        });
                        table.lay(table.things.len() - 1);
                    }
                }
            }
        }
        table.fix();
        for slot in 0..table.slots.len() {
            if table.class(slot).whole_sheets() && !table.slots[slot].items.is_empty() {
                let paid = table.cut(slot, answers, true)?;
                table.slots[slot].paid = paid;
                table.fabric += paid;
            }
        }
        table.limit = table.fabric;
        Some(table)
    }

    /// Sets that lie in pieces on several slots stay where they are.
    fn fix(&mut self) {
        let mut times: HashMap<usize, u32> = HashMap::new();
        for thing in &self.things {
            *times.entry(thing.set).or_default() += 1;
        }
        for thing in &mut self.things {
            thing.fixed = times[&thing.set] > 1;
        }
    }

    /// The class of a slot.
    pub(super) fn class(&self, slot: usize) -> &'a Class {
        &self.parts[self.slots[slot].part].classes[self.slots[slot].class]
    }

    /// May a thing be cut from a slot of its part, as far as its rules go?
    pub(super) fn allows(&self, slot: usize, thing: usize) -> bool {
        let other = self.things[thing].slot;
        !self.things[thing].fixed
            && self.slots[slot].part == self.slots[other].part
            && self.class(slot).allowed[self.things[thing].bag]
    }

    fn lay(&mut self, thing: usize) {
        let Thing { slot, bag, set, .. } = self.things[thing];
        let at = &mut self.slots[slot];
        at.items.push(thing);
        for &(size, count) in &self.parts[at.part].bags[bag].needs {
            at.counts[size] += count;
        }
        let print = at.print;
        self.scene.put(set, Some(print));
    }

    fn lift(&mut self, thing: usize) {
        let Thing { slot, bag, set, .. } = self.things[thing];
        let at = &mut self.slots[slot];
        at.items.retain(|&other| other != thing);
        for &(size, count) in &self.parts[at.part].bags[bag].needs {
            at.counts[size] -= count;
        }
        self.scene.put(set, None);
    }

    /// Moves things to other slots, whatever that opens and whether or not the rules are kept.
    pub(super) fn relocate(&mut self, moves: &[(usize, usize)]) -> Moved {
        let back: Moved = moves.iter().map(|&(thing, _)| (thing, self.things[thing].slot)).collect();
        for &(thing, _) in moves {
            self.lift(thing);
        }
        for &(thing, slot) in moves {
            self.things[thing].slot = slot;
            self.lay(thing);
        }
        back
    }

    /// Do the sets of these things keep the rules between fabrics?
    pub(super) fn keeps(&self, moved: &Moved) -> bool {
        moved.iter().all(|&(thing, _)| self.scene.keeps(self.things[thing].set))
    }

    /// Changes the loads of two slots of one kin; `None` where a rule stands against it.
    pub(super) fn swap_loads(&mut self, one: usize, other: usize) -> Option<Moved> {
        let (a, b) = (&self.slots[one], &self.slots[other]);
        if a.kin != b.kin || a.print == b.print || (a.items.is_empty() && b.items.is_empty()) {
            return None;
        }
        let moves: Vec<(usize, usize)> = (a.items.iter().map(|&thing| (thing, other)))
            .chain(b.items.iter().map(|&thing| (thing, one)))
            .collect();
        if !moves.iter().all(|&(thing, slot)| self.allows(slot, thing)) {
            return None;
        }
        let back = self.relocate(&moves);
        let paid = self.slots[one].paid;
        self.slots[one].paid = std::mem::replace(&mut self.slots[other].paid, paid);
        if self.keeps(&back) {
            return Some(back);
        }
        self.swap_back(one, other, &back);
        None
    }

    /// Takes [`Table::swap_loads`] back.
    pub(super) fn swap_back(&mut self, one: usize, other: usize, back: &Moved) {
        self.relocate(back);
        let paid = self.slots[one].paid;
        self.slots[one].paid = std::mem::replace(&mut self.slots[other].paid, paid);
    }

    /// Changes the places of two things with the same pieces; `None` where a rule stands against it.
    pub(super) fn swap_alike(&mut self, one: usize, other: usize) -> Option<Moved> {
        let (a, b) = (self.things[one].slot, self.things[other].slot);
        let same = self.slots[a].print == self.slots[b].print;
        if same || self.things[one].shape != self.things[other].shape {
            return None;
        }
        if !self.allows(b, one) || !self.allows(a, other) {
            return None;
        }
        let back = self.relocate(&[(one, b), (other, a)]);
        if self.keeps(&back) {
            return Some(back);
        }
        self.relocate(&back);
        None
    }

    /// Moves things among slots with whole sheets as long as they can be cut within the limit; with what slots opened before.
    pub(super) fn recut(
        &mut self,
        moves: &[(usize, usize)],
        answers: &mut Answers,
    ) -> Option<(Moved, Vec<(usize, i64)>)> {
        let mut slots: Vec<usize> =
            moves.iter().flat_map(|&(thing, slot)| [self.things[thing].slot, slot]).collect();
        slots.sort_unstable();
        slots.dedup();
        if !moves.iter().all(|&(thing, slot)| self.allows(slot, thing))
            || !slots.iter().all(|&slot| self.class(slot).whole_sheets())
        {
            return None;
        }
        let back = self.relocate(moves);
        let paid: Vec<(usize, i64)> = slots.iter().map(|&slot| (slot, self.slots[slot].paid)).collect();
        if self.keeps(&back) {
            let costs: Option<Vec<i64>> = slots.iter().map(|&slot| self.cut(slot, answers, false)).collect();
            if let Some(costs) = costs {
                let more = costs.iter().sum::<i64>() - paid.iter().map(|(_, paid)| paid).sum::<i64>();
                if self.fabric + more <= self.limit {
                    self.fabric += more;
                    for (&slot, cost) in slots.iter().zip(costs) {
                        self.slots[slot].paid = cost;
                    }
                    return Some((back, paid));
                }
            }
        }
        self.relocate(&back);
        None
    }

    /// Takes [`Table::recut`] back.
    pub(super) fn recut_back(&mut self, (back, paid): &(Moved, Vec<(usize, i64)>)) {
        self.relocate(back);
        for &(slot, paid) in paid {
            self.fabric += paid - self.slots[slot].paid;
            self.slots[slot].paid = paid;
        }
    }

    /// Weighted fabric that opens for what lies on a slot; `None` when no way to cut it is known.
    pub(super) fn cut(&mut self, slot: usize, answers: &mut Answers, long: bool) -> Option<i64> {
        let Slot { part, class, counts, .. } = &self.slots[slot];
        if counts.iter().all(|&count| count == 0) {
            return Some(0);
        }
        let key = (*part, *class, counts.clone());
        if let Some(&known) = self.known.get(&key) {
            return known;
        }
        let instance = &self.parts[*part];
        let of = &instance.classes[*class];
        let area = |(size, &count): (usize, &u32)| {
            instance.sizes[size].width.by(instance.sizes[size].height).square_ticks() * i64::from(count)
        };
        let wanted: i64 = counts.iter().enumerate().map(area).sum();
        if wanted > of.area() || (!long && self.looks == 0) {
            return None;
        }
        let mut oracle = Oracle::new(instance, answers);
        let unknown = self.unknown.entry((*part, *class)).or_default();
        if !long && unknown.iter().any(|less| holds(counts, less)) {
            return None;
        }
        let cost = if long {
            let quick = oracle.cheapest(of, counts, QUICK).cost();
            quick.or_else(|| oracle.cut_in_the_end(of, counts).cost())
        } else {
            self.looks -= 1;
            oracle.cut_lightly(of, counts).cost()
        };
        if cost.is_none() {
            unknown.push(counts.clone());
        }
        self.known.insert(key, cost);
        cost
    }

    /// Where everything lies.
    pub(super) fn places(&self) -> Vec<usize> {
        self.things.iter().map(|thing| thing.slot).collect()
    }

    /// Lays everything as it lay once; `paid` was opened then.
    pub(super) fn restore(&mut self, places: &[usize], paid: &[i64]) {
        let moves: Vec<(usize, usize)> = places.iter().copied().enumerate().collect();
        let moves: Vec<(usize, usize)> =
            moves.into_iter().filter(|&(thing, slot)| self.things[thing].slot != slot).collect();
        self.relocate(&moves);
        for (slot, &paid) in self.slots.iter_mut().zip(paid) {
            slot.paid = paid;
        }
        self.fabric = paid.iter().sum();
    }

    /// What each slot opens.
    pub(super) fn paid(&self) -> Vec<i64> {
        self.slots.iter().map(|slot| slot.paid).collect()
    }

    /// Sets down what a slot opens now.
    pub(super) fn pay(&mut self, slot: usize, paid: i64) {
        self.fabric += paid - self.slots[slot].paid;
        self.slots[slot].paid = paid;
    }

    /// What comes from each print now.
    pub(super) fn give(self, givens: &mut [Given]) {
        for items in givens.iter_mut().flatten().flatten() {
            items.clear();
        }
        for thing in self.things {
            let slot = &self.slots[thing.slot];
            givens[slot.part][slot.class][slot.holder].push(thing.item);
        }
    }
}
