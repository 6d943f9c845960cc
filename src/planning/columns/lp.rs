//! The integer master, and the only file that knows how to state one. With its folder, `prices.rs` and `cases/relaxed.rs` the
//! only place of planning with floating point numbers.
//!
//! [`cover`] solves the master over a list of columns with a node budget, by the solver that the rules name. Whatever comes
//! back is rounded to integers; nothing here is believed before it is recomputed in integers elsewhere.

#![allow(clippy::cast_precision_loss, clippy::cast_possible_truncation, clippy::cast_sign_loss)]

#[cfg(feature = "highs")]
use std::collections::HashMap;
use std::panic::{self, AssertUnwindSafe};
use std::sync::mpsc::{self, RecvTimeoutError};
use std::thread;
use std::time::Duration;

#[cfg(feature = "highs")]
use good_lp::{Constraint, IntoAffineExpression};
use good_lp::{Expression, ProblemVariables, SolverModel, constraint, variable};

use crate::cutting::Stop;
use crate::length::Area;
use crate::planning::columns::lp::solved::Solved;
use crate::planning::columns::pool::Column;
use crate::planning::rules::Solver;

#[cfg(feature = "highs")]
mod highs;
mod solved;

/// Time between two looks at the stop while the library solves.
const LOOK: Duration = Duration::from_millis(20);

/// Weighted fabric in floating point: square inches at weight 100.
pub(crate) fn number(cost: i64) -> f64 {
    cost as f64 / (Area::PER_SQUARE_INCH as f64 * 100.0)
}

/// What the integer master is asked for.
pub(crate) enum Goal<'a> {
    /// Everything placed; least fabric, and less than this.
    LeastFabric { below: Option<i64> },
    /// Most whole blocks first, then most sets; `blocks` gives, per block kind, its copies and what
    /// one copy needs of each bag.
    MostPlaced { blocks: &'a [(u32, Vec<(usize, u32)>)] },
    /// Least fabric with at most so many of each bag left out.
    LeastFabricShort { missing: &'a [u32] },
}

/// What came back, rounded; the caller recomputes.
pub(crate) struct Cover {
    /// How many times each column is taken.
    pub(crate) times: Vec<u32>,
    /// True when the library says nothing better exists over these columns.
    pub(crate) best: bool,
}

/// The answer of the integer master.
pub(crate) enum Covered {
    /// A choice of columns.
    Found(Cover),
    /// The library says there is none over these columns.
    None,
    /// The node budget ended with nothing in hand.
    Unknown,
}

/// Who solves the integer master and what it may take: so many nodes, and no more time once the stop comes.
#[derive(Clone, Copy)]
pub(crate) struct Budget<'a> {
    pub(crate) solver: Solver,
    pub(crate) nodes: u64,
    pub(crate) stop: &'a Stop,
}

/// Solves the integer master over `columns`.
pub(crate) fn cover(
    columns: &[Column],
    demands: &[u32],
    many: &[u32],
    goal: &Goal<'_>,
    budget: Budget<'_>,
) -> Covered {
    match goal {
        Goal::MostPlaced { blocks } => most_placed(columns, demands, many, blocks, budget),
        Goal::LeastFabric { below } => {
            let mut master = Master::new(columns, demands, many, &vec![0; demands.len()]);
            let cost = master.cost(columns);
            if let Some(limit) = below {
                master.rows.push(constraint!(cost.clone() <= number(*limit)));
            }
            master.solve(cost, budget)
        }
        Goal::LeastFabricShort { missing } => {
            let master = Master::new(columns, demands, many, missing);
            let cost = master.cost(columns);
            master.solve(cost, budget)
        }
    }
}

