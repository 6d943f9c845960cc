//! A plan for a quilt of very many sets and sizes, sheet by sheet: column generation over ways to fill sheets with whole
//! sets, whole times near its fractional answer, and what those leave out filled in greedily.
//!
//! Where the plans of a print are too many to list, pricing whole prints takes too long. Sheets filled with whole sets
//! are priced by value tables (`planning/columns/supply.rs`, `planning/columns/anywhere.rs`), and any such sheets of a print together are
//! a plan of it. How often each is taken is annealed (`search/many/anneal.rs`).

use std::cmp::Reverse;
use std::collections::BTreeSet;

use crate::length::Length;
use crate::planning::columns::pool::Column;
use crate::planning::columns::prices::{Part, Prices, parts_of};
use crate::planning::columns::supply::{Fill, Supplies};
use crate::planning::instance::Instance;
use crate::planning::search::Search;
use crate::planning::search::hand::Hand;
use crate::planning::search::many::anneal::Choices;
use crate::planning::side_by_side;

/// Rounds of prices before a first plan is made, and in all.
const ROUNDS: [usize; 2] = [6, 100];
/// Whole times for the fillings are looked for at least and at most so often at both, with so many hundredths of the usual
/// steps: more often where there are few fillings.
const TRIES: [(u64, u64, u32); 2] = [(1, 1, 20), (4, 8, 100)];
/// As often as this has the fillings taken.
const FILLINGS: u64 = 2_000;
/// Of the plans that leave something out, so many are repaired, the most promising first.
const REPAIRED: usize = 3;
/// Rounds end when so many have made the fractional answer cheaper by less than one part in so many.
const SLOW: (usize, i128) = (12, 3_000);
/// Turns of inner loops in all tables, at the usual effort.
const STEPS: u64 = 30_000_000_000;

/// What tells fillings apart: supply, length used, (bag, count).
type Key = (usize, Length, Vec<(usize, u32)>);

/// The ways to fill sheets that are known.
struct Fills<'s> {
    supplies: &'s Supplies,
    all: Vec<Fill>,
    known: BTreeSet<Key>,
    prices: Prices,
    /// Prices at which the next ones are looked for.
    at: Vec<i64>,
    /// What the fractional answer came to after every round.
    promised: Vec<i128>,
    /// True when no other would make the fractional answer cheaper, or only slowly.
    done: bool,
}

impl Search<'_, '_> {
    /// Builds plans from filled sheets; what they leave out is placed by [`Search::repair`], with so many questions.
    pub(crate) fn by_fills(&mut self, questions: u64, progress: &mut dyn FnMut(Option<i64>, i128)) {
        let supplies = Supplies::new(self.instance(), self.oracle.stop());
        let rounds = STEPS / 100 * u64::from(self.effort.max(1)) / supplies.steps().max(1);
        let rounds = usize::try_from(rounds).unwrap_or(usize::MAX);
        if supplies.all.is_empty() || rounds < ROUNDS[0] {
            return;
        }
        let caps = self.floor(&vec![0; self.demands.len()]);
        let prices = Prices::new(&self.demands, &supplies.many(), &caps);
        let at = caps.iter().map(|cap| cap / 2).collect();
        let mut fills = Fills {
            supplies: &supplies,
            all: Vec::new(),
            known: BTreeSet::new(),
            prices,
            at,
            promised: Vec::new(),
            done: false,
        };
        let mut round = 0;
        for (upto, tries) in ROUNDS.into_iter().zip(TRIES) {
            while round < upto.min(rounds) && !fills.done && !self.oracle.stopped() {
                let anywhere = round >= ROUNDS[0] && !self.first_will_do;
                fills.more(self.instance(), round, anywhere, self.oracle.threads());
                round += 1;
            }
            if fills.all.is_empty() {
                return;
            }
            self.take_fills(&fills, &caps, tries, questions);
            progress(self.best.as_ref().map(|(cost, _)| *cost), 0);
            if self.first_will_do && self.best.is_some() {
                return;
            }
        }
    }

