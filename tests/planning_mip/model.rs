//! The integer programme.

use microlp::{ComparisonOp, Error, OptimizationDirection, Problem, SolveOptions, Variable};

use crate::world::World;
use crate::yields::{Opening, Yields};

/// The least fabric, in square inches times hundredths of weight.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Least {
    Exactly(i64),
    Impossible,
    /// The programme was stopped: nothing is below the one, and the other was reached.
    Unsolved {
        at_least: f64,
        reached: Option<i64>,
    },
}

/// Nodes of the search; each is an LP of a millisecond or so.
const NODES: u64 = 3_000;

/// A set: its kind, its block with the copy, and its place in the block.
struct Set {
    kind: usize,
    block: usize,
    copy: usize,
    place: usize,
}

struct Programme {
    problem: Problem,
    /// By set and print: taken.
    takes: Vec<Vec<Variable>>,
}

fn sets_of(world: &World) -> Vec<Set> {
    let mut sets = Vec::new();
    for (block, made) in world.blocks.iter().enumerate() {
        for copy in 0..made.make {
            sets.extend(made.kinds.iter().enumerate().map(|(place, &kind)| Set { kind, block, copy, place }));
        }
    }
    sets
}

fn programme(world: &World, sets: &[Set], openings: &[Vec<Opening>]) -> Programme {
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let takes: Vec<Vec<Variable>> =
        sets.iter().map(|_| world.prints.iter().map(|_| problem.add_binary_var(0.0)).collect()).collect();
    let cost = |opening: &Opening| f64::from(i32::try_from(opening.cost).expect("small"));
    let opens: Vec<Vec<Variable>> = openings
        .iter()
        .map(|print| print.iter().map(|opening| problem.add_binary_var(cost(opening))).collect())
        .collect();
    for prints in &takes {
        let all: Vec<(Variable, f64)> = prints.iter().map(|&takes| (takes, 1.0)).collect();
        problem.add_constraint(&all[..], ComparisonOp::Eq, 1.0);
    }
    for (print, ways) in opens.iter().enumerate() {
        let one: Vec<(Variable, f64)> = ways.iter().map(|&way| (way, 1.0)).collect();
        problem.add_constraint(&one[..], ComparisonOp::Le, 1.0);
        for kind in 0..world.kinds.len() {
            let mut row: Vec<(Variable, f64)> = (0..sets.len())
                .filter(|&set| sets[set].kind == kind)
                .map(|set| (takes[set][print], 1.0))
                .collect();
            row.extend(ways.iter().zip(&openings[print]).map(|(&way, o)| (way, -f64::from(o.sets[kind]))));
            problem.add_constraint(&row[..], ComparisonOp::Le, 0.0);
        }
    }
    for (block, made) in world.blocks.iter().enumerate() {
        for print in 0..world.prints.len() {
            let row = |mine: &dyn Fn(&Set) -> bool| -> Vec<(Variable, f64)> {
                let of_block = sets.iter().zip(&takes).filter(|(set, _)| set.block == block && mine(set));
                of_block.map(|(_, prints)| (prints[print], 1.0)).collect()
            };
            if made.different {
                for copy in 0..made.make {
                    problem.add_constraint(&row(&|set| set.copy == copy)[..], ComparisonOp::Le, 1.0);
                }
            }
            if let Some(most) = made.at_most {
                problem.add_constraint(&row(&|set| set.place == 0)[..], ComparisonOp::Le, f64::from(most));
            }
        }
    }
    Programme { problem, takes }
}

/// What a choice of prints costs, counted in whole numbers; the choice of openings is made anew.
///
/// # Panics
/// When the choice breaks a rule.
fn cost(world: &World, sets: &[Set], openings: &[Vec<Opening>], prints: &[usize]) -> i64 {
    for (one, &print) in sets.iter().zip(prints) {
        let made = &world.blocks[one.block];
        let alike = |other: &&(&Set, &usize)| *other.1 == print && other.0.block == one.block;
        let all: Vec<(&Set, &usize)> = sets.iter().zip(prints).collect();
        let in_copy = all.iter().filter(alike).filter(|other| other.0.copy == one.copy).count();
        assert!(!made.different || in_copy == 1, "roles that must differ share a print");
        let in_block = all.iter().filter(alike).filter(|other| other.0.place == 0).count();
        assert!(made.at_most.is_none_or(|most| in_block <= most as usize), "too many copies alike");
    }
    let cost_of = |print: usize| {
        let mut count = vec![0; world.kinds.len()];
        for (set, _) in sets.iter().zip(prints).filter(|(_, taken)| **taken == print) {
            count[set.kind] += 1;
        }
        if count.iter().all(|&n| n == 0) {
            return 0;
        }
        let serves = |opening: &&Opening| count.iter().zip(&opening.sets).all(|(n, most)| n <= most);
        openings[print].iter().filter(serves).map(|opening| opening.cost).min().expect("an opening serves it")
    };
    (0..world.prints.len()).map(cost_of).sum()
}

/// The least fabric of a world.
pub(crate) fn least(world: &World) -> Least {
    let sets = sets_of(world);
    let mut yields = Yields::new(world);
    let openings: Vec<Vec<Opening>> = world.prints.iter().map(|print| yields.openings(print)).collect();
    let programme = programme(world, &sets, &openings);
    let mut options = SolveOptions::default();
    options.node_limit = Some(NODES);
    let outcome = match programme.problem.solve_with(options) {
        Ok(outcome) => outcome,
        Err(Error::Infeasible) => return Least::Impossible,
        Err(error) => panic!("{error}: {world:#?}"),
    };
    let bound = outcome.stats().best_bound.unwrap_or(0.0);
    let Some(solution) = outcome.solution() else {
        return Least::Unsolved { at_least: bound, reached: None };
    };
    let taken = |prints: &Vec<Variable>| {
        prints.iter().position(|&takes| solution.var_value(takes) > 0.5).expect("a print is taken")
    };
    let prints: Vec<usize> = programme.takes.iter().map(taken).collect();
    let reached = cost(world, &sets, &openings, &prints);
    if outcome.is_optimal() {
        let said = solution.objective();
        assert!((said - f64::from(i32::try_from(reached).expect("small"))).abs() < 0.5, "{said}, {reached}");
        return Least::Exactly(reached);
    }
    Least::Unsolved { at_least: bound, reached: Some(reached) }
}
