//! The linear programmes of column generation: the only file of the engine with floats or with the LP library.
//!
//! The library tells no dual values, so the dual of the covering programme is what is solved: its variables are the
//! prices, and a new column is a new row, added to a solved programme. What comes out is rounded down to whole prices, and
//! every bound is computed from those in integers.

use microlp::{ComparisonOp, OptimizationDirection, Problem, Solution, Variable};

use crate::cutting::Stop;

/// A column: what one sheet, cut one way, covers and costs.
pub(crate) struct Column<'a> {
    pub(crate) counts: &'a [u32],
    pub(crate) cost: i64,
}

/// The dual of a covering programme: prices of pieces such that no column covers more than it costs, and the demand is
/// worth most.
pub(crate) struct Dual {
    prices: Vec<Variable>,
    solved: Option<Solution>,
    unit: f64,
}

impl Dual {
    /// The dual for a demand and its first columns, which must cover every piece; costs are divided by `unit`.
    /// `None` when the library finds no optimum.
    pub(crate) fn new(demand: &[u32], columns: &[Column], unit: i64) -> Option<Dual> {
        let unit = as_float(unit);
        let mut problem = Problem::new(OptimizationDirection::Maximize);
        let prices: Vec<Variable> =
            demand.iter().map(|&d| problem.add_var(f64::from(d), (0.0, f64::INFINITY))).collect();
        for column in columns {
            problem.add_constraint(terms(&prices, column), ComparisonOp::Le, as_float(column.cost) / unit);
        }
        let solved = problem.solve().ok()?.into_solution().ok()?;
        Some(Dual { prices, solved: Some(solved), unit })
    }

    /// Adds a column; false when the library fails.
    pub(crate) fn add(&mut self, column: &Column) -> bool {
        let Some(solved) = self.solved.take() else { return false };
        let cost = as_float(column.cost) / self.unit;
        let outcome = solved.add_constraint(terms(&self.prices, column), ComparisonOp::Le, cost);
        self.solved = outcome.ok().and_then(|o| o.into_solution().ok());
        self.solved.is_some()
    }

    /// The prices in whole `1 / fineness` of the unit, rounded down.
    pub(crate) fn prices(&self, fineness: i64) -> Vec<i64> {
        let Some(solved) = &self.solved else { return vec![0; self.prices.len()] };
        self.prices.iter().map(|&p| whole(solved.var_value(p).max(0.0) * as_float(fineness))).collect()
    }
}

fn terms(prices: &[Variable], column: &Column) -> Vec<(Variable, f64)> {
    prices.iter().zip(column.counts).filter(|(_, n)| **n > 0).map(|(&p, &n)| (p, f64::from(n))).collect()
}

/// How often each column is used in a cheapest fractional covering of `demand`, in thousandths rounded to the
/// nearest. `None` when the library finds none.
pub(crate) fn weights(demand: &[u32], columns: &[Column], unit: i64) -> Option<Vec<i64>> {
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let unit = as_float(unit);
    let used: Vec<Variable> =
        columns.iter().map(|c| problem.add_var(as_float(c.cost) / unit, (0.0, f64::INFINITY))).collect();
    for (size, &d) in demand.iter().enumerate().filter(|(_, d)| **d > 0) {
        let terms: Vec<(Variable, f64)> = used
            .iter()
            .zip(columns)
            .filter(|(_, c)| c.counts[size] > 0)
            .map(|(&u, c)| (u, f64::from(c.counts[size])))
            .collect();
        problem.add_constraint(terms, ComparisonOp::Ge, f64::from(d));
    }
    let solved = problem.solve().ok()?.into_solution().ok()?;
    Some(used.iter().map(|&u| whole(solved.var_value(u).max(0.0) * 1000.0 + 0.5)).collect())
}

/// How often each column is taken so that `demand` is covered for the least cost, which `least` bounds, whole times only, among
/// equals with few of what is counted second; `None` when the library finds none with `nodes`, or is stopped. The caller counts again.
pub(crate) fn fewest(
    demand: &[u32],
    columns: &[&[u32]],
    costs: &[(i64, u32)],
    least: i64,
    nodes: u64,
    stop: &Stop,
) -> Option<Vec<u32>> {
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let most = |counts: &[u32]| {
        let times = demand.iter().zip(counts).filter(|(_, n)| **n > 0).map(|(d, n)| d.div_ceil(*n));
        i32::try_from(times.max().unwrap_or(0)).unwrap_or(i32::MAX)
    };
    // Small enough that no choice of strips for a bed quilt trades a step of length for it.
    let second = |count: u32| f64::from(count) / 4096.0;
    let used: Vec<Variable> = columns
        .iter()
        .zip(costs)
        .map(|(counts, &(cost, count))| {
            problem.add_integer_var(as_float(cost) + second(count), (0, most(counts)))
        })
        .collect();
    for (size, &d) in demand.iter().enumerate().filter(|(_, d)| **d > 0) {
        let terms = used.iter().zip(columns).filter(|(_, counts)| counts[size] > 0);
        let terms: Vec<(Variable, f64)> = terms.map(|(&u, counts)| (u, f64::from(counts[size]))).collect();
        problem.add_constraint(terms, ComparisonOp::Ge, f64::from(d));
    }
    if stop.seen() {
        return None;
    }
    let mut options = microlp::SolveOptions::default();
    options.node_limit = Some(nodes);
    options.time_limit = stop.time_left();
    // Nothing costs less than `least`, and costs are whole: half a step above it is the best there is.
    options.mip_gap = 0.5 / as_float(least.max(1));
    let outcome = problem.solve_with(options).ok()?;
    let solution = outcome.solution()?;
    used.iter().map(|&u| u32::try_from(whole(solution.var_value(u).max(0.0) + 0.5)).ok()).collect()
}

/// Exact up to 2^53, which costs and counts never reach; beyond it the nearest, which only moves a price.
#[expect(clippy::cast_precision_loss, reason = "the nearest float is wanted")]
fn as_float(n: i64) -> f64 {
    n as f64
}

/// The whole part of a float that is not negative; saturates.
#[expect(clippy::cast_possible_truncation, reason = "rounding down is wanted; `as` saturates")]
fn whole(x: f64) -> i64 {
    x as i64
}
