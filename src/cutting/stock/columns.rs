//! Column generation: ways of cutting sheets, found one by one where they pay at the present prices, and a bound on what
//! any cutting of the demand costs.
//!
//! Gilmore and Gomory (1961, 1965); the bound after Farley (1990): prices divided by how far the best cutting beats its
//! sheet's cost are dual feasible.

use crate::cutting::Work;
use crate::cutting::grid::block::Block;
use crate::cutting::grid::order::Order;
use crate::cutting::knapsack::Solver;
use crate::cutting::stock::Stock;
use crate::cutting::stock::lp::{self, Dual};
use crate::cutting::stock::pricing::{Effort, Priced, Pricer};

/// Whole prices to one unit of cost: fine enough that rounding them down loses no bound of practical size.
pub(crate) const FINENESS: i64 = 1 << 24;

/// A way of cutting one kind of sheet.
#[derive(Clone, Debug)]
pub(crate) struct Cutting {
    pub(crate) sheet: usize,
    pub(crate) counts: Vec<u32>,
    pub(crate) block: Block,
}

/// The columns known, and the pricers that find more.
pub(crate) struct Columns<'a> {
    pub(crate) order: &'a Order,
    pub(crate) stock: &'a [Stock],
    pub(crate) pool: Vec<Cutting>,
    pricers: Vec<Pricer>,
    /// Largest cost: the unit in which the linear programme counts.
    pub(crate) unit: i64,
    /// Prices of the last round of [`Columns::generate`].
    pub(crate) last_prices: Vec<i64>,
}

