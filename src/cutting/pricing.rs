//! Pricing: the way of cutting one kind of sheet that is worth most at given prices of the pieces.

use crate::cutting::Work;
use crate::cutting::block::Block;
use crate::cutting::knapsack::Solver;
use crate::cutting::order::Order;
use crate::cutting::value_table::Table;

/// One kind of sheet and its table, to be asked again and again.
pub(crate) struct Pricer {
    w: u32,
    h: u32,
    table: Option<Table>,
}

/// How much searching a pricing may do beyond the value table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Effort {
    /// Most blocks of the search with limited counts; 0 for none.
    pub(crate) nodes: usize,
}

/// The answer at some prices.
pub(crate) struct Priced {
    /// A cutting within the limits, worth more than was asked for, if one was found; with its worth.
    pub(crate) found: Option<(Block, i64)>,
    /// No cutting within the limits is worth more.
    pub(crate) bound: i64,
}

impl Pricer {
    /// A pricer for `w` x `h` sheets and the sizes of `order`.
    pub(crate) fn new(w: u32, h: u32, order: &Order) -> Pricer {
        Pricer { w, h, table: Table::reduced(w, h, &order.sizes) }
    }

    /// A cutting worth more than `threshold` with at most `limits` pieces of each size, the best that the effort finds.
    pub(crate) fn price(
        &mut self,
        order: &Order,
        prices: &[i64],
        limits: &[u32],
        threshold: i64,
        effort: Effort,
        work: &mut Work,
    ) -> Priced {
        let mut bound = i64::MAX;
        let mut block = None;
        work.spend(STEPS_TO_SET_UP * (1 + order.sizes.len() as u64));
        // Pieces no longer wanted have no price, so that the table does not lean on them.
        let wanted: Vec<i64> = prices.iter().zip(limits).map(|(&p, &n)| if n > 0 { p } else { 0 }).collect();
        if let Some(table) = &mut self.table {
            work.spend(table.steps());
            table.fill(&wanted);
            bound = table.whole();
            if bound <= threshold {
                return Priced { found: None, bound };
            }
            block = table.block(&wanted, &order.sizes);
        }
        let (few, back) = order.only(limits);
        let worth: Vec<i64> = back.iter().map(|&s| prices[s]).collect();
        let mut front = vec![usize::MAX; order.sizes.len()];
        for (at, &size) in back.iter().enumerate() {
            front[size] = at;
        }
        let mut solver = Solver::new(self.w, self.h, &few, &worth);
        solver.bound = bound;
        solver.seek(threshold);
        solver.offer(block.map(|b| b.renamed(&|s| front[s])));
        if effort.nodes > 0 && (solver.block.is_none() || effort.nodes > FEW) && !solver.done() {
            solver.search(effort.nodes, work);
        }
        let found = solver.block.map(|b| (b.renamed(&|s| back[s]), solver.value));
        Priced { found, bound: solver.bound }
    }
}

/// What preparing a pricing takes, for each size.
const STEPS_TO_SET_UP: u64 = 300;
/// Up to this effort a cutting found without searching is good enough.
const FEW: usize = 20_000;
