//! What plans of prints may serve together where parts of plans count as well, by linear programming: whether bounds leave
//! anything, and weights that refute them. With `lp.rs`, its folder and `prices.rs` the only floats of planning; what comes
//! back is rounded and recomputed.

#![allow(clippy::cast_possible_truncation)]

use microlp::{ComparisonOp, OptimizationDirection, Problem, Solution, Variable};

use super::Divided;
use super::alike::{Alike, Bound};

/// A shortfall below this is none.
const NOTHING: f64 = 1e-6;
/// Weights are whole numbers of at most this, which is also what they are rounded to.
const FINEST: u32 = 100_000;
/// Common denominators tried first, so that numbers stay small.
const COMMON: u32 = 60;

/// Weights of the bags, and a price for each bound.
pub(crate) struct Weights {
    pub(crate) bags: Vec<i64>,
    pub(crate) bounds: Vec<i64>,
}

/// What one of some prints alike may serve.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Plan {
    /// Which of those alike.
    pub(crate) prints: usize,
    /// (bag, count), ascending.
    pub(crate) bags: Vec<(usize, u32)>,
}

/// What a mixture of plans serves that leaves nothing out.
pub(crate) struct Mixture {
    /// By prints alike and bag, in thousandths.
    pub(crate) served: Vec<Vec<i64>>,
    /// By prints alike: is a plan taken for part of a print?
    pub(crate) mixed: Vec<bool>,
}

/// Every plan of prints alike, with no more of a bag than the bounds leave to one of them.
pub(crate) fn plans(divided: &Divided<'_>, alike: &[Alike], bounds: &[Bound]) -> Vec<Plan> {
    let mut plans = Vec::new();
    for (prints, of) in alike.iter().enumerate() {
        let most = |bag: usize| {
            let holds = bounds.iter().filter(|bound| bound.holds_for(bag, of));
            holds.map(|bound| bound.most).fold(u32::MAX, u32::min)
        };
        let most: Vec<u32> = (0..divided.demands.len()).map(most).collect();
        for column in divided.columns.iter().filter(|column| column.class == of.class) {
            let bags = column.bags.iter().map(|&(bag, n)| (bag, n.min(most[bag])));
            plans.push(Plan { prints, bags: bags.filter(|&(_, n)| n > 0).collect() });
        }
    }
    plans.sort();
    plans.dedup();
    plans
}

/// Weights at which the bags weigh more than all prints can serve; `Some(None)` where the bounds leave a mixture of
/// plans that serves everything.
pub(crate) fn weights(
    divided: &Divided<'_>,
    alike: &[Alike],
    plans: &[Plan],
    bounds: &[Bound],
) -> Option<Option<Weights>> {
    let mut problem = Problem::new(OptimizationDirection::Maximize);
    let bags: Vec<Variable> =
        divided.demands.iter().map(|&wanted| problem.add_var(f64::from(wanted), (0.0, 1.0))).collect();
    let prints: Vec<Variable> =
        alike.iter().map(|alike| problem.add_var(-f64::from(alike.many()), (0.0, f64::INFINITY))).collect();
    let prices: Vec<Variable> =
        bounds.iter().map(|bound| problem.add_var(-f64::from(bound.most), (0.0, f64::INFINITY))).collect();
    // What a bag counts from these prints: its weight less the prices of the bounds on it, and never less than nothing.
    let mut counts: Vec<Vec<Variable>> = Vec::new();
    for alike in alike {
        let from_them: Vec<Variable> =
            bags.iter().map(|_| problem.add_var(0.0, (0.0, f64::INFINITY))).collect();
        for (bag, &count) in from_them.iter().enumerate() {
            let on_it = bounds.iter().zip(&prices).filter(|(bound, _)| bound.holds_for(bag, alike));
            let mut terms = vec![(bags[bag], 1.0), (count, -1.0)];
            terms.extend(on_it.map(|(_, &price)| (price, -1.0)));
            problem.add_constraint(&terms[..], ComparisonOp::Le, 0.0);
        }
        counts.push(from_them);
    }
    for plan in plans {
        let served = plan.bags.iter().map(|&(bag, n)| (counts[plan.prints][bag], f64::from(n)));
        let terms: Vec<(Variable, f64)> = served.chain([(prints[plan.prints], -1.0)]).collect();
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

/// A mixture of plans that leaves nothing out.
pub(crate) fn mixture(
    divided: &Divided<'_>,
    alike: &[Alike],
    plans: &[Plan],
    bounds: &[Bound],
) -> Option<Mixture> {
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let times: Vec<Variable> = plans.iter().map(|_| problem.add_var(0.0, (0.0, f64::INFINITY))).collect();
    let served: Vec<Vec<Variable>> = alike
        .iter()
        .map(|_| divided.demands.iter().map(|_| problem.add_var(0.0, (0.0, f64::INFINITY))).collect())
        .collect();
    let of = |prints: usize| plans.iter().zip(&times).filter(move |(plan, _)| plan.prints == prints);
    for (prints, from_them) in served.iter().enumerate() {
        let taken: Vec<(Variable, f64)> = of(prints).map(|(_, &time)| (time, 1.0)).collect();
        problem.add_constraint(&taken[..], ComparisonOp::Le, f64::from(alike[prints].many()));
        for (bag, &count) in from_them.iter().enumerate() {
            let given = of(prints).filter_map(|(plan, &time)| {
                let (_, n) = plan.bags.iter().find(|(other, _)| *other == bag)?;
                Some((time, f64::from(*n)))
            });
            let terms: Vec<(Variable, f64)> = given.chain([(count, -1.0)]).collect();
            problem.add_constraint(&terms[..], ComparisonOp::Ge, 0.0);
        }
    }
    for (bag, &wanted) in divided.demands.iter().enumerate() {
        let missing = problem.add_var(1.0, (0.0, f64::from(wanted)));
        let terms: Vec<(Variable, f64)> =
            served.iter().map(|from_them| (from_them[bag], 1.0)).chain([(missing, 1.0)]).collect();
        problem.add_constraint(&terms[..], ComparisonOp::Eq, f64::from(wanted));
    }
    for bound in bounds {
        let under = alike.iter().zip(&served).filter(|(alike, _)| bound.holds_for(bound.bag, alike));
        let terms: Vec<(Variable, f64)> = under.map(|(_, from_them)| (from_them[bound.bag], 1.0)).collect();
        problem.add_constraint(&terms[..], ComparisonOp::Le, f64::from(bound.most));
    }
    let solution: Solution = problem.solve().ok()?.into_solution().ok()?;
    let thousandths = |variable: &Variable| (solution.var_value(*variable) * 1000.0).round() as i64;
    let is_part = |(_, time): (&Plan, &Variable)| (thousandths(time) % 1000 - 500).abs() < 490;
    Some(Mixture {
        served: served.iter().map(|from_them| from_them.iter().map(thousandths).collect()).collect(),
        mixed: (0..alike.len()).map(|prints| of(prints).any(is_part)).collect(),
    })
}
