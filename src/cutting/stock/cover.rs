//! Covering an order with ways of cutting sheets, as cheaply as can be: column generation for the bound, dives and
//! fillings for whole numbers of sheets.
//!
//! Diving on fractional coverings: Clautiaux, Sadykov, Vanderbeck and Viaud (2019) found it best among their heuristics.

use rand::rngs::SmallRng;
use rand::{Rng, SeedableRng};

use crate::cutting::Work;
use crate::cutting::bounds::dual_feasible;
use crate::cutting::fit::{Answer, fit_grid};
use crate::cutting::grid::order::{Order, gcd};
use crate::cutting::stock::Stock;
use crate::cutting::stock::columns::{Columns, Cutting};
use crate::cutting::stock::exchange::Exchange;
use crate::cutting::stock::fill::{Filled, Values};
use crate::cutting::stock::first_sheets::first_sheets;
use crate::cutting::stock::pricing::{Effort, Pricer};
use crate::cutting::stock::recut::{Recut, home};

/// Rounds of column generation at the root, and after each fixing.
const ROOT_ROUNDS: usize = 2_000;
const LATER_ROUNDS: usize = 30;
/// Up to so many pieces the rest of a dive is searched by itself; varied from dive to dive.
const REST_PIECES: [u32; 4] = [100, 60, 140, 40];
/// Pieces from which on a dive leaves a rest that is small beside the whole.
const LONG_ORDER: u32 = 400;
/// Pieces of a size, on average, from which on sheets cut alike are many.
const MANY_ALIKE: usize = 8;
/// Steps for that search where what it finds is cut again anyway.
const QUICK_REST: u64 = 250_000_000;
/// Blocks of one pricing search at the root, and in quick fillings.
const ROOT_NODES: usize = 60_000;
const QUICK_NODES: usize = 3_000;
/// Ways of cutting that lose up to one part in so many of their sheet's cost are listed once, within a share of the
/// work and so many blocks on the way.
const NEAR_PARTS: i64 = 12;
const NEAR_SHARE: u64 = 10;
const NEAR_NODES: usize = 200_000;
/// Tries to cut a few sheets again, between two looks whether it gained anything; looks in vain after which it is left.
const RECUTS: u32 = 2_000;
const PATIENCE: u32 = 20;
/// Thresholds a side for dual feasible functions.
const THRESHOLDS: usize = 40;

/// The search for a cheapest covering of an order: the best so far and the bound so far.
pub(crate) struct Cover<'a> {
    order: &'a Order,
    stock: &'a [Stock],
    pub(crate) columns: Columns<'a>,
    /// The cheapest sheets found that cut everything.
    pub(crate) best: Option<Filled>,
    /// What they cost.
    pub(crate) cost: i64,
    /// No covering costs less.
    pub(crate) bound: i64,
    /// Ways of cutting that lose little at the root's prices.
    near: Vec<Cutting>,
    /// Those prices.
    prices: Vec<i64>,
    /// True where a few sheets of what is found are cut again for less, which pays when costs differ.
    pub(crate) recuts: bool,
    /// True for the search on the rest of a dive, which starts no further ones.
    inner: bool,
    /// All costs are multiples of this, and so is every total.
    step: i64,
    rng: SmallRng,
}

