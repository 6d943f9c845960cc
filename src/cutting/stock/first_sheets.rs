//! Sheets to begin with, which cut everything, however badly.

use crate::cutting::fit::greedy;
use crate::cutting::grid::block::Block;
use crate::cutting::grid::order::Order;
use crate::cutting::stock::Stock;
use crate::cutting::stock::fill::Filled;

/// Pieces from which on only two manners of filling greedily are tried.
const MANY: usize = 400;

/// Sheets of one size filled greedily, for each size that holds everything and every order and manner. When no size
/// does, each piece from a sheet of its own; nothing when a piece fits no sheet.
pub(crate) fn first_sheets(order: &Order, stock: &[Stock]) -> Vec<Filled> {
    let pieces = order.pieces() as usize;
    let mut all = Vec::new();
    for (sheet, s) in stock.iter().enumerate() {
        let fits = order.sizes.iter().all(|z| z.ways().any(|(a, b)| a <= s.w && b <= s.h));
        if !fits {
            continue;
        }
        let room = vec![(s.w, s.h); pieces];
        for sequence in greedy::sequences(&order.sizes, &order.counts) {
            for manner in &greedy::MANNERS[..if pieces > MANY { 2 } else { 8 }] {
                let packed = greedy::pack(&room, &order.sizes, &sequence, &|_, _| true, *manner);
                all.extend(packed.map(|blocks| blocks.into_iter().flatten().map(|b| (sheet, b)).collect()));
            }
        }
    }
    if all.is_empty() {
        all.extend(one_each(order, stock));
    }
    all
}

/// Each piece from the cheapest sheet that holds it.
fn one_each(order: &Order, stock: &[Stock]) -> Option<Filled> {
    let mut filled = Vec::new();
    for (s, size) in order.sizes.iter().enumerate() {
        let homes = size.ways().flat_map(|(w, h)| {
            let holding = (0..stock.len()).filter(move |&t| w <= stock[t].w && h <= stock[t].h);
            holding.map(move |t| (stock[t].cost, t, w, h))
        });
        let (_, sheet, w, h) = homes.min()?;
        for _ in 0..order.counts[s] {
            filled.push((sheet, Block::piece(s, w, h)));
        }
    }
    Some(filled)
}
