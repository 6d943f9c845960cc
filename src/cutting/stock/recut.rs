//! A few sheets of a finished cutting cut again, together, for less: a large neighbourhood (Shaw 1998), searched through
//! the ways of cutting known.
//!
//! At any prices a covering costs what its pieces are worth plus what its sheets lose, a sheet's loss being its cost less
//! the worth of its pieces. So sheets are taken out where much is lost, and ways of cutting that together lose less are
//! looked for, piece by piece, the loss that may still be made bounding the search.

use rand::Rng;
use rand::rngs::SmallRng;

use crate::cutting::Work;
use crate::cutting::grid::block::Block;
use crate::cutting::stock::Stock;
use crate::cutting::stock::columns::{Cutting, FINENESS};
use crate::cutting::stock::fill::Filled;

/// Most sheets taken out at once.
const MOST_OUT: usize = 5;
/// Ways of cutting tried in one search.
const TURNS: u32 = 3_000;
/// What a try takes, and each way of cutting tried.
const STEPS_PER_TRY: u64 = 300;
const STEPS_PER_TURN: u64 = 20;

/// Pieces and loss of a sheet in the cutting at hand.
struct Known {
    pieces: Vec<(usize, u32)>,
    loss: i128,
}

/// A way of cutting, with what it loses where all its pieces are wanted.
struct Column<'a> {
    cutting: &'a Cutting,
    pieces: Vec<(usize, u32)>,
    loss: i128,
}

/// The ways of cutting known, at some prices.
pub(crate) struct Recut<'a> {
    stock: &'a [Stock],
    prices: &'a [i64],
    unit: i64,
    /// Least difference between two costs.
    step: i64,
    columns: Vec<Column<'a>>,
    /// The ways of cutting that yield a size, least loss first.
    holding: Vec<Vec<usize>>,
}

/// One search: what is still wanted, and what was taken for the rest.
struct Search<'a> {
    left: Vec<u32>,
    taken: Vec<usize>,
    turns: u32,
    rng: &'a mut SmallRng,
}

