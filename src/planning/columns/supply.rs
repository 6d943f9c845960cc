//! Sheets alike over all prints, and the best ways to fill them at some prices.

use std::collections::BTreeMap;
use std::sync::Mutex;

use crate::cutting::{self, Filling, Layout, Set, SetTable, Sheet, Stop};
use crate::length::Length;
use crate::planning::columns::prices::Part;
use crate::planning::instance::holding::SheetKind;
use crate::planning::instance::{Bag, Class, Instance};
use crate::planning::side_by_side;

/// Fillings of one sheet taken at the same prices, each without the sets of those before it.
const AT_ONCE: usize = 3;
/// Sets divided over several sheets of one print that are taken at the same prices.
const DIVIDED: usize = 4;
/// A table for sets that lie anywhere is not built where it takes more turns than this even for no set.
const LARGEST: u64 = 3_750_000;
/// A print that holds such sheets.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Holds {
    pub(crate) class: usize,
    pub(crate) holder: usize,
    /// Number of the sheet kind in the class.
    pub(crate) kind: usize,
}

/// Prints that hold as many of the same sheet, for the same bags.
pub(crate) struct Supply {
    pub(crate) kind: SheetKind,
    /// Sheets in each of these prints.
    pub(crate) copies: u32,
    pub(crate) prints: Vec<Holds>,
    pub(crate) filling: usize,
}

/// All sheets of an instance.
pub(crate) struct Supplies {
    pub(crate) all: Vec<Supply>,
    fillings: Vec<Mutex<Filling>>,
    /// For the sheets of each filling, where they are whole ones.
    pub(crate) tables: Vec<Option<Mutex<SetTable>>>,
    /// The sets of all bags.
    pub(crate) sets: Vec<Set>,
}

/// Some sheets of one print, or a length of one, filled with whole sets.
#[derive(Clone, Debug)]
pub(crate) struct Fill {
    pub(crate) supply: usize,
    /// (bag, count), ascending.
    pub(crate) bags: Vec<(usize, u32)>,
    pub(crate) cost: i64,
    /// One for each sheet; of yardage only as high as it is used.
    pub(crate) sheets: Vec<Layout>,
}

impl Fill {
    pub(crate) fn worth(&self, prices: &[i64]) -> i128 {
        self.bags.iter().map(|&(bag, n)| i128::from(prices[bag]) * i128::from(n)).sum()
    }

    /// Length of all its sheets together.
    pub(crate) fn used(&self) -> Length {
        self.sheets.iter().map(Layout::height).sum()
    }

    /// Do its sheets hold just the pieces of its bags?
    fn is_whole(&self, instance: &Instance) -> bool {
        let mut counts = vec![0; instance.sizes.len()];
        self.sheets.iter().flat_map(Layout::pieces).for_each(|(size, ..)| counts[size] += 1);
        counts == instance.pieces(&self.bags)
    }

    /// The same without what is more than `left` of a bag.
    pub(crate) fn within(mut self, left: &[u32], instance: &Instance) -> Fill {
        let surplus: Vec<(usize, u32)> =
            self.bags.iter().map(|&(bag, n)| (bag, n.saturating_sub(left[bag]))).collect();
        debug_assert!(self.is_whole(instance), "a filling holds whole sets");
        let mut pieces = instance.pieces(&surplus);
        if pieces.iter().any(|&n| n > 0) {
            self.sheets = self.sheets.iter().map(|layout| cutting::cut_back(layout, &mut pieces)).collect();
            self.bags.iter_mut().zip(surplus).for_each(|(bag, (_, n))| bag.1 -= n);
            self.bags.retain(|&(_, n)| n > 0);
        }
        self
    }
}

type Key = (SheetKind, bool, Vec<bool>);

