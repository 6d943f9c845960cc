//! All pieces into a sheet that they fill without any waste.
//!
//! Every cut of such a layout leaves two parts without waste. Where all bricks can be listed, that decides it. Otherwise
//! dives: a block begins with the most awkward piece left and grows brick by brick until it spans the sheet, which goes
//! on with the rest of it, as layers do (for guillotine cutting compare Wei, Tian, Zhu and Lim 2014). A dive that has
//! taken too many turns is dropped, and the next one finds other pieces awkward.

use std::collections::HashSet;
use std::hash::BuildHasherDefault;

use rand::rngs::SmallRng;
use rand::{Rng, SeedableRng};

use crate::cutting::fit::bricks::Bricks;
use crate::cutting::grid::block::Block;
use crate::cutting::grid::counts::{Counts, Fields, WordHasher};
use crate::cutting::grid::order::Order;
use crate::cutting::{Axis, Work};

/// How the search for a layout without waste ended.
pub(crate) enum Perfect {
    /// Here it is.
    Found(Block),
    /// Every join without waste was made: there is none. With the number of joins.
    None(u64),
    /// Work ended first.
    Unknown,
}

/// Most bricks listed.
const MOST_BRICKS: usize = 20_000;
/// Turns of a dive and bricks tried at each; dives take these by rotation.
const DIVES: [(u64, usize); 3] = [(300, 2), (1_000, 4), (3_000, 6)];
/// What a brick may be worth to a dive, and what chance adds at most.
const WEIGHT: u64 = 1_000;
const CHANCE: u64 = 500;

/// Looks for a block of all pieces of `order` of exactly `w` x `h`, which is what their areas make.
pub(crate) fn fill(w: u32, h: u32, order: &Order, work: &mut Work) -> Perfect {
    if let Some(fields) = Fields::<2>::new(&order.counts) {
        fill_with((w, h), order, fields, work)
    } else if let Some(fields) = Fields::<4>::new(&order.counts) {
        fill_with((w, h), order, fields, work)
    } else {
        Fields::<8>::new(&order.counts).map_or(Perfect::Unknown, |f| fill_with((w, h), order, f, work))
    }
}

fn fill_with<const N: usize>(
    sheet: (u32, u32),
    order: &Order,
    fields: Fields<N>,
    work: &mut Work,
) -> Perfect {
    let bricks = Bricks::new(sheet, order, fields, MOST_BRICKS, work);
    if let Some(whole) = bricks.all.iter().rposition(|b| (b.w, b.h) == sheet) {
        return Perfect::Found(bricks.block(whole));
    }
    if bricks.complete {
        return Perfect::None(bricks.joins);
    }
    let awkward: Vec<u64> = order.sizes.iter().map(|s| s.area().isqrt()).collect();
    let weights = weights(&bricks, &awkward);
    let mut rng = SmallRng::seed_from_u64(11);
    for (turns, choices) in DIVES.into_iter().cycle() {
        if work.left() == 0 {
            break;
        }
        let varied = awkward.iter().map(|a| a * rng.random_range(7..=13)).collect();
        let mut dive = Dive {
            bricks: &bricks,
            weights: &weights,
            awkward: varied,
            turns,
            choices,
            moves: Vec::new(),
            seen: HashSet::default(),
            rng: &mut rng,
            work,
        };
        if dive.carve(Counts([0; N]), sheet) {
            return Perfect::Found(dive.block());
        }
    }
    Perfect::Unknown
}

/// How much of each brick is of awkward pieces, which are better used early.
fn weights<const N: usize>(bricks: &Bricks<N>, awkward: &[u64]) -> Vec<u64> {
    let most = awkward.iter().copied().max().unwrap_or(1).max(1);
    let sizes = &bricks.order.sizes;
    let weight = |brick: &crate::cutting::fit::bricks::Brick<N>| {
        let each = |s: usize| bricks.fields.get(brick.counts, s) * sizes[s].area() * awkward[s];
        let sum: u64 = (0..sizes.len()).map(each).sum();
        WEIGHT * sum / (u64::from(brick.w) * u64::from(brick.h) * most)
    };
    bricks.all.iter().map(weight).collect()
}

/// One thing done in a dive.
enum Move {
    /// A block begins with a piece.
    Begin(Block),
    /// A brick joins it.
    Join(Axis, usize),
    /// The block spans the sheet; what is left of the sheet lies along this axis.
    Carve(Axis),
}

/// Pieces used, block, and sheet left.
type Stand<const N: usize> = (Counts<N>, (u32, u32), (u32, u32));

struct Dive<'a, const N: usize> {
    bricks: &'a Bricks<'a, N>,
    weights: &'a [u64],
    awkward: Vec<u64>,
    turns: u64,
    choices: usize,
    moves: Vec<Move>,
    /// Where no more need be tried.
    seen: HashSet<Stand<N>, BuildHasherDefault<WordHasher>>,
    rng: &'a mut SmallRng,
    work: &'a mut Work,
}

