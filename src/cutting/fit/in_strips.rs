//! Quick cutting in strips, as a person at the mat begins: across the sheet, then along it. Where pieces fill strips nearly
//! to the end, piece by piece finds no place for the last of them.

use crate::cutting::Work;
use crate::cutting::grid::block::{Block, Made};
use crate::cutting::grid::order::{Order, Size};
use crate::cutting::yardage::strips::stacked_strips;

/// Rounds of strips each way.
const ROUNDS: u64 = 4;
/// Steps each way. They are allowed even where piece by piece has taken all there was: a yes here is the last that a short
/// look finds.
const STEPS: u64 = 100_000;

/// The pieces cut from `w` x `h` in strips that go right across or right along, if these are found to fit.
pub(crate) fn in_strips(w: u32, h: u32, order: &Order, work: &mut Work) -> Option<Block> {
    across(w, h, &order.sizes, &order.counts, work).or_else(|| {
        let turned: Vec<Size> = order.sizes.iter().map(|s| Size { w: s.h, h: s.w, ..*s }).collect();
        across(h, w, &turned, &order.counts, work).map(mirrored)
    })
}

fn across(w: u32, h: u32, sizes: &[Size], counts: &[u32], work: &mut Work) -> Option<Block> {
    let mut part = work.allowance(STEPS);
    let strips = stacked_strips(w, sizes, counts, ROUNDS, &mut part);
    work.spend(STEPS - part.left());
    let height = |strips: &[Block]| strips.iter().map(|strip| u64::from(strip.h)).sum::<u64>();
    let strips = strips.filter(|strips| height(strips) <= u64::from(h))?;
    strips.into_iter().reduce(Block::above)
}

/// Width and height exchanged.
fn mirrored(block: Block) -> Block {
    match block.made {
        Made::Piece(size) => Block::piece(size, block.h, block.w),
        Made::Beside(a, b) => Block::above(mirrored(*a), mirrored(*b)),
        Made::Above(a, b) => Block::beside(mirrored(*a), mirrored(*b)),
    }
}
