//! The jobs of three people with invented numbers, worked by hand beside each check.

mod table;

use cutcloth::cutting::{self, Axis, Kind, Layout, Node, Split};
use cutcloth::fabric::Price;
use cutcloth::pattern::Matching;
use cutcloth::placements;
use cutcloth::planning::{Alternative, Change, SheetPlan, Stop, Verdict, plan};
use table::{Table, e, fabric};

/// 36 prints, 30 once and 6 twice; each of eight stars needs two matching squares. A fat quarter is kept back.
fn eight_stars() -> Table {
    let mut table = Table::default();
    table.pack("once", 30, 1);
    table.pack("twice", 6, 2);
    // Two pieces of 10 x 9 1/2 in: one a square, and two (one pair) from a fat quarter of 21 x 18.
    table.block("star", 8, Matching::Block, &[(80, 76, 2)]);
    table
}

fn names(alternative: &Alternative) -> Vec<&'static str> {
    let name = |change: &Change| match change {
        Change::OtherPrint { .. } => "other print",
        Change::Release { .. } => "release",
        Change::MixedPrints { .. } => "mixed",
        Change::TwoPrints { .. } => "two prints",
        Change::Waive { .. } => "rule",
        Change::OtherMethod { .. } => "method",
        Change::OtherSize { .. } => "size",
        Change::FewerCopies { .. } => "fewer",
        Change::Buy { .. } => "buy",
    };
    alternative.changes.iter().map(name).collect()
}

#[test]
fn six_stars_are_placed_and_two_named_short() {
    let outcome = eight_stars().plan();
    assert_eq!(outcome.verdict, Verdict::Impossible);
    assert_eq!(outcome.plan.prints.iter().flatten().count(), 6);
    assert_eq!(outcome.plan.short.len(), 2);
    // Two squares for each placed star, and no more.
    assert_eq!(outcome.fabric.opened, fabric(80, 80, 12, 100));
    assert_eq!(outcome.reasons[0].code, "conflict");
    let together = "fabric star fabric in 8 star (each 2 of 10 x 9 1/2 in); one print as fabric star fabric throughout each star";
    assert!(outcome.reasons[0].text.contains(together), "{}", outcome.reasons[0].text);
    assert!(
        outcome.reasons[0].text.ends_with("Without any one of them it fits"),
        "{}",
        outcome.reasons[0].text
    );
    assert_eq!(outcome.reasons[1].code, "matching");
    assert!(outcome.reasons[1].text.contains("8 are needed"), "{}", outcome.reasons[1].text);
    assert!(outcome.reasons[1].text.contains("6 prints"), "{}", outcome.reasons[1].text);
}

#[test]
fn a_kept_fat_quarter_and_one_bought_close_the_gap_of_two_stars() {
    let mut table = eight_stars();
    table.lot("stash fat quarter", "fat quarter", 168, 144, 1).keep = true;
    table.lot("too small", "fat quarter", 40, 40, 1).price = Some(Price(325)); // only tells the price
    let outcome = table.plan();
    assert_eq!(outcome.verdict, Verdict::Impossible);
    let kinds: Vec<Vec<&str>> = outcome.alternatives.iter().map(names).collect();
    assert!(kinds.contains(&vec!["release", "buy"]), "{kinds:?}");
    assert!(kinds.contains(&vec!["mixed"]), "{kinds:?}");
    assert!(kinds.contains(&vec!["fewer"]), "{kinds:?}");
    for alternative in &outcome.alternatives {
        assert_eq!(alternative.outcome.verdict, Verdict::Fits);
        assert!(alternative.outcome.plan.short.is_empty());
        for change in &alternative.changes {
            match change {
                Change::Buy { count, .. } if names(alternative) == ["release", "buy"] => {
                    assert_eq!(*count, 1);
                    assert_eq!(alternative.price, Some(Price(325)));
                }
                Change::MixedPrints { copies, .. } if alternative.changes.len() == 1 => {
                    assert_eq!(copies, &[7, 8]);
                }
                Change::FewerCopies { was, make, .. } if alternative.changes.len() == 1 => {
                    assert_eq!((*was, *make), (8, 6));
                }
                _ => {}
            }
        }
    }
}

