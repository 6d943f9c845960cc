//! Filling sheets one after the other, each with the most valuable pieces that are left, and correcting the values:
//! pieces that end up on badly filled sheets are worth more the next time.
//!
//! Sequential value correction: Mukhacheva, Belov, Kartack and Mukhacheva (2000); Cui and Tang (2014).

use rand::Rng;
use rand::rngs::SmallRng;

use crate::cutting::Work;
use crate::cutting::grid::block::Block;
use crate::cutting::grid::order::Order;
use crate::cutting::stock::columns::Columns;
use crate::cutting::stock::pricing::Effort;

/// Sheets cut, in order: kind of sheet and block.
pub(crate) type Filled = Vec<(usize, Block)>;

/// Values of pieces, learnt over several fillings of one order.
pub(crate) struct Values {
    values: Vec<i64>,
}

/// Scale of values: a piece's first value is its area times this.
const SCALE: i64 = 64;

impl Values {
    /// Areas, to begin with.
    pub(crate) fn new(order: &Order) -> Values {
        Values { values: order.sizes.iter().map(|s| first_value(s.area())).collect() }
    }

    /// One filling of `demand`; `None` when a piece fits nowhere or the work ends.
    pub(crate) fn fill(
        &mut self,
        columns: &mut Columns,
        demand: &[u32],
        effort: Effort,
        rng: &mut SmallRng,
        work: &mut Work,
    ) -> Option<Filled> {
        let mut left = demand.to_vec();
        let mut filled = Vec::new();
        let costs: Vec<i64> = columns.stock.iter().map(|s| s.cost).collect();
        // Anything worth cutting passes the thresholds; only the proportion of the costs matters.
        let dearest = costs.iter().copied().max().unwrap_or(1);
        let thresholds: Vec<i64> = costs.iter().map(|c| (c.saturating_mul(SCALE) / dearest).max(1)).collect();
        while left.iter().any(|&n| n > 0) {
            let mut best: Option<(i64, usize, Block)> = None;
            for priced in columns.price_values(&self.values, &left, &thresholds, effort, work) {
                let Some((block, value)) = priced.found else { continue };
                let better = best.as_ref().is_none_or(|(most, other, _)| {
                    i128::from(value) * i128::from(costs[*other])
                        > i128::from(*most) * i128::from(costs[priced.sheet])
                });
                if better {
                    best = Some((value, priced.sheet, block));
                }
            }
            let (_, sheet, block) = best?;
            if work.left() == 0 {
                return None;
            }
            block.visit(&mut |s| left[s] -= 1);
            filled.push((sheet, block));
        }
        self.correct(&filled, columns, rng);
        Some(filled)
    }

    /// Moves every value towards area times how badly the piece's sheet was filled.
    fn correct(&mut self, filled: &Filled, columns: &Columns, rng: &mut SmallRng) {
        let sizes = &columns.order.sizes;
        for (sheet, block) in filled {
            let mut used = 0;
            block.visit(&mut |s| used += sizes[s].area());
            let room = u64::from(columns.stock[*sheet].w) * u64::from(columns.stock[*sheet].h);
            let weight = rng.random_range(1..=4);
            let values = &mut self.values;
            block.visit(&mut |s| {
                // Slightly more than the area for large pieces: small ones fill gaps anyway.
                let target =
                    i128::from(first_value(sizes[s].area())) * i128::from(room) / i128::from(used.max(1));
                let mixed = (i128::from(values[s]) * (16 - weight) + target * weight) / 16;
                values[s] = i64::try_from(mixed).unwrap_or(values[s]).max(1);
            });
        }
    }
}

/// Area to the power of about 1.03, in whole units.
fn first_value(area: u64) -> i64 {
    let area = i64::try_from(area).unwrap_or(i64::MAX / (2 * SCALE));
    let doublings = i64::from(area.max(1).ilog2());
    area * SCALE + area * doublings * SCALE / 48
}
