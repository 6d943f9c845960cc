//! Sheets of a cutting exchanged for others that lose less, while all the rest of it makes good what that changes: a large
//! neighbourhood (Shaw 1998) through the group of a basis (Gomory 1965).
//!
//! The columns of a cheapest basis lose nothing, and a long order uses most of them many times. So they may be used a few
//! times more or less: whatever other sheets are exchanged, there is one way to use the basis that makes the pieces come
//! out exactly. It is a whole one when the sheets that come in have the residue of those that go out, and then the cost
//! changes by the difference of what both lose.

use std::collections::HashSet;

use itertools::Itertools;
use rand::Rng;
use rand::rngs::SmallRng;

use crate::cutting::Work;
use crate::cutting::stock::Stock;
use crate::cutting::stock::around::{Around, Move, Search};
use crate::cutting::stock::basis::{Basis, Pieces};
use crate::cutting::stock::columns::Cutting;
use crate::cutting::stock::fill::Filled;
use crate::cutting::stock::recut::home;
use crate::cutting::stock::residues::{Residue, Residues};

/// Bases drawn, of which the one with the fewest residues is taken; most residues that are searched.
const DRAWS: usize = 6;
const FEW_RESIDUES: i64 = 1 << 14;
const MOST_RESIDUES: i64 = 1 << 17;
/// Costs that a basis is drawn at are parts of the dearest, each changed by less than one part in so many.
const PARTS: i64 = 1 << 24;
const NOISE: i64 = 100;
/// Columns kept: those that lose least.
const MOST_COLUMNS: usize = 2_000;
/// One of so many largest fractions is taken in a dive.
const REACH: usize = 3;
/// Columns that may come in: those that lose least.
const MOST_MOVES: usize = 300;
/// Each sheet that comes in counts as if it lost one part in so many of the dearest more: few sheets change less.
const EXTRA: i64 = 200;
/// Most sheets taken out at once, and most turns of the search for others.
const MOST_OUT: usize = 12;
const TURNS: u32 = 1_000;
/// Tries in vain around one basis, more where there are many residues, as they took longer to list.
const TRIES: i64 = 300;
const RESIDUES_PER_TRY: i64 = 64;
/// What a try takes, and each turn of its search.
const STEPS_PER_TRY: u64 = 2_000;
const STEPS_PER_TURN: u64 = 60;

/// The ways of cutting known, as columns; after them one for each size that takes a piece too many away.
pub(crate) struct Exchange<'a> {
    stock: &'a [Stock],
    demand: &'a [u32],
    /// All costs of the stock are multiples of this.
    step: i64,
    cuttings: Vec<&'a Cutting>,
    columns: Vec<Pieces>,
    /// In steps.
    costs: Vec<i64>,
}

