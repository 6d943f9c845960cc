//! Prices of bags from the columns known, by linear programming.
//!
//! [`Prices`] solves the *dual* of the restricted master as a problem of its own: the prices are its variables and every new
//! column is one added row, so microlp (which shows no dual values) serves. [`parts_of`] solves the master itself where parts
//! of columns count as well. What comes back is rounded to integers and recomputed before anything hangs on it.

#![allow(clippy::cast_precision_loss, clippy::cast_possible_truncation, clippy::cast_sign_loss)]

use microlp::{ComparisonOp, OptimizationDirection, Problem, Solution, Variable};

use crate::length::Area;
use crate::planning::columns::lp::number;
use crate::planning::columns::pool::Column;

/// Beyond so many new rows at once a solving from scratch is faster than warm steps.
const WARM_ROWS: usize = 40;

/// A floating point price in whole numbers, rounded down.
fn whole(price: f64) -> i64 {
    (price * Area::PER_SQUARE_INCH as f64 * 100.0).floor() as i64
}

/// One row of the dual: a column of the master.
struct Row {
    bags: Vec<(usize, f64)>,
    class: usize,
    /// How much of one of the class it takes.
    share: f64,
    cost: f64,
}

/// A solved LP with its variables, by bag and by class.
struct Dual {
    bags: Vec<Variable>,
    classes: Vec<Variable>,
    solution: Solution,
}

/// Prices of bags from the columns known so far.
pub(crate) struct Prices {
    demands: Vec<f64>,
    many: Vec<f64>,
    /// The least and the most each price may be.
    lows: Vec<f64>,
    caps: Vec<f64>,
    rows: Vec<Row>,
    /// `None` until the next solving from scratch.
    solution: Option<Dual>,
    last: Vec<i64>,
}

impl Prices {
    /// No columns yet. `most` caps the price of each bag: what leaving one out counts.
    pub(crate) fn new(demands: &[u32], many: &[u32], most: &[i64]) -> Prices {
        Prices {
            demands: demands.iter().map(|&demand| f64::from(demand)).collect(),
            many: many.iter().map(|&count| f64::from(count)).collect(),
            lows: vec![0.0; demands.len()],
            caps: most.iter().map(|&cap| number(cap)).collect(),
            rows: Vec::new(),
            solution: None,
            last: most.to_vec(),
        }
    }

    /// Adds columns. A few are taken in by warm steps; for many, or after a numerical failure, the LP is
    /// solved from scratch.
    pub(crate) fn add(&mut self, columns: &[Column]) {
        let row = |column: &Column| {
            let bags = column.bags.iter().map(|&(bag, count)| (bag, f64::from(count))).collect();
            Row { bags, class: column.class, share: 1.0, cost: number(column.cost) }
        };
        self.take(columns.iter().map(row).collect());
    }

    /// Adds columns whose counts need not be whole: (thousandths of each bag, class, cost).
    pub(crate) fn add_rows(&mut self, rows: Vec<(Vec<i64>, usize, i64)>) {
        let row = |(counts, class, cost): (Vec<i64>, usize, i64)| Row {
            bags: counts
                .into_iter()
                .enumerate()
                .filter(|&(_, n)| n > 0)
                .map(|(bag, n)| (bag, Prices::ratio(n, 1000)))
                .collect(),
            class,
            share: 1.0,
            cost: number(cost),
        };
        self.take(rows.into_iter().map(row).collect());
    }

    /// What the columns known promise: no bound is better than this at any prices allowed, but for rounding.
    pub(crate) fn promise(&self) -> i128 {
        let Some(Dual { bags, classes, solution }) = &self.solution else { return i128::MAX };
        let sum = |variables: &[Variable], many: &[f64]| -> f64 {
            variables.iter().zip(many).map(|(&variable, many)| solution.var_value(variable) * many).sum()
        };
        i128::from(whole(sum(bags, &self.demands) - sum(classes, &self.many)))
    }

    /// Keeps the price of every bag within so many thousandths of `centre` from now on.
    pub(crate) fn keep_near(&mut self, centre: &[i64], thousandths: u32) {
        let part = f64::from(thousandths) / 1000.0;
        self.lows = centre.iter().map(|&price| number(price) * (1.0 - part)).collect();
        self.caps = centre.iter().map(|&price| number(price) * (1.0 + part)).collect();
        self.solution = None;
    }

    /// Adds columns that may take a part of what they are cut from.
    pub(crate) fn add_parts(&mut self, parts: &[Part<'_>]) {
        let row = |part: &Part<'_>| Row {
            bags: part.bags.iter().map(|&(bag, count)| (bag, f64::from(count))).collect(),
            class: part.class,
            share: part.share(),
            cost: number(part.cost),
        };
        self.take(parts.iter().map(row).collect());
    }

