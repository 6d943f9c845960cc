//! Published patterns: the plain strip count is the one reckoned by hand from the printed cuts, and no requirement
//! is above the printed amount. Cuts and amounts are in `tests/cases/need`, with their sources in `printed.csv`.

use crate::jobs::no_spare;
use cutcloth::length::{Direction, Length, Unit, parse, round};
use cutcloth::need::{AtWidth, Step, at_width, wanted};
use cutcloth::pattern::{Pattern, read_chart};

struct Printed {
    case: String,
    role: String,
    width: Length,
    /// The printed amount.
    amount: Length,
    /// The strips that the printed cuts make, one depth for each size.
    strips: Length,
}

fn printed() -> Vec<Printed> {
    let mut rows = csv::Reader::from_reader(include_str!("../cases/need/printed.csv").as_bytes());
    let length = |text: &str, unit| parse(text, unit, Direction::Up).expect("a length").length;
    let row = |row: csv::StringRecord| Printed {
        case: row[0].to_owned(),
        role: row[1].to_owned(),
        width: length(&row[2], Unit::Inch),
        amount: length(&row[3], Unit::Yard),
        strips: length(&row[4], Unit::Inch),
    };
    rows.records().map(|record| row(record.expect("a row"))).collect()
}

fn pattern(case: &str) -> Pattern {
    let path = format!("{}/tests/cases/need/{case}.csv", env!("CARGO_MANIFEST_DIR"));
    let (pattern, problems) = read_chart("chart.csv", &std::fs::read(path).expect("the case has a chart"));
    assert!(problems.is_empty(), "{case}: {problems:?}");
    pattern
}

fn worked_out(row: &Printed) -> AtWidth {
    let pattern = pattern(&row.case);
    let how = no_spare(row.width);
    let all = wanted(&pattern, &how);
    let (_, sizes) = all
        .into_iter()
        .find(|(role, _)| pattern.roles[role.0].name == row.role)
        .unwrap_or_else(|| panic!("{} has no {}", row.case, row.role));
    at_width(row.width, sizes, &how).expect("the pieces go into the width")
}

#[test]
fn the_plain_strip_count_is_the_one_reckoned_from_the_printed_cuts() {
    for row in printed() {
        let at = worked_out(&row);
        assert_eq!(at.by_strips.exact, row.strips, "{} {}: {:?}", row.case, row.role, at.strips.bands);
    }
}

#[test]
fn no_requirement_is_above_the_printed_amount() {
    for row in printed() {
        let at = worked_out(&row);
        // Some amounts are printed in thirds of a yard; a shop that cuts eighths cuts the next one.
        let sold = round::up(row.amount, Step::EighthYard.length());
        let name = format!("{} {}", row.case, row.role);
        assert!(at.by_strips.exact <= row.amount, "{name}: strips");
        assert!(at.by_strips.amount.length <= sold, "{name}: strips, rounded");
        assert!(at.by_least.exact <= at.by_strips.exact, "{name}: sharing never takes more");
        assert!(at.bound <= at.by_least.exact, "{name}: the bound");
    }
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

#[test]
fn a_published_quilt_gives_its_printed_size_backing_and_batting() {
    // "Square Knot", All People Quilt, 2018: 73 x 90 in, backing 5 1/2 yd as 2 lengths of 98 in, batting 81 x 98 in.
    let path = format!("{}/tests/cases/pattern/one-strip-roll/pattern.toml", env!("CARGO_MANIFEST_DIR"));
    let bytes = std::fs::read(path).expect("the case has a pattern");
    let (pattern, problems) = cutcloth::pattern::read_toml("pattern.toml", &bytes);
    assert!(problems.is_empty(), "{problems:?}");
    let answer =
        cutcloth::need::need(&pattern, &no_spare(Length::from_inches(42))).expect("it can be worked out");
    let strips = |name: &str| {
        let role = answer.roles.iter().find(|role| role.name == name).expect("a role of the pattern");
        role.at.by_strips.exact
    };
    let halves = |count: i64| Length::from_eighths(4 * count);
    assert_eq!((strips("W"), strips("G"), strips("K")), (halves(138), halves(180), halves(45)));
    let finish = answer.finish.expect("it has a layout");
    let inches = cutcloth::length::Units::Inches;
    assert_eq!(finish.top.show(inches), "73 x 90 in");
    assert_eq!(finish.binding, None, "the pattern lists its own");
    assert_eq!((finish.panels.count, finish.panels.length), (2, Length::from_inches(98)));
    assert_eq!(finish.backing_amount.amount.show(), "5 1/2 yd");
    assert_eq!(finish.batting.show(inches), "81 x 98 in");
}