impl<'a> Exchange<'a> {
    /// For cuttings of `demand` from `known` ways of cutting `stock`, which must cover it, or those of them that lose
    /// least; costs are multiples of `step`. `None` when numbers grow too large or the work ends.
    pub(crate) fn new(
        stock: &'a [Stock],
        known: impl Iterator<Item = &'a Cutting>,
        demand: &'a [u32],
        step: i64,
        work: &mut Work,
    ) -> Option<Exchange<'a>> {
        let mut seen = HashSet::new();
        let cuttings = known.filter(|c| seen.insert((c.sheet, &c.counts))).collect();
        let mut all = Exchange { stock, demand, step, cuttings, columns: Vec::new(), costs: Vec::new() };
        all.list();
        let basis = Basis::cheapest(&all.columns, &all.costs, &all.wanted(), work)?;
        let prices = basis.prices(&all.costs);
        let mut losses: Vec<(i128, usize)> = (0..all.cuttings.len())
            .map(|c| (basis.loss(&all.columns[c], all.costs[c], &prices), c))
            .collect();
        losses.sort_unstable();
        all.cuttings = losses.iter().take(MOST_COLUMNS).map(|&(_, c)| all.cuttings[c]).collect();
        all.list();
        Some(all)
    }

    /// Columns and costs, anew.
    fn list(&mut self) {
        let counted = |c: &&Cutting| {
            let pieces = c.counts.iter().enumerate().filter(|p| *p.1 > 0);
            pieces.map(|(s, &n)| (s, i64::from(n))).collect()
        };
        let surplus = (0..self.demand.len()).map(|s| vec![(s, -1)]);
        self.columns = self.cuttings.iter().map(counted).chain(surplus).collect();
        self.costs = self.cuttings.iter().map(|c| self.stock[c.sheet].cost / self.step).collect();
        self.costs.resize(self.columns.len(), 0);
    }

    fn wanted(&self) -> Vec<i64> {
        self.demand.iter().map(|&d| i64::from(d)).collect()
    }

    fn dearest(&self) -> i64 {
        self.costs.iter().copied().max().unwrap_or(1).max(1)
    }

    /// A cutting of the whole demand, drawn and then changed until that gains nothing around a basis; `None` when numbers
    /// grow too large, there are too many residues, or the work ends first.
    pub(crate) fn cut(&self, rng: &mut SmallRng, work: &mut Work) -> Option<Filled> {
        let mut used = self.dive(rng, work)?;
        let mut least = self.cost(&used);
        let mut best = used.clone();
        loop {
            let before = least;
            let around = self.around(rng, work);
            if around.is_none() && work.left() > 0 {
                return None;
            }
            if let Some(around) = around {
                let most = TRIES.max(around.basis.det / RESIDUES_PER_TRY);
                let mut tries = 0;
                while tries < most && work.left() > 0 {
                    tries += 1;
                    if self.attempt(&around, &mut used, rng, work) && self.cost(&used) < least {
                        (best, least, tries) = (used.clone(), self.cost(&used), 0);
                    }
                }
            }
            if least == before || work.left() == 0 {
                return Some(self.filled(&best));
            }
        }
    }

    fn cost(&self, used: &[i64]) -> i64 {
        used.iter().zip(&self.costs).map(|(u, c)| u * c).sum()
    }

    /// The sheets of columns used so often, without the pieces too many.
    fn filled(&self, used: &[i64]) -> Filled {
        let mut left = self.demand.to_vec();
        let mut filled = Vec::new();
        for (cutting, &times) in self.cuttings.iter().zip(used) {
            for _ in 0..times {
                let wanted = cutting.block.clone().keeping(&mut |s| {
                    let keep = left[s] > 0;
                    left[s] -= u32::from(keep);
                    keep
                });
                if let Some(block) = wanted {
                    filled.push((home(self.stock, cutting.sheet, &block), block));
                }
            }
        }
        filled
    }

    /// Costs in parts of the dearest, each a little more by lot.
    fn drawn(&self, rng: &mut SmallRng) -> Vec<i64> {
        let dearest = i128::from(self.dearest());
        let mut part = |&c: &i64| {
            let parts = i128::from(c) * i128::from(PARTS) / dearest;
            i64::try_from(parts).expect("at most all parts") + rng.random_range(0..PARTS / NOISE)
        };
        self.costs.iter().map(&mut part).collect()
    }

    /// How often each column is used in a cutting that takes the whole parts of a cheapest basis, or one of its largest
    /// fractions, again and again for what is left.
    fn dive(&self, rng: &mut SmallRng, work: &mut Work) -> Option<Vec<i64>> {
        let costs = self.drawn(rng);
        let mut left = self.wanted();
        let mut used = vec![0; self.columns.len()];
        while left.iter().any(|&n| n > 0) {
            let basis = Basis::cheapest(&self.columns, &costs, &left, work)?;
            let uses = basis.uses(&left.iter().copied().enumerate().collect());
            let mut sheets: Vec<(i64, usize)> = uses.into_iter().zip(basis.members.iter().copied()).collect();
            sheets.retain(|&(u, c)| u > 0 && c < self.cuttings.len());
            sheets.sort_unstable_by_key(|&(u, c)| (std::cmp::Reverse(u), c));
            let mut whole: Vec<(i64, usize)> = sheets.iter().map(|&(u, c)| (u / basis.det, c)).collect();
            whole.retain(|&(times, _)| times > 0);
            if whole.is_empty() {
                whole.push((1, sheets[rng.random_range(0..sheets.len().min(REACH))].1));
            }
            for (times, column) in whole {
                used[column] += times;
                self.columns[column].iter().for_each(|&(s, n)| left[s] -= n * times);
            }
        }
        for (size, left) in left.into_iter().enumerate() {
            used[self.cuttings.len() + size] = -left;
        }
        Some(used)
    }

    /// A basis that is nearly cheapest, with few residues.
    fn around(&self, rng: &mut SmallRng, work: &mut Work) -> Option<Around> {
        let wanted = self.wanted();
        let drawn =
            (0..DRAWS).filter_map(|_| Basis::cheapest(&self.columns, &self.drawn(rng), &wanted, work));
        let basis = drawn.take_while_inclusive(|b| b.det > FEW_RESIDUES).min_by_key(|b| b.det)?;
        if basis.det > MOST_RESIDUES {
            return None;
        }
        let members: Vec<&Pieces> = basis.members.iter().map(|&c| &self.columns[c]).collect();
        let residues = Residues::of(&members, basis.det)?;
        let prices = basis.prices(&self.costs);
        let extra = i64::try_from(i128::from(self.dearest()) * i128::from(basis.det)).ok()? / EXTRA;
        let mut around = Around { basis, prices, residues, moves: Vec::new(), least: Vec::new(), extra };
        let outside = (0..self.columns.len()).filter(|c| !around.basis.members.contains(c));
        let loss = |c: usize| around.basis.loss(&self.columns[c], self.costs[c], &around.prices);
        let mut losses: Vec<(i128, usize)> = outside.map(|c| (loss(c), c)).collect();
        losses.sort_unstable();
        losses.truncate(MOST_MOVES);
        let moves = losses.iter().rev().map(|&(_, c)| self.as_move(&around, c));
        around.moves = moves.collect::<Option<Vec<Move>>>()?;
        let weighed = around.moves.iter().map(|m| (m.residue, around.weight(m)));
        around.least = around.residues.least_costs(weighed, work)?;
        Some(around)
    }

    fn as_move(&self, around: &Around, column: usize) -> Option<Move> {
        let pieces = &self.columns[column];
        let loss = around.basis.loss(pieces, self.costs[column], &around.prices);
        Some(Move {
            column,
            residue: around.residues.residue(pieces),
            loss: i64::try_from(loss).ok()?,
            uses: around.basis.uses(pieces),
        })
    }

    /// Takes a few sheets out that are not of the basis and puts others in; true when it did.
    fn attempt(&self, around: &Around, used: &mut [i64], rng: &mut SmallRng, work: &mut Work) -> bool {
        work.spend(STEPS_PER_TRY);
        let outside = (0..used.len()).filter(|&c| used[c] > 0 && !around.basis.members.contains(&c));
        let mut out: Vec<usize> = outside.flat_map(|c| (0..used[c]).map(move |_| c)).collect();
        if out.is_empty() {
            return false;
        }
        let many = rng.random_range(1..=MOST_OUT).min(out.len());
        for at in 0..many {
            let other = rng.random_range(at..out.len());
            out.swap(at, other);
        }
        out.truncate(many);
        let det = around.basis.det;
        let mut uses: Vec<i64> = around.basis.members.iter().map(|&c| used[c] * det).collect();
        let (mut residue, mut loss, mut weight) = (Residue::default(), 0, 0);
        for &column in &out {
            let Some(one) = self.as_move(around, column) else { return false };
            residue = around.residues.sum(&residue, &one.residue);
            uses.iter_mut().zip(&one.uses).for_each(|(u, more)| *u += more);
            loss += one.loss;
            weight += around.weight(&one);
        }
        // Often something other for the same cost, or a little more, so that the search does not stay where it is.
        let more = [0, 0, 0, 0, 0, 1, 1, 1, 1, 2 * around.extra][rng.random_range(0..10)];
        let mut search = Search {
            around,
            banned: out[0],
            uses,
            taken: Vec::new(),
            turns: TURNS,
            loss: loss + more,
            found: None,
        };
        let mut room = around.least[around.residues.index(&residue)];
        while search.found.is_none() && search.turns > 0 && room <= weight + 2 * around.extra {
            search.go(0, &residue, room, 0);
            room += around.extra;
        }
        work.spend(u64::from(TURNS - search.turns) * STEPS_PER_TURN);
        let Some((taken, uses)) = search.found else { return false };
        out.iter().for_each(|&c| used[c] -= 1);
        taken.iter().for_each(|&at| used[around.moves[at].column] += 1);
        around.basis.members.iter().zip(&uses).for_each(|(&c, u)| used[c] = u / det);
        true
    }
}

