//! Cutting the same pieces so that what is left is worth most, and then so that it is kindest to cut.

use crate::cutting::ease::friendly::effort;
use crate::cutting::fit::greedy;
use crate::cutting::fit::shapes::{Shapes, multisets};
use crate::cutting::fit::{Answer, fit_block};
use crate::cutting::grid::block::{Block, layout};
use crate::cutting::grid::order::{Order, Size};
use crate::cutting::layout::{Layout, Rect};
use crate::cutting::{Kind, Sheet, Work, tidy};
use crate::length::{Length, Units};

/// What is wished of a layout besides its pieces.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Wishes {
    /// A leftover is useful when its shorter side is at least this.
    pub useful_side: Length,
    /// Whose marks the ruler has.
    pub units: Units,
}

/// What a leftover is worth: its area times its shorter side, nothing when that side is under `useful_side`.
/// Large ones are worth more than the same area in small ones, square ones more than narrow ones.
pub fn leftover_value(rect: Rect, useful_side: Length) -> i128 {
    let short = rect.width.min(rect.height);
    if short < useful_side || short <= Length::ZERO {
        return 0;
    }
    i128::from(rect.width.ticks()) * i128::from(rect.height.ticks()) * i128::from(short.ticks())
}

/// Largest multisets whose every shape is looked at.
const MOST_SHAPED: u64 = 3_000;
/// Sizes of one large leftover that are tried to be cut along with the pieces.
const LARGE_TRIES: usize = 40;
/// Share of the work that one such try may take.
const TRY_SHARE: u64 = 12;

/// A layout of exactly these pieces on `sheet` whose leftovers are worth most among those looked at; among equals the
/// friendliest to cut ([`crate::cutting::Effort`]). `None` when no layout was found.
///
/// # Panics
/// When `counts` has not one count a kind.
pub fn most_leftover(
    sheet: Sheet,
    kinds: &[Kind],
    counts: &[u32],
    wishes: Wishes,
    work: &mut Work,
) -> Option<Layout> {
    assert_eq!(kinds.len(), counts.len(), "one count a kind");
    let order = Order::merged(kinds, counts);
    if order.sizes.is_empty() {
        return Some(layout(None, sheet, &order, kinds));
    }
    let mut best = Best { sheet, kinds, order: &order, wishes, found: None };
    let (w, h) = order.sheet(sheet);
    for sequence in greedy::sequences(&order.sizes, &order.counts) {
        for manner in greedy::MANNERS {
            let packed = greedy::pack(&[(w, h)], &order.sizes, &sequence, &|_, _| true, manner);
            if let Some(blocks) = packed {
                best.offer(blocks[0].as_ref());
            }
        }
    }
    if multisets(&order.counts).is_some_and(|n| n <= MOST_SHAPED)
        && order.area() <= u64::from(w) * u64::from(h)
    {
        let slack = u64::from(w) * u64::from(h) - order.area();
        if let Some(shapes) = Shapes::of(&order.sizes, &order.counts, &[(w, h)], slack, work) {
            for block in shapes.blocks(shapes.len() - 1, w, h) {
                best.offer(Some(&block));
            }
        }
    }
    if best.found.is_none()
        && let Answer::Yes(block) = fit_block(sheet, &order, work)
    {
        best.offer(block.as_ref());
    }
    best.found.as_ref()?;
    best.with_large_leftover(w, h, work);
    best.found.map(|(_, layout)| layout)
}

/// The best layout so far.
struct Best<'a> {
    sheet: Sheet,
    kinds: &'a [Kind],
    order: &'a Order,
    wishes: Wishes,
    found: Option<(i128, Layout)>,
}

impl Best<'_> {
    /// Takes a block if its layout is better.
    fn offer(&mut self, block: Option<&Block>) {
        let made = tidy(&layout(block, self.sheet, self.order, self.kinds));
        let value = made.leftovers().iter().map(|r| leftover_value(*r, self.wishes.useful_side)).sum();
        let better = self.found.as_ref().is_none_or(|(most, known)| {
            value > *most
                || (value == *most
                    && (effort(&made, self.wishes.units), &made.root())
                        < (effort(known, self.wishes.units), &known.root()))
        });
        if better {
            self.found = Some((value, made));
        }
    }

    /// Tries to cut one large rectangle along with the pieces, the most valuable first, as long as it beats
    /// what is known.
    fn with_large_leftover(&mut self, w: u32, h: u32, work: &mut Work) {
        let least = self.order.floor(self.wishes.useful_side).max(1);
        let room = u64::from(w) * u64::from(h) - self.order.area();
        let mut sizes: Vec<(i128, u32, u32)> = Vec::new();
        for a in candidates(&self.order.sizes, w) {
            for b in candidates(&self.order.sizes, h) {
                if a >= least && b >= least && u64::from(a) * u64::from(b) <= room {
                    let value = i128::from(a) * i128::from(b) * i128::from(a.min(b));
                    sizes.push((value * i128::from(self.order.unit).pow(3), a, b));
                }
            }
        }
        sizes.sort_unstable_by(|x, y| y.cmp(x));
        let share = work.left() / TRY_SHARE;
        let most = self.found.as_ref().map_or(0, |f| f.0);
        for (value, a, b) in sizes.into_iter().take(LARGE_TRIES) {
            if value <= most || work.left() < share {
                return;
            }
            let mut with = self.order.clone();
            with.sizes.push(Size { w: a, h: b, turn: false });
            with.counts.push(1);
            with.members.push(Vec::new());
            let mut tried = work.share(share);
            let answer = fit_block(self.sheet, &with, &mut tried);
            work.charge(share, &tried);
            if let Answer::Yes(Some(block)) = answer {
                let extra = self.order.sizes.len();
                self.offer_with_hole(block, extra);
                return;
            }
        }
    }

    /// Offers a block in which `extra` is not a piece but the leftover.
    fn offer_with_hole(&mut self, block: Block, extra: usize) {
        let without = block.keeping(&mut |size| size != extra);
        self.offer(without.as_ref());
    }
}

/// Sides a large leftover may have: the sheet's side less up to a few piece sides.
fn candidates(sizes: &[Size], total: u32) -> Vec<u32> {
    let mut sums = vec![0];
    for _ in 0..3 {
        let more: Vec<u32> = sums
            .iter()
            .flat_map(|s| sizes.iter().flat_map(|z| [z.w, z.h]).map(move |side| s + side))
            .filter(|&s| s <= total)
            .collect();
        sums.extend(more);
        sums.sort_unstable();
        sums.dedup();
        if sums.len() > 200 {
            break;
        }
    }
    sums.into_iter().map(|s| total - s).filter(|&s| s > 0).collect()
}
