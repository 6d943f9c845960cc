//! Repairing a plan: what must be pushed out is, nothing gets worse, and the same start gives the same plan.

use std::collections::BTreeSet;

use rand::rngs::SmallRng;
use rand::{Rng, SeedableRng};

use crate::fabric::Cut;
use crate::length::Length;
use crate::pattern::demand::{Demand, Loosened};
use crate::pattern::{Block, Count, Matching, Pattern, PieceLine, Role, RoleId, Shape};
use crate::planning::Rules;
use crate::planning::columns::pool::Column;
use crate::planning::instance::{Instance, Scope};
use crate::planning::oracle::Oracle;
use crate::planning::oracle::answers::Answers;
use crate::planning::search::Search;
use crate::planning::search::repair::TO_COMPLETE;
use crate::stash::{Lot, Print, PrintId, Stash};

/// Prints of one square each, and sets of one square each, by side in inches. Bags are numbered from the largest.
pub(super) fn instance(sheets: &[i64], squares: &[i64]) -> Instance {
    let inches = |side: i64| Length::from_eighths(8 * side);
    let mut stash = Stash::default();
    for &side in sheets {
        stash.prints.push(Print { name: format!("shell {side}") });
        let print = PrintId(stash.prints.len() - 1);
        stash.lots.push(Lot::plain(print, Cut::scrap(), inches(side), inches(side)));
    }
    let line = |(number, &side): (usize, &i64)| PieceLine {
        label: number.to_string(),
        role: RoleId(0),
        width: inches(side),
        height: inches(side),
        count: Count::PerCopy(1),
        shape: Shape::Rectangle,
        matching: Matching::Piece,
        line: 0,
    };
    let pieces = squares.iter().enumerate().map(line).collect();
    let pattern = Pattern {
        roles: vec![Role { name: "tide".into(), ..Role::default() }],
        blocks: vec![Block { name: "urchin".into(), make: 1, pieces, ..Block::default() }],
        ..Pattern::default()
    };
    let demand = Demand::expand(&pattern, &Loosened::default());
    let nothing = BTreeSet::new();
    let scope = Scope { without: &nothing, free: true, apart: &BTreeSet::new() };
    Instance::new(&stash, &demand, &vec![None; demand.sets.len()], &[], &Rules::default(), scope)
}

/// What `ask` finds out about a search over `instance`.
fn searched<T>(instance: &Instance, ask: impl FnOnce(&mut Search<'_, '_>) -> T) -> T {
    let mut answers = Answers::default();
    let mut oracle = Oracle::new(instance, &mut answers);
    ask(&mut Search::new(&mut oracle, 100))
}

/// A square of so many inches cut from a print of so many.
fn cut(search: &mut Search<'_, '_>, square: i64, sheet: i64) -> Column {
    let area = |side: i64| Length::from_eighths(8 * side).by(Length::from_eighths(8 * side)).square_ticks();
    let instance = search.instance();
    let bag = instance.bags.iter().position(|bag| bag.area == area(square)).expect("a set of that size");
    let class = instance.classes.iter().position(|class| class.area() == area(sheet)).expect("such a print");
    let cost = instance.classes[class].sheets[0].cost(Length::from_eighths(8 * sheet));
    Column { class, bags: vec![(bag, 1)], cost }
}

#[test]
fn a_small_piece_gives_way_to_the_large_one_that_fits_nowhere_else() {
    // The eight-inch square needs the large print, where the five-inch square lies; that fits the other print as well.
    searched(&instance(&[10, 6], &[8, 5]), |search| {
        let in_the_way = cut(search, 5, 10);
        search.keep_part(vec![in_the_way]);
        search.repair(TO_COMPLETE / 20);
        let (_, columns) = search.best.clone().expect("a complete plan");
        assert!(search.serves_all(&columns));
        for column in [cut(search, 8, 10), cut(search, 5, 6)] {
            assert!(columns.contains(&column), "{columns:?}");
        }
    });
}

#[test]
fn what_cannot_be_completed_is_not_called_complete_and_keeps_what_it_served() {
    searched(&instance(&[10, 6], &[8, 8, 5]), |search| {
        let large = cut(search, 8, 10);
        search.keep_part(vec![large]);
        let before = search.fullest.0;
        search.repair(TO_COMPLETE / 100);
        assert!(search.best.is_none());
        assert!(search.fullest.0 >= before);
    });
}

#[test]
fn two_pieces_on_two_prints_go_together_on_one() {
    searched(&instance(&[10, 9], &[4, 5]), |search| {
        let apart = vec![cut(search, 5, 10), cut(search, 4, 9)];
        search.keep(apart);
        search.improve(&mut |_, _| {});
        let (cost, columns) = search.best.clone().expect("a complete plan");
        assert!(search.serves_all(&columns));
        assert_eq!(cost, cut(search, 5, 9).cost, "the smaller print is enough: {columns:?}");
    });
}

#[test]
fn no_plan_gets_worse_and_the_same_start_gives_the_same_plan() {
    let mut random = SmallRng::seed_from_u64(0x5EA_0020);
    let (mut complete, mut cheaper) = (0, 0);
    for _ in 0..60 {
        let sheets: Vec<i64> = (0..random.random_range(3..=6)).map(|_| random.random_range(6..=12)).collect();
        let squares: Vec<i64> = (0..random.random_range(3..=9)).map(|_| random.random_range(2..=6)).collect();
        let instance = instance(&sheets, &squares);
        let run = || {
            searched(&instance, |search| {
                search.first_plan();
                if search.best.is_none() {
                    search.repair(TO_COMPLETE / 20);
                }
                let before = search.best.clone();
                search.improve(&mut |_, _| {});
                if let Some((_, columns)) = &search.best {
                    assert!(search.serves_all(columns), "{sheets:?} {squares:?}");
                }
                (before.map(|(cost, _)| cost), search.best.clone())
            })
        };
        let (before, after) = run();
        assert_eq!(before.is_some(), after.is_some(), "{sheets:?} {squares:?}");
        if let (Some(before), Some((cost, columns))) = (before, &after) {
            let opened: i64 = columns.iter().map(|column| column.cost).sum();
            assert!(*cost <= before && opened == *cost, "{sheets:?} {squares:?}");
            complete += 1;
            cheaper += u32::from(*cost < before);
        }
        assert_eq!(run(), (before, after), "{sheets:?} {squares:?}");
    }
    assert!(complete > 20 && cheaper > 3, "{complete} complete, {cheaper} made cheaper");
}
