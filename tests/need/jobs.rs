//! Worked jobs with invented numbers.

use cutcloth::length::{Length, Units};
use cutcloth::need::{
    Assumptions, Borders, NeedError, Spare, Step, Wanted, at_width, least_width, need, plain,
};
use cutcloth::pattern::{Pattern, RoleId, read_chart, read_toml};

/// Nothing added for squaring up; little searching.
pub(crate) fn no_spare(width: Length) -> Assumptions {
    Assumptions {
        width,
        spare: Spare { squaring: Length::ZERO, ..Spare::default() },
        work: 3_000_000,
        ..Assumptions::default()
    }
}

/// So many pieces, sides in eighths of an inch.
pub(crate) fn size(width: i64, height: i64, count: u32) -> Wanted {
    Wanted {
        labels: vec!["piece".to_owned()],
        width: Length::from_eighths(width),
        height: Length::from_eighths(height),
        turn: true,
        count,
    }
}

fn inches(halves: i64) -> Length {
    Length::from_eighths(4 * halves)
}

fn chart(rows: &str) -> Pattern {
    let text = format!("block,make,label,role,width,height,count\n{rows}");
    let (pattern, problems) = read_chart("chart.csv", text.as_bytes());
    assert!(problems.is_empty(), "{problems:?}");
    pattern
}

fn sixty_squares() -> Pattern {
    chart("all,1,A1,A,4 1/2,4 1/2,60\n")
}

#[test]
fn sixty_squares_take_36_in_at_40_and_31_half_at_40_half() {
    for (halves, strips, length) in [(80, 8, 72), (81, 7, 63)] {
        let at = at_width(inches(halves), vec![size(36, 36, 60)], &no_spare(inches(halves))).unwrap();
        assert_eq!(at.strips.count(), strips);
        assert_eq!(at.by_strips.exact, inches(length));
        assert!(at.is_proved(), "equal squares in a grid leave nothing to share");
    }
}

#[test]
fn a_yard_with_an_inch_for_truing_fails_at_40_and_holds_from_40_half() {
    let how = Assumptions { width: inches(80), ..no_spare(inches(80)) };
    let how = Assumptions { spare: Spare::default(), ..how };
    let answer = need(&sixty_squares(), &how).unwrap();
    let role = &answer.roles[0];
    assert_eq!(role.at.by_strips.total, inches(74));
    assert_eq!(role.at.by_strips.amount.show(), "1 1/8 yd");
    let [more, yard] = &role.holds[..] else { panic!("two amounts") };
    assert_eq!((more.0.show(), yard.0.show()), ("1 1/8 yd".to_owned(), "1 yd".to_owned()));
    assert_eq!(yard.1, Some(inches(81)), "1 yd holds from 40 1/2 in");
    assert!(more.1.is_some_and(|width| width < inches(80)));
}

#[test]
fn every_addition_is_kept_apart_until_the_shops_step() {
    let spare = Spare { squaring: inches(2), percent: 6, strip_over: Some(inches(16)), ..Spare::default() };
    let worked = spare.work_out(inches(25), inches(17), Step::EighthYard);
    assert_eq!(worked.percent, Length::from_ticks(8128 * 3 / 4), "12 1/2 in x 1.06 is 13 1/4 in");
    assert_eq!((worked.strip, worked.squaring), (inches(17), inches(2)));
    assert_eq!(worked.total, worked.exact + worked.percent + worked.strip + worked.squaring);
    assert_eq!(worked.amount.show(), "3/4 yd");
    assert_eq!(worked.over(), worked.amount.length - worked.total);
    let shallow = spare.work_out(inches(25), inches(16), Step::QuarterYard);
    assert_eq!((shallow.strip, shallow.amount.show()), (Length::ZERO, "1/2 yd".to_owned()));
}

