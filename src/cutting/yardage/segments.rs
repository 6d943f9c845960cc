//! Yardage cut into segments across the full width, each of any height and cut in any straight way: column generation over
//! the heights, all priced from one value table; dives to whole segments; the last part by itself.
//!
//! The strip packing of Cintra, Miyazawa, Wakabayashi and Xavier (2008) with their dynamic programme as pricing.

use rand::rngs::SmallRng;
use rand::{Rng, SeedableRng};

use crate::cutting::Work;
use crate::cutting::bounds::value_table::Table;
use crate::cutting::grid::block::Block;
use crate::cutting::grid::order::Order;
use crate::cutting::grid::raster::{Along, normal_patterns};
use crate::cutting::stock::Stock;
use crate::cutting::stock::columns::Columns;
use crate::cutting::stock::pricing::{Effort, Pricer};
use crate::cutting::yardage::last_part::least_height;

/// Fillings of the table that the work must allow before this is tried at all.
const FILLINGS: u64 = 40;
/// Most heights of segments.
const MOST_HEIGHTS: usize = 600;
/// Rounds of column generation for the whole order.
const ROUNDS: usize = 400;
/// Blocks of one pricing search.
const NODES: usize = 2_000;
/// Up to so many pieces the rest is also cut as one last part.
const LAST_PIECES: u32 = 45;

/// Segments of yardage of width `w`, and the columns they are chosen from.
pub(crate) struct Segments<'a> {
    w: u32,
    order: &'a Order,
    columns: Columns<'a>,
    rng: SmallRng,
}

/// Heights that segments of a `w` wide fabric may have, as stock that costs its height; `None` when the work does not
/// allow for the tables. `highest` is the least that the highest may be.
pub(crate) fn heights(w: u32, order: &Order, highest: u32, work: &Work) -> Option<Vec<Stock>> {
    let affordable = work.horizon() / FILLINGS;
    let most = [2 * highest, highest + highest / 2, highest].into_iter().find(|&h| {
        Table::full(w, h, &order.sizes, Some(&order.counts)).is_some_and(|t| t.steps() <= affordable)
    })?;
    let heights = normal_patterns(&order.sizes, Some(&order.counts), Along::Height, most, w, MOST_HEIGHTS)?;
    let stock = |&h: &u32| Stock { w, h, cost: i64::from(h) };
    let stock: Vec<Stock> = heights.points.iter().skip(1).map(stock).collect();
    stock.last().is_some_and(|s| s.h >= highest).then_some(stock)
}

impl<'a> Segments<'a> {
    /// Segments to begin with: `known` strips.
    pub(crate) fn new(w: u32, order: &'a Order, stock: &'a [Stock], known: &[Block]) -> Segments<'a> {
        let mut columns = Columns::new(order, stock, vec![Pricer::family(stock, order)]);
        for block in known {
            columns.add(stock.partition_point(|s| s.h < block.h), block.clone());
        }
        Segments { w, order, columns, rng: SmallRng::seed_from_u64(3) }
    }

    /// Generates columns for the whole order; prices of the pieces when no more pay.
    pub(crate) fn root(&mut self, work: &mut Work) -> Vec<i64> {
        self.columns.generate(&self.order.counts, ROUNDS, Effort { nodes: NODES }, work);
        self.columns.last_prices.clone()
    }

    /// One dive: whole segments of the fractional optimum, then fractions, and at every step the rest as one last part.
    /// Blocks that together are lower than `known`, if found.
    pub(crate) fn dive(&mut self, known: u32, work: &mut Work) -> Option<Vec<Block>> {
        let mut left = self.order.counts.clone();
        let mut taken: Vec<Block> = Vec::new();
        let mut height = 0;
        let mut best: Option<(u32, Vec<Block>)> = None;
        while left.iter().any(|&n| n > 0) && work.left() > 0 {
            let most = best.as_ref().map_or(known, |b| b.0);
            let (rest, back) = self.order.only(&left);
            let floor = u32::try_from(rest.area().div_ceil(u64::from(self.w))).unwrap_or(u32::MAX);
            if height + floor >= most {
                break;
            }
            if rest.pieces() <= LAST_PIECES
                && let Some(last) = least_height(self.w, most - 1 - height, &rest, work)
            {
                let mut blocks = taken.clone();
                let total = height + last.h;
                blocks.push(last.renamed(&|s| back[s]));
                best = Some((total, blocks));
            }
            let Some(weights) = self.columns.weights(&left, work) else { break };
            for (column, times) in self.picks(&weights) {
                for _ in 0..times {
                    let mut now = left.clone();
                    let clipped = self.columns.pool[column].block.clone().keeping(&mut |s| {
                        let keep = now[s] > 0;
                        now[s] -= u32::from(keep);
                        keep
                    });
                    let Some(block) = clipped else { break };
                    left = now;
                    height += block.h;
                    taken.push(block);
                }
            }
            self.columns.generate(&left, 2, Effort { nodes: 0 }, work);
        }
        if left.iter().all(|&n| n == 0) && best.as_ref().map_or(known, |b| b.0) > height {
            return Some(taken);
        }
        best.map(|b| b.1)
    }

    /// The whole parts of the weights; when there are none, one column drawn by its weight.
    fn picks(&mut self, weights: &[i64]) -> Vec<(usize, i64)> {
        let whole: Vec<(usize, i64)> =
            weights.iter().enumerate().filter(|(_, w)| **w >= 1_000).map(|(c, w)| (c, w / 1_000)).collect();
        if !whole.is_empty() {
            return whole;
        }
        let mut ticket = self.rng.random_range(0..weights.iter().sum::<i64>().max(1));
        for (column, &weight) in weights.iter().enumerate() {
            if ticket < weight {
                return vec![(column, 1)];
            }
            ticket -= weight;
        }
        Vec::new()
    }
}
