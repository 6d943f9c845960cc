//! A cheapest basis of a covering programme, in whole numbers: as many columns as there are sizes, of which fractions
//! cover the demand for least.
//!
//! Dual simplex (Lemke 1954); the inverse is kept as integers over one divisor, the determinant, which every exchange of
//! a column divides out exactly (Edmonds 1967; Bareiss 1968).

use crate::cutting::Work;

/// Pieces of some sizes: size and how many; a count below zero takes pieces away.
pub(crate) type Pieces = Vec<(usize, i64)>;

/// Entries of the inverse stay below this, so that sums of their products fit their type.
const MOST: i128 = 1 << 40;
/// Most exchanges of a column for each size.
const MOST_SWAPS: usize = 60;

/// A basis.
pub(crate) struct Basis {
    /// The columns in it.
    pub(crate) members: Vec<usize>,
    /// The determinant, above zero.
    pub(crate) det: i64,
    /// The inverse times the determinant: a row for each member, an entry for each size.
    inverse: Vec<Vec<i64>>,
}

impl Basis {
    /// The basis of the last columns, one for each of `sizes`, that take one piece away.
    fn of_surplus(columns: usize, sizes: usize) -> Basis {
        let row = |s: usize| (0..sizes).map(|t| -i64::from(s == t)).collect();
        Basis {
            members: (columns - sizes..columns).collect(),
            det: 1,
            inverse: (0..sizes).map(row).collect(),
        }
    }

    /// The cheapest for `demand`: at the prices it gives, no column is worth more than its cost, and no member is used
    /// less than never. `columns` must end with one for each size that takes one such piece away. `None` when there is
    /// none, or numbers grow too large, or the work ends.
    pub(crate) fn cheapest(
        columns: &[Pieces],
        costs: &[i64],
        demand: &[i64],
        work: &mut Work,
    ) -> Option<Basis> {
        let mut basis = Basis::of_surplus(columns.len(), demand.len());
        let wanted: Pieces = demand.iter().copied().enumerate().collect();
        for _ in 0..MOST_SWAPS * demand.len() {
            let steps = 8 * columns.len() + 2 * demand.len() * demand.len();
            if !work.spend(steps as u64) {
                return None;
            }
            let uses = basis.uses(&wanted);
            let leaving = (0..uses.len()).filter(|&at| uses[at] < 0).min_by_key(|&at| uses[at]);
            let Some(leaving) = leaving else { return Some(basis) };
            let entering = basis.entering(leaving, columns, costs)?;
            basis.swap(leaving, entering, &columns[entering])?;
        }
        None
    }

    /// How often each member is used, times the determinant, so that together they come to `pieces`.
    pub(crate) fn uses(&self, pieces: &Pieces) -> Vec<i64> {
        self.inverse.iter().map(|row| product(row, pieces)).collect()
    }

    /// Prices of pieces, times the determinant, at which the members are worth what they cost.
    pub(crate) fn prices(&self, costs: &[i64]) -> Vec<i128> {
        let mut prices = vec![0; self.members.len()];
        for (row, &member) in self.inverse.iter().zip(&self.members) {
            let cost = i128::from(costs[member]);
            prices.iter_mut().zip(row).for_each(|(p, &entry)| *p += cost * i128::from(entry));
        }
        prices
    }

    /// What a column costs beyond the worth of its pieces at such prices, times the determinant.
    pub(crate) fn loss(&self, pieces: &Pieces, cost: i64, prices: &[i128]) -> i128 {
        let worth: i128 = pieces.iter().map(|&(s, n)| prices[s] * i128::from(n)).sum();
        i128::from(self.det) * i128::from(cost) - worth
    }

    /// The column that comes in for the member at `leaving`: of those that raise its use, the one that loses least for it.
    fn entering(&self, leaving: usize, columns: &[Pieces], costs: &[i64]) -> Option<usize> {
        let prices = self.prices(costs);
        let row = &self.inverse[leaving];
        let mut best: Option<(i128, i128, usize)> = None;
        for (at, pieces) in columns.iter().enumerate() {
            let raise = -i128::from(product(row, pieces));
            if raise <= 0 {
                continue;
            }
            let loss = self.loss(pieces, costs[at], &prices);
            if best.is_none_or(|(least, by, _)| loss * by < least * raise) {
                best = Some((loss, raise, at));
            }
        }
        best.map(|(_, _, at)| at)
    }

    /// Puts a column in the place of a member; `None` when an entry grows too large.
    fn swap(&mut self, leaving: usize, entering: usize, pieces: &Pieces) -> Option<()> {
        let uses = self.uses(pieces);
        let det = i128::from(self.det);
        let sign = uses[leaving].signum();
        let pivot = i128::from(uses[leaving].abs());
        let row: Vec<i64> = self.inverse[leaving].iter().map(|e| e * sign).collect();
        for (at, other) in self.inverse.iter_mut().enumerate().filter(|(at, _)| *at != leaving) {
            for (entry, &r) in other.iter_mut().zip(&row) {
                let next = (pivot * i128::from(*entry) - i128::from(uses[at]) * i128::from(r)) / det;
                *entry = i64::try_from(next).ok().filter(|_| next.abs() < MOST)?;
            }
        }
        self.inverse[leaving] = row;
        self.det = i64::try_from(pivot).ok().filter(|_| pivot < MOST)?;
        self.members[leaving] = entering;
        Some(())
    }
}

fn product(row: &[i64], pieces: &Pieces) -> i64 {
    pieces.iter().map(|&(s, n)| row[s] * n).sum()
}

#[cfg(test)]
mod tests {
    use rand::rngs::SmallRng;
    use rand::{Rng, SeedableRng};

    use super::*;

    #[test]
    fn a_cheapest_basis_covers_and_no_column_is_worth_more_than_it_costs() {
        let mut rng = SmallRng::seed_from_u64(3);
        for sizes in 1..7 {
            let mut columns: Vec<Pieces> = (0..sizes).map(|s| vec![(s, 1)]).collect();
            for _ in 0..30 {
                let counts = (0..sizes).map(|s| (s, rng.random_range(0..4)));
                columns.push(counts.filter(|c| c.1 > 0).collect());
            }
            columns.extend((0..sizes).map(|s| vec![(s, -1)]));
            let costs: Vec<i64> = columns
                .iter()
                .map(|c| if c.iter().all(|p| p.1 > 0) { rng.random_range(500..2000) } else { 0 })
                .collect();
            let demand: Vec<i64> = (0..sizes).map(|_| rng.random_range(1..50)).collect();
            let basis = Basis::cheapest(&columns, &costs, &demand, &mut Work::steps(1_000_000)).unwrap();
            let wanted: Pieces = demand.iter().copied().enumerate().collect();
            let uses = basis.uses(&wanted);
            assert!(uses.iter().all(|&u| u >= 0), "{uses:?}");
            let mut covered = vec![0; sizes];
            for (&member, &u) in basis.members.iter().zip(&uses) {
                columns[member].iter().for_each(|&(s, n)| covered[s] += n * u);
            }
            assert_eq!(covered, demand.iter().map(|d| d * basis.det).collect::<Vec<i64>>());
            let prices = basis.prices(&costs);
            for (pieces, &cost) in columns.iter().zip(&costs) {
                assert!(basis.loss(pieces, cost, &prices) >= 0);
            }
        }
    }

    #[test]
    fn what_no_column_yields_has_no_basis() {
        let columns = vec![vec![(0, 2)], vec![(0, -1)], vec![(1, -1)]];
        assert!(Basis::cheapest(&columns, &[5, 0, 0], &[3, 1], &mut Work::steps(1_000_000)).is_none());
    }
}