fn most_placed(
    columns: &[Column],
    demands: &[u32],
    many: &[u32],
    blocks: &[(u32, Vec<(usize, u32)>)],
    budget: Budget<'_>,
) -> Covered {
    // First stage: whole blocks. Second: sets, keeping that many blocks.
    let mut whole_blocks = None;
    let mut last = Covered::Unknown;
    for stage in 0..2 {
        let mut master = Master::new(columns, demands, many, demands);
        let made: Vec<_> = blocks.iter().map(|(copies, _)| master.add(*copies, true)).collect();
        for (bag, &demand) in demands.iter().enumerate() {
            let mut needed = Expression::from(0);
            for (block, (_, needs)) in blocks.iter().enumerate() {
                for &(_, each) in needs.iter().filter(|(of, _)| *of == bag) {
                    needed.add_mul(f64::from(each), made[block]);
                }
            }
            master.rows.push(constraint!(needed + master.missing[bag] <= f64::from(demand)));
        }
        let all_made: Expression = made.iter().sum();
        let goal = if stage == 0 {
            Expression::from(0) - all_made
        } else {
            let Some(count) = whole_blocks else { return last };
            master.rows.push(constraint!(all_made >= count));
            master.missing.iter().sum()
        };
        let values_of = made.clone();
        let (covered, values) = master.solve_with_values(goal, budget, &values_of);
        whole_blocks = Some(values.iter().sum::<f64>().round());
        if matches!(covered, Covered::Found(_)) || stage == 0 {
            last = covered;
        }
    }
    last
}

#[derive(Default)]
struct Master {
    variables: ProblemVariables,
    /// By variable: the most it may be, and whether it is whole. good_lp does not tell them again.
    #[cfg(feature = "highs")]
    bounds: Vec<(u32, bool)>,
    times: Vec<good_lp::Variable>,
    missing: Vec<good_lp::Variable>,
    rows: Vec<good_lp::Constraint>,
}

impl Master {
    fn new(columns: &[Column], demands: &[u32], many: &[u32], missing: &[u32]) -> Master {
        let mut master = Master::default();
        let times: Vec<_> = columns.iter().map(|column| master.add(many[column.class], true)).collect();
        let missing: Vec<_> = missing.iter().map(|&most| master.add(most, false)).collect();
        let mut served: Vec<Expression> = missing.iter().map(|&short| Expression::from(short)).collect();
        let mut used: Vec<Expression> = many.iter().map(|_| Expression::from(0)).collect();
        for (column, &time) in columns.iter().zip(&times) {
            for &(bag, count) in &column.bags {
                served[bag].add_mul(f64::from(count), time);
            }
            used[column.class].add_mul(1, time);
        }
        let needed = served.into_iter().zip(demands).map(|(got, &need)| constraint!(got >= f64::from(need)));
        master.rows.extend(needed);
        let held = used.into_iter().zip(many).map(|(taken, &most)| constraint!(taken <= f64::from(most)));
        master.rows.extend(held);
        Master { times, missing, ..master }
    }

    /// A variable from 0 to `most`.
    fn add(&mut self, most: u32, whole: bool) -> good_lp::Variable {
        #[cfg(feature = "highs")]
        self.bounds.push((most, whole));
        let definition = variable().bounds(0..most);
        self.variables.add(if whole { definition.integer() } else { definition })
    }

    fn cost(&self, columns: &[Column]) -> Expression {
        columns.iter().zip(&self.times).map(|(column, &time)| number(column.cost) * time).sum()
    }

    fn solve(self, goal: Expression, budget: Budget<'_>) -> Covered {
        self.solve_with_values(goal, budget, &[]).0
    }

    fn solve_with_values(
        self,
        goal: Expression,
        budget: Budget<'_>,
        asked: &[good_lp::Variable],
    ) -> (Covered, Vec<f64>) {
        let nothing = vec![0.0; asked.len()];
        let order: Vec<good_lp::Variable> =
            self.variables.iter_variables_with_def().map(|(v, _)| v).collect();
        let times = self.times.clone();
        let solved = match budget.solver {
            Solver::Microlp => self.by_microlp(goal, budget),
            #[cfg(feature = "highs")]
            Solver::Highs => self.by_highs(&order, &goal, budget),
        };
        let (values, best) = match solved {
            Solved::Found { values, best } => (values, best),
            Solved::None => return (Covered::None, nothing),
            Solved::Unknown => return (Covered::Unknown, nothing),
        };
        let value = |wanted: &good_lp::Variable| {
            order.iter().position(|v| v == wanted).map_or(0.0, |place| values[place])
        };
        let times = times.iter().map(|time| count(value(time))).collect();
        (Covered::Found(Cover { times, best }), asked.iter().map(value).collect())
    }
}

