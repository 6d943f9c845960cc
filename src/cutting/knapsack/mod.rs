//! What is the most valuable set of pieces to cut from a sheet?

use crate::cutting::bounds::lagrange::{self, Prices, Round, SCALE};
use crate::cutting::bounds::outer_table::OuterTable;
use crate::cutting::bounds::positions;
use crate::cutting::bounds::value_table::{self, Table};
use crate::cutting::fit::best_first::{self, Bound};
use crate::cutting::fit::greedy;
use crate::cutting::grid::block::{Block, layout};
use crate::cutting::grid::order::Order;
use crate::cutting::{Kind, Layout, Sheet, Work};

pub(crate) mod filling;
pub(crate) mod joined;
pub(crate) mod knapsacks;
pub(crate) mod two_stage;
pub(crate) mod whole_sets;

/// Answer to [`knapsack`].
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Knapsack {
    /// The best layout found; its leaves name kinds.
    pub layout: Layout,
    /// Value of its pieces.
    pub value: i64,
    /// No layout is worth more. Equal to `value` when the layout is proved best.
    pub bound: i64,
}

/// Most blocks the first, short search from the pieces up remembers: most instances end there.
const FEW_NODES: usize = 60_000;
/// Most blocks the last search remembers.
const MOST_NODES: usize = 1_500_000;
/// Most cuttings the passes over positions keep.
const MOST_ENTRIES: usize = 3_000_000;

/// The most valuable pieces to cut from `sheet`: a piece of kind `k` is worth `values[k]`, and at most `counts[k]` are
/// wanted (any number when `None`). Kinds of no value are not cut.
///
/// # Panics
/// When there is not one value, and one count if any, a kind.
pub fn knapsack(
    sheet: Sheet,
    kinds: &[Kind],
    values: &[i64],
    counts: Option<&[u32]>,
    work: &mut Work,
) -> Knapsack {
    assert_eq!(kinds.len(), values.len(), "one value a kind");
    let limits: Vec<u32> = (0..kinds.len())
        .map(|k| {
            let most = most_pieces(sheet, &kinds[k]).min(counts.map_or(u32::MAX, |c| c[k]));
            if values[k] > 0 { most } else { 0 }
        })
        .collect();
    let order = Order::apart(kinds, &limits);
    let worth: Vec<i64> = order.members.iter().map(|m| values[m[0].0]).collect();
    let (w, h) = order.sheet(sheet);
    let mut solver = Solver::new(w, h, &order, &worth);
    solver.solve(counts.is_some(), work);
    Knapsack {
        layout: layout(solver.block.as_ref(), sheet, &order, kinds),
        value: solver.value,
        bound: solver.bound,
    }
}

/// How many pieces of a kind a sheet could hold by area; none when one does not fit.
pub(crate) fn most_pieces(sheet: Sheet, kind: &Kind) -> u32 {
    if !kind.fits(sheet) {
        return 0;
    }
    let area =
        |a: crate::length::Length, b: crate::length::Length| i128::from(a.ticks()) * i128::from(b.ticks());
    let each = area(sheet.width, sheet.height) / area(kind.width, kind.height).max(1);
    u32::try_from(each).unwrap_or(u32::MAX)
}

/// One knapsack on the grid: the best block so far and the bound so far.
pub(crate) struct Solver<'a> {
    w: u32,
    h: u32,
    order: &'a Order,
    worth: &'a [i64],
    pub(crate) block: Option<Block>,
    pub(crate) value: i64,
    pub(crate) bound: i64,
}

