//! What must hold between the answers to two questions, over many drawn stashes and patterns: more fabric or fewer wishes
//! never hurt; turning, scaling, renaming or reordering everything changes nothing; no bound passes what another
//! plan of the same reaches. And every record written, alternatives included, passes the check of its own.
//!
//! Together they are asked of more than three thousand pairs, most of them tiny; CUTCLOTH_TIMES=10 asks ten times as
//! often, with other draws. Each test prints how often it asked and what came of it.
//!
//! Names and the order of rows may decide between plans that are equally good; so plans are not compared, only verdicts,
//! what is opened and what is proved.

#[path = "../table/mod.rs"]
mod table;

mod changes;
mod drawn;
mod records;

use cutcloth::planning::{Outcome, Verdict};
use drawn::{SMALL, TINY, draw};
use rand::SeedableRng;
use rand::rngs::SmallRng;
use table::Table;

/// How often a property was put to the test.
#[derive(Debug, Default)]
struct Tally {
    asked: u32,
    /// Both fit, and figures were compared.
    figures: u32,
    /// Both proved least.
    proved: u32,
    /// Neither fits, proved.
    impossible: u32,
}

impl Tally {
    /// Adds up and holds one pair of answers together: the least that `easier` opens is no more than
    /// `times` the least that `harder` opens.
    fn no_worse(&mut self, harder: &Outcome, easier: &Outcome, times: i128, said: &dyn Fn() -> String) {
        let (before, after) = (harder.fabric, easier.fabric);
        self.asked += 1;
        if harder.verdict == Verdict::Fits {
            assert_ne!(easier.verdict, Verdict::Impossible, "{}", said());
            let least = times * before.opened;
            assert!(
                after.bound <= least,
                "bound {} passes {least}, which is reached: {}",
                after.bound,
                said()
            );
        }
        if easier.verdict == Verdict::Impossible {
            assert_ne!(harder.verdict, Verdict::Fits, "{}", said());
        }
        if harder.verdict == Verdict::Fits && easier.verdict == Verdict::Fits {
            self.figures += 1;
            if after.opened == after.bound {
                self.proved += 1;
                assert!(after.opened <= times * before.opened, "more is opened: {}", said());
            }
        }
        let both = [harder.verdict, easier.verdict] == [Verdict::Impossible; 2];
        self.impossible += u32::from(both);
    }

    /// Holds together two answers to the same question asked in two ways.
    fn same(&mut self, one: &Outcome, other: &Outcome, times: i128, said: &dyn Fn() -> String) {
        self.no_worse(one, other, times, said);
        let (first, second) = (one.fabric, other.fabric);
        if [one.verdict, other.verdict] == [Verdict::Fits; 2] {
            assert!(times * first.bound <= second.opened, "a bound passes the other plan: {}", said());
        }
        if other.verdict == Verdict::Fits {
            assert_ne!(one.verdict, Verdict::Impossible, "{}", said());
        }
    }
}

fn said(before: &Table, after: &Table) -> String {
    format!("{:#?}\n{:#?}\nbecomes\n{:#?}\n{:#?}", before.stash, before.pattern, after.stash, after.pattern)
}

/// Holds two answers together, told how to say what was asked.
type Hold<'a> = &'a dyn Fn(&mut Tally, &Outcome, &Outcome, &dyn Fn() -> String);

/// How many times as many cases as usual are asked for.
fn times() -> u32 {
    std::env::var("CUTCLOTH_TIMES").map_or(1, |text| text.parse().expect("CUTCLOTH_TIMES is a whole number"))
}

/// Draws tables until so many could be changed, and compares each with what `change` makes of it.
fn over(
    seed: u64,
    pairs: u32,
    change: &dyn Fn(&Table, &mut SmallRng) -> Option<Table>,
    hold: Hold<'_>,
) -> Tally {
    let mut random = SmallRng::seed_from_u64(seed);
    let mut tally = Tally::default();
    while tally.asked < pairs * times() {
        let case = tally.asked;
        let mut before = draw(if case % 8 == 0 { &SMALL } else { &TINY }, &mut random);
        let Some(mut after) = change(&before, &mut random) else { continue };
        // Mostly in a hurry, and now and then in more of a hurry: what is claimed must hold all the same.
        before.rules.effort = if case % 4 == 0 { 100 } else { 10 };
        after.rules.effort = if case % 4 == 1 { 1 } else { before.rules.effort };
        hold(&mut tally, &before.plan(), &after.plan(), &|| {
            format!("case {case}: {}", said(&before, &after))
        });
    }
    eprintln!("{tally:?}");
    assert_eq!(tally.asked, pairs * times());
    assert!(
        tally.figures * 5 > tally.asked && tally.impossible * 10 > tally.asked,
        "both must occur: {tally:?}"
    );
    assert!(tally.proved * 6 > tally.figures, "proofs must occur: {tally:?}");
    tally
}

fn easier(tally: &mut Tally, before: &Outcome, after: &Outcome, said: &dyn Fn() -> String) {
    tally.no_worse(before, after, 1, said);
}

fn alike(tally: &mut Tally, before: &Outcome, after: &Outcome, said: &dyn Fn() -> String) {
    tally.same(before, after, 1, said);
}

#[test]
fn more_fabric_never_hurts() {
    over(0x5EA_0001, 600, &|table, random| Some(changes::more_fabric(table, random)), &easier);
}

#[test]
fn fewer_pieces_never_hurt() {
    over(0x5EA_0002, 400, &changes::fewer_pieces, &easier);
}

#[test]
fn a_wish_given_up_never_hurts() {
    over(0x5EA_0003, 400, &changes::wish_given_up, &easier);
}

#[test]
fn a_larger_sheet_never_hurts_where_it_weighs_as_much() {
    over(0x5EA_0004, 400, &changes::longer_yardage, &easier);
}

#[test]
fn twice_the_stash_makes_the_quilt_twice() {
    let twice = |tally: &mut Tally, before: &Outcome, after: &Outcome, said: &dyn Fn() -> String| {
        tally.no_worse(before, after, 2, said);
    };
    over(0x5EA_0005, 250, &|table, _| Some(changes::twice(table)), &twice);
}

#[test]
fn turning_everything_changes_nothing() {
    over(0x5EA_0006, 500, &|table, _| changes::turned(table), &alike);
}

#[test]
fn renaming_and_reordering_everything_changes_nothing() {
    over(0x5EA_0007, 500, &|table, random| Some(changes::renamed(table, random)), &alike);
}

#[test]
fn scaling_everything_changes_nothing() {
    for (seed, by) in [(0x5EA_0008, 3), (0x5EA_0009, 7)] {
        let scaled = |tally: &mut Tally, before: &Outcome, after: &Outcome, said: &dyn Fn() -> String| {
            tally.same(before, after, i128::from(by * by), said);
        };
        over(seed, 150, &|table, _| Some(changes::scaled(table, by)), &scaled);
    }
}
