//! The most weight that can be cut from one print.
//!
//! Three ways, each a bound that holds whatever is cut. By area: a print's cloth is given to what weighs most for its
//! area. By sheets: a bag's weight is shared out over its pieces by area, and every sheet serves at most the best
//! cutting of it when no piece runs out. And by trying: how many of each bag, all counts in turn, giving up where the
//! pieces are known not to come out of the sheets (`room`).

use std::cmp::Reverse;
use std::collections::BTreeMap;

use super::bags::Bag;
use super::limits::Limits;
use super::prints::{Print, SheetKind};
use super::room::{Room, best_value};
use super::things::Shape;
use super::work::Work;

/// Prints with these sheets, which may serve these bags.
pub(super) struct Class<'a> {
    all: &'a [Bag],
    /// Of all bags, those it may serve, what weighs most for its area first.
    serves: Vec<usize>,
    /// Of all bags, what one weighs here.
    weights: Vec<i64>,
    /// Of all bags, how many it may serve at most.
    counts: Vec<u64>,
    sheets: Vec<SheetKind>,
    has_up: bool,
}

impl PartialEq for Class<'_> {
    fn eq(&self, other: &Self) -> bool {
        (&self.serves, &self.weights, &self.counts, &self.sheets, self.has_up)
            == (&other.serves, &other.weights, &other.counts, &other.sheets, other.has_up)
    }
}

impl<'a> Class<'a> {
    pub(super) fn new(all: &'a [Bag], print: &Print) -> Class<'a> {
        let counts: Vec<u64> =
            all.iter().map(|bag| if bag.may_come_from(print) { bag.most_from(print) } else { 0 }).collect();
        let weights: Vec<i64> = all
            .iter()
            .zip(&counts)
            .map(|(bag, &most)| if most > 0 { bag.weight_from(print) } else { 0 })
            .collect();
        let mut serves: Vec<usize> = (0..all.len()).filter(|&bag| weights[bag] > 0).collect();
        let rate = |one: usize, other: usize| i128::from(weights[one]) * area_of_bag(&all[other]);
        serves.sort_by(|&a, &b| rate(b, a).cmp(&rate(a, b)).then(a.cmp(&b)));
        Class { all, serves, weights, counts, sheets: print.sheets.clone(), has_up: print.has_up }
    }

    pub(super) fn serves_nothing(&self) -> bool {
        self.serves.is_empty()
    }

    /// The lesser of what area and sheets allow.
    pub(super) fn quickly(&self, work: &mut Work<'_>) -> i128 {
        let area = self.sheets.iter().map(|sheet| area_of(sheet) * i128::from(sheet.copies)).sum();
        let by_area = self.for_area(0, area);
        self.by_sheets(work).map_or(by_area, |by_sheets| by_sheets.min(by_area))
    }

    /// By trying, where the work suffices; else `known`. To find that it is no more than `will_do` is enough.
    pub(super) fn slowly(&self, known: i128, will_do: i128, work: &mut Work<'_>) -> i128 {
        let bags = || self.serves.iter().map(|&bag| &self.all[bag]);
        let single = bags().all(|bag| bag.shapes.values().sum::<u64>() == 1);
        let ruled = bags().any(|bag| bag.governed.is_some());
        let alone = |sheet: &SheetKind| vec![SheetKind { copies: 1, ..sheet.clone() }];
        let mut most = known;
        if single {
            // No piece is tied to another, so each sheet stands for itself.
            let each = self.sheets.iter().map(|sheet| {
                Tries::new(self, alone(sheet), work).run().map(|most| most * i128::from(sheet.copies))
            });
            most = each.sum::<Option<i128>>().map_or(most, |tried| tried.min(most));
        }
        // Rules between fabrics are kept by a print, over all its sheets.
        if !single || ruled {
            let tries = Tries { best: will_do.max(0), ..Tries::new(self, self.sheets.clone(), work) };
            most = tries.run().map_or(most, |tried| tried.min(most));
        }
        most
    }

    /// What bags from `first` on weigh at most on so much area; rounded up.
    fn for_area(&self, first: usize, mut left: i128) -> i128 {
        let mut total = 0;
        for &bag in &self.serves[first..] {
            let (weight, area) = (i128::from(self.weights[bag]), area_of_bag(&self.all[bag]));
            let count = i128::from(self.counts[bag]);
            let whole = (left / area).min(count);
            total += whole * weight;
            left -= whole * area;
            if whole < count {
                return total + (weight * left + area - 1) / area;
            }
        }
        total
    }

    fn by_sheets(&self, work: &mut Work<'_>) -> Option<i128> {
        let mut values: BTreeMap<&Shape, i64> = BTreeMap::new();
        for &bag in &self.serves {
            let (weight, bag) = (i128::from(self.weights[bag]), &self.all[bag]);
            for shape in bag.shapes.keys() {
                let own = i128::from(shape.width) * i128::from(shape.height);
                let share = (weight * own + area_of_bag(bag) - 1) / area_of_bag(bag);
                let value = values.entry(shape).or_insert(0);
                *value = (*value).max(i64::try_from(share).ok()?);
            }
        }
        let values: Vec<(&Shape, i64)> = values.into_iter().collect();
        let each = self.sheets.iter().map(|sheet| {
            best_value(sheet, &values, self.has_up, work)
                .map(|most| i128::from(most) * i128::from(sheet.copies))
        });
        each.sum()
    }
}

fn area_of(sheet: &SheetKind) -> i128 {
    i128::from(sheet.width.max(0)) * i128::from(sheet.height.max(0))
}

fn area_of_bag(bag: &Bag) -> i128 {
    let area =
        |(shape, &n): (&Shape, &u64)| i128::from(shape.width) * i128::from(shape.height) * i128::from(n);
    bag.shapes.iter().map(area).sum::<i128>().max(1)
}

/// All counts of all bags in turn, on given sheets.
struct Tries<'a, 'b, 'w> {
    class: &'a Class<'a>,
    room: Room,
    limits: Limits,
    /// By bag served: which shape, how often.
    needs: Vec<Vec<(usize, u32)>>,
    area: i128,
    best: i128,
    work: &'b mut Work<'w>,
}

