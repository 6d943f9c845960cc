//! Whole plans built greedily under the prices; they also give the master columns that go well together.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use crate::planning::columns::bound::Fabric;
use crate::planning::columns::pool::Column;
use crate::planning::columns::price::{self, Taste};
use crate::planning::search::Search;

/// Questions to the oracle, at the usual effort, after which no further pass begins.
const MOST_QUESTIONS: u64 = 20_000;

impl Search<'_, '_> {
    /// One plan without prices; where there is much to ask, a few more until one is complete.
    pub(super) fn first_plan(&mut self) {
        let tastes = [Taste::Plain, Taste::Shaken, Taste::Shaken];
        let floor = self.floor(&vec![0; self.demands.len()]);
        for taste in &tastes[..if self.large() { 3 } else { 1 }] {
            if self.best.is_none() && !self.oracle.stopped() {
                let taken = self.one_pass(&floor, *taste);
                if self.serves_all(&taken) { self.keep(taken) } else { self.keep_part(taken) }
            }
        }
    }

    /// Builds whole plans greedily, each pass after the first with other shaken prices: always the print that
    /// gains most for its fabric on what is still left.
    pub(super) fn passes(&mut self, prices: &[i64], passes: u32) {
        let last = self.oracle.asked + MOST_QUESTIONS * u64::from(self.effort) / 100;
        let floor = self.floor(prices);
        for pass in 0..passes {
            let enough = self.first_will_do && self.best.is_some();
            if enough || self.oracle.asked > last || self.oracle.stopped() {
                break;
            }
            let taste = if pass == 0 { Taste::Plain } else { Taste::Shaken };
            let taken = self.one_pass(&floor, taste);
            if self.serves_all(&taken) {
                self.keep(taken);
            } else {
                self.keep_part(taken);
            }
        }
    }

    /// Without a price a bag would never be taken: the least is the fabric it covers, twice and more.
    pub(super) fn floor(&self, prices: &[i64]) -> Vec<i64> {
        let kinds = self.instance().classes.iter().flat_map(|class| &class.sheets);
        let dearest =
            kinds.map(|kind| kind.cost(kind.sheet.height) / kind.area().max(1) + 1).max().unwrap_or(0);
        let rate = dearest.saturating_mul(2).max(400);
        let bags = self.instance().bags.iter().zip(prices);
        bags.map(|(bag, &price)| price.max(bag.area.saturating_mul(rate))).collect()
    }

    /// One plan, print by print. The best column of a class stays its best while it can be used whole: what is
    /// left only shrinks (the lazy greedy of Minoux 1978).
    pub(super) fn one_pass(&mut self, prices: &[i64], taste: Taste) -> Vec<Column> {
        let mut left = self.demands.clone();
        let mut free = self.many.clone();
        let mut taken = Vec::new();
        let mut waiting: BinaryHeap<(i128, Reverse<usize>, Column)> = BinaryHeap::new();
        self.pass_ahead(prices, &left, taste);
        for class in 0..free.len() {
            if self.oracle.stopped() {
                break;
            }
            waiting.extend(self.best_of(class, prices, &left, taste));
        }
        while let Some((rate, Reverse(class), column)) = waiting.pop() {
            if column.bags.iter().any(|&(bag, count)| count > left[bag]) {
                waiting.extend(self.best_of(class, prices, &left, taste));
                continue;
            }
            for &(bag, count) in &column.bags {
                left[bag] -= count;
            }
            free[class] -= 1;
            if free[class] > 0 {
                waiting.push((rate, Reverse(class), column.clone()));
            }
            self.pool.add(column.clone());
            taken.push(column);
        }
        taken
    }

    /// The column of a class that is worth most for its fabric, with how much that is.
    fn best_of(
        &mut self,
        class: usize,
        prices: &[i64],
        left: &[u32],
        taste: Taste,
    ) -> Option<(i128, Reverse<usize>, Column)> {
        let columns =
            price::greedy(self.oracle, class, prices, left, Fabric::Weighted, taste, &mut self.random);
        let rate = |column: &Column| column.worth(prices) * 1_000 / i128::from(column.cost.max(1));
        let rated = columns.into_iter().map(|column| (rate(&column), Reverse(class), column));
        rated.max_by(|a, b| a.0.cmp(&b.0).then_with(|| b.2.cmp(&a.2)))
    }
}
