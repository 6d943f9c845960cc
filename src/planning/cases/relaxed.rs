//! What plans of prints may serve together where parts of plans count as well, by linear programming: whether bounds leave
//! anything, and weights that refute them. With `lp.rs` and `prices.rs` the only floats of planning; what comes back is
//! rounded and recomputed.

#![allow(clippy::cast_possible_truncation)]

use microlp::{ComparisonOp, OptimizationDirection, Problem, Solution, Variable};

use super::{Bound, Divided};

/// A shortfall below this is none.
const NOTHING: f64 = 1e-6;
/// Weights are whole numbers of at most this, which is also what they are rounded to.
const FINEST: u32 = 100_000;
/// Common denominators tried first, so that numbers stay small.
const COMMON: u32 = 60;

/// Weights of the bags, and a price for each bound.
pub(super) struct Weights {
    pub(super) bags: Vec<i64>,
    pub(super) bounds: Vec<i64>,
}

/// Weights at which the bags weigh more than all prints can serve; `Some(None)` where the bounds leave a mixture of
/// plans that serves everything.
pub(super) fn weights(divided: &Divided<'_>, bounds: &[Bound]) -> Option<Option<Weights>> {
    let mut problem = Problem::new(OptimizationDirection::Maximize);
    let bags: Vec<Variable> =
        divided.demands.iter().map(|&wanted| problem.add_var(f64::from(wanted), (0.0, 1.0))).collect();
    let classes: Vec<Variable> =
        divided.many.iter().map(|&many| problem.add_var(-f64::from(many), (0.0, f64::INFINITY))).collect();
    let prices: Vec<Variable> =
        bounds.iter().map(|bound| problem.add_var(-f64::from(bound.most), (0.0, f64::INFINITY))).collect();
    // What a bag counts in a class: its weight less the prices of the bounds on it there, and never less than nothing.
    let mut counts: Vec<Vec<Variable>> = Vec::new();
    for class in 0..divided.many.len() {
        let of_class: Vec<Variable> =
            bags.iter().map(|_| problem.add_var(0.0, (0.0, f64::INFINITY))).collect();
        for (bag, &count) in of_class.iter().enumerate() {
            let on_it = bounds.iter().zip(&prices).filter(|(bound, _)| bound.holds_for(bag, class));
            let mut terms = vec![(bags[bag], 1.0), (count, -1.0)];
            terms.extend(on_it.map(|(_, &price)| (price, -1.0)));
            problem.add_constraint(&terms[..], ComparisonOp::Le, 0.0);
        }
        counts.push(of_class);
    }
    for column in divided.columns {
        let served = column.bags.iter().map(|&(bag, n)| (counts[column.class][bag], f64::from(n)));
        let terms: Vec<(Variable, f64)> = served.chain([(classes[column.class], -1.0)]).collect();
        problem.add_constraint(&terms[..], ComparisonOp::Le, 0.0);
    }
    let solution = problem.solve().ok()?.into_solution().ok()?;
    if solution.objective() < NOTHING {
        return Some(None);
    }
    let values: Vec<f64> =
        bags.iter().chain(&prices).map(|&variable| solution.var_value(variable).max(0.0)).collect();
    let fine = (1..=COMMON).find(|&fine| {
        let whole =
            |value: f64| (value * f64::from(fine) - (value * f64::from(fine)).round()).abs() < NOTHING;
        values.iter().all(|&value| whole(value))
    });
    let fine = f64::from(fine.unwrap_or(FINEST));
    let mut whole = values.iter().map(|value| (value * fine).round() as i64);
    let bags = whole.by_ref().take(divided.demands.len()).collect();
    Some(Some(Weights { bags, bounds: whole.collect() }))
}

/// By class and bag: how many thousandths of it a mixture of plans serves that leaves nothing out.
pub(super) fn mixture(divided: &Divided<'_>, bounds: &[Bound]) -> Option<Vec<Vec<i64>>> {
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let times: Vec<Variable> =
        divided.columns.iter().map(|_| problem.add_var(0.0, (0.0, f64::INFINITY))).collect();
    let served: Vec<Vec<Variable>> = (0..divided.many.len())
        .map(|_| divided.demands.iter().map(|_| problem.add_var(0.0, (0.0, f64::INFINITY))).collect())
        .collect();
    let columns = || divided.columns.iter().zip(&times);
    for (class, of_class) in served.iter().enumerate() {
        let taken: Vec<(Variable, f64)> =
            columns().filter(|(column, _)| column.class == class).map(|(_, &time)| (time, 1.0)).collect();
        problem.add_constraint(&taken[..], ComparisonOp::Le, f64::from(divided.many[class]));
        for (bag, &count) in of_class.iter().enumerate() {
            let given =
                columns().filter(|(column, _)| column.class == class).filter_map(|(column, &time)| {
                    let (_, n) = column.bags.iter().find(|(other, _)| *other == bag)?;
                    Some((time, f64::from(*n)))
                });
            let terms: Vec<(Variable, f64)> = given.chain([(count, -1.0)]).collect();
            problem.add_constraint(&terms[..], ComparisonOp::Ge, 0.0);
        }
    }
    for (bag, &wanted) in divided.demands.iter().enumerate() {
        let missing = problem.add_var(1.0, (0.0, f64::from(wanted)));
        let terms: Vec<(Variable, f64)> =
            served.iter().map(|of_class| (of_class[bag], 1.0)).chain([(missing, 1.0)]).collect();
        problem.add_constraint(&terms[..], ComparisonOp::Eq, f64::from(wanted));
    }
    for bound in bounds {
        let terms: Vec<(Variable, f64)> =
            bound.classes.iter().map(|&c| (served[c][bound.bag], 1.0)).collect();
        problem.add_constraint(&terms[..], ComparisonOp::Le, f64::from(bound.most));
    }
    let solution: Solution = problem.solve().ok()?.into_solution().ok()?;
    let thousandths = |variable: &Variable| (solution.var_value(*variable) * 1000.0).round() as i64;
    Some(served.iter().map(|of_class| of_class.iter().map(thousandths).collect()).collect())
}