#[cfg(test)]
mod tests {
    use rand::SeedableRng;

    use super::*;
    use crate::cutting::grid::block::Block;

    /// Lengths of three and of four from lengths of ten and of seven.
    fn cuttings() -> Vec<Cutting> {
        let one = |size: usize| Block::piece(size, [3, 4][size], 1);
        let row = |sizes: &[usize]| sizes.iter().map(|&s| one(s)).reduce(Block::beside).unwrap();
        let all: [(usize, &[usize]); 5] =
            [(0, &[0, 0, 1]), (0, &[1, 1]), (0, &[0, 0, 0]), (1, &[0, 1]), (1, &[0, 0])];
        all.map(|(sheet, sizes)| Cutting { sheet, counts: row(sizes).counts(2), block: row(sizes) }).into()
    }

    #[test]
    fn what_is_drawn_and_changed_yields_the_demand_as_cheaply_as_can_be() {
        let stock = [Stock { w: 10, h: 1, cost: 11 }, Stock { w: 7, h: 1, cost: 8 }];
        let known = cuttings();
        for demand in [[9, 7], [12, 3], [2, 11], [13, 8]] {
            let uses = (0..known.len()).map(|_| 0..8u32).multi_cartesian_product();
            let covers = |uses: &Vec<u32>| {
                (0..2)
                    .all(|s| uses.iter().zip(&known).map(|(u, c)| u * c.counts[s]).sum::<u32>() >= demand[s])
            };
            let cost = |uses: Vec<u32>| {
                uses.iter().zip(&known).map(|(&u, c)| i64::from(u) * stock[c.sheet].cost).sum::<i64>()
            };
            let least = uses.filter(covers).map(cost).min().unwrap();
            let mut rng = SmallRng::seed_from_u64(1);
            let mut work = Work::steps(100_000_000);
            let exchange = Exchange::new(&stock, known.iter(), &demand, 1, &mut work).unwrap();
            let filled = exchange.cut(&mut rng, &mut work).unwrap();
            let mut counts = [0, 0];
            filled.iter().for_each(|(_, b)| b.visit(&mut |s| counts[s] += 1));
            let reached: i64 = filled.iter().map(|(s, _)| stock[*s].cost).sum();
            assert_eq!((reached, counts), (least, demand));
        }
    }
}