impl Supplies {
    /// What there is when the stop comes, if it does.
    pub(crate) fn new(instance: &Instance, stop: &Stop) -> Supplies {
        let mut grouped: BTreeMap<Key, BTreeMap<u32, Vec<Holds>>> = BTreeMap::new();
        for (number, class) in instance.classes.iter().enumerate() {
            for (place, kind) in class.sheets.iter().enumerate() {
                let may =
                    instance.bags.iter().enumerate().map(|(bag, of)| may(instance, class, kind, bag, of));
                let key = (SheetKind { copies: 1, ..*kind }, class.turn, may.collect());
                let prints = grouped.entry(key).or_default().entry(kind.copies).or_default();
                prints.extend((0..class.holders.len()).map(|holder| Holds {
                    class: number,
                    holder,
                    kind: place,
                }));
            }
        }
        let sets: Vec<Set> = instance.bags.iter().map(|bag| bag.needs.clone()).collect();
        let mut supplies = Supplies { all: Vec::new(), fillings: Vec::new(), tables: Vec::new(), sets };
        // Sheets that differ in what they cost alone are filled alike.
        let mut known: BTreeMap<(Sheet, bool, Vec<bool>), Option<usize>> = BTreeMap::new();
        for ((kind, turn, may), by_copies) in grouped {
            if stop.seen() {
                break;
            }
            let filling = *known.entry((kind.sheet, turn, may)).or_insert_with_key(|(_, _, may)| {
                let bags = instance.bags.iter().zip(may);
                let sets: Vec<Vec<(usize, u32)>> =
                    bags.map(|(bag, &may)| if may { bag.needs.clone() } else { Vec::new() }).collect();
                let filling = Filling::new(kind.sheet, &instance.kinds(turn), &sets)?;
                supplies.fillings.push(Mutex::new(filling));
                let table = if kind.by_length {
                    None
                } else {
                    SetTable::new(kind.sheet, &instance.kinds(turn), &sets)
                };
                supplies.tables.push(table.filter(|table| table.steps() <= LARGEST).map(Mutex::new));
                Some(supplies.fillings.len() - 1)
            });
            for (copies, prints) in by_copies {
                supplies.all.extend(filling.map(|filling| Supply { kind, copies, prints, filling }));
            }
        }
        supplies
    }

    /// Turns of the inner loop that pricing takes.
    pub(crate) fn steps(&self) -> u64 {
        let steps = |filling: &Mutex<Filling>| filling.lock().expect("no filling panics").steps();
        self.fillings.iter().map(steps).sum::<u64>() + self.turns_anywhere()
    }

    /// How many prints each supply is.
    pub(crate) fn many(&self) -> Vec<u32> {
        self.all.iter().map(|s| u32::try_from(s.prints.len()).unwrap_or(u32::MAX)).collect()
    }

