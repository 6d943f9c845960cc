//! Published patterns: the plain strip count is the one reckoned by hand from the printed cuts, no requirement is above
//! the printed amount, and the quilt has the printed size, binding, backing and batting. Cuts and amounts are in
//! `tests/cases`, with their sources.

use crate::cases::{self, all, as_printed, length};
use crate::jobs::no_spare;
use cutcloth::cutting::Sheet;
use cutcloth::length::{Length, Unit, Units, round};
use cutcloth::need::{Join, Step, Wanted, binding, need, sheets, wanted};

const LITTLE: u64 = 3_000_000;

#[test]
fn amounts_agree_with_the_printed_cuts_and_are_not_above_the_printed_amounts() {
    for (row, strips, least, bound) in all(LITTLE) {
        let name = format!("{} {}", row.case, row.role);
        assert_eq!(strips.exact, row.strips, "{name}: the plain strip count");
        assert!(least.exact <= strips.exact, "{name}: sharing never takes more");
        assert!(bound <= least.exact, "{name}: the bound");
        // Some amounts are printed in thirds of a yard; a shop that cuts eighths cuts the next one.
        let sold = round::up(row.amount, Step::EighthYard.length());
        assert!(strips.amount.length <= sold, "{name}: strips, rounded");
        assert!(least.exact <= row.amount, "{name}: the least");
        assert_eq!(strips.exact > row.amount, !row.why.is_empty(), "{name}: strips, or say why");
    }
}

#[test]
fn squares_strips_and_fat_quarters_are_not_more_than_printed() {
    for row in cases::rows("sheets.csv") {
        let pattern = cases::pattern(&row[0]);
        let (width, height) = row[2].split_once(" x ").expect("a size");
        let sheet = Sheet { width: length(width, Unit::Inch), height: length(height, Unit::Inch) };
        let how = no_spare(Length::from_inches(42));
        let named = |id: usize| {
            let role = &pattern.roles[id];
            row[1].split(" and ").any(|one| one == role.name || one == role.title)
        };
        let all: Vec<Wanted> = wanted(&pattern, &how)
            .into_iter()
            .filter(|(role, _)| named(role.0))
            .flat_map(|(_, sizes)| sizes)
            .collect();
        assert!(!all.is_empty(), "{} has no {}", &row[0], &row[1]);
        let found = sheets(sheet, &all, 60_000_000).expect("every piece goes in");
        let printed: u32 = row[3].parse().expect("a count");
        assert!(found.count <= printed, "{} {}: {} of {printed}", &row[0], &row[1], found.count);
        assert!(found.bound <= found.count && found.bound > 0);
    }
}

#[test]
fn quilts_have_their_printed_size_binding_backing_and_batting() {
    for row in cases::rows("finish.csv") {
        let (case, why) = (&row[0], &row[8]);
        let inches = |index: usize| length(&row[index], Unit::Inch);
        let mut how = as_printed(inches(1), LITTLE / 100);
        how.finish.overage = inches(2);
        let finish =
            need(&cases::pattern(case), &how).expect("it can be worked out").finish.expect("a layout");
        assert_eq!(finish.top.show(Units::Inches), format!("{} in", &row[3]), "{case}");
        if !row[4].is_empty() {
            let ring = binding::length(finish.top, how.finish.extra);
            let (strip, seam) = (how.finish.strip_width, Length::from_eighths(2));
            let strips = binding::strips(ring, how.width, strip, Join::Straight, seam);
            assert_eq!(strips.map(|strips| strips.to_string()).as_deref(), Some(&row[4]), "{case}: binding");
        }
        if !row[5].is_empty() {
            let (ours, printed) = (finish.backing_amount.amount.length, length(&row[5], Unit::Yard));
            assert!(ours <= printed && (ours == printed || !why.is_empty()), "{case}: backing {ours:?}");
        }
        if !row[6].is_empty() {
            assert_eq!(finish.batting.show(Units::Inches), format!("{} in", &row[6]), "{case}: batting");
        }
    }
}

#[test]
fn forty_two_squares_give_both_cuttings_one_set_a_square() {
    // "Triple Squared", Lucy and Norman blog, undated: 28 squares cut one way and 14 the other.
    let answer =
        need(&cases::pattern("two-cuttings"), &no_spare(Length::from_inches(42))).expect("an answer");
    let from = &answer.roles[0].cuts[0];
    let each: Vec<(usize, u32)> = from.sets.iter().map(|(sets, each)| (*sets, each.count)).collect();
    assert_eq!(each, [(42, 1)]);
}

#[test]
fn strip_counts_that_leaflets_print_come_out_where_they_count_one_depth_a_size() {
    // width, pieces, piece across x deep (eighths of an inch), strips printed.
    // "Fishful Thinking", https://issuu.com./eeschenck/docs/q-046_fishful_thinking: 64 of 5 1/2 from 10 strips, 64 of
    // 8 1/2 from 16. "All Squared Up", https://issuu.com./eeschenck/docs/camelot_-_all_squared_up_quilt: 2 or 4 of
    // 9 1/2 from 1, 12 of 5 from 2, 20 of 2 x 9 1/2 from 5. "Quilt is 68 x 68", https://paperzz.com/doc/9108867/: 8 of
    // 5 1/4 from 2 (at 40 in; at 42 in one strip holds all eight), 16 of 4 7/8 from 2, 8 of 2 7/8 from 1.
    let rows = [
        (40, 64, 44, 44, 10),
        (40, 64, 68, 68, 16),
        (40, 4, 76, 76, 1),
        (40, 12, 40, 40, 2),
        (40, 20, 76, 16, 5),
        (40, 8, 42, 42, 2),
        (42, 8, 42, 42, 1),
        (40, 16, 39, 39, 2),
        (40, 8, 23, 23, 1),
    ];
    for (width, count, across, deep, strips) in rows {
        let size = crate::jobs::size(across, deep, count);
        let plain = cutcloth::need::plain(Length::from_inches(width), &[size]).expect("it goes in");
        assert_eq!(plain.count(), strips, "{count} of {across} x {deep} eighths");
    }
}
