//! Planning against worked figures: each check names where its figure comes from.

mod table;

use cutcloth::length::Length;
use cutcloth::pattern::Matching;
use cutcloth::planning::{Verdict, Weights};
use table::{Table, e, fabric};

const SQUARE: (i64, i64) = (80, 80);

fn squares(count: i128) -> i128 {
    fabric(SQUARE.0, SQUARE.1, count, 100)
}

fn one_family() -> Table {
    let mut table = Table::default();
    table.pack("kelp", 42, 1);
    table.block("urchin", 20, Matching::Block, &[(20, 52, 2), (20, 20, 2)]);
    table.block("limpet", 20, Matching::Block, &[(28, 28, 4)]);
    table.block("barnacle", 80, Matching::Block, &[(36, 20, 1)]);
    table
}

/// Least number of 10-inch squares: own figure, found by two independent programs (an exhaustive one and a
/// general-purpose integer programming solver).
#[test]
fn one_family_of_42_squares_needs_33() {
    let outcome = one_family().plan();
    assert_eq!(outcome.verdict, Verdict::Fits);
    assert_eq!(outcome.fabric.opened, squares(33));
    assert_eq!(outcome.fabric.bound, squares(33));
}

/// Three families of fourteen, told apart here by the cut of fabric; all are 10 x 10 in and weigh the same.
const FAMILY: [&str; 3] = ["10-inch square", "scrap", "fat quarter"];

fn three_families() -> Table {
    let mut table = Table::default();
    table.rules.weights = Weights { scrap: 100, precut: 100, fat_quarter: 100, yardage: 100 };
    for (number, family) in FAMILY.iter().enumerate() {
        for print in 0..14 {
            table.lot(&format!("kelp {number} {print}"), family, SQUARE.0, SQUARE.1, 1);
        }
    }
    table
}

/// `families` from 1, as in the source.
fn bag(table: &mut Table, name: &str, make: u32, pieces: &[(i64, i64, u32)], families: &[usize]) {
    table.block(name, make, Matching::Block, pieces);
    let cuts: Vec<&str> = families.iter().map(|family| FAMILY[family - 1]).collect();
    table.from(&cuts);
}

fn six_kinds() -> Table {
    let mut table = three_families();
    bag(&mut table, "urchin", 20, &[(20, 52, 2), (20, 20, 2)], &[1]);
    bag(&mut table, "limpet", 20, &[(28, 28, 4)], &[2, 3]);
    bag(&mut table, "barnacle", 40, &[(36, 20, 1)], &[1, 2, 3]);
    bag(&mut table, "whelk", 10, &[(40, 40, 2)], &[2]);
    bag(&mut table, "cockle", 10, &[(24, 24, 4)], &[3]);
    bag(&mut table, "tellin", 10, &[(24, 24, 2), (20, 20, 1)], &[1, 2]);
    table
}

/// As the one-family case; figure 39 from the same two programs.
#[test]
fn three_families_of_fourteen_squares_need_39() {
    let outcome = six_kinds().plan();
    assert_eq!(outcome.verdict, Verdict::Fits);
    assert_eq!(outcome.fabric.opened, squares(39));
    assert_eq!(outcome.fabric.bound, squares(39));
}

fn eight_kinds() -> Table {
    let mut table = three_families();
    bag(&mut table, "urchin", 12, &[(20, 52, 2), (20, 20, 2)], &[1, 2]);
    bag(&mut table, "limpet", 12, &[(28, 28, 4)], &[2, 3]);
    bag(&mut table, "barnacle", 30, &[(36, 20, 1)], &[1, 2, 3]);
    bag(&mut table, "whelk", 8, &[(40, 40, 2)], &[2]);
    bag(&mut table, "cockle", 8, &[(24, 24, 4)], &[3]);
    bag(&mut table, "tellin", 8, &[(24, 24, 2), (20, 20, 1)], &[1, 2]);
    bag(&mut table, "wrack", 12, &[(31, 31, 2), (16, 16, 4)], &[1, 2, 3]);
    bag(&mut table, "sandhopper", 12, &[(16, 44, 2), (16, 16, 2)], &[1, 3]);
    table
}

/// Eight kinds of set over three families; figure 36 from one program with two ways of listing plans.
#[test]
fn eight_kinds_of_set_over_three_families_need_36() {
    let outcome = eight_kinds().plan();
    assert_eq!(outcome.verdict, Verdict::Fits);
    assert_eq!(outcome.fabric.opened, squares(36));
    assert_eq!(outcome.fabric.bound, squares(36));
}

/// However little it may search, a plan opens no fewer squares than those figures, and no bound passes them.
#[test]
fn a_hurried_plan_claims_no_more_than_the_figures() {
    for (mut table, figure) in [(one_family(), 33), (six_kinds(), 39), (eight_kinds(), 36)] {
        table.rules.alternatives = false;
        table.rules.conflicts = false;
        for effort in [1, 3, 10, 30] {
            table.rules.effort = effort;
            let outcome = table.plan();
            assert_ne!(outcome.verdict, Verdict::Impossible, "{figure} squares, effort {effort}");
            assert!(outcome.fabric.bound <= squares(figure), "{figure} squares, effort {effort}");
            if outcome.verdict == Verdict::Fits {
                assert!(outcome.fabric.opened >= squares(figure), "{figure} squares, effort {effort}");
            }
        }
    }
}

