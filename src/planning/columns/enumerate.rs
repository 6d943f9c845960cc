//! Every maximal plan of a small class of prints, so that a bound over them is exact.
//!
//! Plans are closed under taking something out, so a plan is grown one bag at a time and only tried when
//! every plan it contains is known to fit (the level-wise search of frequent sets, Agrawal and Srikant 1994).

use std::collections::HashSet;

use crate::planning::columns::pool::Column;
use crate::planning::instance::holding::SheetKind;
use crate::planning::instance::{Class, Instance};
use crate::planning::oracle::cut_print::Cutting;
use crate::planning::oracle::{Oracle, QUICK, THOROUGH};

/// Questions to the oracle before one opening is given up, at the usual effort; beyond it other methods are better.
const MOST_QUESTIONS: u64 = 2_000;
/// Plans listed for one opening before the search is given up: the integer master would drown in more.
const MOST_PLANS: usize = 1_500;
/// Yardage whose bags can be combined in more ways is not enumerated: each way is a strip packing.
const MOST_YARDAGE_PLANS: u64 = 64;
/// Prints with more sheets than this are not enumerated.
const MOST_SHEETS: u32 = 3;

/// One choice of fabric of a print to open.
pub(crate) struct Opening {
    /// The fabric: sheet kinds with the number opened as `copies`; empty for yardage, which opens as it is used.
    pub(crate) sheets: Vec<SheetKind>,
    /// What opening it counts at least.
    pub(crate) least: i64,
    /// Every maximal plan on exactly this fabric; `None` when there were too many to list or an answer
    /// of the oracle stayed open.
    pub(crate) plans: Option<Vec<Column>>,
}

/// Lists the maximal plans of a class by opening, cheapest first; empty when the class is not for listing
/// (many sheets, yardage for many kinds of bag).
pub(crate) fn maximal_plans(oracle: &mut Oracle<'_>, class_index: usize, effort: u32) -> Vec<Opening> {
    let class = &oracle.instance.classes[class_index];
    if !class.whole_sheets() {
        return yardage_plans(oracle, class_index).unwrap_or_default();
    }
    if class.sheet_count() > MOST_SHEETS {
        return Vec::new();
    }
    let mut all = Vec::new();
    for sheets in openings(class) {
        let search = Levels::new(oracle, class_index, &sheets, effort);
        let cost = search.cost;
        let found = search.run();
        let plans = found.map(|plans| {
            plans.into_iter().map(|bags| Column { class: class_index, bags, cost }).collect::<Vec<Column>>()
        });
        all.push(Opening { sheets, least: cost, plans });
    }
    all
}

/// Every maximal plan of one print of a class when all it has is opened, whatever that costs: what a proof
/// that nothing fits needs. `None` when there were too many or an answer stayed open.
pub(crate) fn with_all_sheets(oracle: &mut Oracle<'_>, class: usize, effort: u32) -> Option<Vec<Column>> {
    let sheets = oracle.instance.classes[class].sheets.clone();
    let search = Levels::new(oracle, class, &sheets, effort);
    let cost = search.cost;
    Some(search.run()?.into_iter().map(|bags| Column { class, bags, cost }).collect())
}

/// The opening of all the sheets of one print, for verdicts, which ask no price: what fits on some of them fits on all.
/// `None` when the class is not for listing.
pub(crate) fn all_opened(oracle: &mut Oracle<'_>, class_index: usize, effort: u32) -> Option<Opening> {
    let class = &oracle.instance.classes[class_index];
    let sheets = class.sheets.clone();
    if class.whole_sheets() {
        let few = class.sheet_count() <= MOST_SHEETS;
        return few.then(|| Opening {
            sheets,
            least: 0,
            plans: with_all_sheets(oracle, class_index, effort),
        });
    }
    yardage_ways(oracle.instance, class_index)?;
    let plans = with_all_sheets(oracle, class_index, effort)?;
    Some(Opening { sheets, least: 0, plans: Some(plans) })
}