#[test]
fn long_borders_come_before_strips_and_both_are_counted() {
    // Four borders of 3 1/2 x 60 1/2 take 14 of 40 in; six strips across the fabric lie beyond them.
    let wanted = [size(320, 20, 6), size(28, 484, 4)];
    let strips = plain(inches(80), &wanted).unwrap();
    let first = &strips.bands[0];
    assert!(first.lengthwise, "the long ones are cut first");
    assert_eq!((first.used, first.depth, first.times), (inches(28), inches(121), 1));
    assert_eq!(strips.length, inches(121 + 30));
    let least = |wanted: &[Wanted]| at_width(inches(80), wanted.to_vec(), &no_spare(inches(80))).unwrap();
    assert_eq!(
        least(&wanted).by_least.exact,
        inches(121),
        "turned, the strips lie in the 26 in beside the borders"
    );
    let across = Wanted { turn: false, ..wanted[0].clone() };
    let kept = least(&[across, wanted[1].clone()]);
    assert_eq!(kept.by_least.exact, inches(151), "strips that must run across lie beyond them");
}

#[test]
fn borders_of_several_lengths_lie_side_by_side() {
    let strips = plain(inches(80), &[size(28, 484, 2), size(28, 428, 2)]).unwrap();
    assert_eq!(strips.length, inches(121));
}

#[test]
fn a_piece_that_keeps_its_up_is_not_turned() {
    let upright = Wanted { turn: false, ..size(60, 20, 10) };
    let free = plain(inches(80), &[size(20, 60, 10)]).unwrap();
    assert_eq!(plain(inches(80), &[upright]).unwrap(), free, "across as given");
    let tall = Wanted { turn: false, ..size(20, 60, 10) };
    assert_eq!(plain(inches(80), std::slice::from_ref(&tall)).unwrap().length, inches(15));
    let wide = Wanted { turn: false, ..size(328, 20, 1) };
    assert_eq!(plain(inches(80), &[wide]), Err(0));
    let how = Assumptions { directional: vec!["A".to_owned()], ..no_spare(inches(80)) };
    let pattern = chart("all,1,A1,A,41,2 1/2,1\n");
    let wrong = need(&pattern, &how).unwrap_err();
    assert!(matches!(&wrong[..], [NeedError::TooWide { upright: true, .. }]), "{wrong:?}");
}

#[test]
fn a_width_narrower_than_a_piece_is_told_with_the_numbers() {
    let pattern = chart("all,1,big,A,20 1/2,22,1\n");
    let wrong = need(&pattern, &no_spare(inches(40))).unwrap_err();
    let said = wrong[0].message(Units::Inches);
    assert_eq!(said, "\"big\" of \"A\" (20 1/2 x 22 in) does not go into fabric of 20 in usable width");
}

pub(crate) const FRAMED: &str = r#"
[quilt]
name = "Harbour wall"
[role]
A = "boats"
B = "wall"
[[block]]
name = "Boat"
finished = "15 in"
rows = ["A"]
[layout]
across = 4
down = 4
[[layout.border]]
width = "4 in"
role = "B"
strip = "42 in"
"#;

pub(crate) fn framed() -> Pattern {
    let (pattern, problems) = read_toml("framed.toml", FRAMED.as_bytes());
    assert!(problems.is_empty(), "{problems:?}");
    pattern
}

#[test]
fn joined_borders_are_taken_across_the_width_at_hand() {
    // Sides 2 x 60 1/2, top and bottom 2 x 68 1/2, each pair joined for itself.
    for (halves, strips) in [(84, 7), (120, 6), (160, 4)] {
        let answer = need(&framed(), &no_spare(inches(halves))).unwrap();
        let wall = answer.roles.iter().find(|role| role.name == "B").unwrap();
        assert_eq!(wall.at.strips.count(), strips, "at {} in", halves / 2);
        assert_eq!(wall.at.by_strips.exact, Length::from_eighths(36 * i64::from(strips)));
    }
}

#[test]
fn borders_may_run_along_the_fabric_in_one_piece() {
    let how = Assumptions { borders: Borders::Lengthwise, ..no_spare(inches(80)) };
    let answer = need(&framed(), &how).unwrap();
    let wall = answer.roles.iter().find(|role| role.name == "B").unwrap();
    assert_eq!(wall.at.by_strips.exact, inches(137));
    assert_eq!(wall.at.strips.bands[0].used, inches(36), "four of 4 1/2 in side by side");
}

#[test]
fn a_border_longer_than_the_fabric_is_wide_is_refused_when_joins_are_forbidden() {
    let how = Assumptions { joins: false, ..no_spare(inches(80)) };
    let wrong = need(&framed(), &how).unwrap_err();
    let said = wrong[0].message(Units::Inches);
    assert!(said.contains("border 1") && said.contains("68 1/2 in") && said.contains("40 in"), "{said}");
    let wide = Assumptions { joins: false, ..no_spare(inches(216)) };
    assert!(need(&framed(), &wide).is_ok(), "fabric of 108 in holds each in one piece");
}