impl Master {
    fn by_microlp(self, goal: Expression, budget: Budget<'_>) -> Solved {
        let mut model = self.variables.minimise(goal).using(good_lp::microlp);
        for row in self.rows {
            model = model.with(row);
        }
        let mut options = microlp::SolveOptions::default();
        options.node_limit = Some(budget.nodes);
        options.time_limit = budget.stop.time_left();
        let outcome = match unless_stopped(budget.stop, move || model.as_inner().solve_with(options)) {
            Some(Ok(outcome)) => outcome,
            Some(Err(microlp::Error::Infeasible)) => return Solved::None,
            Some(Err(_)) | None => return Solved::Unknown,
        };
        let best = outcome.is_optimal();
        let Some(solution) = outcome.solution() else { return Solved::Unknown };
        Solved::Found { values: solution.iter().map(|(_, value)| value).collect(), best }
    }

    #[cfg(feature = "highs")]
    fn by_highs(self, order: &[good_lp::Variable], goal: &Expression, budget: Budget<'_>) -> Solved {
        let place: HashMap<good_lp::Variable, usize> =
            order.iter().enumerate().map(|(place, &variable)| (variable, place)).collect();
        let terms = |expression: &Expression| {
            let terms = expression.linear_coefficients().map(|(variable, factor)| (place[&variable], factor));
            let mut terms: Vec<(usize, f64)> = terms.collect();
            terms.sort_by_key(|term| term.0);
            terms
        };
        let mut costs = vec![0.0; order.len()];
        for (variable, cost) in terms(goal) {
            costs[variable] = cost;
        }
        // Each row is an expression that is at most 0; there are no equations among them.
        let rows = self.rows.iter().map(Constraint::expression);
        let rows = rows.map(|row| (terms(row), -row.constant())).collect();
        let programme = highs::Programme { costs, bounds: self.bounds, rows };
        let (nodes, time) = (budget.nodes, budget.stop.time_left());
        unless_stopped(budget.stop, move || programme.solve(nodes, time)).unwrap_or(Solved::Unknown)
    }
}

/// What `solve` makes; `None` when the stop came first. Where it panics, so does this.
///
/// The libraries have a limit of time but take no sign to end, and solving in slices would give other plans. So where a
/// stop may come it solves beside us and is left alone when it does; its nodes, or the end of the program, end it.
fn unless_stopped<T: Send + 'static>(stop: &Stop, solve: impl FnOnce() -> T + Send + 'static) -> Option<T> {
    if !stop.may_come() {
        return Some(solve());
    }
    let (done, answer) = mpsc::channel();
    thread::spawn(move || {
        // Nobody waits any more after a stop.
        let _ = done.send(panic::catch_unwind(AssertUnwindSafe(solve)));
    });
    loop {
        match answer.recv_timeout(LOOK) {
            Ok(outcome) => {
                return Some(outcome.unwrap_or_else(|panicked| panic::resume_unwind(panicked)));
            }
            Err(RecvTimeoutError::Timeout) if stop.seen() => return None,
            Err(RecvTimeoutError::Timeout) => {}
            Err(RecvTimeoutError::Disconnected) => return None,
        }
    }
}

/// A count the library returned, rounded to the nearest whole number.
fn count(value: f64) -> u32 {
    value.round().max(0.0) as u32
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_solver_that_breaks_beside_us_breaks_us() {
        for stop in [Stop::never(), Stop::by_hand()] {
            let broken =
                panic::catch_unwind(|| unless_stopped(&stop, || -> u32 { panic!("no solution in sight") }));
            let words = broken.err().and_then(|words| words.downcast_ref::<&str>().copied());
            assert_eq!(words, Some("no solution in sight"));
        }
    }
}