/// Ten sets of five 5 in squares from one print and 118 loose ones fill 42 squares to the last (4 a square);
/// ten prints must come twice. Worked by hand.
#[test]
fn ten_doubled_prints_and_every_place_used() {
    let mut table = Table::default();
    table.pack("twice", 10, 2);
    table.pack("once", 22, 1);
    table.block("star", 10, Matching::Block, &[(40, 40, 5)]);
    table.block("loose", 1, Matching::Piece, &[(40, 40, 118)]);
    let outcome = table.plan();
    assert_eq!(outcome.verdict, Verdict::Fits);
    assert_eq!(outcome.fabric.opened, squares(42));
}

#[test]
fn one_loose_square_more_fits_no_pack_of_42() {
    let mut table = Table::default();
    table.pack("twice", 21, 2);
    table.block("star", 10, Matching::Block, &[(40, 40, 5)]);
    table.block("loose", 1, Matching::Piece, &[(40, 40, 119)]);
    assert_eq!(table.plan().verdict, Verdict::Impossible);
}

#[test]
fn nine_doubled_prints_are_one_too_few() {
    let mut table = Table::default();
    table.pack("twice", 9, 2);
    table.pack("once", 24, 1);
    table.block("star", 10, Matching::Block, &[(40, 40, 5)]);
    table.block("loose", 1, Matching::Piece, &[(40, 40, 118)]);
    let outcome = table.plan();
    assert_eq!(outcome.verdict, Verdict::Impossible);
    assert_eq!(outcome.reasons[1].code, "matching");
}

/// Garden throw: 42 different prints, one 10-inch square each; each gives two 1 1/2 x 8 1/2 and two 1 1/2 x 6 1/2
/// that match, one 2 1/2 x 10, and 36 of them one more 1 1/2 x 6 1/2. Figures: All People Quilt (American
/// Patchwork & Quilting), "Garden Party", https://www.allpeoplequilt.com/quilt-patterns/quilt-throws/garden-party
fn garden(prints: usize, side: i64) -> Table {
    let mut table = Table::default();
    for number in 0..prints {
        table.lot(&format!("garden {number}"), "10-inch square", side, side, 1);
    }
    table.block("frame", 42, Matching::Block, &[(12, 68, 2), (12, 52, 2)]);
    table.block("four-patch", 42, Matching::Piece, &[(20, 80, 1)]);
    table.block("extra", 36, Matching::Piece, &[(12, 52, 1)]);
    table
}

#[test]
fn garden_throw_fits_42_squares_exactly() {
    let outcome = garden(42, 80).plan();
    assert_eq!(outcome.verdict, Verdict::Fits);
    assert_eq!(outcome.fabric.opened, squares(42));
    assert_eq!(outcome.fabric.bound, squares(42));
}

#[test]
fn garden_throw_with_41_squares_is_proved_impossible() {
    let outcome = garden(41, 80).plan();
    assert_eq!(outcome.verdict, Verdict::Impossible);
}

#[test]
fn garden_throw_with_squares_of_9_7_8_in_is_proved_impossible() {
    let outcome = garden(42, 79).plan();
    assert_eq!(outcome.verdict, Verdict::Impossible);
    assert!(outcome.reasons[1].text.contains("2 1/2 x 10 in"), "{}", outcome.reasons[1].text);
}

/// Two layouts of a 10-inch square, 28 of one and 14 of the other from 42 squares. Figures: Lucy and Norman
/// blog, "Triple Squared" (cuts as printed there).
#[test]
fn triple_squared_fits_a_pack_of_42() {
    let mut table = Table::default();
    table.pack("shell", 42, 1);
    table.block("first", 28, Matching::Block, &[(20, 52, 1), (20, 36, 4), (20, 20, 4)]);
    table.block("second", 14, Matching::Block, &[(20, 52, 2), (20, 36, 3), (20, 20, 3)]);
    let outcome = table.plan();
    assert_eq!(outcome.verdict, Verdict::Fits);
    assert_eq!(outcome.fabric.opened, squares(42));
}

/// 40 strips 2 1/2 x 42 in; 80 blocks, each two 2 1/2 x 6 1/2 and two 2 1/2 squares of one print, and one more
/// square of any. Figures: All People Quilt, "Square Knot", 2018-01-31,
/// https://www.allpeoplequilt.com/quilt-patterns/quilt-throws/square-knot
#[test]
fn square_knot_uses_forty_strips_exactly() {
    let mut table = Table::default();
    for number in 0..40 {
        table.lot(&format!("strip {number}"), "2 1/2-inch strip", 336, 20, 1);
    }
    table.block("knot", 80, Matching::Block, &[(52, 20, 2), (20, 20, 2)]);
    table.block("centre", 80, Matching::Piece, &[(20, 20, 1)]);
    let outcome = table.plan();
    assert_eq!(outcome.verdict, Verdict::Fits);
    assert_eq!(outcome.plan.sheets.len(), 40);
    assert_eq!(outcome.fabric.opened, outcome.fabric.bound);
}