    /// A plan from whole times near the fractional answer, the best of so many tries; the rest is filled in greedily.
    fn take_fills(&mut self, fills: &Fills<'_>, caps: &[i64], tries: (u64, u64, u32), questions: u64) {
        let supplies = fills.supplies;
        let parts: Vec<Part<'_>> = fills.all.iter().map(|fill| supplies.part(fill)).collect();
        let many = supplies.many();
        let Some(times) = parts_of(&parts, &self.demands, &many, caps) else { return };
        let priced = fills.prices.prices().iter().zip(caps);
        let worth: Vec<i64> = priced.map(|(&price, &cap)| price.max(cap / 4)).collect();
        let of = (supplies, &fills.all[..], &self.demands[..]);
        let choices = Choices::new(of, &fills.prices, &worth, &times);
        let fillings: u64 = times.iter().map(|&(whole, _)| u64::from(whole)).sum();
        let (least, most, steps) = tries;
        let seeds: Vec<u64> = (1..=(FILLINGS / fillings.max(1)).clamp(least, most)).collect();
        let (effort, stop) = (self.effort * steps / 100, self.oracle.stop());
        let found =
            side_by_side::each(self.oracle.threads(), &seeds, |&seed| choices.anneal(effort, seed, stop));
        // Plans that leave something out: about what each will cost, and what it serves.
        let mut unfinished: Vec<(i128, Vec<Column>)> = Vec::new();
        for times in found {
            let mut hand = Hand::new(self.instance(), supplies);
            hand.take_all(&fills.all, &times);
            while !self.oracle.stopped() && self.fill_rest(supplies, &mut hand, &worth) {}
            let left = hand.left.iter().enumerate().map(|(bag, &n)| (bag, n)).collect::<Vec<_>>();
            let left = i128::from(self.area(&left));
            let columns = hand.columns(self.oracle);
            if self.serves_all(&columns) {
                self.take(columns);
                continue;
            }
            // What is left takes rather more fabric than as much of the rest.
            let cost = columns.iter().map(|column| i128::from(column.cost)).sum::<i128>();
            let served = columns.iter().map(|column| i128::from(self.area(&column.bags))).sum::<i128>();
            let counts = cost + cost * left * 3 / 2 / served.max(1);
            unfinished.push((counts, columns));
        }
        unfinished.sort();
        for (number, (counts, columns)) in unfinished.into_iter().take(REPAIRED).enumerate() {
            // Where much is left that guess tells little.
            if number > 0 && self.best.as_ref().is_some_and(|(cost, _)| i128::from(*cost) <= counts) {
                break;
            }
            self.fullest = (0, Vec::new());
            self.keep_part(columns);
            self.repair(questions);
            if self.best.is_none() {
                return; // too tight for another one to be worth the time
            }
        }
    }

    /// The filling that gives most for its fabric of what is left, as often as it can be used; false when none is left.
    fn fill_rest(&self, supplies: &Supplies, hand: &mut Hand<'_>, worth: &[i64]) -> bool {
        let wanted = |(&price, &left): (&i64, &u32)| if left > 0 { price } else { 0 };
        let wanted: Vec<i64> = worth.iter().zip(&hand.left).map(wanted).collect();
        let new = supplies.price(&wanted, &vec![0; supplies.all.len()], self.oracle.threads());
        let new = new.into_iter().map(|fill| fill.within(&hand.left, self.instance()));
        let rate = |fill: &Fill| fill.worth(worth) * 1_000 / i128::from(fill.cost.max(1));
        let mut new: Vec<Fill> = new.filter(|fill| !fill.bags.is_empty()).collect();
        new.sort_by_cached_key(|fill| Reverse(rate(fill)));
        // The first that a print has room for.
        let Some(best) = new.iter().find(|fill| hand.take(fill)) else { return false };
        while best.bags.iter().all(|&(bag, n)| n <= hand.left[bag]) && hand.take(best) {}
        true
    }
}

impl Fills<'_> {
    /// One round of column generation. The prices used are half way between the last ones and those of the columns known,
    /// which keeps them from swinging (Wentges 1997). Sets that lie anywhere take longer: they are for searches for the
    /// best plan.
    fn more(&mut self, instance: &Instance, round: usize, anywhere: bool, threads: usize) {
        let exact = self.at == self.prices.prices();
        let mut new = self.supplies.price(&self.at, &self.prices.of_classes(), threads);
        if anywhere {
            new.extend(self.supplies.price_anywhere(instance, &self.at, round as u64, threads));
        }
        new.retain(|fill| self.known.insert((fill.supply, fill.used(), fill.bags.clone())));
        let idle = new.is_empty();
        let parts: Vec<Part<'_>> = new.iter().map(|fill| self.supplies.part(fill)).collect();
        self.prices.add_parts(&parts);
        self.all.extend(new);
        let promise = self.prices.promise();
        self.promised.push(promise);
        let before = round.checked_sub(SLOW.0).filter(|&before| before >= ROUNDS[0]);
        let slow = before.is_some_and(|before| self.promised[before] - promise < promise / SLOW.1);
        self.done = idle && exact || slow;
        let to = self.prices.prices();
        let halfway = |(&to, &from): (&i64, &i64)| from + (to - from) / 2;
        self.at =
            if idle || round % 4 == 3 { to.to_vec() } else { to.iter().zip(&self.at).map(halfway).collect() };
    }
}
