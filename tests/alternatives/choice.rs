//! Few, different in kind, and none that is another one and something besides.

use std::collections::BTreeSet;

use cutcloth::fabric::Price;
use cutcloth::pattern::Matching;
use cutcloth::placements::{Placement, Placements};
use cutcloth::planning::{Alternative, Change, Stop, Verdict, plan};
use rand::rngs::SmallRng;
use rand::{Rng, SeedableRng};

use crate::table::{Table, e};

/// A small quilt, a small stash with kept-back lots and prices, and some decisions.
pub(crate) fn draw(random: &mut SmallRng) -> (Table, Placements) {
    let mut table = Table::default();
    let prints = random.random_range(1..=4);
    for number in 0..prints {
        for _ in 0..random.random_range(1..=2) {
            let (cut, side) = [("10-inch square", 80), ("5-inch square", 40)][random.random_range(0..2)];
            let lot = table.lot(&format!("print {number}"), cut, side, side, random.random_range(1..=2));
            lot.keep = random.random_range(0..3) == 0;
            lot.price = (random.random_range(0..3) == 0).then_some(Price(125));
        }
    }
    let blocks = random.random_range(1..=3);
    for number in 0..blocks {
        let matching =
            [Matching::Piece, Matching::Block, Matching::Block, Matching::Quilt][random.random_range(0..4)];
        let pieces: Vec<(i64, i64, u32)> = (0..random.random_range(1..=2))
            .map(|_| {
                (8 * random.random_range(2..=6), 8 * random.random_range(2..=6), random.random_range(1..=3))
            })
            .collect();
        table.block(&format!("block {number}"), random.random_range(1..=3), matching, &pieces);
    }
    let mut placements = Placements::default();
    for number in 0..blocks {
        if table.pattern.blocks[number].pieces[0].matching != Matching::Quilt
            && random.random_range(0..2) == 0
        {
            placements.rows.push(Placement {
                line: 2,
                block: Some(format!("block {number}")),
                copy: Some(1),
                role: format!("block {number} fabric"),
                label: None,
                piece: None,
                print: format!("print {}", random.random_range(0..prints)),
            });
        }
    }
    (table, placements)
}

/// Every single thing an alternative changes, so that "contains" is a question of sets.
fn singles(alternative: &Alternative) -> BTreeSet<String> {
    let mut singles = BTreeSet::new();
    for change in &alternative.changes {
        match change {
            Change::Release { lot } => {
                singles.insert(format!("lot {}", lot.0));
            }
            Change::OtherPrint { set, .. } => {
                for &piece in &alternative.demand.set(*set).pieces {
                    let piece = alternative.demand.piece(piece);
                    let place = (piece.block, piece.copy, &piece.label, piece.number);
                    singles.insert(format!("print of {place:?}"));
                }
            }
            Change::MixedPrints { block, copies, role } => {
                singles.extend(copies.iter().map(|copy| format!("mixed {block:?} {copy} {role:?}")));
            }
            Change::TwoPrints { role, .. } => {
                singles.insert(format!("two prints {role:?}"));
            }
            Change::Waive { rule } => {
                singles.insert(format!("{rule:?}"));
            }
            Change::OtherMethod { .. } | Change::OtherSize { .. } => {
                singles.insert(format!("{change:?}"));
            }
            Change::FewerCopies { block, was, make } => {
                singles.extend((*make..*was).map(|copy| format!("out {block:?} {copy}")));
            }
            Change::Buy { print, cut, width, length, count, .. } => {
                for step in 0..length.ticks() / e(1).ticks() {
                    let each =
                        (0..*count).map(|number| format!("buy {print:?} {cut:?} {width:?} {step} {number}"));
                    singles.extend(each);
                }
            }
        }
    }
    singles
}

fn kinds(alternative: &Alternative) -> BTreeSet<&'static str> {
    let kind = |change: &Change| match change {
        Change::Release { .. } => "release",
        Change::OtherPrint { .. } => "other print",
        Change::MixedPrints { .. } => "mixed",
        Change::TwoPrints { .. } => "two prints",
        Change::Waive { .. } => "rule",
        Change::OtherMethod { .. } => "method",
        Change::OtherSize { .. } => "size",
        Change::FewerCopies { .. } => "fewer",
        Change::Buy { .. } => "buy",
    };
    alternative.changes.iter().map(kind).collect()
}

#[test]
fn none_contains_another_and_there_are_at_most_five_of_different_kinds() {
    let mut random = SmallRng::seed_from_u64(21);
    let (mut pairs, mut all) = (0, BTreeSet::new());
    for case in 0..80 {
        let (table, placements) = draw(&mut random);
        let outcome =
            plan(&table.stash, &table.pattern, &placements, &table.rules, &Stop::never(), &mut |_| {});
        if outcome.verdict == Verdict::Fits {
            continue;
        }
        let offered = &outcome.alternatives;
        assert!(offered.len() <= 5, "case {case}");
        for (index, one) in offered.iter().enumerate() {
            assert_eq!(one.outcome.verdict, Verdict::Fits, "case {case}");
            all.extend(kinds(one));
            for other in &offered[index + 1..] {
                let (first, second) = (singles(one), singles(other));
                assert!(!first.is_subset(&second), "case {case}: {:?} in {:?}", one.changes, other.changes);
                assert!(!second.is_subset(&first), "case {case}: {:?} in {:?}", other.changes, one.changes);
                assert_ne!(kinds(one), kinds(other), "case {case}");
                pairs += 1;
            }
        }
    }
    assert!(pairs > 30, "only {pairs} pairs");
    assert_eq!(all.len(), 6, "all but rules between fabrics: {all:?}");
}