/// Twelve fat quarters 21 x 18: three prints of two give 7 + 7 + 6 squares of 7 1/2 in (4 each), three of two
/// frame twenty blocks with two 2 x 7 1/2 and two 2 x 10 1/2. Figures: patchwork-quilting.co.uk, "One week and
/// twelve fat quarters".
#[test]
fn framed_squares_fit_twelve_fat_quarters() {
    let mut table = Table::default();
    for number in 0..6 {
        table.lot(&format!("fat {number}"), "fat quarter", 168, 144, 2);
    }
    table.block("centre", 20, Matching::Piece, &[(60, 60, 1)]);
    table.block("frame", 20, Matching::Block, &[(16, 60, 2), (16, 84, 2)]);
    let outcome = table.plan();
    assert_eq!(outcome.verdict, Verdict::Fits);
    assert!(outcome.plan.sheets.len() <= 12);
}

/// 320 squares of 2 1/2 in at 10 in, 16 each: 20 squares. Worked by hand.
#[test]
fn small_squares_fill_twenty_sheets_of_one_print() {
    let mut table = Table::default();
    table.lot("kelp", "10-inch square", 80, 80, 42);
    table.block("kite", 20, Matching::Block, &[(20, 20, 16)]);
    let outcome = table.plan();
    assert_eq!(outcome.verdict, Verdict::Fits);
    assert_eq!(outcome.fabric.opened, squares(20));
    assert_eq!(outcome.fabric.bound, squares(20));
}

/// 36 prints, 30 once and 6 twice; eight blocks need two matching squares each: 6 placed, 2 short.
#[test]
fn six_doubles_serve_six_of_eight_matching_blocks_and_the_reason_counts_them() {
    let mut table = Table::default();
    table.pack("once", 30, 1);
    table.pack("twice", 6, 2);
    table.block("star", 8, Matching::Block, &[(72, 40, 2), (40, 40, 2)]);
    let outcome = table.plan();
    assert_eq!(outcome.verdict, Verdict::Impossible);
    assert_eq!(outcome.plan.short.len(), 2);
    assert!(outcome.reasons[1].text.contains("6 prints"), "{}", outcome.reasons[1].text);
}

/// Two 3 in squares with a 1 1/2 in strip sewn between them measure 6 1/2 in: common practice, no source. So a unit
/// of 6 1/2 in takes exactly these three cuts; they come out of a strip 3 in deep and 7 1/2 in long, and no shorter.
#[test]
fn two_squares_and_a_strip_between_them_measure_six_and_a_half_inches() {
    let sizes = [e(24), e(12), e(24)];
    let seam = e(2);
    let sewn = sizes.iter().copied().sum::<Length>() - seam - seam - seam - seam;
    assert_eq!(sewn, e(52));
    for (length, verdict) in [(60, Verdict::Fits), (59, Verdict::Impossible)] {
        let mut table = Table::default();
        table.lot("strip", "scrap", length, 24, 1);
        table.block("unit", 1, Matching::Block, &[(24, 24, 2), (12, 24, 1)]);
        assert_eq!(table.plan().verdict, verdict);
    }
}

/// "Square Knot", All People Quilt, 2018: a throw of 80 blocks from a roll of 40 strips of 2 1/2 x 42 in, used up
/// exactly; each block takes five pieces of one print and a middle of a contrasting one.
#[test]
fn a_roll_of_forty_strips_makes_the_throw_and_one_of_thirty_nine_does_not() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/cases/pattern/one-strip-roll/pattern.toml");
    let (pattern, said) = cutcloth::pattern::read("pattern.toml", &std::fs::read(path).unwrap());
    assert!(said.iter().all(|one| !one.is_error()), "{said:?}");
    for (strips, verdict) in [(40, Verdict::Fits), (39, Verdict::Impossible)] {
        let mut table = Table { pattern: pattern.clone(), ..Table::default() };
        table.rules.alternatives = false;
        table.rules.conflicts = false;
        for strip in 0..strips {
            table.lot(&format!("roll {strip}"), "2 1/2-inch strip", 42 * 8, 20, 1);
        }
        for (print, eighths_of_yards) in [("white", 17), ("dark gray", 21), ("black", 6)] {
            table.lot(print, "yardage", 42 * 8, eighths_of_yards * 36, 1);
        }
        let outcome = table.plan();
        assert_eq!(outcome.verdict, verdict, "{strips} strips");
        if verdict == Verdict::Fits {
            let demand = table.demand();
            let print = |role: &str, copy: u32| {
                let of = |set: &cutcloth::pattern::demand::Set| {
                    pattern.roles[set.role.0].name == role && set.block.is_some_and(|(_, c)| c == copy)
                };
                outcome.plan.prints[demand.sets.iter().position(of).unwrap()].unwrap()
            };
            assert!((1..=80).all(|copy| print("P", copy) != print("C", copy)), "each middle contrasts");
        }
    }
}
