//! Column generation: prices from the columns known, columns from the prices, and the bound of each round.

use crate::planning::bound::{self, Fabric};
use crate::planning::lp::Prices;
use crate::planning::pool::Column;
use crate::planning::price::{self, Taste};
use crate::planning::search::Search;

/// New columns taken from a list of plans in one round.
const NEW_PER_ROUND: usize = 4;

impl Search<'_, '_> {
    /// What leaving a bag out counts at most: far above the fabric of any print that holds it alone.
    pub(super) fn caps(&self) -> Vec<i64> {
        let dearest = self.pool.columns().iter().map(|column| column.cost).max().unwrap_or(1);
        vec![dearest.saturating_mul(8); self.demands.len()]
    }

    /// Column generation. Returns the last prices; keeps the best bound.
    pub(super) fn generate(&mut self, caps: &[i64], fabric: Fabric, rounds: u32) -> Vec<i64> {
        let mut master = Prices::new(&self.demands, &self.many, caps);
        let mut given = 0;
        let mut best_bound = i128::MIN;
        let mut best_prices = caps.to_vec();
        for _ in 0..rounds {
            while given < self.pool.columns().len() {
                let mut column = self.pool.columns()[given].clone();
                if fabric == Fabric::Free {
                    column.cost = 0;
                }
                given += 1;
                if !master.add(&column) {
                    return best_prices;
                }
            }
            let prices = master.prices().to_vec();
            let most = bound::most_by_class(self.instance(), &self.openings, &prices, fabric);
            let least = bound::least(self.instance(), &most, &prices);
            if least > best_bound {
                best_bound = least;
                best_prices.clone_from(&prices);
            }
            if fabric == Fabric::Weighted {
                self.bound = self.bound.max(self.rounded_up(least));
            } else if least > 0 {
                return best_prices;
            }
            if !self.price_all(&prices, fabric) {
                best_prices = prices;
                break;
            }
        }
        best_prices
    }

    /// Looks for columns that gain more than any known column of their class. False when there was none.
    fn price_all(&mut self, prices: &[i64], fabric: Fabric) -> bool {
        let before = self.pool.columns().len();
        let worth = |column: &Column| match fabric {
            Fabric::Weighted => column.gain(prices),
            Fabric::Free => column.worth(prices),
        };
        let mut known = vec![0i128; self.many.len()];
        for column in self.pool.columns() {
            known[column.class] = known[column.class].max(worth(column));
        }
        let demands = self.demands.clone();
        for (class, &known) in known.iter().enumerate() {
            let mut better: Vec<(i128, Column)> = self.openings[class]
                .iter()
                .filter_map(|opening| opening.plans.as_ref())
                .flatten()
                .filter(|plan| worth(plan) > known)
                .map(|plan| (-worth(plan), plan.clone()))
                .collect();
            better.sort();
            better.truncate(NEW_PER_ROUND);
            if !self.is_listed(class) {
                for taste in [Taste::Plain, Taste::Shaken] {
                    let columns =
                        price::greedy(self.oracle, class, prices, &demands, fabric, taste, &mut self.random);
                    better.extend(
                        columns
                            .into_iter()
                            .filter(|column| worth(column) > known)
                            .map(|column| (-worth(&column), column)),
                    );
                }
            }
            for (_, column) in better {
                self.pool.add(column);
            }
        }
        self.pool.columns().len() > before
    }

    /// Are all maximal plans of a class known?
    pub(super) fn is_listed(&self, class: usize) -> bool {
        let openings = &self.openings[class];
        !openings.is_empty() && openings.iter().all(|opening| opening.plans.is_some())
    }

    /// Bounds may be rounded up to the next amount of fabric that can be opened at all.
    pub(super) fn rounded_up(&self, least: i128) -> i128 {
        let whole = self.instance().classes.iter().all(|class| class.whole_sheets());
        if !whole || least <= 0 {
            return least.max(0);
        }
        let step = self
            .instance()
            .classes
            .iter()
            .flat_map(|class| &class.sheets)
            .map(|kind| i128::from(kind.cost(kind.sheet.height)))
            .fold(0, gcd);
        if step == 0 { least } else { (least + step - 1) / step * step }
    }
}

fn gcd(a: i128, b: i128) -> i128 {
    if b == 0 { a } else { gcd(b, a % b) }
}
