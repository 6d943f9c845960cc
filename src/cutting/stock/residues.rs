//! What whole multiples of some columns cannot make up: pieces have the same residue when they differ by whole multiples of
//! the columns of a basis. There are as many residues as its determinant says.
//!
//! They form a group, and what the cheapest columns are that have a residue together is a way through it (Gomory 1965;
//! 1969). Its parts come from a diagonal form of the basis (Smith 1861).

use crate::cutting::Work;
use crate::cutting::grid::order::gcd;
use crate::cutting::stock::basis::Pieces;

/// Most parts of a group that are told apart.
const MOST_PARTS: usize = 8;

/// What passing a residue twice takes.
const STEPS: u64 = 4;

/// A residue: a number for each part of the group, below its order.
pub(crate) type Residue = [u32; MOST_PARTS];

/// The residues of one basis.
pub(crate) struct Residues {
    /// The order of each part; their product is the determinant.
    orders: Vec<u32>,
    /// For each part, what one piece of each size adds.
    adds: Vec<Vec<i64>>,
}

impl Residues {
    /// Of the basis of `columns`, whose determinant is `det`; `None` when the group has too many parts.
    pub(crate) fn of(columns: &[&Pieces], det: i64) -> Option<Residues> {
        let sizes = columns.len();
        let mut form = Form::new(columns, det);
        let mut residues = Residues { orders: Vec::new(), adds: Vec::new() };
        for at in 0..sizes {
            form.clear(at);
            let order = gcd(form.rows[at][at], det);
            if order > 1 {
                residues.orders.push(u32::try_from(order).ok()?);
                residues.adds.push(form.adds[at].clone());
            }
        }
        let all = residues.orders.iter().try_fold(1i64, |all, &o| all.checked_mul(i64::from(o)));
        (all == Some(det) && residues.orders.len() <= MOST_PARTS).then_some(residues)
    }

    /// The residue of some pieces.
    pub(crate) fn residue(&self, pieces: &Pieces) -> Residue {
        let mut residue = [0; MOST_PARTS];
        for (part, (adds, &order)) in self.adds.iter().zip(&self.orders).enumerate() {
            let sum: i128 = pieces.iter().map(|&(s, n)| i128::from(adds[s]) * i128::from(n)).sum();
            residue[part] = u32::try_from(sum.rem_euclid(i128::from(order))).expect("below the order");
        }
        residue
    }

    /// The residue of both together.
    pub(crate) fn sum(&self, a: &Residue, b: &Residue) -> Residue {
        let mut sum = *a;
        for (part, &order) in self.orders.iter().enumerate() {
            sum[part] += b[part];
            if sum[part] >= order {
                sum[part] -= order;
            }
        }
        sum
    }

    /// The residue of the first without the second.
    pub(crate) fn difference(&self, a: &Residue, b: &Residue) -> Residue {
        let mut rest = *a;
        for (part, &order) in self.orders.iter().enumerate() {
            rest[part] += if rest[part] < b[part] { order } else { 0 };
            rest[part] -= b[part];
        }
        rest
    }

    /// The number of a residue, from zero.
    pub(crate) fn index(&self, residue: &Residue) -> usize {
        self.orders.iter().zip(residue).fold(0, |at, (&order, &r)| at * order as usize + r as usize)
    }

    /// How many there are.
    pub(crate) fn len(&self) -> usize {
        self.orders.iter().map(|&o| o as usize).product()
    }

    /// For each residue, by its number, the least that any of `moves` (residue and cost) with it cost together;
    /// `i64::MAX / 4` where there are none. `None` when the work ends.
    pub(crate) fn least_costs(
        &self,
        moves: impl Iterator<Item = (Residue, i64)>,
        work: &mut Work,
    ) -> Option<Vec<i64>> {
        let mut least = vec![i64::MAX / 4; self.len()];
        least[0] = 0;
        let mut passed = vec![0u32; self.len()];
        for (mark, (residue, cost)) in (1..).zip(moves.filter(|m| m.0 != [0; MOST_PARTS])) {
            if !work.spend(STEPS * self.len() as u64) {
                return None;
            }
            let mut start = [0; MOST_PARTS];
            for first in 0..self.len() {
                if passed[first] != mark {
                    // Twice round the residues that this move leads to, so that the cheapest of them is passed first.
                    let mut here = start;
                    let mut known = least[first];
                    for _ in 0..2 {
                        loop {
                            here = self.sum(&here, &residue);
                            let at = self.index(&here);
                            passed[at] = mark;
                            known = least[at].min(known + cost);
                            least[at] = known;
                            if at == first {
                                break;
                            }
                        }
                    }
                }
                self.advance(&mut start);
            }
        }
        Some(least)
    }

    /// The residue of the next number.
    fn advance(&self, residue: &mut Residue) {
        for (part, &order) in self.orders.iter().enumerate().rev() {
            residue[part] += 1;
            if residue[part] < order {
                return;
            }
            residue[part] = 0;
        }
    }
}

/// A basis on its way to a diagonal form, modulo its determinant.
struct Form {
    det: i64,
    rows: Vec<Vec<i64>>,
    /// Each row as a sum of the first ones.
    adds: Vec<Vec<i64>>,
}