#[test]
fn finishing_follows_from_the_layout() {
    let finish = need(&framed(), &no_spare(inches(84))).unwrap().finish.expect("there is a layout");
    assert_eq!(finish.top.show(Units::Inches), "68 1/2 x 68 1/2 in");
    let binding = finish.binding.expect("the pattern has no binding of its own");
    assert_eq!((binding.length, binding.strips), (inches(568), 8));
    assert_eq!((finish.panels.count, finish.panels.length), (2, inches(153)));
    assert_eq!(finish.backing_amount.amount.show(), "4 1/4 yd");
    assert_eq!(finish.batting.show(Units::Inches), "77 x 77 in");
}

#[test]
fn each_ruler_rounds_pieces_and_amounts_up_for_itself() {
    let how = Assumptions { step: Step::TenthMetre, units: Units::Metric, ..no_spare(inches(80)) };
    let metric = need(&sixty_squares(), &how).unwrap();
    let worked = &metric.roles[0].at.by_strips;
    // Eight strips of 11.43 cm, cut as 11.5 cm.
    assert_eq!(worked.exact.show(Units::Metric), "92 cm");
    assert_eq!(worked.amount.show(), "1 m", "92 cm goes up to 1 m");
}

#[test]
fn a_larger_quilt_has_its_amounts_restated() {
    // 20 blocks of four 4 1/2-in squares, then 25.
    let amount = |make: u32| {
        let pattern = chart(&format!("star,{make},A1,A,4 1/2,4 1/2,4\n"));
        need(&pattern, &no_spare(inches(80))).unwrap().roles[0].at.by_strips
    };
    assert_eq!((amount(20).exact, amount(20).amount.show()), (inches(90), "1 1/4 yd".to_owned()));
    assert_eq!((amount(25).exact, amount(25).amount.show()), (inches(117), "1 5/8 yd".to_owned()));
}

#[test]
fn the_least_width_of_a_printed_amount_can_be_asked_for() {
    let how = no_spare(inches(80));
    let from = |halves: i64| least_width(inches(halves), &sixty_squares(), RoleId(0), &how);
    assert_eq!(from(63), Some(inches(81)));
    assert_eq!(from(72), Some(inches(72)), "eight in a row need 36 in");
    assert_eq!(from(8), None, "4 in are no square of 4 1/2 in");
}

#[test]
fn ten_inch_squares_come_two_to_a_fat_quarter_and_four_from_a_metric_one_at_nine_and_three_quarters() {
    let squares = |side: &str, cut: &str| {
        let text =
            format!("block,make,label,role,width,height,count,from\nall,1,A1,A,{side},{side},42,{cut}\n");
        let (pattern, problems) = read_chart("chart.csv", text.as_bytes());
        assert!(problems.is_empty(), "{problems:?}");
        let answer = need(&pattern, &no_spare(inches(80))).unwrap();
        let all = answer.roles[0].cuts[0].all.expect("a square fits");
        (all.count, all.bound)
    };
    assert_eq!(squares("10", "fat quarter"), (21, 21));
    assert_eq!(squares("10", "metric fat quarter"), (21, 21));
    assert_eq!(squares("9 3/4", "metric fat quarter"), (11, 11), "four each, and two from the last");
}

#[test]
fn sets_of_one_print_are_counted_in_sheets_of_their_own() {
    let text = "block,make,label,role,width,height,count,matching,from\n\
                star,6,A1,A,6,6,2,block,10-inch square\n";
    let (pattern, problems) = read_chart("chart.csv", text.as_bytes());
    assert!(problems.is_empty(), "{problems:?}");
    let answer = need(&pattern, &no_spare(inches(80))).unwrap();
    let from = &answer.roles[0].cuts[0];
    assert_eq!(from.all.map(|all| all.count), Some(12), "one of 6 in from a square of 10 in");
    assert_eq!(from.sets.iter().map(|(sets, each)| (*sets, each.count)).collect::<Vec<_>>(), [(6, 2)]);
}