/// Every plan of a class with yardage, each an opening of its own, because what it opens depends on the plan.
/// `None` when there are many or an answer stayed open.
fn yardage_plans(oracle: &mut Oracle<'_>, class_index: usize) -> Option<Vec<Opening>> {
    let instance = oracle.instance;
    let class = &instance.classes[class_index];
    let bags: Vec<usize> = (0..instance.bags.len()).filter(|&bag| class.allowed[bag]).collect();
    let ways = yardage_ways(instance, class_index)?;
    let mut all = Vec::new();
    for number in 1..ways {
        let mut rest = number;
        let mut plan = Vec::new();
        for &bag in &bags {
            let base = u64::from(instance.bags[bag].demand()) + 1;
            let count = u32::try_from(rest % base).expect("below a count");
            rest /= base;
            if count > 0 {
                plan.push((bag, count));
            }
        }
        if !instance.obeys(&plan) {
            continue;
        }
        match &*oracle.cut(class, &instance.pieces(&plan), QUICK) {
            Cutting::Yes { cost, least, .. } => {
                let column = Column { class: class_index, bags: plan, cost: *cost };
                all.push(Opening { sheets: Vec::new(), least: *least, plans: Some(vec![column]) });
            }
            Cutting::No(_) => {}
            Cutting::Unknown => return None,
        }
    }
    if all.is_empty() {
        // Known to serve nothing, which is not the same as not known.
        all.push(Opening { sheets: Vec::new(), least: 0, plans: Some(Vec::new()) });
    }
    Some(all)
}

/// In how many ways the bags of a class with yardage can be combined, if they are few.
fn yardage_ways(instance: &Instance, class: usize) -> Option<u64> {
    let allowed = (0..instance.bags.len()).filter(|&bag| instance.classes[class].allowed[bag]);
    allowed
        .map(|bag| u64::from(instance.bags[bag].demand()) + 1)
        .try_fold(1u64, |product, n| product.checked_mul(n).filter(|&p| p <= MOST_YARDAGE_PLANS))
}

/// Every choice of sheets to open, as sheet kinds with the number opened.
fn openings(class: &Class) -> Vec<Vec<SheetKind>> {
    let mut all: Vec<Vec<SheetKind>> = vec![Vec::new()];
    for kind in &class.sheets {
        let longer = all.iter().flat_map(|opened| {
            (0..=kind.copies).map(|copies| {
                let mut next = opened.clone();
                if copies > 0 {
                    next.push(SheetKind { copies, ..*kind });
                }
                next
            })
        });
        all = longer.collect();
    }
    all.retain(|opened| !opened.is_empty());
    all.sort_by_key(|opened| (cost(opened), opened.clone()));
    all
}

fn cost(opened: &[SheetKind]) -> i64 {
    opened.iter().map(|kind| kind.cost(kind.sheet.height) * i64::from(kind.copies)).sum()
}

struct Levels<'a, 'b> {
    oracle: &'a mut Oracle<'b>,
    class: usize,
    sheets: &'a [SheetKind],
    /// Bags that may come from here.
    bags: Vec<usize>,
    cost: i64,
    area: i64,
    /// The last question that may be asked.
    last: u64,
}

impl<'a, 'b> Levels<'a, 'b> {
    fn new(oracle: &'a mut Oracle<'b>, class: usize, sheets: &'a [SheetKind], effort: u32) -> Levels<'a, 'b> {
        let instance: &Instance = oracle.instance;
        let bags = (0..instance.bags.len()).filter(|&bag| instance.classes[class].allowed[bag]).collect();
        let area = sheets.iter().map(|kind| kind.area() * i64::from(kind.copies)).sum();
        let last = oracle.asked + MOST_QUESTIONS * u64::from(effort) / 100;
        Levels { oracle, class, sheets, bags, cost: cost(sheets), area, last }
    }