    /// A filling as a column of the master over prints.
    pub(crate) fn part<'a>(&self, fill: &'a Fill) -> Part<'a> {
        let all = self.all[fill.supply].all();
        Part { bags: &fill.bags, class: fill.supply, used: fill.used().ticks(), all, cost: fill.cost }
    }

    /// The best fillings of every supply at `prices`, where one more print of supply `s` saves `prints[s]`, as far as they
    /// are worth more than their fabric.
    pub(crate) fn price(&self, prices: &[i64], prints: &[i64], threads: usize) -> Vec<Fill> {
        let numbers: Vec<usize> = (0..self.fillings.len()).collect();
        let found = side_by_side::each(threads, &numbers, |&number| {
            let supplies: Vec<usize> =
                (0..self.all.len()).filter(|&supply| self.all[supply].filling == number).collect();
            let mut filling = self.fillings[number].lock().expect("no filling panics");
            let mut rest = prices.to_vec();
            let mut found = Vec::new();
            for round in 0..AT_ONCE {
                let divides =
                    |&supply: &usize| self.all[supply].copies > 1 && !self.all[supply].kind.by_length;
                let divided = round == 0 && supplies.iter().any(divides);
                filling.fill(&rest, divided);
                let fills =
                    supplies.iter().filter_map(|&supply| self.filled(&filling, supply, prints[supply]));
                let fills: Vec<Fill> = fills.collect();
                if divided {
                    supplies.iter().filter(|s| divides(s)).for_each(|&supply| {
                        found.extend(self.divided(&filling, supply, prices));
                    });
                }
                let bags = fills.iter().flat_map(|fill| &fill.bags);
                bags.for_each(|&(bag, _)| rest[bag] = 0);
                found.extend(fills);
            }
            found
        });
        let gains = |fill: &Fill| fill.worth(prices) > i128::from(fill.cost);
        found.into_iter().flatten().filter(gains).collect()
    }

    /// One sheet filled, or the length of one that gives most beyond its fabric and its share of what a print saves.
    fn filled(&self, filling: &Filling, number: usize, print: i64) -> Option<Fill> {
        let supply = &self.all[number];
        let kind = &supply.kind;
        let whole = kind.sheet.height;
        let gain = |&(height, worth): &(Length, i128)| {
            let share = i128::from(print) * i128::from(height.ticks()) / i128::from(supply.all());
            worth - i128::from(kind.cost(height)) - share
        };
        let height = if kind.by_length { filling.by_height().max_by_key(gain)?.0 } else { whole };
        if height == Length::ZERO {
            return None;
        }
        let filled = filling.best(height);
        let bags = counted(&filled.counts);
        Some(Fill { supply: number, bags, cost: kind.cost(height), sheets: vec![filled.layout] })
    }

    /// Sheets of one print with one set divided over them, for the few sets for which that gives most.
    fn divided(&self, filling: &Filling, number: usize, prices: &[i64]) -> Vec<Fill> {
        let supply = &self.all[number];
        let one = supply.kind.cost(supply.kind.sheet.height);
        let mut found: Vec<(i128, usize, Vec<usize>)> = Vec::new();
        for (bag, &price) in prices.iter().enumerate().filter(|&(_, &price)| price > 0) {
            // By sheets and by part of the set: the most they are worth with that part in them, and how it is divided.
            let whole = filling.whole(bag);
            let around: Vec<Option<i128>> =
                (0..=whole).map(|part| if part == 0 { None } else { filling.around(bag, part) }).collect();
            let mut best: Vec<Option<(i128, Vec<usize>)>> =
                around.iter().enumerate().map(|(part, worth)| Some(((*worth)?, vec![part]))).collect();
            for sheets in 2..=supply.copies.min(4) {
                let more = |part: usize| {
                    let with = |last: usize| {
                        let (worth, parts) = best[part - last].as_ref()?;
                        let parts: Vec<usize> = parts.iter().copied().chain([last]).collect();
                        Some((worth + around[last]?, parts))
                    };
                    (1..part).filter(|&last| filling.within(bag, last, part)).filter_map(with).max()
                };
                best = (0..=whole).map(more).collect();
                if let Some(Some((worth, parts))) = best.last() {
                    let gain = worth + i128::from(price) - i128::from(one) * i128::from(sheets);
                    found.push((gain, bag, parts.clone()));
                }
            }
        }
        found.sort_by(|a, b| b.cmp(a));
        let fill = |(_, bag, parts): (i128, usize, Vec<usize>)| {
            let filled: Option<Vec<_>> = parts.iter().map(|&part| filling.best_with(bag, part)).collect();
            let filled = filled?;
            let mut counts = vec![0; prices.len()];
            counts[bag] = 1;
            for sheet in &filled {
                counts.iter_mut().zip(&sheet.counts).for_each(|(all, n)| *all += n);
            }
            let cost = one * i64::try_from(filled.len()).ok()?;
            let sheets = filled.into_iter().map(|sheet| sheet.layout).collect();
            Some(Fill { supply: number, bags: counted(&counts), cost, sheets })
        };
        found.into_iter().take(DIVIDED).filter_map(fill).collect()
    }
}

impl Supply {
    /// Length of all sheets of one print together, in ticks.
    pub(crate) fn all(&self) -> i64 {
        self.kind.sheet.height.ticks() * i64::from(self.copies)
    }
}

fn may(instance: &Instance, class: &Class, kind: &SheetKind, bag: usize, of: &Bag) -> bool {
    class.allowed[bag] && of.needs.iter().all(|&(size, _)| instance.size_allowed(size, kind))
}

pub(crate) fn counted(counts: &[u32]) -> Vec<(usize, u32)> {
    counts.iter().copied().enumerate().filter(|&(_, n)| n > 0).collect()
}