impl<'a> Recut<'a> {
    /// A search through `pool` at `prices`, in parts of `unit` as columns count them; costs are multiples of `step`.
    pub(crate) fn new(
        stock: &'a [Stock],
        pool: impl Iterator<Item = &'a Cutting>,
        prices: &'a [i64],
        (unit, step): (i64, i64),
    ) -> Recut<'a> {
        let mut all =
            Recut { stock, prices, unit, step, columns: Vec::new(), holding: vec![Vec::new(); prices.len()] };
        for cutting in pool {
            let pieces: Vec<(usize, u32)> =
                cutting.counts.iter().copied().enumerate().filter(|p| p.1 > 0).collect();
            let loss = all.loss(cutting.sheet, &pieces);
            all.columns.push(Column { cutting, pieces, loss });
        }
        all.columns.sort_by_key(|c| c.loss);
        for (at, column) in all.columns.iter().enumerate() {
            column.pieces.iter().for_each(|&(s, _)| all.holding[s].push(at));
        }
        all
    }

    /// A cost, in the units of losses.
    fn scaled(&self, cost: i64) -> i128 {
        i128::from(cost) * i128::from(FINENESS)
    }

    /// What a sheet costs beyond the worth of its pieces.
    fn loss(&self, sheet: usize, pieces: &[(usize, u32)]) -> i128 {
        let worth: i128 = pieces.iter().map(|&(s, n)| i128::from(self.prices[s]) * i128::from(n)).sum();
        self.scaled(self.stock[sheet].cost) - worth * i128::from(self.unit)
    }

    /// What pieces and loss of a sheet cut are.
    fn known(&self, (sheet, block): &(usize, Block)) -> Known {
        let counts = block.counts(self.prices.len());
        let pieces: Vec<(usize, u32)> = counts.into_iter().enumerate().filter(|p| p.1 > 0).collect();
        let loss = self.loss(*sheet, &pieces);
        Known { pieces, loss }
    }

    /// Cuts a few sheets of `filled` again, `tries` times, never for more; true when it costs less now.
    pub(crate) fn improve(
        &self,
        filled: &mut Filled,
        tries: u32,
        rng: &mut SmallRng,
        work: &mut Work,
    ) -> bool {
        let cost = |filled: &Filled| filled.iter().map(|(s, _)| self.stock[*s].cost).sum::<i64>();
        let before = cost(filled);
        let mut known: Vec<Known> = filled.iter().map(|f| self.known(f)).collect();
        for _ in 0..tries {
            work.spend(STEPS_PER_TRY);
            if filled.len() < 2 || work.left() == 0 {
                break;
            }
            let out = self.choose(&known, rng);
            let lost: i128 = out.iter().map(|&at| known[at].loss).sum();
            // Now and then something other of the same cost, so that the search does not stay where it is.
            let gain = if rng.random_range(0..3) == 0 { 0 } else { self.scaled(self.step) };
            if lost < gain {
                continue;
            }
            let mut left = vec![0; self.prices.len()];
            out.iter().flat_map(|&at| &known[at].pieces).for_each(|&(s, n)| left[s] += n);
            let mut search = Search { left: left.clone(), taken: Vec::new(), turns: TURNS, rng };
            let found = self.cover(&mut search, lost - gain);
            work.spend(u64::from(TURNS - search.turns) * STEPS_PER_TURN);
            if !found {
                continue;
            }
            let taken = search.taken;
            for &at in out.iter().rev() {
                filled.swap_remove(at);
                known.swap_remove(at);
            }
            for at in taken {
                let cutting = self.columns[at].cutting;
                let wanted = cutting.block.clone().keeping(&mut |s| {
                    let keep = left[s] > 0;
                    left[s] -= u32::from(keep);
                    keep
                });
                let Some(block) = wanted else { continue };
                filled.push((home(self.stock, cutting.sheet, &block), block));
                known.push(self.known(&filled[filled.len() - 1]));
            }
        }
        cost(filled) < before
    }

    /// A few sheets, those that lose much more often; in ascending order.
    fn choose(&self, known: &[Known], rng: &mut SmallRng) -> Vec<usize> {
        let most = MOST_OUT.min(known.len());
        let many = rng.random_range(2..=most.max(2));
        let mut out: Vec<usize> = Vec::new();
        for nth in 0..many {
            let draws = if nth == 0 { 3 } else { 2 };
            let drawn = (0..draws).map(|_| rng.random_range(0..known.len()));
            out.extend(drawn.max_by_key(|&at| known[at].loss));
        }
        out.sort_unstable();
        out.dedup();
        out
    }

    /// Covers what is left with a loss within `budget`.
    fn cover(&self, search: &mut Search, budget: i128) -> bool {
        let hardest = (0..search.left.len()).filter(|&s| search.left[s] > 0).max_by_key(|&s| self.prices[s]);
        let Some(hardest) = hardest else { return true };
        let columns = &self.holding[hardest];
        let within = columns.partition_point(|&c| self.columns[c].loss <= budget);
        if within == 0 {
            return false;
        }
        let first = search.rng.random_range(0..within);
        for &at in columns[first..within].iter().chain(&columns[..first]) {
            if search.turns == 0 {
                return false;
            }
            search.turns -= 1;
            let column = &self.columns[at];
            let unwanted = |&(s, n): &(usize, u32)| {
                i128::from(self.prices[s]) * i128::from(n.saturating_sub(search.left[s]))
            };
            let over: i128 = column.pieces.iter().map(unwanted).sum();
            let rest = budget - column.loss - over * i128::from(self.unit);
            if rest < 0 {
                continue;
            }
            let before = search.left.clone();
            for &(s, n) in &column.pieces {
                search.left[s] = search.left[s].saturating_sub(n);
            }
            search.taken.push(at);
            if self.cover(search, rest) {
                return true;
            }
            search.taken.pop();
            search.left = before;
        }
        false
    }
}

/// The cheapest kind of sheet that holds a block now on `sheet`.
pub(crate) fn home(stock: &[Stock], sheet: usize, block: &Block) -> usize {
    let holds = |t: &usize| block.w <= stock[*t].w && block.h <= stock[*t].h;
    let cheaper = (0..stock.len()).filter(holds).min_by_key(|&t| (stock[t].cost, t));
    cheaper.filter(|&t| stock[t].cost < stock[sheet].cost).unwrap_or(sheet)
}

#[cfg(test)]
mod tests {
    use rand::SeedableRng;

    use super::*;

    #[test]
    fn sheets_cut_again_yield_the_same_pieces_for_less() {
        // Squares of one and of two on strips of four by two or two by two.
        let stock = [Stock { w: 4, h: 2, cost: 8 }, Stock { w: 2, h: 2, cost: 5 }];
        let (one, two) = (Block::piece(0, 1, 1), Block::piece(1, 2, 2));
        let pair = Block::above(one.clone(), one.clone());
        let four = Block::beside(pair.clone(), pair.clone());
        let blocks = [(1, four.clone()), (1, two.clone()), (0, Block::beside(two.clone(), four))];
        let pool: Vec<Cutting> =
            blocks.map(|(sheet, block)| Cutting { sheet, counts: block.counts(2), block }).into();
        let mut filled: Filled = vec![(0, pair.clone()), (1, pair), (0, two)];
        let prices = [FINENESS / 8, FINENESS / 2];
        let recut = Recut::new(&stock, pool.iter(), &prices, (8, 1));
        let mut rng = SmallRng::seed_from_u64(1);
        assert!(recut.improve(&mut filled, 200, &mut rng, &mut Work::steps(10_000_000)));
        let cost: i64 = filled.iter().map(|(s, _)| stock[*s].cost).sum();
        let mut counts = [0, 0];
        filled.iter().for_each(|(_, b)| b.visit(&mut |s| counts[s] += 1));
        assert_eq!((cost, counts), (8, [4, 1]));
    }
}
