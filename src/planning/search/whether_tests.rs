//! The search for a verdict says what the search for the best plan says.

use rand::rngs::SmallRng;
use rand::{Rng, SeedableRng};

use crate::planning::oracle::Oracle;
use crate::planning::oracle::answers::Answers;
use crate::planning::search::repair_tests::instance;
use crate::planning::search::{Found, any, any_improved, search};

#[test]
fn the_verdict_is_that_of_the_search_for_the_best_plan() {
    let random = &mut SmallRng::seed_from_u64(3);
    let (mut fits, mut impossible) = (0, 0);
    for _ in 0..150 {
        let sheets: Vec<i64> = (0..random.random_range(1..=4)).map(|_| random.random_range(3..=9)).collect();
        let area: i64 = sheets.iter().map(|side| side * side).sum();
        let mut squares: Vec<i64> = Vec::new();
        let share = random.random_range(50..=105);
        while squares.len() < 14 && squares.iter().map(|side| side * side).sum::<i64>() * 100 < area * share {
            squares.push(random.random_range(1..=5));
        }
        let instance = instance(&sheets, &squares);
        let ask = |how: &dyn Fn(&mut Oracle<'_>) -> Found| {
            how(&mut Oracle::new(&instance, &mut Answers::default()))
        };
        let best = ask(&|oracle| search(oracle, 100, &mut |_, _| {}));
        let quick = ask(&|oracle| any(oracle, 100));
        let improved = ask(&|oracle| any_improved(oracle, 100));
        assert_eq!(quick.complete, best.complete, "{squares:?} from {sheets:?}");
        assert_eq!(quick.refusal.is_some(), best.refusal.is_some(), "{squares:?} from {sheets:?}");
        assert_eq!(improved.complete, best.complete);
        if best.complete {
            fits += 1;
            assert!(improved.bound <= i128::from(best.cost) && best.bound <= i128::from(improved.cost));
        } else {
            impossible += 1;
            assert!(best.refusal.is_some(), "so little is always decided");
        }
    }
    assert!(fits >= 30 && impossible >= 30, "{fits} fit, {impossible} do not");
}
