//! Planning against exhaustive enumeration: every assignment of sets to prints, every choice of sheets, every
//! order of straight cuts, by code that shares nothing with the engine. Sides are whole inches.

mod table;

use std::collections::HashMap;

use cutcloth::pattern::Matching;
use cutcloth::planning::{Outcome, Verdict};
use rand::rngs::SmallRng;
use rand::{Rng, SeedableRng};
use table::{Table, fabric};

type Rect = (i64, i64);

/// One print: its sheets and whether pieces may be turned.
#[derive(Clone, Debug)]
struct Shelf {
    sheets: Vec<Rect>,
    turn: bool,
}

/// A tiny problem: prints, and sets of pieces that each want one print.
#[derive(Clone, Debug)]
struct Tiny {
    prints: Vec<Shelf>,
    sets: Vec<Vec<Rect>>,
}

fn draw(random: &mut SmallRng) -> Tiny {
    let prints = (0..random.random_range(1..=3))
        .map(|_| Shelf {
            sheets: (0..random.random_range(1..=2))
                .map(|_| (random.random_range(3..=6), random.random_range(3..=6)))
                .collect(),
            turn: random.random_range(0..4) > 0,
        })
        .collect();
    let kinds: Vec<Vec<Rect>> = (0..random.random_range(1..=3))
        .map(|_| {
            (0..random.random_range(1..=3))
                .map(|_| (random.random_range(1..=4), random.random_range(1..=4)))
                .collect()
        })
        .collect();
    let sets =
        (0..random.random_range(1..=4)).map(|_| kinds[random.random_range(0..kinds.len())].clone()).collect();
    Tiny { prints, sets }
}

fn table(tiny: &Tiny) -> Table {
    let mut table = Table::default();
    for (number, print) in tiny.prints.iter().enumerate() {
        for &(width, length) in &print.sheets {
            table.lot(&format!("print {number}"), "10-inch square", width * 8, length * 8, 1).directional =
                !print.turn;
        }
    }
    for (number, set) in tiny.sets.iter().enumerate() {
        let pieces: Vec<(i64, i64, u32)> = set.iter().map(|&(w, h)| (w * 8, h * 8, 1)).collect();
        table.block(&format!("block {number}"), 1, Matching::Block, &pieces);
    }
    table
}

/// Can these pieces be cut from one sheet? Every first cut, every way to share the pieces out.
fn cuts(
    sheet: Rect,
    pieces: &[Rect],
    turn: bool,
    known: &mut HashMap<(Rect, Vec<Rect>, bool), bool>,
) -> bool {
    let (w, h) = sheet;
    match pieces {
        [] => return true,
        [(a, b)] => return (*a <= w && *b <= h) || (turn && *b <= w && *a <= h),
        _ => {}
    }
    if pieces.iter().map(|(a, b)| a * b).sum::<i64>() > w * h {
        return false;
    }
    let key = (sheet, pieces.to_vec(), turn);
    if let Some(&answer) = known.get(&key) {
        return answer;
    }
    let answer = (1..(1u32 << pieces.len()) - 1).any(|side| {
        let part = |wanted: bool| -> Vec<Rect> {
            (0..pieces.len()).filter(|i| (side >> i & 1 == 1) == wanted).map(|i| pieces[i]).collect()
        };
        let (first, second) = (part(true), part(false));
        (1..w).any(|x| cuts((x, h), &first, turn, known) && cuts((w - x, h), &second, turn, known))
            || (1..h).any(|y| cuts((w, y), &first, turn, known) && cuts((w, h - y), &second, turn, known))
    });
    known.insert(key, answer);
    answer
}

/// Least area of sheets of one print from which the pieces can be cut; `None` when they cannot.
fn least_area(print: &Shelf, pieces: &[Rect]) -> Option<i64> {
    let mut known = HashMap::new();
    let sheets = print.sheets.len();
    let mut best = None;
    let ways = sheets.pow(u32::try_from(pieces.len()).unwrap());
    for way in 0..ways {
        let mut shares = vec![Vec::new(); sheets];
        let mut rest = way;
        for &piece in pieces {
            shares[rest % sheets].push(piece);
            rest /= sheets;
        }
        let fits = (0..sheets).all(|s| cuts(print.sheets[s], &shares[s], print.turn, &mut known));
        if fits {
            let area: i64 = (0..sheets)
                .filter(|&s| !shares[s].is_empty())
                .map(|s| print.sheets[s].0 * print.sheets[s].1)
                .sum();
            best = Some(best.map_or(area, |least: i64| least.min(area)));
        }
    }
    best
}

/// Least area over all assignments of sets to prints.
fn enumerate(tiny: &Tiny) -> Option<i64> {
    let prints = tiny.prints.len();
    let ways = prints.pow(u32::try_from(tiny.sets.len()).unwrap());
    (0..ways)
        .filter_map(|way| {
            let mut pieces = vec![Vec::new(); prints];
            let mut rest = way;
            for set in &tiny.sets {
                pieces[rest % prints].extend(set);
                rest /= prints;
            }
            (0..prints).map(|p| least_area(&tiny.prints[p], &pieces[p])).sum::<Option<i64>>()
        })
        .min()
}

