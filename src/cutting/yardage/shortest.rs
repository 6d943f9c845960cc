//! How much yardage do these pieces need? Guillotine strip packing: the width is given, the length is to be least.

use crate::cutting::bounds::dual_feasible::rules;
use crate::cutting::bounds::value_table::Table;
use crate::cutting::fit::greedy;
use crate::cutting::fit::small_area;
use crate::cutting::grid::block::{Block, Namer, layout_with};
use crate::cutting::grid::order::{Order, Size};
use crate::cutting::strips::cover::cover;
use crate::cutting::strips::pattern::Pattern;
use crate::cutting::strips::{Style, used_first};
use crate::cutting::yardage::segments::{self, Segments};
use crate::cutting::yardage::strips::stacked_strips;
use crate::cutting::{Kind, Layout, Sheet, Work, tidy};
use crate::length::Length;

/// Answer to [`shortest`].
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shortest {
    /// A layout of the whole length and the height that it uses, if one was found that fits.
    pub found: Option<(Layout, Length)>,
    /// No layout uses less.
    pub bound: Length,
}

/// Rounds of planning in strips.
const STRIP_ROUNDS: u64 = 200;
/// Thresholds for dual feasible functions along the width.
const THRESHOLDS: usize = 200;

/// The least length of fabric of `width`, at most `longest`, that the pieces can be cut from. The layout is of the full
/// `width` x `longest` sheet; its first cut is at the height used when that is less.
///
/// # Panics
/// When `counts` has not one count a kind.
pub fn shortest(width: Length, longest: Length, kinds: &[Kind], counts: &[u32], work: &mut Work) -> Shortest {
    assert_eq!(kinds.len(), counts.len(), "one count a kind");
    let order = Order::merged(kinds, counts);
    let sheet = Sheet { width, height: longest };
    if order.sizes.is_empty() {
        let bare = layout_with(None, sheet, &mut Namer::new(&order, kinds));
        return Shortest { found: Some((bare, Length::ZERO)), bound: Length::ZERO };
    }
    let (w, h) = order.sheet(sheet);
    let mut bound = height_bound(w, &order);
    let least = |block: &Option<Block>| block.as_ref().map_or(u64::MAX, |b| u64::from(b.h));
    let strips_share = work.horizon() / 4;
    let mut part = work.share(strips_share);
    let strips = stacked_strips(w, &order.sizes, &order.counts, STRIP_ROUNDS, &mut part);
    work.charge(strips_share, &part);
    let mut best = strips.clone().and_then(stack);
    // Strips chosen by an integer programme are shorter than any found one after the other, often enough.
    let chosen = in_three_stages(w, &order, &strips, work);
    best = best.into_iter().chain(chosen).min_by_key(|block| block.h);
    for sequence in greedy::sequences(&order.sizes, &order.counts) {
        for manner in greedy::MANNERS {
            let room = best.as_ref().map_or(h, |b| b.h - 1).min(h);
            let packed = greedy::pack(&[(w, room)], &order.sizes, &sequence, &|_, _| true, manner);
            if let Some(blocks) = packed {
                best = blocks.into_iter().next().flatten();
            }
        }
    }
    bound = value_bound(w, least(&best), &order, None, bound, work);
    if let Some(strips) = strips.filter(|_| least(&best) > bound)
        && let Some(stock) = segments::heights(w, &order, strips.iter().map(|b| b.h).max().unwrap_or(0), work)
    {
        let mut search = Segments::new(w, &order, &stock, &strips);
        let share = work.horizon() / 2;
        let mut part = work.share(share);
        let prices = search.root(&mut part);
        work.charge(share, &part);
        bound = value_bound(w, least(&best), &order, Some(prices), bound, work);
        while work.left() > 0 && least(&best) > bound {
            let known = best.as_ref().map_or(u32::MAX, |b| b.h);
            if let Some(blocks) = search.dive(known, work) {
                best = stack(blocks);
            }
        }
    }
    let found = best.filter(|b| b.h <= h).map(|block| {
        let used = order.length(block.h);
        let part = Sheet { width, height: used };
        let part = tidy(&layout_with(Some(&block), part, &mut Namer::new(&order, kinds)));
        (used_first(&part, sheet, kinds), used)
    });
    Shortest { found, bound: order.length(u32::try_from(bound).unwrap_or(u32::MAX)) }
}

