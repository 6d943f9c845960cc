//! Pricing: the way of cutting one kind of sheet that is worth most at given prices of the pieces.

use crate::cutting::Work;
use crate::cutting::bounds::positions;
use crate::cutting::bounds::value_table::Table;
use crate::cutting::grid::block::Block;
use crate::cutting::grid::order::Order;
use crate::cutting::knapsack::Solver;
use crate::cutting::stock::Stock;

/// How much searching a pricing may do beyond the value table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Effort {
    /// Most blocks of the search with limited counts; 0 for none.
    pub(crate) nodes: usize,
}

/// The answer for one kind of sheet at some prices.
pub(crate) struct Priced {
    /// Which of the stock.
    pub(crate) sheet: usize,
    /// A cutting within the limits, worth more than the threshold, if one was found; with its worth.
    pub(crate) found: Option<(Block, i64)>,
    /// No cutting within the limits is worth more.
    pub(crate) bound: i64,
}

/// Sheets that share one value table, to be priced again and again.
pub(crate) struct Pricer {
    /// Index in the stock, width and height of each.
    sheets: Vec<(usize, u32, u32)>,
    table: Option<Table>,
}

/// Up to this effort a cutting found without searching is good enough.
const FEW: usize = 20_000;
/// What preparing a pricing takes, for each size.
const STEPS_TO_SET_UP: u64 = 300;
/// Of a family of sheets, those for which a cutting is handed out at once: the ones of most worth for their cost.
const MOST_AT_ONCE: usize = 6;
/// Cuttings kept at each pair of positions when a family is priced.
const BREADTH: usize = 2;
/// Most cuttings kept in all.
const MOST_ENTRIES: usize = 1_000_000;

impl Pricer {
    /// A pricer for every kind of sheet, each with its own reduced table.
    pub(crate) fn each(stock: &[Stock], order: &Order) -> Vec<Pricer> {
        let one = |(at, s): (usize, &Stock)| Pricer {
            sheets: vec![(at, s.w, s.h)],
            table: Table::reduced(s.w, s.h, &order.sizes),
        };
        stock.iter().enumerate().map(one).collect()
    }

    /// One pricer for sheets of one width and many heights: the table of the highest holds all the others.
    pub(crate) fn family(stock: &[Stock], order: &Order) -> Pricer {
        let w = stock.iter().map(|s| s.w).max().unwrap_or(0);
        let h = stock.iter().map(|s| s.h).max().unwrap_or(0);
        let sheets = stock.iter().enumerate().map(|(at, s)| (at, s.w, s.h)).collect();
        Pricer { sheets, table: Table::full(w, h, &order.sizes, Some(&order.counts)) }
    }

    /// For every sheet a cutting worth more than its threshold (one a kind of stock) with at most `limits` pieces of each size,
    /// the best that the effort finds.
    pub(crate) fn price(
        &mut self,
        order: &Order,
        prices: &[i64],
        limits: &[u32],
        thresholds: &[i64],
        effort: Effort,
        work: &mut Work,
    ) -> Vec<Priced> {
        work.spend(STEPS_TO_SET_UP * (1 + order.sizes.len() as u64));
        // Pieces no longer wanted have no price, so that the table does not lean on them.
        let wanted: Vec<i64> = prices.iter().zip(limits).map(|(&p, &n)| if n > 0 { p } else { 0 }).collect();
        if let Some(table) = &mut self.table {
            work.spend(table.steps());
            table.fill(&wanted);
        }
        let bound = |w, h| self.table.as_ref().map_or(i64::MAX, |t| t.at(w, h));
        let mut all: Vec<Priced> = self
            .sheets
            .iter()
            .map(|&(sheet, w, h)| Priced { sheet, found: None, bound: bound(w, h) })
            .collect();
        if self.sheets.len() > 1 {
            self.price_family(order, &wanted, limits, thresholds, &mut all, work);
            return all;
        }
        let (sheet, w, h) = self.sheets[0];
        if all[0].bound <= thresholds[sheet] {
            return all;
        }
        let (few, back) = order.only(limits);
        let block = self.table.as_ref().and_then(|t| t.block_at(w, h, &wanted, &order.sizes));
        let worth: Vec<i64> = back.iter().map(|&s| prices[s]).collect();
        let mut front = vec![usize::MAX; order.sizes.len()];
        for (at, &size) in back.iter().enumerate() {
            front[size] = at;
        }
        let mut solver = Solver::new(w, h, &few, &worth);
        solver.bound = all[0].bound;
        solver.seek(thresholds[sheet]);
        solver.offer(block.map(|b| b.renamed(&|s| front[s])));
        if effort.nodes > 0 && (solver.block.is_none() || effort.nodes > FEW) && !solver.done() {
            solver.search(effort.nodes, work);
        }
        all[0].bound = solver.bound;
        all[0].found = solver.block.map(|b| (b.renamed(&|s| back[s]), solver.value));
        all
    }

    /// A family at once: one pass over positions with limited counts; the heights that pay most for their cost.
    fn price_family(
        &self,
        order: &Order,
        prices: &[i64],
        limits: &[u32],
        thresholds: &[i64],
        all: &mut [Priced],
        work: &mut Work,
    ) {
        let Some(table) = &self.table else { return };
        let ask = positions::Question {
            sizes: &order.sizes,
            limits,
            worth: prices,
            prices,
            table,
            outer: None,
            base: 0,
            scale: 1,
            breadth: BREADTH,
            most_entries: MOST_ENTRIES,
        };
        let at = |j: usize| self.sheets.partition_point(|s| s.2 < table.ys.points[j]);
        let pays = |j: usize, price: i64| {
            self.sheets.get(at(j)).is_some_and(|&(sheet, _, _)| price > thresholds[sheet])
        };
        let mut paying = positions::at_heights(&ask, pays, work);
        let gain = |(j, price, _): &(usize, i64, Block)| {
            i128::from(*price) * 1_000_000 / i128::from(thresholds[self.sheets[at(*j)].0].max(1))
        };
        paying.sort_by_key(|found| (std::cmp::Reverse(gain(found)), found.0));
        for (j, price, block) in paying.into_iter().take(MOST_AT_ONCE) {
            all[at(j)].found = Some((block, price));
        }
    }
}
