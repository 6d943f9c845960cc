//! The integer programme.

use crate::solved::{Binary, Outcome, solve};
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

/// A set: its kind, its block with the copy, and its place in the block.
struct Set {
    kind: usize,
    block: usize,
    copy: usize,
    place: usize,
}

struct Programme {
    problem: Binary,
    /// By set and print: the variable that says taken.
    takes: Vec<Vec<usize>>,
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
    let mut problem = Binary::default();
    let takes: Vec<Vec<usize>> =
        sets.iter().map(|_| world.prints.iter().map(|_| problem.variable(0)).collect()).collect();
    let opens: Vec<Vec<usize>> = openings
        .iter()
        .map(|print| print.iter().map(|opening| problem.variable(opening.cost)).collect())
        .collect();
    for prints in &takes {
        problem.exactly_one(prints);
    }
    for (print, ways) in opens.iter().enumerate() {
        problem.at_most(1, ways.iter().map(|&way| (way, 1)).collect());
        for kind in 0..world.kinds.len() {
            let mut row: Vec<(usize, i64)> = (0..sets.len())
                .filter(|&set| sets[set].kind == kind)
                .map(|set| (takes[set][print], 1))
                .collect();
            row.extend(ways.iter().zip(&openings[print]).map(|(&way, o)| (way, -i64::from(o.sets[kind]))));
            problem.at_most(0, row);
        }
    }
    for (block, made) in world.blocks.iter().enumerate() {
        for print in 0..world.prints.len() {
            let row = |mine: &dyn Fn(&Set) -> bool| -> Vec<(usize, i64)> {
                let of_block = sets.iter().zip(&takes).filter(|(set, _)| set.block == block && mine(set));
                of_block.map(|(_, prints)| (prints[print], 1)).collect()
            };
            if made.different {
                for copy in 0..made.make {
                    problem.at_most(1, row(&|set| set.copy == copy));
                }
            }
            if let Some(most) = made.at_most {
                problem.at_most(i64::from(most), row(&|set| set.place == 0));
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

/// The least fabric of a world. Where HiGHS is built in it is asked as well, and the two must agree.
pub(crate) fn least(world: &World) -> Least {
    let sets = sets_of(world);
    let mut yields = Yields::new(world);
    let openings: Vec<Vec<Opening>> = world.prints.iter().map(|print| yields.openings(print)).collect();
    let programme = programme(world, &sets, &openings);
    let read = |outcome: Outcome| match outcome {
        Outcome::None => Least::Impossible,
        Outcome::Stopped { at_least, values } => {
            let reached = values.map(|values| reached(world, &sets, &openings, &programme, &values));
            Least::Unsolved { at_least, reached }
        }
        Outcome::Best { said, values } => {
            let reached = reached(world, &sets, &openings, &programme, &values);
            let counted = f64::from(i32::try_from(reached).expect("small"));
            assert!((said - counted).abs() < 0.5, "{said}, {reached}");
            Least::Exactly(reached)
        }
    };
    let least = read(solve(&programme.problem));
    #[cfg(feature = "highs")]
    {
        let other = read(crate::solved::solve_by_highs(&programme.problem));
        match (least, other) {
            (Least::Unsolved { at_least, .. }, Least::Exactly(found)) => {
                assert!(f64::from(i32::try_from(found).expect("small")) > at_least - 0.5, "{world:#?}");
                return other;
            }
            (Least::Unsolved { reached, .. }, Least::Impossible) => {
                assert_eq!(reached, None, "{world:#?}");
                return other;
            }
            _ => assert_eq!(least, other, "microlp and HiGHS: {world:#?}"),
        }
    }
    least
}

/// The cost of the prints that are taken where the variables have these values.
fn reached(
    world: &World,
    sets: &[Set],
    openings: &[Vec<Opening>],
    programme: &Programme,
    values: &[f64],
) -> i64 {
    let taken =
        |prints: &Vec<usize>| prints.iter().position(|&takes| values[takes] > 0.5).expect("a print is taken");
    let prints: Vec<usize> = programme.takes.iter().map(taken).collect();
    cost(world, sets, openings, &prints)
}