/// All pieces in mixed strips, where no piece is longer than the fabric is wide.
fn in_three_stages(w: u32, order: &Order, known: &Option<Vec<Block>>, work: &mut Work) -> Option<Block> {
    let long = |size: &Size| size.ways().filter(|way| way.0 <= w).all(|way| way.1 > w);
    if known.is_none() || order.sizes.iter().any(long) {
        return None;
    }
    let share = work.horizon() / 4;
    let mut part = work.share(share);
    let strips = cover(w, &order.sizes, &order.counts, Style::Mixed, &mut part).strips;
    work.charge(share, &part);
    stack(strips?.iter().filter_map(Pattern::block).collect())
}

/// No cutting of these pieces from fabric of `width` is shorter: the quick part of the bound of [`shortest`].
///
/// # Panics
/// When `counts` has not one count a kind.
pub fn length_bound(width: Length, kinds: &[Kind], counts: &[u32]) -> Length {
    assert_eq!(kinds.len(), counts.len(), "one count a kind");
    let order = Order::merged(kinds, counts);
    let bound = height_bound(order.floor(width), &order);
    order.length(u32::try_from(bound).unwrap_or(u32::MAX))
}

/// Blocks one above the other, the highest first.
fn stack(mut blocks: Vec<Block>) -> Option<Block> {
    blocks.sort_by_key(|b| std::cmp::Reverse(b.h));
    blocks.into_iter().reduce(Block::above)
}

/// The least height below `known` at which the value table reaches what all pieces are worth together, each worth its
/// area or a given price: no cutting of any kind is lower. `known` itself when none below does.
fn value_bound(
    w: u32,
    known: u64,
    order: &Order,
    prices: Option<Vec<i64>>,
    bound: u64,
    work: &mut Work,
) -> u64 {
    let values = prices.unwrap_or_else(|| order.sizes.iter().map(|s| small_area(s.area())).collect());
    let Ok(below) = u32::try_from(known.saturating_sub(1)) else { return bound };
    if bound >= known || values.len() != order.sizes.len() {
        return bound;
    }
    let Some(mut table) = Table::full(w, below, &order.sizes, Some(&order.counts)) else { return bound };
    if table.steps() > work.horizon() / 4 {
        return bound;
    }
    work.spend(table.steps());
    table.fill(&values);
    let need: i64 = values.iter().zip(&order.counts).map(|(v, &n)| v * i64::from(n)).sum();
    let heights = table.ys.points.clone();
    let reached = heights.into_iter().find(|&h| table.at(w, h) >= need);
    reached.map_or(known, u64::from).max(bound)
}

/// No cutting of width `w` is lower than this: the highest piece; and, for every rule that re-measures widths, the
/// pieces' measured area over the measured width (area itself, and pieces over half the width, among them).
fn height_bound(w: u32, order: &Order) -> u64 {
    let fitting = |s: &Size| s.ways().filter(|way| way.0 <= w).collect::<Vec<_>>();
    let highest = order.sizes.iter().filter_map(|s| fitting(s).iter().map(|way| way.1).min()).max();
    let mut bound = u64::from(highest.unwrap_or(0));
    let widths: Vec<u32> = order.sizes.iter().flat_map(|s| s.ways().map(|way| way.0)).collect();
    for rule in rules(&widths, w, THRESHOLDS) {
        let whole = rule.measure(w, w);
        let measure = |s: &Size| fitting(s).iter().map(|&(a, b)| rule.measure(a, w) * u64::from(b)).min();
        let pieces: u64 =
            order.sizes.iter().zip(&order.counts).map(|(s, &n)| measure(s).unwrap_or(0) * u64::from(n)).sum();
        if whole > 0 {
            bound = bound.max(pieces.div_ceil(whole));
        }
    }
    bound
}
