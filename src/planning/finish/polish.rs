//! Improves a complete plan without opening more fabric: first the leftovers, then how few layouts there are.
//!
//! A local search that moves one bag between two opened prints, or swaps two, and then shares out evenly what two kinds of
//! prints serve. What it reaches is better, not proved best; the fabric, which comes first, is never given up for it.

use std::collections::{BTreeMap, BTreeSet};

use crate::cutting::{self, Work};
use crate::planning::Rules;
use crate::planning::instance::{Class, Instance};
use crate::planning::oracle::cut_print::Cutting;
use crate::planning::oracle::{Oracle, QUICK};
use crate::planning::search::Assignment;

/// Ways of cutting one print that may be looked at: a few tenths of a second.
const MOST_LOOKS: u32 = 600;
/// Steps spent on the leftovers of one sheet while searching.
const LOOK_STEPS: u64 = 20_000;

type Bags = Vec<(usize, u32)>;

/// What one opened print comes to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Shape {
    cost: i64,
    leftover: i128,
}

/// The assignment with better leftovers, then fewer layouts, for no more fabric.
pub(crate) fn polish(oracle: &mut Oracle<'_>, assignment: Assignment, rules: &Rules) -> Assignment {
    let mut polish = Polish {
        instance: oracle.instance,
        oracle,
        rules,
        known: BTreeMap::new(),
        looks: MOST_LOOKS * rules.effort.max(1) / 100,
        assignment,
    };
    while polish.improve_once() {}
    while polish.even_once() {}
    polish.assignment
}

struct Polish<'a, 'b> {
    instance: &'b Instance,
    oracle: &'a mut Oracle<'b>,
    rules: &'a Rules,
    known: BTreeMap<(usize, Bags), Option<Shape>>,
    /// Looks left.
    looks: u32,
    assignment: Assignment,
}

/// An opened print: class, holder.
type Spot = (usize, usize);

impl Polish<'_, '_> {
    /// Makes the first change that improves; false when none does or the looks are spent.
    fn improve_once(&mut self) -> bool {
        let spots = self.different_spots();
        for &from in &spots {
            for &to in &spots {
                for (bag, _) in self.bags(from).clone() {
                    for back in std::iter::once(None).chain(self.bags(to).clone().into_iter().map(Some)) {
                        if self.looks == 0 || self.oracle.stopped() {
                            return false;
                        }
                        if self.try_move(from, to, bag, back.map(|(bag, _)| bag)) {
                            return true;
                        }
                    }
                }
            }
        }
        false
    }

    /// Shares out evenly what two kinds of opened prints serve, where that makes them one kind: sheets cut alike can be
    /// stacked and cut at once. Never for more fabric or worse leftovers. False when no two kinds can be so joined.
    fn even_once(&mut self) -> bool {
        for class in 0..self.assignment.len() {
            let mut kinds: BTreeMap<&Bags, Vec<usize>> = BTreeMap::new();
            for (holder, bags) in
                self.assignment[class].iter().enumerate().filter(|(_, bags)| !bags.is_empty())
            {
                kinds.entry(bags).or_default().push(holder);
            }
            let kinds: Vec<(Bags, Vec<usize>)> =
                kinds.into_iter().map(|(bags, holders)| (bags.clone(), holders)).collect();
            for (at, (one, ones)) in kinds.iter().enumerate() {
                for (other, others) in &kinds[at + 1..] {
                    if self.looks == 0 || self.oracle.stopped() {
                        return false;
                    }
                    let Some(even) = evenly((one, ones.len()), (other, others.len())) else { continue };
                    if !self.instance.obeys(&even) {
                        continue;
                    }
                    let shapes = (self.shape(class, one), self.shape(class, other), self.shape(class, &even));
                    let (Some(a), Some(b), Some(c)) = shapes else { continue };
                    let many = |holders: &[usize]| i64::try_from(holders.len()).unwrap_or(i64::MAX);
                    let (m, n) = (many(ones), many(others));
                    let leftover = i128::from(m) * a.leftover + i128::from(n) * b.leftover;
                    if c.cost * (m + n) > a.cost * m + b.cost * n || i128::from(m + n) * c.leftover < leftover
                    {
                        continue;
                    }
                    for &holder in ones.iter().chain(others) {
                        self.assignment[class][holder].clone_from(&even);
                    }
                    return true;
                }
            }
        }
        false
    }

    /// One opened print of every kind (class and bags), and a second where there is one.
    fn different_spots(&self) -> Vec<Spot> {
        let mut seen: BTreeMap<(usize, &Bags), u32> = BTreeMap::new();
        let mut spots = Vec::new();
        for (class, holders) in self.assignment.iter().enumerate() {
            for (holder, bags) in holders.iter().enumerate().filter(|(_, bags)| !bags.is_empty()) {
                let times = seen.entry((class, bags)).or_insert(0);
                *times += 1;
                if *times <= 2 {
                    spots.push((class, holder));
                }
            }
        }
        spots
    }

    fn bags(&self, (class, holder): Spot) -> &Bags {
        &self.assignment[class][holder]
    }

    fn class(&self, spot: Spot) -> &Class {
        &self.instance.classes[spot.0]
    }