fn agree(tiny: &Tiny, outcome: &Outcome) {
    let area = |square_inches: i64| fabric(8, 8, i128::from(square_inches), 100);
    match enumerate(tiny) {
        Some(least) => {
            assert_eq!(outcome.verdict, Verdict::Fits, "{tiny:?}");
            assert!(outcome.fabric.bound <= area(least), "bound past the least fabric: {tiny:?}");
            assert!(outcome.fabric.opened >= area(least), "less fabric than possible: {tiny:?}");
            assert_eq!(outcome.fabric.opened, area(least), "more fabric than needed: {tiny:?}");
        }
        None => assert_eq!(outcome.verdict, Verdict::Impossible, "{tiny:?}"),
    }
}

#[test]
fn verdict_and_least_fabric_agree_with_enumeration() {
    let mut random = SmallRng::seed_from_u64(11);
    let (mut fitting, mut impossible) = (0, 0);
    for _ in 0..1_500 {
        let tiny = draw(&mut random);
        let mut table = table(&tiny);
        table.rules.alternatives = false;
        table.rules.conflicts = false;
        let outcome = table.plan();
        agree(&tiny, &outcome);
        if outcome.verdict == Verdict::Fits { fitting += 1 } else { impossible += 1 }
    }
    eprintln!("{fitting} fit, {impossible} do not");
    assert_eq!(fitting + impossible, 1_500);
    // The draw must exercise both answers, or the test says nothing.
    assert!(fitting > 200 && impossible > 200, "{fitting} fit, {impossible} do not");
}

/// With hardly any work allowed plans are not listed, and the bounds come from the search for the best plan of a
/// print: they must hold all the same.
#[test]
fn with_little_work_the_verdict_is_never_wrong_and_the_bound_never_too_high() {
    let mut random = SmallRng::seed_from_u64(14);
    let (mut proved, mut impossible) = (0, 0);
    for _ in 0..700 {
        let tiny = draw(&mut random);
        let mut table = table(&tiny);
        table.rules.alternatives = false;
        table.rules.conflicts = false;
        table.rules.effort = 1;
        let outcome = table.plan();
        let area = |square_inches: i64| fabric(8, 8, i128::from(square_inches), 100);
        match enumerate(&tiny) {
            Some(least) => {
                assert_ne!(outcome.verdict, Verdict::Impossible, "{tiny:?}");
                assert!(outcome.fabric.bound <= area(least), "bound past the least fabric: {tiny:?}");
                if outcome.verdict == Verdict::Fits {
                    assert!(outcome.fabric.opened >= area(least), "{tiny:?}");
                    proved += usize::from(outcome.fabric.bound == area(least));
                }
            }
            None => {
                assert_ne!(outcome.verdict, Verdict::Fits, "{tiny:?}");
                impossible += usize::from(outcome.verdict == Verdict::Impossible);
            }
        }
    }
    eprintln!("{proved} proved least, {impossible} proved impossible");
    assert!(impossible > 100, "only {impossible} were proved impossible");
    assert!(proved > 100, "the bound met the least fabric only {proved} times");
}

#[test]
fn every_alternative_to_a_tiny_problem_fits() {
    let mut random = SmallRng::seed_from_u64(12);
    let mut seen = 0;
    for _ in 0..150 {
        let table = table(&draw(&mut random));
        for alternative in table.plan().alternatives {
            assert_eq!(alternative.outcome.verdict, Verdict::Fits);
            assert!(!alternative.changes.is_empty());
            seen += 1;
        }
    }
    assert!(seen > 20, "only {seen} alternatives were offered");
}

#[test]
fn more_fabric_never_hurts_and_turning_everything_changes_nothing() {
    let mut random = SmallRng::seed_from_u64(13);
    for _ in 0..200 {
        let tiny = draw(&mut random);
        let mut plain = table(&tiny);
        plain.rules.alternatives = false;
        plain.rules.conflicts = false;
        let before = plain.plan();
        let mut more = plain.clone();
        more.lot("print 0", "10-inch square", 40, 40, 1);
        let after = more.plan();
        if before.verdict == Verdict::Fits {
            assert_eq!(after.verdict, Verdict::Fits, "{tiny:?}");
            assert!(after.fabric.opened <= before.fabric.opened, "{tiny:?}");
        }
        let turn = |(w, h): Rect| (h, w);
        let turned = Tiny {
            prints: tiny
                .prints
                .iter()
                .map(|print| Shelf { sheets: print.sheets.iter().copied().map(turn).collect(), ..*print })
                .collect(),
            sets: tiny.sets.iter().map(|set| set.iter().copied().map(turn).collect()).collect(),
        };
        let mut sideways = table(&turned);
        sideways.rules.alternatives = false;
        sideways.rules.conflicts = false;
        let other = sideways.plan();
        assert_eq!(before.verdict, other.verdict, "{tiny:?}");
        assert_eq!(before.plan.short.len(), other.plan.short.len(), "{tiny:?}");
        assert_eq!(before.fabric.opened, other.fabric.opened, "{tiny:?}");
    }
}
