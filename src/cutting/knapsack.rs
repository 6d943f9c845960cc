//! What is the most valuable set of pieces to cut from a sheet?

use crate::cutting::best_first::{self, Bound, Question};
use crate::cutting::block::{Block, layout};
use crate::cutting::order::Order;
use crate::cutting::outer_table::OuterTable;
use crate::cutting::value_table::Table;
use crate::cutting::{Kind, Layout, Sheet, Work, greedy};

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

/// Most blocks a search remembers.
const MOST_NODES: usize = 1_500_000;

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
    let fits = |k: &Kind| {
        (k.width <= sheet.width && k.height <= sheet.height)
            || (k.turn && k.height <= sheet.width && k.width <= sheet.height)
    };
    let limits: Vec<u32> = (0..kinds.len())
        .map(|k| {
            let each = (i128::from(sheet.width.ticks()) * i128::from(sheet.height.ticks()))
                / (i128::from(kinds[k].width.ticks()) * i128::from(kinds[k].height.ticks())).max(1);
            let most = u32::try_from(each).unwrap_or(u32::MAX).min(counts.map_or(u32::MAX, |c| c[k]));
            if values[k] > 0 && fits(&kinds[k]) { most } else { 0 }
        })
        .collect();
    let order = Order::apart(kinds, &limits);
    let worth: Vec<i64> = order.members.iter().map(|m| values[m[0].0]).collect();
    let (block, value, bound) = solve(sheet, &order, &worth, counts.is_some(), work);
    Knapsack { layout: layout(block.as_ref(), sheet, &order, kinds), value, bound }
}

fn solve(
    sheet: Sheet,
    order: &Order,
    worth: &[i64],
    limited: bool,
    work: &mut Work,
) -> (Option<Block>, i64, i64) {
    let (w, h) = order.sheet(sheet);
    let total = |block: &Block| {
        let mut sum = 0;
        block.visit(&mut |s| sum += worth[s]);
        sum
    };
    let mut best: (Option<Block>, i64) = (None, 0);
    for sequence in greedy::sequences(&order.sizes, &order.counts) {
        for manner in greedy::MANNERS {
            let packed = greedy::pack(&[(w, h)], &order.sizes, &sequence, &|_, _| true, manner);
            if let Some(block) = packed.blocks.into_iter().next().flatten()
                && total(&block) > best.1
            {
                best = (Some(block.clone()), total(&block));
            }
        }
    }
    let counts = limited.then_some(order.counts.as_slice());
    let table = match counts {
        None => Table::reduced(w, h, &order.sizes),
        Some(counts) => Table::quicker(w, h, &order.sizes, counts),
    };
    let Some(mut table) = table else {
        let area = i128::from(w) * i128::from(h);
        let density = |s: usize| i128::from(worth[s]) * area / i128::from(order.sizes[s].area().max(1));
        let bound = (0..worth.len()).map(density).max().unwrap_or(0);
        return (best.0, best.1, i64::try_from(bound).unwrap_or(i64::MAX));
    };
    work.spend(table.steps());
    table.fill(worth);
    let bound = table.whole();
    let top = table.block(worth, &order.sizes);
    let within = top
        .as_ref()
        .is_none_or(|b| b.counts(worth.len()).iter().zip(&order.counts).all(|(used, most)| used <= most));
    if within {
        return (top, bound, bound);
    }
    let Some(mut full) = Table::full(w, h, &order.sizes, counts) else { return (best.0, best.1, bound) };
    work.spend(full.steps() + OuterTable::steps(&full));
    full.fill(worth);
    let outer = OuterTable::of(&full);
    let ask = Question {
        w,
        h,
        sizes: &order.sizes,
        limits: &order.counts,
        bounds: vec![Bound { prices: worth, outer: &outer, need: best.1 + 1 }],
        most_nodes: MOST_NODES,
    };
    match best_first::greatest(&ask, worth, best.1, 1, work) {
        Some(found) => (found.block.or(best.0), found.worth, found.bound.min(bound)),
        None => (best.0, best.1, bound),
    }
}