impl<const N: usize> Dive<'_, N> {
    /// Begins a block in what is left of the sheet, with the most awkward piece; true when everything found its place.
    fn carve(&mut self, used: Counts<N>, left: (u32, u32)) -> bool {
        let order = self.bricks.order;
        let wanted = |s: usize| self.bricks.fields.get(used, s) < u64::from(order.counts[s]);
        let first = (0..order.sizes.len()).filter(|&s| wanted(s)).max_by_key(|&s| self.awkward[s]);
        let Some(first) = first else { return true };
        let fits = |s: usize| order.sizes[s].ways().any(|(w, h)| w <= left.0 && h <= left.1);
        if !(0..order.sizes.len()).filter(|&s| wanted(s)).all(fits) {
            return false;
        }
        let mut ways: Vec<(u32, u32)> = order.sizes[first].ways().collect();
        if self.rng.random_bool(0.5) {
            ways.reverse();
        }
        let used = self.bricks.fields.add(used, self.bricks.fields.one(first)).expect("it is wanted");
        for (w, h) in ways {
            if w <= left.0 && h <= left.1 {
                self.moves.push(Move::Begin(Block::piece(first, w, h)));
                if self.grow(used, (w, h), left) {
                    return true;
                }
                self.moves.pop();
            }
        }
        false
    }

    /// Goes on with a block in the lower left corner of what is left of the sheet.
    fn grow(&mut self, used: Counts<N>, block: (u32, u32), left: (u32, u32)) -> bool {
        let rest = match (left.0 - block.0, left.1 - block.1) {
            (0, h) => Some((Axis::Height, (left.0, h))),
            (w, 0) => Some((Axis::Width, (w, left.1))),
            _ => None,
        };
        if let Some((axis, rest)) = rest {
            self.moves.push(Move::Carve(axis));
            let done = self.carve(used, rest);
            if !done {
                self.moves.pop();
            }
            return done;
        }
        if self.turns == 0 || !self.seen.insert((used, block, left)) {
            return false;
        }
        self.turns -= 1;
        for (_, axis, id) in self.choices(used, block, left) {
            let brick = &self.bricks.all[id];
            let joined = match axis {
                Axis::Width => (block.0 + brick.w, block.1),
                Axis::Height => (block.0, block.1 + brick.h),
            };
            let used = self.bricks.fields.add(used, brick.counts).expect("a choice is within the limits");
            self.moves.push(Move::Join(axis, id));
            if self.grow(used, joined, left) {
                return true;
            }
            self.moves.pop();
            if self.turns == 0 || self.work.left() == 0 {
                return false;
            }
        }
        false
    }

    /// The few bricks that suit the block best.
    fn choices(&mut self, used: Counts<N>, block: (u32, u32), left: (u32, u32)) -> Vec<(u64, Axis, usize)> {
        let mut all = Vec::new();
        let (beside, above) = (self.bricks.high(block.1), self.bricks.wide(block.0));
        self.work.spend(2 * (beside.len() + above.len()) as u64 + 50);
        let each = beside.iter().map(|&b| (Axis::Width, b)).chain(above.iter().map(|&b| (Axis::Height, b)));
        for (axis, id) in each {
            let brick = &self.bricks.all[id];
            let room = match axis {
                Axis::Width => left.0 - block.0 >= brick.w,
                Axis::Height => left.1 - block.1 >= brick.h,
            };
            if room && self.bricks.fields.add(used, brick.counts).is_some() {
                all.push((self.weights[id] + self.rng.random_range(0..CHANCE), axis, id));
            }
        }
        all.sort_unstable_by_key(|&(weight, _, id)| (std::cmp::Reverse(weight), id));
        all.truncate(self.choices);
        all
    }

    /// The block that the moves make.
    fn block(&self) -> Block {
        let mut carved: Vec<(Axis, Block)> = Vec::new();
        let mut growing: Option<Block> = None;
        for step in &self.moves {
            growing = match (step, growing) {
                (Move::Begin(piece), _) => Some(piece.clone()),
                (Move::Join(axis, id), block) => Block::join(*axis, block, Some(self.bricks.block(*id))),
                (Move::Carve(axis), block) => {
                    carved.extend(block.map(|b| (*axis, b)));
                    None
                }
            };
        }
        let rest = carved.into_iter().rev().fold(None, |rest, (axis, b)| Block::join(axis, Some(b), rest));
        rest.expect("a dive that is done has moves")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cutting::fit::shapes::Shapes;
    use crate::cutting::grid::order::Size;

    #[test]
    fn what_the_bricks_say_is_what_all_shapes_say() {
        let mut rng = SmallRng::seed_from_u64(3);
        let mut said = [0, 0];
        while said.iter().sum::<u32>() < 300 {
            let (w, h) = (rng.random_range(4..=9), rng.random_range(4..=9));
            let mut side = || rng.random_range(1..=5);
            let sizes: Vec<Size> = (0..5).map(|_| Size { w: side(), h: side(), turn: false }).collect();
            let counts: Vec<u32> = sizes.iter().map(|_| rng.random_range(1..=2)).collect();
            let members = (0..5).map(|s| vec![(s, counts[s])]).collect();
            let order = Order { unit: 1, sizes, counts, members };
            if order.area() != u64::from(w) * u64::from(h) {
                continue;
            }
            let mut work = Work::steps(100_000_000);
            let shapes = Shapes::of(&order.sizes, &order.counts, &[(w, h)], 0, &mut work).unwrap();
            let fits = !shapes.blocks(shapes.len() - 1, w, h).is_empty();
            match fill(w, h, &order, &mut work) {
                Perfect::Found(block) => {
                    assert!(fits && (block.w, block.h) == (w, h));
                    assert_eq!(block.counts(order.sizes.len()), order.counts);
                }
                Perfect::None(_) => assert!(!fits),
                Perfect::Unknown => panic!("so few bricks can be listed"),
            }
            said[usize::from(fits)] += 1;
        }
        assert!(said[0] > 0 && said[1] > 0, "both answers occur: {said:?}");
    }
}
