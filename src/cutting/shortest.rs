//! How much yardage do these pieces need? Guillotine strip packing: the width is given, the length is to be least.

use crate::cutting::block::{Block, Namer, layout_with};
use crate::cutting::dual_feasible::rules;
use crate::cutting::order::{Order, Size};
use crate::cutting::strips::stacked_strips;
use crate::cutting::{Kind, Layout, Sheet, Work, greedy, tidy};
use crate::length::Length;

/// Answer to [`shortest`].
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shortest {
    /// A layout of the whole length and the height that it uses, if one was found that fits.
    pub found: Option<(Layout, Length)>,
    /// No layout uses less.
    pub bound: Length,
}

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
    let (w, h) = order.sheet(sheet);
    let bound = order.length(u32::try_from(height_bound(w, &order)).unwrap_or(u32::MAX));
    if order.sizes.is_empty() {
        let bare = layout_with(None, sheet, &mut Namer::new(&order, kinds));
        return Shortest { found: Some((bare, Length::ZERO)), bound: Length::ZERO };
    }
    let mut best: Option<Block> = stacked_strips(w, &order.sizes, &order.counts, work);
    for sequence in greedy::sequences(&order.sizes, &order.counts) {
        for manner in greedy::MANNERS {
            let room = best.as_ref().map_or(h, |b| b.h - 1).min(h);
            let packed = greedy::pack(&[(w, room)], &order.sizes, &sequence, &|_, _| true, manner);
            if packed.missing.is_empty() {
                best = packed.blocks.into_iter().next().flatten();
            }
        }
    }
    let found = best.filter(|b| b.h <= h).map(|block| {
        let used = order.length(block.h);
        (used_first(&block, sheet, used, &order, kinds), used)
    });
    Shortest { found, bound }
}

/// The layout whose first cut takes off the used part; that part is tidied.
fn used_first(block: &Block, sheet: Sheet, used: Length, order: &Order, kinds: &[Kind]) -> Layout {
    use crate::cutting::layout::{Axis, Node, Split};
    let part = Sheet { width: sheet.width, height: used };
    let inner = tidy(&layout_with(Some(block), part, &mut Namer::new(order, kinds)));
    if used == sheet.height {
        return inner;
    }
    let root = Node::Cut(Box::new(Split {
        axis: Axis::Height,
        at: used,
        first: inner.root().clone(),
        second: Node::Leftover,
    }));
    Layout::new(sheet.width, sheet.height, root, kinds).expect("the used part lies inside the sheet")
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
