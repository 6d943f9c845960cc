//! HiGHS as the solver of the integer master; compiled only with the feature `highs`.
//!
//! One thread and a budget of nodes, so that the same question gets the same answer.

use std::time::Duration;

use highs::{Col, HighsModelStatus, HighsSolutionStatus, HighsStatus, RowProblem, Sense, SolvedModel};

use crate::planning::columns::lp::solved::Solved;

/// Least cost, every variable from 0 to its bound, every row at most its limit.
pub(crate) struct Programme {
    pub(crate) costs: Vec<f64>,
    /// By variable: the most it may be, and whether it is whole.
    pub(crate) bounds: Vec<(u32, bool)>,
    /// Terms, (variable, factor), and limit.
    pub(crate) rows: Vec<(Vec<(usize, f64)>, f64)>,
}

impl Programme {
    /// Solves it with so many nodes, and within a time if one is given.
    pub(crate) fn solve(&self, nodes: u64, time: Option<Duration>) -> Solved {
        let Ok(solved) = self.run(nodes, time) else { return Solved::Unknown };
        match solved.status() {
            HighsModelStatus::Infeasible => Solved::None,
            // Nothing to choose: whether the rows hold is for others to say.
            HighsModelStatus::ModelEmpty => Solved::Unknown,
            _ if solved.primal_solution_status() != HighsSolutionStatus::Feasible => Solved::Unknown,
            status => Solved::Found {
                values: solved.get_solution().columns().to_vec(),
                best: status == HighsModelStatus::Optimal,
            },
        }
    }

    fn run(&self, nodes: u64, time: Option<Duration>) -> Result<SolvedModel, HighsStatus> {
        let mut problem = RowProblem::new();
        let columns: Vec<Col> = self
            .costs
            .iter()
            .zip(&self.bounds)
            .map(|(&cost, &(most, whole))| {
                problem.add_column_with_integrality(cost, 0.0..=f64::from(most), whole)
            })
            .collect();
        for (terms, limit) in &self.rows {
            problem.add_row(..=*limit, terms.iter().map(|&(variable, factor)| (columns[variable], factor)));
        }
        let mut model = problem.try_optimise(Sense::Minimise)?;
        model.make_quiet();
        // Its threads are set up once for the whole process, so their number must never change.
        model.set_option("threads", 1);
        model.set_option("parallel", "off");
        // Best means best: no gap is let pass.
        model.set_option("mip_rel_gap", 0.0);
        model.set_option("mip_abs_gap", 0.0);
        model.set_option("mip_max_nodes", i32::try_from(nodes).unwrap_or(i32::MAX));
        if let Some(time) = time {
            model.set_option("time_limit", time.as_secs_f64());
        }
        model.try_solve()
    }
}