#[test]
fn taking_back_any_change_of_an_alternative_breaks_it() {
    // Every released lot is needed: the one kept fat quarter that cannot help is not released.
    let mut table = eight_stars();
    table.lot("helps", "fat quarter", 168, 144, 1).keep = true;
    table.lot("helps too", "fat quarter", 168, 144, 1).keep = true;
    table.lot("too small", "scrap", 16, 16, 1).keep = true;
    let outcome = table.plan();
    let release = outcome.alternatives.iter().find(|a| names(a).iter().all(|n| *n == "release")).unwrap();
    assert_eq!(release.changes.len(), 2);
}

/// Two 2 1/2 x 6 1/2 and two 6 1/2 x 2 1/2 pieces: a pinwheel of them fits 9 x 9 in, but no straight cut starts
/// it, and with the direction fixed nothing else fits 10 x 10 in either.
#[test]
fn a_pinwheel_is_refused_with_direction_fixed_and_accepted_with_turning() {
    let mut table = Table::default();
    table.lot("tide stripe", "10-inch square", 80, 80, 1).directional = true;
    table.block("pinwheel", 1, Matching::Block, &[(20, 52, 2), (52, 20, 2)]);
    assert_eq!(table.plan().verdict, Verdict::Impossible);
    table.stash.lots[0].directional = false;
    assert_eq!(table.plan().verdict, Verdict::Fits);
}

/// Keeping the direction costs a second square, which the plan then opens.
#[test]
fn a_directional_print_opens_a_second_square_for_the_pinwheel() {
    let mut table = Table::default();
    table.lot("tide stripe", "10-inch square", 80, 80, 2).directional = true;
    table.block("pinwheel", 1, Matching::Block, &[(20, 52, 2), (52, 20, 2)]);
    let outcome = table.plan();
    assert_eq!(outcome.verdict, Verdict::Fits);
    assert_eq!(outcome.plan.sheets.len(), 2);
    assert!(
        outcome.plan.sheets.iter().all(|sheet| sheet.layout.pieces().iter().all(|(_, _, turned)| !turned))
    );
}

/// Cut 4 1/2, sub-cut two 4 1/2 (A); cut 2 1/2, two 2 1/2 x 4 1/2 (B); cut 2 1/2, two more; 1/2 x 10 and two-ends of
/// 1 in are left. The three strips take 9 1/2 in, two lengths 9 in.
#[test]
fn the_least_sheet_of_a_three_strip_layout_is_nine_and_a_half_by_nine() {
    let kinds = [
        Kind { width: e(36), height: e(36), turn: false },
        Kind { width: e(20), height: e(36), turn: false },
    ];
    let cut = |axis, at, first, second| Node::Cut(Box::new(Split { axis, at: e(at), first, second }));
    let piece = |kind| Node::Piece { kind, turned: false };
    let strip = |kind| cut(Axis::Height, 36, piece(kind), cut(Axis::Height, 36, piece(kind), Node::Leftover));
    let rest = cut(Axis::Width, 20, strip(1), cut(Axis::Width, 20, strip(1), Node::Leftover));
    let layout = Layout::new(e(80), e(80), cut(Axis::Width, 36, strip(0), rest), &kinds).unwrap();
    let least = cutting::least_sheet(&layout);
    assert_eq!((least.width, least.height), (e(76), e(72)));
    let mut left: Vec<_> = layout.leftovers().iter().map(|rect| (rect.width, rect.height)).collect();
    left.sort();
    assert_eq!(left, [(e(4), e(80)), (e(20), e(8)), (e(20), e(8)), (e(36), e(8))]);
    // Three strips are cut first, then two pieces from each: nine cuts.
    let steps = cutting::steps(&layout);
    assert_eq!(steps.len(), 9);
    assert!(steps[..3].iter().all(|step| step.region.height == e(80)));
}

