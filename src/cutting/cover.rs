//! Covering an order with ways of cutting sheets, as cheaply as can be: column generation for the bound, dives and
//! fillings for whole numbers of sheets.
//!
//! Diving on fractional coverings: Clautiaux, Sadykov, Vanderbeck and Viaud (2019) found it best among their heuristics.

use rand::rngs::SmallRng;
use rand::{Rng, SeedableRng};

use crate::cutting::block::Block;
use crate::cutting::columns::{Columns, Stock};
use crate::cutting::fill::{Filled, Values};
use crate::cutting::fit::{Answer, fit_grid};
use crate::cutting::order::{Order, gcd};
use crate::cutting::pricing::{Effort, Pricer};
use crate::cutting::{Work, dual_feasible, greedy};

/// Rounds of column generation at the root, and after each fixing.
const ROOT_ROUNDS: usize = 2_000;
const LATER_ROUNDS: usize = 30;
/// Up to so many pieces the rest of a dive is searched by itself; varied from dive to dive.
const REST_PIECES: [u32; 4] = [100, 60, 140, 40];
/// Pieces from which on a dive leaves a rest that is small beside the whole.
const LONG_ORDER: u32 = 400;
/// Blocks of one pricing search at the root, and in quick fillings.
const ROOT_NODES: usize = 60_000;
const QUICK_NODES: usize = 3_000;
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

    /// Takes sheets that together cut everything if they cost less.
    pub(crate) fn offer(&mut self, filled: Filled) {
        let cost = filled.iter().map(|(s, _)| self.stock[*s].cost).sum();
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
        let bound =
            self.columns.generate(&self.order.counts, ROOT_ROUNDS, Effort { nodes: ROOT_NODES }, work);
        self.raise(bound);
        let mut tries = 0;
        while !self.done() && work.left() > 0 {
            self.dive(tries, work);
            tries += 1;
            for _ in 0..4 {
                if self.done() || work.left() == 0 {
                    return;
                }
                self.refill(&mut values, work);
            }
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

    /// The rest of a dive as a problem of its own, small enough to be searched well.
    fn rest(&self, left: &[u32], work: &mut Work) -> Option<Filled> {
        let (rest, back) = self.order.only(left);
        let mut inner = Cover::new(&rest, self.stock, Pricer::each(self.stock, &rest));
        inner.inner = true;
        inner.construct();
        let share = work.horizon() / 5;
        let mut part = work.share(share);
        inner.run(&mut part);
        work.charge(share, &part);
        Some(inner.best?.into_iter().map(|(sheet, b)| (sheet, b.renamed(&|s| back[s]))).collect())
    }

    /// The cheapest kind of sheet that holds a block now on `sheet`.
    fn home(&self, sheet: usize, block: &Block) -> usize {
        let holds = |t: &usize| block.w <= self.stock[*t].w && block.h <= self.stock[*t].h;
        let cheaper = (0..self.stock.len()).filter(holds).min_by_key(|&t| (self.stock[t].cost, t));
        cheaper.filter(|&t| self.stock[t].cost < self.stock[sheet].cost).unwrap_or(sheet)
    }

    /// Sheets of one size filled greedily, for each size that holds everything and every order and manner.
    pub(crate) fn construct(&mut self) {
        let (order, stock) = (self.order, self.stock);
        let pieces = order.pieces() as usize;
        for (sheet, s) in stock.iter().enumerate() {
            let fits = order.sizes.iter().all(|z| z.ways().any(|(a, b)| a <= s.w && b <= s.h));
            if !fits {
                continue;
            }
            let room = vec![(s.w, s.h); pieces];
            for sequence in greedy::sequences(&order.sizes, &order.counts) {
                for manner in &greedy::MANNERS[..if pieces > 400 { 2 } else { 8 }] {
                    let packed = greedy::pack(&room, &order.sizes, &sequence, &|_, _| true, *manner);
                    self.offer(packed.blocks.into_iter().flatten().map(|b| (sheet, b)).collect());
                }
            }
        }
        if self.best.is_none() {
            self.one_each();
        }
    }

    /// When no size of sheet holds every piece: each piece from a sheet of its own, the cheapest that holds it.
    fn one_each(&mut self) {
        let mut filled = Vec::new();
        for (s, size) in self.order.sizes.iter().enumerate() {
            let stock = self.stock;
            let homes = size.ways().flat_map(|(w, h)| {
                let holding = (0..stock.len()).filter(move |&t| w <= stock[t].w && h <= stock[t].h);
                holding.map(move |t| (stock[t].cost, t, w, h))
            });
            let Some((_, sheet, w, h)) = homes.min() else { return };
            for _ in 0..self.order.counts[s] {
                filled.push((sheet, Block::piece(s, w, h)));
            }
        }
        self.offer(filled);
    }

    /// One filling with corrected values; its sheets become columns.
    fn refill(&mut self, values: &mut Values, work: &mut Work) {
        let effort = Effort { nodes: QUICK_NODES };
        if let Some(filled) = values.fill(&mut self.columns, &self.order.counts, effort, &mut self.rng, work)
        {
            let filled: Filled = filled.into_iter().map(|(s, b)| (self.home(s, &b), b)).collect();
            for (sheet, block) in &filled {
                self.columns.add(*sheet, block.clone());
            }
            self.offer(filled);
        }
    }

    /// From the fractional optimum to whole sheets: take the whole parts, then the largest fraction, generate
    /// columns for what is left, and again.
    fn dive(&mut self, tries: usize, work: &mut Work) {
        let mut left = self.order.counts.clone();
        let mut taken: Filled = Vec::new();
        let mut cost = 0;
        while left.iter().any(|&n| n > 0) {
            if !taken.is_empty() {
                self.columns.generate(&left, LATER_ROUNDS, Effort { nodes: QUICK_NODES }, work);
            }
            let pieces: u32 = left.iter().sum();
            let long = self.order.pieces() >= LONG_ORDER;
            if long && !self.inner && !taken.is_empty() && pieces <= REST_PIECES[tries % REST_PIECES.len()] {
                if let Some(rest) = self.rest(&left, work) {
                    taken.extend(rest);
                    self.offer(taken);
                }
                return;
            }
            let Some(weights) = self.columns.weights(&left, work) else { return };
            if work.left() == 0 {
                break;
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
            for (column, times) in picks {
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
                    let sheet = self.home(cutting.sheet, &block);
                    cost += self.stock[sheet].cost;
                    taken.push((sheet, block));
                }
            }
            if cost >= self.cost {
                return;
            }
        }
        if left.iter().any(|&n| n > 0) {
            return;
        }
        self.offer(taken);
    }

    /// The largest fraction, or now and then one of the next.
    fn pick_fraction(&mut self, weights: &[i64], tries: usize) -> Vec<(usize, i64)> {
        let mut order: Vec<usize> = (0..weights.len()).filter(|&c| weights[c] > 0).collect();
        order.sort_by_key(|&c| (std::cmp::Reverse(weights[c]), c));
        let reach = if tries == 0 { 1 } else { order.len().min(3) };
        if order.is_empty() { Vec::new() } else { vec![(order[self.rng.random_range(0..reach)], 1)] }
    }
}