impl<'a> Columns<'a> {
    /// Columns for cutting `order` from `stock`, none known yet.
    pub(crate) fn new(order: &'a Order, stock: &'a [Stock], pricers: Vec<Pricer>) -> Columns<'a> {
        let unit = stock.iter().map(|s| s.cost).max().unwrap_or(1).max(1);
        Columns { order, stock, pool: Vec::new(), pricers, unit, last_prices: Vec::new() }
    }

    /// Adds a way of cutting unless one like it is known.
    pub(crate) fn add(&mut self, sheet: usize, block: Block) -> bool {
        let counts = block.counts(self.order.sizes.len());
        if self.pool.iter().any(|c| c.sheet == sheet && c.counts == counts) {
            return false;
        }
        self.pool.push(Cutting { sheet, counts, block });
        true
    }

    /// Charges a linear programme over the pool: so many steps a column and size, as measured roughly.
    fn charge_solve(&self, work: &mut Work) {
        const STEPS: u64 = 20;
        work.spend(STEPS * (self.pool.len() as u64 + 50) * (self.order.sizes.len() as u64 + 5));
    }

    fn column(&self, at: usize) -> lp::Column<'_> {
        let cutting = &self.pool[at];
        lp::Column { counts: &cutting.counts, cost: self.stock[cutting.sheet].cost }
    }

    /// Finds columns for `demand` until none pays, the work ends or `rounds` are over. The best bound proved.
    pub(crate) fn generate(&mut self, demand: &[u32], rounds: usize, effort: Effort, work: &mut Work) -> i64 {
        let all: Vec<lp::Column> = (0..self.pool.len()).map(|c| self.column(c)).collect();
        let Some(mut dual) = Dual::new(demand, &all, self.unit) else { return 0 };
        let mut best = 0;
        self.last_prices.clear();
        let mut searching = Effort { nodes: 0 };
        for _ in 0..rounds {
            self.charge_solve(work);
            let prices = dual.prices(FINENESS);
            self.last_prices.clone_from(&prices);
            let (found, bound) = self.price(&prices, demand, searching, work);
            best = best.max(bound);
            let before = self.pool.len();
            for (sheet, block) in found {
                self.add(sheet, block);
            }
            for at in before..self.pool.len() {
                if !dual.add(&self.column(at)) {
                    return best;
                }
            }
            if self.pool.len() == before {
                if searching == effort {
                    break;
                }
                searching = effort;
            }
            if work.left() == 0 {
                break;
            }
        }
        best
    }

    /// Every kind of sheet at any values: see [`Pricer::price`].
    pub(crate) fn price_values(
        &mut self,
        values: &[i64],
        limits: &[u32],
        thresholds: &[i64],
        effort: Effort,
        work: &mut Work,
    ) -> Vec<Priced> {
        let order = self.order;
        let each = |pricer: &mut Pricer| pricer.price(order, values, limits, thresholds, effort, work);
        self.pricers.iter_mut().flat_map(each).collect()
    }

    /// Prices all kinds of sheet: cuttings that pay, and the bound these prices prove.
    fn price(
        &mut self,
        prices: &[i64],
        demand: &[u32],
        effort: Effort,
        work: &mut Work,
    ) -> (Vec<(usize, Block)>, i64) {
        let mut found = Vec::new();
        let demanded: i128 = prices.iter().zip(demand).map(|(&p, &d)| i128::from(p) * i128::from(d)).sum();
        // The largest ratio of worth to cost, as a fraction; at least one.
        let (mut over, mut under) = (1i128, 1i128);
        let thresholds: Vec<i64> = self.stock.iter().map(|s| cost_in_prices(s.cost, self.unit)).collect();
        for priced in self.price_values(prices, demand, &thresholds, effort, work) {
            let (worth, allowed) = (i128::from(priced.bound), i128::from(thresholds[priced.sheet].max(1)));
            if worth * under > over * allowed {
                (over, under) = (worth, allowed);
            }
            if let Some((block, _)) = priced.found {
                found.push((priced.sheet, block));
            }
        }
        if work.left() == 0 {
            return (found, 0);
        }
        // demanded / FINENESS * unit / ratio, rounded up: no cutting costs less.
        let numerator = demanded * i128::from(self.unit) * under;
        let denominator = i128::from(FINENESS) * over;
        let bound = (numerator + denominator - 1).div_euclid(denominator);
        (found, i64::try_from(bound).unwrap_or(0))
    }

    /// Ways of cutting that at `prices` lose at most one part in `parts` of their sheet's cost, as far as a search that
    /// remembers `nodes` blocks and the work go.
    pub(crate) fn near(&self, prices: &[i64], parts: i64, nodes: usize, work: &mut Work) -> Vec<Cutting> {
        let (order, stock) = (self.order, self.stock);
        let mut all = Vec::new();
        for (sheet, s) in stock.iter().enumerate() {
            let cost = cost_in_prices(s.cost, self.unit);
            let least = cost - cost / parts;
            let limits = order.counts.iter().zip(&order.sizes).map(|(&n, z)| {
                n.min(u32::try_from(u64::from(s.w) * u64::from(s.h) / z.area().max(1)).unwrap_or(n))
            });
            let (few, back) = order.only(&limits.collect::<Vec<u32>>());
            let worth: Vec<i64> = back.iter().map(|&s| prices[s]).collect();
            for block in Solver::new(s.w, s.h, &few, &worth).above(least, nodes, work) {
                let block = block.renamed(&|s| back[s]);
                all.push(Cutting { sheet, counts: block.counts(order.sizes.len()), block });
            }
        }
        all
    }

    /// How often the cheapest fractional covering of `demand` uses each known cutting, in thousandths.
    pub(crate) fn weights(&self, demand: &[u32], work: &mut Work) -> Option<Vec<i64>> {
        self.charge_solve(work);
        let all: Vec<lp::Column> = (0..self.pool.len()).map(|c| self.column(c)).collect();
        lp::weights(demand, &all, self.unit)
    }
}

/// A cost in whole prices, rounded down: prices under it are dual feasible.
fn cost_in_prices(cost: i64, unit: i64) -> i64 {
    i64::try_from(i128::from(cost) * i128::from(FINENESS) / i128::from(unit)).unwrap_or(i64::MAX)
}
