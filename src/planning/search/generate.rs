//! Column generation: prices from the columns known, columns from the prices, and the bound of each round.

use std::cmp::Reverse;

use crate::planning::columns::best_plan::best_plan;
use crate::planning::columns::bound::{self, Fabric};
use crate::planning::columns::pool::Column;
use crate::planning::columns::price::{self, Taste};
use crate::planning::columns::prices::Prices;
use crate::planning::search::Search;

/// New columns taken from a list of plans in one round.
const NEW_PER_ROUND: usize = 4;
/// Nodes of the search for the best plan of a class whose plans are too many to list; fewer where there are many classes.
pub(super) const NODES: u32 = 300;
const FEW_NODES: u32 = 4;
/// Nodes where columns are wanted, and no bound.
pub(super) const LOOK_NODES: u32 = 20;
/// Questions worked out anew, at the usual effort, after which no further print is priced: where there are many classes,
/// and elsewhere.
const MOST_QUESTIONS: [u64; 2] = [3_000, 12_000];

impl Search<'_, '_> {
    /// What leaving a bag out counts at most: far above the fabric of any print that holds it alone.
    pub(super) fn caps(&self) -> Vec<i64> {
        let dearest = self.pool.columns().iter().map(|column| column.cost).max().unwrap_or(1);
        vec![dearest.saturating_mul(8); self.demands.len()]
    }

    /// Column generation. Returns the prices of the best bound, and keeps that bound.
    pub(super) fn generate(&mut self, caps: &[i64], fabric: Fabric, rounds: u32) -> Vec<i64> {
        let mut master = Prices::new(&self.demands, &self.many, caps);
        let mut given = 0;
        let mut best_bound = i128::MIN;
        let mut best_prices = caps.to_vec();
        self.begin_pricing();
        for _ in 0..rounds {
            if self.oracle.stopped() || self.enough_priced() {
                break;
            }
            let news = self.pool.columns()[given..].iter().cloned();
            let news: Vec<Column> = news.map(|column| unpriced(column, fabric)).collect();
            given = self.pool.columns().len();
            master.add(&news);
            let prices = master.prices().to_vec();
            let round = self.price_all(&prices, fabric);
            let least = bound::least(self.instance(), &round.most, &prices);
            if least > best_bound {
                best_bound = least;
                best_prices = prices;
            }
            if fabric == Fabric::Weighted {
                self.bound = self.bound.max(self.rounded_up(least));
            } else if least > 0 {
                break;
            }
            let before = self.pool.columns().len();
            for column in round.columns {
                self.pool.add(column);
            }
            if self.pool.columns().len() == before {
                break;
            }
        }
        best_prices
    }

    /// From here on so many questions may be asked to price whole prints.
    pub(super) fn begin_pricing(&mut self) {
        let (most, effort) = if self.large() {
            (MOST_QUESTIONS[0], self.effort.clamp(1, 100))
        } else {
            (MOST_QUESTIONS[1], self.effort.max(1))
        };
        self.priced_until = self.oracle.fresh() + most * u64::from(effort) / 100;
    }

    /// Have they been asked?
    pub(super) fn enough_priced(&self) -> bool {
        self.oracle.fresh() > self.priced_until
    }

    /// What each class can give at most per print, and columns that gain more than any known one of their class.
    pub(super) fn price_all(&mut self, prices: &[i64], fabric: Fabric) -> Round {
        let worth = |column: &Column| match fabric {
            Fabric::Weighted => column.gain(prices),
            Fabric::Free => column.worth(prices),
        };
        let mut known = vec![0i128; self.many.len()];
        for column in self.pool.columns() {
            known[column.class] = known[column.class].max(worth(column));
        }
        self.round_ahead(prices, fabric);
        let mut round = Round { most: Vec::new(), columns: Vec::new() };
        for (class, &known) in known.iter().enumerate() {
            let (most, mut found) = self.price_class(class, prices, fabric);
            round.most.push(most);
            found.retain(|column| worth(column) > known);
            found.sort_by_key(|column| (-worth(column), column.clone()));
            found.dedup();
            found.truncate(NEW_PER_ROUND);
            round.columns.extend(found);
        }
        round
    }

    fn price_class(&mut self, class: usize, prices: &[i64], fabric: Fabric) -> (i128, Vec<Column>) {
        let instance = self.instance();
        let loose = bound::loosely(instance, &instance.classes[class], prices, fabric);
        let mut found = Vec::new();
        let listed = self.is_listed(class);
        if !listed && self.enough_priced() {
            return (loose, found);
        }
        if !listed {
            for taste in [Taste::Plain, Taste::Shaken] {
                let demands = &self.demands;
                found.extend(price::greedy(
                    self.oracle,
                    class,
                    prices,
                    demands,
                    fabric,
                    taste,
                    &mut self.random,
                ));
            }
        }
        if self.openings[class].is_empty() {
            return (loose, found);
        }
        let nodes = if self.large() { FEW_NODES } else { self.nodes };
        let mut most = 0;
        for opening in &self.openings[class] {
            let least = if fabric == Fabric::Weighted { i128::from(opening.least) } else { 0 };
            let here = match &opening.plans {
                Some(plans) => {
                    let best = plans.iter().max_by_key(|plan| (plan.worth(prices), Reverse(*plan)));
                    found.extend(best.cloned());
                    best.map_or(0, |plan| plan.worth(prices))
                }
                None => {
                    let best = best_plan(self.oracle, class, &opening.sheets, prices, nodes);
                    if !best.plan.is_empty() {
                        found.push(Column { class, bags: best.plan, cost: opening.least });
                    }
                    best.most
                }
            };
            most = most.max(here - least);
        }
        (most.min(loose).max(0), found)
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

/// One round of pricing.
pub(super) struct Round {
    /// By class: what one print can give at most, never negative.
    pub(super) most: Vec<i128>,
    /// Better columns.
    pub(super) columns: Vec<Column>,
}

fn unpriced(column: Column, fabric: Fabric) -> Column {
    let cost = if fabric == Fabric::Free { 0 } else { column.cost };
    Column { cost, ..column }
}

fn gcd(a: i128, b: i128) -> i128 {
    if b == 0 { a } else { gcd(b, a % b) }
}
