//! A complete plan made cheaper: a few prints are emptied, and what they served is placed again within less fabric.

use itertools::Itertools as _;
use rand::Rng as _;
use rand::seq::IndexedRandom as _;

use crate::planning::columns::bound::Fabric;
use crate::planning::columns::pool::Column;
use crate::planning::columns::price::{self, Taste};
use crate::planning::search::Search;
use crate::planning::search::repair::{Repair, Spot};

/// Questions worked out anew, at the usual effort, before a better plan is given up.
const TO_IMPROVE: u64 = 2_500;
/// Questions for what one try leaves over.
const FOR_ONE: u64 = 150;
/// Questions may be known already, so tries are counted as well: so many questions to each.
const TO_A_TRY: u64 = 16;
/// Prints emptied at once.
const MOST_EMPTIED: usize = 5;

impl Search<'_, '_> {
    /// Empties a few prints, serves from them again what they served, in another order, and goes on as long as that
    /// takes no more fabric.
    pub(in crate::planning::search) fn improve(&mut self, progress: &mut dyn FnMut(Option<i64>, i128)) {
        let Some((cost, columns)) = self.best.clone() else { return };
        let questions = TO_IMPROVE * u64::from(self.effort) / 100;
        let last = self.oracle.fresh() + questions;
        let start = self.hand_out(columns);
        let bound = self.bound;
        let prices = self.floor(&vec![0; self.demands.len()]);
        let mut repair = Repair::new(self, &start);
        if repair.hardest().is_some() {
            return; // found by a longer look than is taken here
        }
        let mut kept = repair.now.clone();
        let mut best = cost;
        let mut tries = 0;
        while !repair.spent(last) && tries < questions / TO_A_TRY && i128::from(best) > bound {
            tries += 1;
            // Mostly something cheaper is asked for, now and then only something else.
            repair.limit = if tries % 4 == 0 { kept.cost } else { kept.cost - 1 };
            repair.again(&prices);
            if repair.complete(FOR_ONE) {
                kept = repair.now.clone();
            } else {
                repair.now = kept.clone();
            }
            if kept.cost < best {
                best = kept.cost;
                let columns = repair.columns();
                repair.search.take(columns);
                progress(Some(best), bound);
            }
            repair.failed.fill(1);
        }
    }
}

impl Repair<'_, '_, '_> {
    /// An opened print that gives little for its fabric, or simply a small one, which is emptied more easily.
    fn wasteful(&mut self) -> Option<usize> {
        let open = (0..self.now.spots.len()).filter(|&spot| self.now.spots[spot].cost > 0).collect_vec();
        let random = &mut self.search.random;
        let some = (0..4).filter_map(|_| open.choose(random)).copied().collect_vec();
        let small = random.random_range(0..3) > 0;
        let rate = |spot: &Spot| i128::from(spot.used) * 1_000_000 / i128::from(spot.cost.max(1));
        let key = |spot: &Spot| if small { i128::from(spot.used) } else { rate(spot) };
        some.into_iter().min_by_key(|&spot| (key(&self.now.spots[spot]), spot))
    }

    /// Empties a few prints and gives them, one after the other, what greedily goes into each.
    fn again(&mut self, prices: &[i64]) {
        let many = self.search.random.random_range(1..=MOST_EMPTIED);
        let mut emptied = self.wasteful().into_iter().collect_vec();
        for _ in 1..many {
            let other = self.search.random.random_range(0..self.now.spots.len());
            if !emptied.contains(&other) {
                emptied.push(other);
            }
        }
        emptied.iter().for_each(|&spot| self.empty(spot));
        // The print that was to give way comes last.
        for &spot in emptied.iter().rev() {
            let class = self.now.spots[spot].class;
            let taste = if self.search.random.random() { Taste::Plain } else { Taste::Shaken };
            let search = &mut *self.search;
            let (fabric, left, random) = (Fabric::Weighted, &self.now.left, &mut search.random);
            let columns = price::greedy(search.oracle, class, prices, left, fabric, taste, random);
            let limit = self.limit - self.now.cost;
            let within = columns.into_iter().filter(|column| column.cost <= limit);
            let rate = |column: &Column| column.worth(prices) * 1_000 / i128::from(column.cost.max(1));
            if let Some(column) = within.max_by_key(rate) {
                self.set(spot, column.bags, column.cost);
            }
        }
    }
}