    fn run(mut self) -> Option<Vec<Vec<(usize, u32)>>> {
        let mut maximal = Vec::new();
        let mut level: Vec<Vec<u32>> = vec![vec![0; self.bags.len()]];
        while !level.is_empty() {
            let known: HashSet<Vec<u32>> = level.iter().cloned().collect();
            let mut next: Vec<Vec<u32>> = Vec::new();
            let mut fits: HashSet<Vec<u32>> = HashSet::new();
            let mut refused: HashSet<Vec<u32>> = HashSet::new();
            for plan in &level {
                let mut grows = false;
                for place in 0..self.bags.len() {
                    let mut larger = plan.clone();
                    larger[place] += 1;
                    if fits.contains(&larger) {
                        grows = true;
                    } else if !refused.contains(&larger) {
                        if self.known_below(&larger, &known) && self.fits(&larger)? {
                            grows = true;
                            fits.insert(larger.clone());
                            next.push(larger);
                        } else {
                            refused.insert(larger);
                        }
                    }
                }
                if !grows {
                    maximal.push(self.named(plan));
                }
            }
            if level[0].iter().all(|&n| n == 0) && self.pairs(&next) > self.left() {
                return None; // each of them would be a question
            }
            if maximal.len() > MOST_PLANS || next.len() > MOST_PLANS * 8 {
                return None;
            }
            level = next;
        }
        maximal.retain(|bags: &Vec<(usize, u32)>| !bags.is_empty());
        Some(maximal)
    }

    /// How many of these plans of one bag go together two and two by area.
    fn pairs(&self, singles: &[Vec<u32>]) -> u64 {
        let mut areas: Vec<i64> = singles
            .iter()
            .map(|plan| {
                plan.iter()
                    .zip(&self.bags)
                    .map(|(&n, &bag)| i64::from(n) * self.oracle.instance.bags[bag].area)
                    .sum()
            })
            .collect();
        areas.sort_unstable();
        let together =
            |(at, &one): (usize, &i64)| areas[..at].partition_point(|&other| one + other <= self.area) as u64;
        areas.iter().enumerate().map(together).sum()
    }

    fn left(&self) -> u64 {
        self.last.saturating_sub(self.oracle.asked)
    }

    /// Is every plan with one bag less known to fit?
    fn known_below(&self, plan: &[u32], known: &HashSet<Vec<u32>>) -> bool {
        let mut smaller = plan.to_vec();
        (0..plan.len()).filter(|&place| plan[place] > 0).all(|place| {
            smaller[place] -= 1;
            let there = known.contains(&smaller);
            smaller[place] += 1;
            there
        })
    }

    fn named(&self, plan: &[u32]) -> Vec<(usize, u32)> {
        self.bags.iter().zip(plan).filter(|&(_, &n)| n > 0).map(|(&bag, &n)| (bag, n)).collect()
    }

    fn fits(&mut self, plan: &[u32]) -> Option<bool> {
        let instance = self.oracle.instance;
        let named = self.named(plan);
        if named.iter().any(|&(bag, n)| n > instance.bags[bag].demand()) {
            return Some(false);
        }
        if !instance.obeys(&named) {
            return Some(false);
        }
        let area: i64 = named.iter().map(|&(bag, n)| instance.bags[bag].area * i64::from(n)).sum();
        if area > self.area {
            return Some(false);
        }
        if self.oracle.asked > self.last {
            return None;
        }
        let turn = instance.classes[self.class].turn;
        let pieces = instance.pieces(&named);
        for steps in [QUICK, THOROUGH] {
            match &*self.oracle.fits_all_of(self.sheets, turn, &pieces, steps) {
                Cutting::Yes { .. } => return Some(true),
                Cutting::No(_) => return Some(false),
                Cutting::Unknown => {}
            }
        }
        None
    }
}
