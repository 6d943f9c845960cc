//! The last part of a length of yardage: few pieces, any straight cuts, least height.

use crate::cutting::Work;
use crate::cutting::fit::greedy;
use crate::cutting::fit::shapes::{Shapes, multisets};
use crate::cutting::fit::{Answer, fit_grid};
use crate::cutting::grid::block::Block;
use crate::cutting::grid::order::Order;
use crate::cutting::yardage::strips::stacked_strips;

/// Multisets up to which all shapes are listed: exact, and quick enough to do often.
const FEW_MULTISETS: u64 = 2_500;
/// Share of the work that the search below the first constructed height may take.
const SEARCH_SHARE: u64 = 4;

/// A block of all pieces, no wider than `w` and no higher than `most`, as low as found.
pub(crate) fn least_height(w: u32, most: u32, order: &Order, work: &mut Work) -> Option<Block> {
    let lowest = order.area().div_ceil(u64::from(w.max(1)));
    if order.sizes.is_empty() || lowest > u64::from(most) {
        return None;
    }
    let mut best = constructed(w, most, order, work);
    let limit = best.as_ref().map_or(most, |b| b.h - 1);
    if lowest > u64::from(limit) {
        return best;
    }
    if multisets(&order.counts).is_some_and(|n| n <= FEW_MULTISETS) {
        let slack = u64::from(w) * u64::from(limit) - order.area();
        if let Some(shapes) = Shapes::of(&order.sizes, &order.counts, &[(w, limit)], slack, work) {
            let lower = shapes.blocks(shapes.len() - 1, w, limit).into_iter().min_by_key(|b| b.h);
            return lower.or(best);
        }
        return best;
    }
    let share = work.left() / SEARCH_SHARE;
    let mut part = work.share(share);
    while let Some(h) = best.as_ref().map(|b| b.h - 1).filter(|&h| u64::from(h) >= lowest) {
        match fit_grid(w, h, order, &mut part) {
            Answer::Yes(Some(block)) => best = Some(block),
            _ => break,
        }
    }
    work.charge(share, &part);
    best
}

/// Strips, and greedy cutting in every order and manner.
fn constructed(w: u32, most: u32, order: &Order, work: &mut Work) -> Option<Block> {
    let share = work.left() / SEARCH_SHARE;
    let mut part = work.share(share);
    let mut best = stacked_strips(w, &order.sizes, &order.counts, ROUNDS, &mut part)
        .and_then(|strips| strips.into_iter().reduce(Block::above))
        .filter(|b| b.h <= most);
    work.charge(share, &part);
    for sequence in greedy::sequences(&order.sizes, &order.counts) {
        for manner in greedy::MANNERS {
            let room = best.as_ref().map_or(most, |b| b.h - 1);
            let packed = greedy::pack(&[(w, room)], &order.sizes, &sequence, &|_, _| true, manner);
            work.spend(u64::from(order.pieces()) * 20);
            if let Some(blocks) = packed {
                best = blocks.into_iter().next().flatten();
            }
        }
    }
    best
}

/// Rounds of strips: few, since this is asked often.
const ROUNDS: u64 = 6;