impl<'a, 'b, 'w> Tries<'a, 'b, 'w> {
    fn new(class: &'a Class<'a>, sheets: Vec<SheetKind>, work: &'b mut Work<'w>) -> Tries<'a, 'b, 'w> {
        let mut shapes: Vec<&Shape> =
            class.serves.iter().flat_map(|&bag| class.all[bag].shapes.keys()).collect();
        // Large pieces first: where there are too many for all of them to be looked at, those decide.
        shapes.sort_by_key(|shape| (Reverse(i128::from(shape.width) * i128::from(shape.height)), *shape));
        shapes.dedup();
        let needs = class.serves.iter().map(|&bag| {
            let shape = |(shape, &n): (&Shape, &u64)| {
                let at = shapes.iter().position(|known| *known == shape).expect("every shape is listed");
                (at, u32::try_from(n).unwrap_or(u32::MAX))
            };
            class.all[bag].shapes.iter().map(shape).collect()
        });
        let area = sheets.iter().map(|sheet| area_of(sheet) * i128::from(sheet.copies)).sum();
        let needs = needs.collect();
        let room = Room::new(shapes.into_iter().cloned().collect(), sheets, class.has_up, work);
        let limits = Limits::new(
            class.serves.iter().map(|&bag| (class.all[bag].count, class.all[bag].governed.as_ref())),
        );
        Tries { class, room, limits, needs, area, best: 0, work }
    }

    /// The most weight met, or what it started from; `None` when the work ended first.
    fn run(mut self) -> Option<i128> {
        let mut counts = vec![0; self.class.serves.len()];
        let area = self.area;
        self.dig(0, &mut counts, area, 0)?;
        Some(self.best)
    }

    fn dig(&mut self, at: usize, counts: &mut Vec<u64>, left: i128, weight: i128) -> Option<()> {
        self.work.take(1)?;
        self.best = self.best.max(weight);
        if at == counts.len() || weight + self.class.for_area(at, left) <= self.best {
            return Some(());
        }
        let each = i128::from(self.class.weights[self.class.serves[at]]);
        let bag = self.class.serves[at];
        let area = area_of_bag(&self.class.all[bag]);
        let mut most = 0;
        // Those after it have no count yet.
        while most < self.class.counts[bag] && i128::from(most + 1) * area <= left {
            counts[at] = most + 1;
            if !self.limits.allow(counts, self.work)? || !self.comes_out(counts)? {
                break;
            }
            most += 1;
        }
        for count in (0..=most).rev() {
            counts[at] = count;
            let more = i128::from(count);
            self.dig(at + 1, counts, left - more * area, weight + more * each)?;
        }
        Some(())
    }

    /// False when the pieces are known not to come out of the sheets; `None` when the work is done.
    fn comes_out(&mut self, counts: &[u64]) -> Option<bool> {
        let mut pieces = vec![0u32; self.room.shapes()];
        for (needs, &count) in self.needs.iter().zip(counts) {
            for &(shape, each) in needs {
                let more = each.saturating_mul(u32::try_from(count).unwrap_or(u32::MAX));
                pieces[shape] = pieces[shape].saturating_add(more);
            }
        }
        self.room.may_hold(&pieces, self.work)
    }
}
