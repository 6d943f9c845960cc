//! Whole plans built greedily under the prices; they also give the master columns that go well together.

use crate::planning::bound::Fabric;
use crate::planning::pool::Column;
use crate::planning::price::{self, Taste};
use crate::planning::search::Search;

impl Search<'_, '_> {
    /// Builds whole plans greedily, each pass after the first with other shaken prices: always the print that gains most for its fabric on what is still left.
    pub(super) fn passes(&mut self, prices: &[i64], passes: u32) {
        for pass in 0..passes {
            let taste = if pass == 0 { Taste::Plain } else { Taste::Shaken };
            // Without a price a bag would never be taken: the floor is the fabric it covers, twice.
            let floor: Vec<i64> = self
                .instance()
                .bags
                .iter()
                .zip(prices)
                .map(|(bag, &price)| price.max(bag.area.saturating_mul(400)))
                .collect();
            let mut left = self.demands.clone();
            let mut free = self.many.clone();
            let mut taken = Vec::new();
            while left.iter().any(|&n| n > 0) {
                let Some(column) = self.best_next(&floor, &left, &free, taste) else { break };
                free[column.class] -= 1;
                for &(bag, count) in &column.bags {
                    left[bag] -= count;
                }
                self.pool.add(column.clone());
                taken.push(column);
            }
            if left.iter().all(|&n| n == 0) {
                self.keep(taken);
            }
        }
    }

    fn best_next(&mut self, prices: &[i64], left: &[u32], free: &[u32], taste: Taste) -> Option<Column> {
        let mut best: Option<(i128, Column)> = None;
        for class in (0..free.len()).filter(|&class| free[class] > 0) {
            for column in
                price::greedy(self.oracle, class, prices, left, Fabric::Weighted, taste, &mut self.random)
            {
                let rate = column.worth(prices) * 1_000 / i128::from(column.cost.max(1));
                if best.as_ref().is_none_or(|(most, _)| rate > *most) {
                    best = Some((rate, column));
                }
            }
        }
        best.map(|(_, column)| column)
    }
}