    fn try_move(&mut self, from: Spot, to: Spot, bag: usize, back: Option<usize>) -> bool {
        if from == to || back == Some(bag) || !self.class(to).allowed[bag] {
            return false;
        }
        if back.is_some_and(|back| from > to || !self.class(from).allowed[back]) {
            return false; // a swap is tried from one side only
        }
        let (old_from, old_to) = (self.bags(from).clone(), self.bags(to).clone());
        let (mut new_from, mut new_to) = (without(&old_from, bag), with(&old_to, bag));
        if let Some(back) = back {
            new_from = with(&new_from, back);
            new_to = without(&new_to, back);
        }
        if !self.instance.obeys(&new_from) || !self.instance.obeys(&new_to) {
            return false;
        }
        let (Some(a), Some(b)) = (self.shape(from.0, &old_from), self.shape(to.0, &old_to)) else {
            return false;
        };
        let (Some(c), Some(d)) = (self.shape(from.0, &new_from), self.shape(to.0, &new_to)) else {
            return false;
        };
        let before = (a.cost + b.cost, -(a.leftover + b.leftover));
        let after = (c.cost + d.cost, -(c.leftover + d.leftover));
        if after > before {
            return false;
        }
        if after == before && self.layouts_after(from, to, &new_from, &new_to) >= self.layouts() {
            return false;
        }
        self.assignment[from.0][from.1] = new_from;
        self.assignment[to.0][to.1] = new_to;
        true
    }

    /// Prints that are cut differently: those of which equal sheets yield equal pieces count once.
    fn layouts(&self) -> usize {
        let mut different = BTreeSet::new();
        for (class, holders) in self.instance.classes.iter().zip(&self.assignment) {
            for bags in holders.iter().filter(|bags| !bags.is_empty()) {
                different.insert((&class.sheets, self.instance.pieces(bags)));
            }
        }
        different.len()
    }

    fn layouts_after(&mut self, from: Spot, to: Spot, new_from: &Bags, new_to: &Bags) -> usize {
        let old_from = std::mem::replace(&mut self.assignment[from.0][from.1], new_from.clone());
        let old_to = std::mem::replace(&mut self.assignment[to.0][to.1], new_to.clone());
        let count = self.layouts();
        self.assignment[from.0][from.1] = old_from;
        self.assignment[to.0][to.1] = old_to;
        count
    }

    fn shape(&mut self, class: usize, bags: &Bags) -> Option<Shape> {
        if bags.is_empty() {
            return Some(Shape { cost: 0, leftover: 0 });
        }
        let key = (class, bags.clone());
        if let Some(&known) = self.known.get(&key) {
            return known;
        }
        if self.looks == 0 {
            return None;
        }
        self.looks -= 1;
        let pieces = self.instance.pieces(bags);
        let kinds = self.instance.kinds(self.instance.classes[class].turn);
        let cut = self.oracle.cheapest(&self.instance.classes[class], &pieces, QUICK);
        let shape = match &*cut {
            Cutting::Yes { cost, sheets, .. } => {
                let mut leftover = 0;
                for sheet in sheets {
                    let kind = &self.instance.classes[class].sheets[sheet.kind];
                    if kind.by_length {
                        continue; // what is not used stays on the bolt
                    }
                    let mut counts = vec![0; kinds.len()];
                    for (size, _, _) in sheet.layout.pieces() {
                        counts[size] += 1;
                    }
                    let useful = self.rules.useful_side;
                    let mut work = Work::steps(LOOK_STEPS).unless(self.oracle.stop());
                    let best =
                        cutting::most_leftover(kind.sheet, &kinds, &counts, self.rules.wishes(), &mut work);
                    let rects = best.as_ref().unwrap_or(&sheet.layout).leftovers();
                    leftover += rects.iter().map(|&rect| cutting::leftover_value(rect, useful)).sum::<i128>();
                }
                Some(Shape { cost: *cost, leftover })
            }
            Cutting::No(_) | Cutting::Unknown => None,
        };
        self.known.insert(key, shape);
        shape
    }
}

fn with(bags: &Bags, bag: usize) -> Bags {
    let mut all: BTreeMap<usize, u32> = bags.iter().copied().collect();
    *all.entry(bag).or_insert(0) += 1;
    all.into_iter().collect()
}

fn without(bags: &Bags, bag: usize) -> Bags {
    bags.iter().map(|&(b, n)| (b, if b == bag { n - 1 } else { n })).filter(|&(_, n)| n > 0).collect()
}

/// What each of all holders serves when `one` and `other`, served so often, are shared out evenly.
fn evenly((one, ones): (&Bags, usize), (other, others): (&Bags, usize)) -> Option<Bags> {
    let (ones, others) = (u32::try_from(ones).ok()?, u32::try_from(others).ok()?);
    let mut total: BTreeMap<usize, u32> = BTreeMap::new();
    for (bags, times) in [(one, ones), (other, others)] {
        for &(bag, count) in bags {
            *total.entry(bag).or_insert(0) += count.checked_mul(times)?;
        }
    }
    let all = ones + others;
    total
        .values()
        .all(|count| count % all == 0)
        .then(|| total.into_iter().map(|(b, n)| (b, n / all)).collect())
}