impl Form {
    fn new(columns: &[&Pieces], det: i64) -> Form {
        let sizes = columns.len();
        let mut rows = vec![vec![0; sizes]; sizes];
        for (at, pieces) in columns.iter().enumerate() {
            pieces.iter().for_each(|&(s, n)| rows[s][at] = n.rem_euclid(det));
        }
        let adds = (0..sizes).map(|s| (0..sizes).map(|t| i64::from(s == t) % det).collect()).collect();
        Form { det, rows, adds }
    }

    /// Makes everything right of and below the entry `at` on the diagonal zero.
    fn clear(&mut self, at: usize) {
        let sizes = self.rows.len();
        let entries = (at..sizes).flat_map(|r| (at..sizes).map(move |c| (r, c)));
        let least = entries.filter(|&(r, c)| self.rows[r][c] != 0).min_by_key(|&(r, c)| self.rows[r][c]);
        let Some((row, column)) = least else { return };
        self.rows.swap(at, row);
        self.adds.swap(at, row);
        self.rows.iter_mut().for_each(|r| r.swap(at, column));
        loop {
            for row in at + 1..sizes {
                while self.rows[row][at] != 0 {
                    let times = self.rows[row][at] / self.rows[at][at];
                    for table in [&mut self.rows, &mut self.adds] {
                        let (upper, lower) = table.split_at_mut(row);
                        less(&mut lower[0], &upper[at], times, self.det);
                    }
                    if self.rows[row][at] != 0 {
                        self.rows.swap(at, row);
                        self.adds.swap(at, row);
                    }
                }
            }
            for column in at + 1..sizes {
                while self.rows[at][column] != 0 {
                    let times = self.rows[at][column] / self.rows[at][at];
                    for row in &mut self.rows {
                        row[column] = reduced(row[column], row[at], times, self.det);
                    }
                    if self.rows[at][column] != 0 {
                        self.rows.iter_mut().for_each(|r| r.swap(at, column));
                    }
                }
            }
            if (at + 1..sizes).all(|row| self.rows[row][at] == 0) {
                return;
            }
        }
    }
}

/// Takes `times` the other row away.
fn less(row: &mut [i64], other: &[i64], times: i64, det: i64) {
    row.iter_mut().zip(other).for_each(|(a, &b)| *a = reduced(*a, b, times, det));
}

fn reduced(a: i64, b: i64, times: i64, det: i64) -> i64 {
    let rest = (i128::from(a) - i128::from(times) * i128::from(b)).rem_euclid(i128::from(det));
    i64::try_from(rest).expect("below the determinant")
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use rand::rngs::SmallRng;
    use rand::{Rng, SeedableRng};

    use super::*;

    /// Two columns over two sizes, and their determinant.
    fn drawn(rng: &mut SmallRng) -> ([Pieces; 2], i64) {
        let [a, b, c, d] = [0; 4].map(|_| rng.random_range(0..7i64));
        ([vec![(0, a), (1, b)], vec![(0, c), (1, d)]], (a * d - b * c).abs())
    }

    #[test]
    fn there_are_as_many_residues_as_the_determinant_and_columns_of_the_basis_have_none() {
        let mut rng = SmallRng::seed_from_u64(2);
        for (columns, det) in (0..200).map(|_| drawn(&mut rng)).filter(|d| d.1 > 0) {
            let residues = Residues::of(&[&columns[0], &columns[1]], det).unwrap();
            assert!(columns.iter().all(|c| residues.index(&residues.residue(c)) == 0), "{columns:?}");
            let grid = (0..det).flat_map(|x| (0..det).map(move |y| vec![(0, x), (1, y)]));
            let all: BTreeSet<usize> = grid.map(|p| residues.index(&residues.residue(&p))).collect();
            assert!(all.into_iter().eq(0..residues.len()), "{columns:?}");
        }
    }

    #[test]
    fn least_costs_are_the_cheapest_way_to_each_residue() {
        let mut rng = SmallRng::seed_from_u64(4);
        let bases: Vec<_> = (0..100).map(|_| drawn(&mut rng)).filter(|d| d.1 > 0).collect();
        for (columns, det) in bases {
            let residues = Residues::of(&[&columns[0], &columns[1]], det).unwrap();
            let moves: Vec<(Residue, i64)> = (0..3)
                .map(|_| {
                    let pieces = vec![(0, rng.random_range(0..9)), (1, rng.random_range(0..9))];
                    (residues.residue(&pieces), rng.random_range(0..20))
                })
                .collect();
            let found = residues.least_costs(moves.iter().copied(), &mut Work::steps(1_000_000)).unwrap();
            // Numbers of moves up to the determinant reach whatever can be reached.
            let mut known = vec![i64::MAX / 4; residues.len()];
            known[0] = 0;
            for _ in 0..det {
                let mut here = [0; MOST_PARTS];
                for at in 0..known.len() {
                    for (residue, cost) in &moves {
                        let next = residues.index(&residues.sum(&here, residue));
                        known[next] = known[next].min(known[at].saturating_add(*cost));
                    }
                    residues.advance(&mut here);
                }
            }
            let reached = |costs: &[i64]| costs.iter().map(|&c| c.min(1_000_000)).collect::<Vec<i64>>();
            assert_eq!(reached(&found), reached(&known));
        }
    }
}