    /// The price of one of each class: what having one more would save.
    pub(crate) fn of_classes(&self) -> Vec<i64> {
        match &self.solution {
            Some(Dual { classes, solution, .. }) => {
                classes.iter().map(|&class| whole(solution.var_value(class)).max(0)).collect()
            }
            None => vec![0; self.many.len()],
        }
    }

    fn ratio(all: i64, part: i64) -> f64 {
        all as f64 / part as f64
    }

    fn take(&mut self, rows: Vec<Row>) {
        let (before, new) = (self.rows.len(), rows.len());
        self.rows.extend(rows);
        if new <= WARM_ROWS {
            for number in before..self.rows.len() {
                self.solution = self.solution.take().and_then(|Dual { bags, classes, solution }| {
                    let (terms, limit) = self.terms(number, &bags, &classes);
                    let outcome = solution.add_constraint(&terms[..], ComparisonOp::Le, limit).ok()?;
                    Some(Dual { bags, classes, solution: outcome.into_solution().ok()? })
                });
            }
        } else {
            self.solution = None;
        }
        if self.solution.is_none() {
            self.solution = self.solve();
        }
        if let Some(Dual { bags, solution, .. }) = &self.solution {
            self.last = bags.iter().map(|&bag| whole(solution.var_value(bag)).max(0)).collect();
        }
    }

    fn terms(&self, row: usize, bags: &[Variable], classes: &[Variable]) -> (Vec<(Variable, f64)>, f64) {
        let row = &self.rows[row];
        let mut terms: Vec<(Variable, f64)> =
            row.bags.iter().map(|&(bag, count)| (bags[bag], count)).collect();
        terms.push((classes[row.class], -row.share));
        (terms, row.cost)
    }

    /// Solves the LP from scratch.
    fn solve(&self) -> Option<Dual> {
        let mut problem = Problem::new(OptimizationDirection::Maximize);
        let bags: Vec<Variable> = self
            .demands
            .iter()
            .zip(self.lows.iter().zip(&self.caps))
            .map(|(&demand, (&low, &cap))| problem.add_var(demand, (low, cap)))
            .collect();
        let classes: Vec<Variable> =
            self.many.iter().map(|&count| problem.add_var(-count, (0.0, f64::INFINITY))).collect();
        for row in 0..self.rows.len() {
            let (terms, limit) = self.terms(row, &bags, &classes);
            problem.add_constraint(&terms[..], ComparisonOp::Le, limit);
        }
        let solution = problem.solve().ok()?.into_solution().ok()?;
        Some(Dual { bags, classes, solution })
    }

    /// The price of each bag, rounded down and never negative.
    pub(crate) fn prices(&self) -> &[i64] {
        &self.last
    }
}

/// A column that takes `used` of the `all` there is of one of its class.
pub(crate) struct Part<'a> {
    pub(crate) bags: &'a [(usize, u32)],
    pub(crate) class: usize,
    pub(crate) used: i64,
    pub(crate) all: i64,
    pub(crate) cost: i64,
}

impl Part<'_> {
    fn share(&self) -> f64 {
        Prices::ratio(self.used, self.all)
    }
}

/// How often each column is taken where parts of columns count as well, as whole times and thousandths of one,
/// rounded down: the least fabric when leaving out one of a bag costs what `caps` says.
pub(crate) fn parts_of(
    columns: &[Part<'_>],
    demands: &[u32],
    many: &[u32],
    caps: &[i64],
) -> Option<Vec<(u32, u32)>> {
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let times: Vec<Variable> =
        columns.iter().map(|column| problem.add_var(number(column.cost), (0.0, f64::INFINITY))).collect();
    let mut served: Vec<Vec<(Variable, f64)>> = caps
        .iter()
        .zip(demands)
        .map(|(&cap, &demand)| vec![(problem.add_var(number(cap), (0.0, f64::from(demand))), 1.0)])
        .collect();
    let mut taken: Vec<Vec<(Variable, f64)>> = vec![Vec::new(); many.len()];
    for (column, &time) in columns.iter().zip(&times) {
        column.bags.iter().for_each(|&(bag, count)| served[bag].push((time, f64::from(count))));
        taken[column.class].push((time, column.share()));
    }
    for (terms, &demand) in served.iter().zip(demands) {
        problem.add_constraint(&terms[..], ComparisonOp::Ge, f64::from(demand));
    }
    for (terms, &most) in taken.iter().zip(many) {
        problem.add_constraint(&terms[..], ComparisonOp::Le, f64::from(most));
    }
    let solution = problem.solve().ok()?.into_solution().ok()?;
    // A hair more, lest 2.9999999 become 2.
    let thousandths = |time: &Variable| (solution.var_value(*time) * 1000.0 + 1e-4).max(0.0) as u32;
    Some(times.iter().map(thousandths).map(|all| (all / 1000, all % 1000)).collect())
}