/// 320 squares of 2 1/2 in: 16 from a 10 in square, so 20; 9 from a 9 3/4 in square, so 36.
#[test]
fn small_squares_need_twenty_full_squares_or_thirty_six_narrow_ones() {
    for (side, needed) in [(80, 20), (78, 36)] {
        let mut table = Table::default();
        for number in 0..42 {
            table.lot(&format!("kite {number}"), "10-inch square", side, side, 1);
        }
        table.block("kite", 1, Matching::Piece, &[(20, 20, 320)]);
        let outcome = table.plan();
        assert_eq!(outcome.verdict, Verdict::Fits);
        assert_eq!(outcome.fabric.opened, fabric(side, side, needed, 100));
        assert_eq!(outcome.fabric.bound, outcome.fabric.opened);
    }
}

/// 3 strips of 3 1/4 in come out of 9 3/4, not 4.
#[test]
fn a_short_sheet_yields_three_of_four() {
    let mut table = Table::default();
    table.lot("narrow", "10-inch square", 80, 78, 1);
    table.lot("tiny", "scrap", 8, 8, 1);
    table.block("four", 1, Matching::Block, &[(80, 26, 4)]);
    let outcome = table.plan();
    assert_eq!(outcome.verdict, Verdict::Impossible);
    assert!(outcome.reasons[1].text.contains("yields 3 of the 4"), "{}", outcome.reasons[0].text);
}

/// 481 sq in of pieces, 480 sq in of fabric.
#[test]
fn one_square_inch_too_little_is_refused_by_area() {
    let mut table = Table::default();
    table.lot("length", "scrap", 8 * 40, 8 * 12, 1);
    table.block("strip", 1, Matching::Piece, &[(8, 8, 481)]);
    let outcome = table.plan();
    assert_eq!(outcome.verdict, Verdict::Impossible);
    assert_eq!(outcome.reasons[1].code, "area");
    assert!(outcome.reasons[1].text.contains("481"), "{}", outcome.reasons[0].text);
}

/// The quilter decided one print, held once, for a star that needs two squares: only another print will do.
#[test]
fn a_decided_print_that_is_too_small_is_offered_to_be_changed_and_only_that_one() {
    let mut table = eight_stars();
    table.pattern.blocks[0].make = 3;
    let decided = "block,copy,role,print\nstar,1,star fabric,twice 0\nstar,2,star fabric,once 4\n";
    let (placements, mistakes) = placements::read("placements.csv", decided.as_bytes());
    assert!(mistakes.is_empty(), "{mistakes:?}");
    let outcome = plan(&table.stash, &table.pattern, &placements, &table.rules, &Stop::never(), &mut |_| {});
    assert_eq!(outcome.verdict, Verdict::Impossible);
    let first = outcome.alternatives.iter().find(|a| names(a) == ["other print"]).expect("an other print");
    let Change::OtherPrint { set, decided } = first.changes[0] else { panic!("an other print") };
    assert_eq!(table.demand().set(set).block.map(|(_, copy)| copy), Some(2));
    assert_eq!(table.stash.print(decided).name, "once 4");
    // What the quilter decided for the first star is kept.
    let kept = first.outcome.plan.prints[0].map(|print| first.stash.print(print).name.clone());
    assert_eq!(kept.as_deref(), Some("twice 0"));
}

/// Four squares of 10 x 10 in give four pieces of 9 1/2 x 4 1/2 in and eight of 4 1/2 x 4 1/2 in, either as two squares
/// of two long ones and two of four short ones, or as four squares of one long and two short ones: all can be stacked
/// and cut at once. Both open all four.
#[test]
fn squares_that_can_be_cut_alike_are() {
    let mut table = Table::default();
    table.pack("shore", 4, 1);
    table.block("shell", 4, Matching::Piece, &[(76, 36, 1), (36, 36, 2)]);
    let outcome = table.plan();
    assert_eq!(outcome.verdict, Verdict::Fits);
    assert_eq!(outcome.fabric.opened, fabric(80, 80, 4, 100));
    assert_eq!(outcome.plan.sheets.len(), 4);
    let sizes = |sheet: &SheetPlan| {
        let pieces = sheet.layout.pieces();
        let mut sizes: Vec<_> = pieces.iter().map(|(_, rect, _)| rect.width.by(rect.height)).collect();
        sizes.sort();
        sizes
    };
    let first = sizes(&outcome.plan.sheets[0]);
    assert_eq!(first.len(), 3);
    assert!(outcome.plan.sheets.iter().all(|sheet| sizes(sheet) == first));
}
