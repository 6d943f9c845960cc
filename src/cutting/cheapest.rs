//! Cutting everything from sheets that cost something: fewest sheets, or the cheapest mix of sizes.

use rand::SeedableRng;
use rand::rngs::SmallRng;

use crate::cutting::block::{Block, Namer, layout_with};
use crate::cutting::columns::{Columns, Stock};
use crate::cutting::fill::{Filled, Filler};
use crate::cutting::order::{Order, gcd};
use crate::cutting::pricing::Effort;
use crate::cutting::{Kind, Layout, Sheet, Work, dual_feasible, greedy};

/// A size of sheet to be had in any number at a cost.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Purchasable {
    /// The sheet.
    pub sheet: Sheet,
    /// What one costs; at least 1.
    pub cost: i64,
}

/// Answer to [`cheapest`].
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cheapest {
    /// Every sheet cut: which of the sizes, and how. Empty when not everything could be cut.
    pub layouts: Vec<(usize, Layout)>,
    /// What they cost together, when everything is cut.
    pub cost: Option<i64>,
    /// Nothing costs less.
    pub bound: i64,
}

/// Rounds of column generation at the root, and after each fixing.
const ROOT_ROUNDS: usize = 2_000;
const LATER_ROUNDS: usize = 30;
/// Blocks of one pricing search at the root, and in quick fillings.
const ROOT_NODES: usize = 60_000;
const QUICK_NODES: usize = 3_000;
/// Thresholds a side for dual feasible functions.
const THRESHOLDS: usize = 40;

/// The cheapest way found to cut `counts[k]` pieces of every kind from purchasable sheets, with a bound.
///
/// # Panics
/// When `counts` has not one count a kind, or a cost is below 1.
pub fn cheapest(sheets: &[Purchasable], kinds: &[Kind], counts: &[u32], work: &mut Work) -> Cheapest {
    assert_eq!(kinds.len(), counts.len(), "one count a kind");
    assert!(sheets.iter().all(|s| s.cost >= 1), "a sheet costs something");
    let order = Order::merged(kinds, counts);
    let stock: Vec<Stock> = sheets
        .iter()
        .map(|s| {
            let (w, h) = order.sheet(s.sheet);
            Stock { w, h, cost: s.cost }
        })
        .collect();
    let mut search = Search::new(&order, &stock);
    search.run(work);
    let mut namer = Namer::new(&order, kinds);
    let layouts: Vec<(usize, Layout)> = search
        .best
        .iter()
        .flatten()
        .map(|(sheet, block)| (*sheet, layout_with(Some(block), sheets[*sheet].sheet, &mut namer)))
        .collect();
    let cost = search.best.is_some().then_some(search.cost);
    Cheapest { layouts, cost, bound: search.bound }
}

struct Search<'a> {
    order: &'a Order,
    stock: &'a [Stock],
    best: Option<Filled>,
    cost: i64,
    bound: i64,
    /// All costs are multiples of this, and so is every total.
    step: i64,
    rng: SmallRng,
}

impl<'a> Search<'a> {
    fn new(order: &'a Order, stock: &'a [Stock]) -> Search<'a> {
        let step = stock.iter().fold(0, |g, s| gcd(g, s.cost)).max(1);
        Search { order, stock, best: None, cost: i64::MAX, bound: 0, step, rng: SmallRng::seed_from_u64(7) }
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
    fn offer(&mut self, filled: Filled) {
        let cost = filled.iter().map(|(s, _)| self.stock[*s].cost).sum();
        if cost < self.cost {
            self.cost = cost;
            self.best = Some(filled);
        }
    }

    fn run(&mut self, work: &mut Work) {
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
        self.construct();
        if self.best.is_none() || self.done() {
            return;
        }
        let mut columns = Columns::new(self.order, self.stock);
        for (sheet, block) in self.best.iter().flatten() {
            columns.add(*sheet, block.clone());
        }
        let quick = Effort { nodes: QUICK_NODES };
        let mut filler = Filler::new(self.order, self.stock, quick);
        for _ in 0..3 {
            if self.done() {
                return;
            }
            self.refill(&mut filler, &mut columns, work);
        }
        let bound = columns.generate(&self.order.counts, ROOT_ROUNDS, Effort { nodes: ROOT_NODES }, work);
        self.raise(bound);
        let mut tries = 0;
        while !self.done() && work.left() > 0 {
            self.dive(&mut columns, tries, work);
            tries += 1;
            for _ in 0..4 {
                if self.done() || work.left() == 0 {
                    return;
                }
                self.refill(&mut filler, &mut columns, work);
            }
        }
    }

    /// Sheets of one size filled greedily, for each size that holds everything and every order and manner.
    fn construct(&mut self) {
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
    fn refill(&mut self, filler: &mut Filler, columns: &mut Columns, work: &mut Work) {
        if let Some(filled) = filler.fill(&self.order.counts, i64::MAX, &mut self.rng, work) {
            for (sheet, block) in &filled {
                columns.add(*sheet, block.clone());
            }
            self.offer(filled);
        }
    }

    /// From the fractional optimum to whole sheets: take the whole parts, then the largest fraction, generate
    /// columns for what is left, and again.
    fn dive(&mut self, columns: &mut Columns, tries: usize, work: &mut Work) {
        let mut left = self.order.counts.clone();
        let mut taken: Filled = Vec::new();
        let mut cost = 0;
        while left.iter().any(|&n| n > 0) {
            if !taken.is_empty() {
                columns.generate(&left, LATER_ROUNDS, Effort { nodes: QUICK_NODES }, work);
            }
            let Some(weights) = columns.weights(&left, work) else { return };
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
                    let cutting = &columns.pool[column];
                    let mut rest = left.clone();
                    let clipped = cutting.block.clone().keeping(&mut |s| {
                        let keep = rest[s] > 0;
                        rest[s] -= u32::from(keep);
                        keep
                    });
                    let Some(block) = clipped else { break };
                    left = rest;
                    cost += self.stock[cutting.sheet].cost;
                    taken.push((cutting.sheet, block));
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
        use rand::Rng;
        let mut order: Vec<usize> = (0..weights.len()).filter(|&c| weights[c] > 0).collect();
        order.sort_by_key(|&c| (std::cmp::Reverse(weights[c]), c));
        let reach = if tries == 0 { 1 } else { order.len().min(3) };
        if order.is_empty() { Vec::new() } else { vec![(order[self.rng.random_range(0..reach)], 1)] }
    }
}
