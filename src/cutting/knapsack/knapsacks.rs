//! The most valuable pieces to cut from several equal sheets.

use rand::rngs::SmallRng;
use rand::{Rng, SeedableRng};

use crate::cutting::bounds::lagrange::{self, Round, SCALE};
use crate::cutting::bounds::value_table::Table;
use crate::cutting::grid::block::{Block, Namer, layout_with};
use crate::cutting::grid::order::Order;
use crate::cutting::knapsack::{Solver, most_pieces};
use crate::cutting::{Kind, Layout, Sheet, Work};

/// Answer to [`knapsacks`].
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Knapsacks {
    /// One layout a sheet; leaves name kinds.
    pub layouts: Vec<Layout>,
    /// Value of all pieces.
    pub value: i64,
    /// No layouts are worth more.
    pub bound: i64,
}

/// The most valuable pieces to cut from `copies` sheets: a piece of kind `k` is worth `values[k]`, and at most `counts[k]`
/// are wanted.
///
/// # Panics
/// When there is not one value and one count a kind.
pub fn knapsacks(
    sheet: Sheet,
    copies: u32,
    kinds: &[Kind],
    values: &[i64],
    counts: &[u32],
    work: &mut Work,
) -> Knapsacks {
    assert!(kinds.len() == values.len() && kinds.len() == counts.len(), "one value and one count a kind");
    let wanted: Vec<u32> = (0..kinds.len())
        .map(|k| {
            let most = most_pieces(sheet, &kinds[k]).saturating_mul(copies);
            if values[k] > 0 { most.min(counts[k]) } else { 0 }
        })
        .collect();
    let order = Order::apart(kinds, &wanted);
    let worth: Vec<i64> = order.members.iter().map(|m| values[m[0].0]).collect();
    let (w, h) = order.sheet(sheet);
    let mut search =
        Search { w, h, copies, order: &order, worth: &worth, blocks: Vec::new(), value: 0, bound: i64::MAX };
    search.run(work);
    search.blocks.resize(copies as usize, None);
    let mut namer = Namer::new(&order, kinds);
    let layouts = search.blocks.iter().map(|b| layout_with(b.as_ref(), sheet, &mut namer)).collect();
    Knapsacks { layouts, value: search.value, bound: search.bound }
}

struct Search<'a> {
    w: u32,
    h: u32,
    copies: u32,
    order: &'a Order,
    worth: &'a [i64],
    blocks: Vec<Option<Block>>,
    value: i64,
    bound: i64,
}

/// Of the work left, the share that the first filling of one sheet may take, and a later one.
const FIRST_SHARE: u64 = 12;
const LATER_SHARE: u64 = 40;
/// What one try takes besides the searches it charges for.
const STEPS_PER_TRY: u64 = 50_000;

impl Search<'_> {
    fn run(&mut self, work: &mut Work) {
        if self.order.sizes.is_empty() {
            self.bound = 0;
            return;
        }
        let plain = vec![16; self.worth.len()];
        let first = self.filled(vec![None; self.copies as usize], &plain, FIRST_SHARE, work);
        self.offer(first);
        self.lower_bound(work);
        let mut rng = SmallRng::seed_from_u64(5);
        while self.value < self.bound && work.left() > 0 {
            work.spend(STEPS_PER_TRY);
            // Empty two sheets (one when there is but one), vary the values for the first, fill both again.
            let mut blocks = self.blocks.clone();
            for _ in 0..2 {
                let at = rng.random_range(0..blocks.len());
                blocks[at] = None;
            }
            let varied: Vec<i64> = plain.iter().map(|_| rng.random_range(13..=17)).collect();
            let tried = self.filled(blocks, &varied, LATER_SHARE, work);
            self.offer(tried);
        }
    }

    fn total(&self, blocks: &[Option<Block>]) -> i64 {
        let mut sum = 0;
        blocks.iter().flatten().for_each(|b| b.visit(&mut |s| sum += self.worth[s]));
        sum
    }

    fn offer(&mut self, blocks: Vec<Option<Block>>) {
        let value = self.total(&blocks);
        if value >= self.value {
            self.value = value;
            self.blocks = blocks;
        }
    }

    /// Fills the empty sheets one after the other, all but the last at values changed by `factors` (in sixteenths).
    fn filled(
        &self,
        mut blocks: Vec<Option<Block>>,
        factors: &[i64],
        share: u64,
        work: &mut Work,
    ) -> Vec<Option<Block>> {
        let mut left = self.order.counts.clone();
        blocks.iter().flatten().for_each(|b| b.visit(&mut |s| left[s] -= 1));
        let empty: Vec<usize> = (0..blocks.len()).filter(|&i| blocks[i].is_none()).collect();
        for (nth, &at) in empty.iter().enumerate() {
            let (few, back) = self.order.only(&left);
            if few.sizes.is_empty() {
                break;
            }
            let last = nth + 1 == empty.len();
            let changed = |s: usize| if last { self.worth[s] * 16 } else { self.worth[s] * factors[s] };
            let worth: Vec<i64> = back.iter().map(|&s| changed(s)).collect();
            let mut solver = Solver::new(self.w, self.h, &few, &worth);
            let steps = work.horizon() / share;
            let mut part = work.share(steps);
            solver.solve(true, &mut part);
            work.charge(steps, &part);
            if let Some(block) = solver.block {
                block.visit(&mut |s| left[back[s]] -= 1);
                blocks[at] = Some(block.renamed(&|s| back[s]));
            }
        }
        blocks
    }

    /// Lagrange prices of the limits over all sheets together.
    fn lower_bound(&mut self, work: &mut Work) {
        let Some(mut table) = Table::quicker(self.w, self.h, &self.order.sizes, &self.order.counts) else {
            let area = u128::from(self.w) * u128::from(self.h) * u128::from(self.copies);
            let each = |s: usize| {
                u128::try_from(self.worth[s]).unwrap_or(0) * area
                    / u128::from(self.order.sizes[s].area().max(1))
            };
            let most = (0..self.worth.len()).map(each).max().unwrap_or(0);
            self.bound = i64::try_from(most).unwrap_or(i64::MAX);
            return;
        };
        let share = work.horizon() / 5;
        let mut part = work.share(share);
        let (order, known, copies) = (self.order, self.value, i64::from(self.copies));
        let everything: i64 = self.worth.iter().zip(&order.counts).map(|(v, &n)| v * i64::from(n)).sum();
        let prices = lagrange::lower(&order.counts, self.worth, |prices| {
            if !part.spend(table.steps()) {
                return None;
            }
            table.fill(prices);
            let mut taken = vec![0; prices.len()];
            if let Some(block) = table.block(prices, &order.sizes) {
                block.visit(&mut |s| taken[s] += self.copies);
            }
            Some(Round { whole: table.whole() * copies, taken, known })
        });
        work.charge(share, &part);
        // When the work ended before the first round there is only the trivial bound.
        self.bound = prices.bound.min(everything).min(i64::MAX / SCALE);
    }
}
