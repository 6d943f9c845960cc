//! An integer programme of yes and no, written down once and solved by microlp, and by HiGHS where that is built in.

use microlp::{ComparisonOp, Error, OptimizationDirection, Problem, SolveOptions, Variable};

/// Nodes of the search; each is an LP of a millisecond or so.
const NODES: u64 = 3_000;

/// Least cost, every variable 0 or 1; equations and inequalities with whole factors.
#[derive(Default)]
pub(crate) struct Binary {
    costs: Vec<f64>,
    rows: Vec<Row>,
}

struct Row {
    /// (variable, factor)
    terms: Vec<(usize, f64)>,
    limit: f64,
    /// Whether the limit is to be met.
    met: bool,
}

/// What a solver says.
pub(crate) enum Outcome {
    /// The least cost as the solver counts it, and the value of each variable.
    Best { said: f64, values: Vec<f64> },
    /// No choice keeps the rows.
    None,
    /// The nodes were spent: nothing costs less than this, and what was reached.
    Stopped { at_least: f64, values: Option<Vec<f64>> },
}

fn float(whole: i64) -> f64 {
    f64::from(i32::try_from(whole).expect("small"))
}

impl Binary {
    /// One variable more, by its number.
    pub(crate) fn variable(&mut self, cost: i64) -> usize {
        self.costs.push(float(cost));
        self.costs.len() - 1
    }

    pub(crate) fn exactly_one(&mut self, of: &[usize]) {
        let terms = of.iter().map(|&variable| (variable, 1.0)).collect();
        self.rows.push(Row { terms, limit: 1.0, met: true });
    }

    pub(crate) fn at_most(&mut self, limit: i64, terms: Vec<(usize, i64)>) {
        let terms = terms.into_iter().map(|(variable, factor)| (variable, float(factor)));
        self.rows.push(Row { terms: terms.collect(), limit: float(limit), met: false });
    }
}

pub(crate) fn solve(programme: &Binary) -> Outcome {
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let variables: Vec<Variable> = programme.costs.iter().map(|&cost| problem.add_binary_var(cost)).collect();
    for Row { terms, limit, met } in &programme.rows {
        let row: Vec<(Variable, f64)> =
            terms.iter().map(|&(variable, factor)| (variables[variable], factor)).collect();
        problem.add_constraint(&row[..], if *met { ComparisonOp::Eq } else { ComparisonOp::Le }, *limit);
    }
    let mut options = SolveOptions::default();
    options.node_limit = Some(NODES);
    let outcome = match problem.solve_with(options) {
        Ok(outcome) => outcome,
        Err(Error::Infeasible) => return Outcome::None,
        Err(error) => panic!("{error}"),
    };
    let at_least = outcome.stats().best_bound.unwrap_or(0.0);
    let optimal = outcome.is_optimal();
    let Some(solution) = outcome.solution() else { return Outcome::Stopped { at_least, values: None } };
    let values = variables.iter().map(|&variable| solution.var_value(variable)).collect();
    match optimal {
        true => Outcome::Best { said: solution.objective(), values },
        false => Outcome::Stopped { at_least, values: Some(values) },
    }
}

/// The same by HiGHS, to the end.
#[cfg(feature = "highs")]
pub(crate) fn solve_by_highs(programme: &Binary) -> Outcome {
    use highs::{Col, HighsModelStatus, RowProblem, Sense};

    let mut problem = RowProblem::new();
    let columns: Vec<Col> = programme
        .costs
        .iter()
        .map(|&cost| problem.add_column_with_integrality(cost, 0.0..=1.0, true))
        .collect();
    for Row { terms, limit, met } in &programme.rows {
        let terms = terms.iter().map(|&(variable, factor)| (columns[variable], factor));
        if *met {
            problem.add_row(*limit..=*limit, terms)
        } else {
            problem.add_row(..=*limit, terms)
        };
    }
    let mut model = problem.optimise(Sense::Minimise);
    model.make_quiet();
    model.set_option("threads", 1);
    model.set_option("parallel", "off");
    model.set_option("mip_rel_gap", 0.0);
    model.set_option("mip_abs_gap", 0.0);
    let solved = model.solve();
    match solved.status() {
        HighsModelStatus::Infeasible => Outcome::None,
        HighsModelStatus::Optimal => {
            Outcome::Best { said: solved.objective_value(), values: solved.get_solution().columns().to_vec() }
        }
        status => panic!("HiGHS ends with {status:?}"),
    }
}