impl<'a> Solver<'a> {
    /// A knapsack of the order's pieces on a `w` x `h` sheet, a piece of size `s` worth `worth[s]`.
    pub(crate) fn new(w: u32, h: u32, order: &'a Order, worth: &'a [i64]) -> Solver<'a> {
        Solver { w, h, order, worth, block: None, value: 0, bound: i64::MAX }
    }

    /// From the cheapest means to the dearest, until the value meets the bound or the work ends.
    pub(crate) fn solve(&mut self, limited: bool, work: &mut Work) {
        let (w, h) = (self.w, self.h);
        let (sizes, counts) = (&self.order.sizes, &self.order.counts);
        self.construct();
        let table = if limited { Table::quicker(w, h, sizes, counts) } else { Table::reduced(w, h, sizes) };
        let Some(mut table) = table.filter(|t| t.steps() <= work.horizon()) else {
            self.bound = self.by_density();
            return;
        };
        work.spend(table.steps());
        table.fill(self.worth);
        self.bound = table.whole();
        self.offer(table.block(self.worth, sizes));
        if self.done() {
            return;
        }
        self.best_first(&Prices::plain(self.worth), FEW_NODES, work);
        if self.done() || work.left() == 0 {
            return;
        }
        let prices = self.lower_prices(&mut table, work);
        if self.done() {
            return;
        }
        self.positions(&prices, work);
        if !self.done() {
            self.best_first(&prices, MOST_NODES, work);
        }
    }

    /// Only what is worth more than `value` is looked for from now on.
    pub(crate) fn seek(&mut self, value: i64) {
        self.value = self.value.max(value);
    }

    /// The search from the pieces up with at most `nodes` blocks, the prices being the worth.
    pub(crate) fn search(&mut self, nodes: usize, work: &mut Work) {
        self.best_first(&Prices::plain(self.worth), nodes, work);
    }

    /// True when the value meets the bound.
    pub(crate) fn done(&self) -> bool {
        self.value >= self.bound
    }

    fn total(&self, block: &Block) -> i64 {
        let mut sum = 0;
        block.visit(&mut |s| sum += self.worth[s]);
        sum
    }

    /// Takes a block if, without the pieces beyond their counts and filled up again, it is worth more.
    pub(crate) fn offer(&mut self, block: Option<Block>) {
        let mut left = self.order.counts.clone();
        let within = block.and_then(|b| {
            b.keeping(&mut |s| {
                let keep = left[s] > 0;
                left[s] -= u32::from(keep);
                keep
            })
        });
        let mut rest: Vec<usize> = (0..left.len()).filter(|&s| left[s] > 0).collect();
        rest.sort_by_key(|&s| (std::cmp::Reverse(self.worth[s]), s));
        let sequence: Vec<usize> =
            rest.into_iter().flat_map(|s| std::iter::repeat_n(s, left[s] as usize)).collect();
        let manner = greedy::MANNERS[0];
        let filled = greedy::refill(within.as_ref(), (self.w, self.h), &self.order.sizes, &sequence, manner);
        self.take(filled);
    }

    /// Takes a block within its counts if it is worth more.
    fn take(&mut self, block: Option<Block>) {
        if let Some(block) = block {
            let value = self.total(&block);
            if value > self.value {
                self.value = value;
                self.block = Some(block);
            }
        }
    }

    fn construct(&mut self) {
        for sequence in greedy::sequences(&self.order.sizes, &self.order.counts) {
            for manner in greedy::MANNERS {
                let (sizes, worth) = (&self.order.sizes, self.worth);
                let sheet = (self.w, self.h);
                self.take(greedy::pack_some(sheet, sizes, &sequence, manner, worth, self.value));
            }
        }
    }

    /// Area times the best value per area.
    fn by_density(&self) -> i64 {
        value_table::by_density((self.w, self.h), &self.order.sizes, self.worth)
    }

    /// Lagrange prices, within a fifth of the work; repaired cuttings of every round are offered.
    fn lower_prices(&mut self, table: &mut Table, work: &mut Work) -> Prices {
        let share = work.horizon() / 5;
        let mut part = work.share(share);
        let (order, worth) = (self.order, self.worth);
        let prices = lagrange::lower(&order.counts, worth, |prices| {
            if !part.spend(table.steps()) {
                return None;
            }
            table.fill(prices);
            let block = table.block(prices, &order.sizes);
            let taken = block.as_ref().map_or_else(|| vec![0; worth.len()], |b| b.counts(worth.len()));
            self.offer(block);
            Some(Round { whole: table.whole(), taken, known: self.value })
        });
        work.charge(share, &part);
        self.bound = self.bound.min(prices.bound);
        prices
    }

    /// Tables over all positions for these prices.
    fn tables(&self, prices: &Prices, work: &mut Work) -> Option<(Table, OuterTable)> {
        let mut table = Table::full(self.w, self.h, &self.order.sizes, Some(&self.order.counts))?;
        let steps = table.steps() + OuterTable::steps(&table);
        if steps > work.horizon() {
            return None;
        }
        work.spend(steps);
        table.fill(&prices.prices);
        let outer = OuterTable::of(&table);
        Some((table, outer))
    }

    /// Passes over positions of growing breadth.
    fn positions(&mut self, prices: &Prices, work: &mut Work) {
        let Some((table, outer)) = self.tables(prices, work) else { return };
        let mut breadth = 1;
        while !self.done() && work.left() > 0 {
            let ask = positions::Question {
                sizes: &self.order.sizes,
                limits: &self.order.counts,
                worth: self.worth,
                prices: &prices.prices,
                table: &table,
                outer: Some(&outer),
                base: prices.base,
                scale: SCALE,
                breadth,
                most_entries: MOST_ENTRIES,
            };
            let Some(found) = positions::search(&ask, self.value, work) else { return };
            if let Some((block, _)) = found.best {
                self.offer(Some(block));
            }
            if found.exact {
                self.bound = self.value;
            }
            if found.stopped {
                return;
            }
            breadth *= 2;
        }
    }

    /// Blocks worth at least `least`, as many as a search that remembers `nodes` blocks meets.
    pub(crate) fn above(&self, least: i64, nodes: usize, work: &mut Work) -> Vec<Block> {
        let plain = Prices { prices: self.worth.to_vec(), base: 0, bound: i64::MAX };
        let Some((_, outer)) = self.tables(&plain, work) else { return Vec::new() };
        let ask = best_first::Question {
            w: self.w,
            h: self.h,
            sizes: &self.order.sizes,
            limits: &self.order.counts,
            bounds: vec![Bound { prices: self.worth, outer: &outer, need: least }],
            most_nodes: nodes,
            variation: 0,
        };
        best_first::all_above(&ask, work)
    }

    /// The search from the pieces up, bounded by these prices.
    fn best_first(&mut self, prices: &Prices, most_nodes: usize, work: &mut Work) {
        let Some((_, outer)) = self.tables(prices, work) else { return };
        let need = (self.value + 1) * SCALE - prices.base;
        let ask = best_first::Question {
            w: self.w,
            h: self.h,
            sizes: &self.order.sizes,
            limits: &self.order.counts,
            bounds: vec![Bound { prices: &prices.prices, outer: &outer, need }],
            most_nodes,
            variation: 0,
        };
        if let Some(found) = best_first::greatest(&ask, self.worth, self.value, SCALE, work) {
            self.take(found.block);
            self.bound = self.bound.min(found.bound);
        }
    }
}