impl<'a> Cover<'a> {
    /// A search with the means to price each kind of stock.
    pub(crate) fn new(order: &'a Order, stock: &'a [Stock], pricers: Vec<Pricer>) -> Cover<'a> {
        let step = stock.iter().fold(0, |g, s| gcd(g, s.cost)).max(1);
        let columns = Columns::new(order, stock, pricers);
        Cover {
            order,
            stock,
            columns,
            best: None,
            inner: false,
            near: Vec::new(),
            prices: Vec::new(),
            recuts: false,
            cost: i64::MAX,
            bound: 0,

            step,
            rng: SmallRng::seed_from_u64(7),
        }
    }

    fn done(&self) -> bool {
        self.cost <= self.bound
    }

    /// Raises the bound, rounded up to a possible total.
    fn raise(&mut self, bound: i64) {
        let whole = (bound + self.step - 1).div_euclid(self.step) * self.step;
        self.bound = self.bound.max(whole);
    }

    fn total(&self, filled: &Filled) -> i64 {
        filled.iter().map(|(s, _)| self.stock[*s].cost).sum()
    }

    /// Takes sheets that together cut everything if they cost less.
    pub(crate) fn offer(&mut self, filled: Filled) {
        let cost = self.total(&filled);
        if cost < self.cost {
            self.cost = cost;
            self.best = Some(filled);
        }
    }

    /// Improves what has been offered until it meets the bound or the work ends.
    pub(crate) fn run(&mut self, work: &mut Work) {
        if self.order.sizes.is_empty() {
            self.best = Some(Vec::new());
            self.cost = 0;
            return;
        }
        if let [one] = self.stock {
            let sheets =
                dual_feasible::least_sheets(one.w, one.h, &self.order.sizes, &self.order.counts, THRESHOLDS);
            self.raise(i64::try_from(sheets).unwrap_or(0).saturating_mul(one.cost));
        }
        if self.best.is_none() || self.done() {
            return;
        }
        for (sheet, block) in self.best.iter().flatten() {
            self.columns.add(*sheet, block.clone());
        }
        self.all_in_one(work);
        let mut values = Values::new(self.order);
        for _ in 0..3 {
            if self.done() {
                return;
            }
            self.refill(&mut values, work);
        }
        self.root(work);
        self.exchange(work);
        let mut tries = 0;
        while !self.done() && work.left() > 0 {
            if let Some(filled) = self.dive(tries, work) {
                self.offer(filled);
            }
            if let Some(best) = self.best.take_if(|_| self.recuts) {
                let best = self.recut(best, work);
                self.cost = self.total(&best);
                self.best = Some(best);
            }
            tries += 1;
            for _ in 0..4 {
                if self.done() || work.left() == 0 {
                    return;
                }
                self.refill(&mut values, work);
            }
        }
    }

    /// Column generation for the whole order: the bound, the prices, and where sheets are to be cut again, more ways of
    /// cutting that lose little at these prices.
    fn root(&mut self, work: &mut Work) {
        let share = work.horizon() / 2;
        let mut part = work.share(share);
        let effort = Effort { nodes: ROOT_NODES };
        let bound = self.columns.generate(&self.order.counts, ROOT_ROUNDS, effort, &mut part);
        work.charge(share, &part);
        self.raise(bound);
        self.prices.clone_from(&self.columns.last_prices);
        if self.recuts && !self.done() {
            let share = work.horizon() / NEAR_SHARE;
            let mut part = work.share(share);
            self.near = self.columns.near(&self.prices, NEAR_PARTS, NEAR_NODES, &mut part);
            work.charge(share, &part);
        }
    }

    /// In a long order of many alike from sheets of several costs: cuttings drawn from the ways known and improved by
    /// exchange, until the work ends.
    fn exchange(&mut self, work: &mut Work) {
        let (pieces, sizes) = (self.order.pieces() as usize, self.order.sizes.len());
        if !self.recuts || self.done() || pieces < (LONG_ORDER as usize).max(MANY_ALIKE * sizes) {
            return;
        }
        let known: Vec<Cutting> = self.columns.pool.iter().chain(&self.near).cloned().collect();
        let counts = &self.order.counts;
        let Some(exchange) = Exchange::new(self.stock, known.iter(), counts, self.step, work) else { return };
        while !self.done() && work.left() > 0 {
            let Some(filled) = exchange.cut(&mut self.rng, work) else { return };
            self.offer(filled);
        }
    }

    /// When one sheet might do for everything, the search for one sheet is the better one.
    fn all_in_one(&mut self, work: &mut Work) {
        let order = self.order;
        for (sheet, s) in self.stock.iter().enumerate() {
            let room = u64::from(s.w) * u64::from(s.h);
            if self.done() || s.cost > self.bound.max(self.step) || order.area() > room {
                continue;
            }
            let share = work.horizon() / 4 * 3;
            let mut part = work.share(share);
            if let Answer::Yes(Some(block)) = fit_grid(s.w, s.h, order, &mut part) {
                self.offer(vec![(sheet, block)]);
            }
            work.charge(share, &part);
        }
    }

    /// Cuts a few sheets of a cutting again and again, until that has gained nothing for a while.
    fn recut(&mut self, mut filled: Filled, work: &mut Work) -> Filled {
        if self.prices.len() != self.order.sizes.len() {
            return filled;
        }
        for (sheet, block) in &filled {
            self.columns.add(*sheet, block.clone());
        }
        let known = self.columns.pool.iter().chain(&self.near);
        let recut = Recut::new(self.stock, known, &self.prices, (self.columns.unit, self.step));
        let mut vain = 0;
        while vain < PATIENCE && work.left() > 0 {
            let better = recut.improve(&mut filled, RECUTS, &mut self.rng, work);
            vain = if better { 0 } else { vain + 1 };
        }
        filled
    }

    /// The rest of a dive as a problem of its own, small enough to be searched well.
    fn rest(&self, left: &[u32], work: &mut Work) -> Option<Filled> {
        let (rest, back) = self.order.only(left);
        let mut inner = Cover::new(&rest, self.stock, Pricer::each(self.stock, &rest));
        inner.inner = true;
        inner.construct();
        let share = (work.horizon() / 5).min(if self.recuts { QUICK_REST } else { u64::MAX });
        let mut part = work.share(share);
        inner.run(&mut part);
        work.charge(share, &part);
        Some(inner.best?.into_iter().map(|(sheet, b)| (sheet, b.renamed(&|s| back[s]))).collect())
    }

    /// Offers sheets that cut everything, however badly.
    pub(crate) fn construct(&mut self) {
        first_sheets(self.order, self.stock).into_iter().for_each(|filled| self.offer(filled));
    }

    /// One filling with corrected values; its sheets become columns.
    fn refill(&mut self, values: &mut Values, work: &mut Work) {
        let effort = Effort { nodes: QUICK_NODES };
        if let Some(filled) = values.fill(&mut self.columns, &self.order.counts, effort, &mut self.rng, work)
        {
            let filled: Filled = filled.into_iter().map(|(s, b)| (home(self.stock, s, &b), b)).collect();
            for (sheet, block) in &filled {
                self.columns.add(*sheet, block.clone());
            }
            self.offer(filled);
        }
    }

    /// From the fractional optimum to whole sheets: take the whole parts, then the largest fraction, generate
    /// columns for what is left, and again.
    fn dive(&mut self, tries: usize, work: &mut Work) -> Option<Filled> {
        let mut left = self.order.counts.clone();
        let mut taken: Filled = Vec::new();
        let mut cost = 0;
        // What cutting a few sheets again may still gain.
        let margin = if self.recuts { self.columns.unit } else { 0 };
        while left.iter().any(|&n| n > 0) {
            if !taken.is_empty() {
                self.columns.generate(&left, LATER_ROUNDS, Effort { nodes: QUICK_NODES }, work);
            }
            let pieces: u32 = left.iter().sum();
            let long = self.order.pieces() >= LONG_ORDER;
            if long && !self.inner && !taken.is_empty() && pieces <= REST_PIECES[tries % REST_PIECES.len()] {
                taken.extend(self.rest(&left, work)?);
                return Some(taken);
            }
            let weights = self.columns.weights(&left, work)?;
            if work.left() == 0 {
                return None;
            }
            let mut picks: Vec<(usize, i64)> = weights
                .iter()
                .enumerate()
                .filter(|(_, w)| **w >= 950)
                .map(|(c, w)| (c, (w + 50) / 1000))
                .collect();
            if picks.is_empty() {
                picks = self.pick_fraction(&weights, tries);
            }
            let first = taken.is_empty();
            for (column, mut times) in picks {
                if first && tries > 0 && self.recuts {
                    times -= self.rng.random_range(0..=1);
                }
                for _ in 0..times {
                    let cutting = &self.columns.pool[column];
                    let mut rest = left.clone();
                    let clipped = cutting.block.clone().keeping(&mut |s| {
                        let keep = rest[s] > 0;
                        rest[s] -= u32::from(keep);
                        keep
                    });
                    let Some(block) = clipped else { break };
                    left = rest;
                    let sheet = home(self.stock, cutting.sheet, &block);
                    cost += self.stock[sheet].cost;
                    taken.push((sheet, block));
                }
            }
            if cost >= self.cost.saturating_add(margin) {
                return None;
            }
        }
        Some(taken)
    }

    /// The largest fraction, or now and then one of the next.
    fn pick_fraction(&mut self, weights: &[i64], tries: usize) -> Vec<(usize, i64)> {
        let mut order: Vec<usize> = (0..weights.len()).filter(|&c| weights[c] > 0).collect();
        order.sort_by_key(|&c| (std::cmp::Reverse(weights[c]), c));
        let reach = if tries == 0 { 1 } else { order.len().min(3) };
        if order.is_empty() { Vec::new() } else { vec![(order[self.rng.random_range(0..reach)], 1)] }
    }
}
