use rand::rngs::SmallRng;
use rand::{Rng, SeedableRng};

use super::*;
use crate::length::Units;

fn ticks(text: &str) -> i64 {
    let parsed = parse(text, Unit::Inch, Direction::Down).unwrap_or_else(|e| panic!("{text}: {e}"));
    assert_eq!(parsed.rounded, None, "{text} is whole");
    parsed.length.ticks()
}

fn fault(text: &str) -> LengthError {
    parse(text, Unit::Inch, Direction::Down).expect_err(text)
}

#[test]
fn two_and_a_half_inches_is_read_in_every_spelling() {
    for text in [
        "2 1/2",
        "2-1/2",
        "2½",
        "2 ½",
        "2.5\"",
        "2 1/2 in",
        "2,5",
        "2.50",
        "5/2",
        "2 1/2″",
        "2½”",
        "2 1/2''",
        "02.5",
        "2 1⁄2 inches",
        "2 and 1/2",
        "2 & 1/2 in.",
        "2+1/2",
        " 2\u{a0}1/2 ",
        "2–1/2",
        "2 1 / 2",
        "2.5 IN",
        "6.35 cm",
        "63.5mm",
        "0.0635 m",
        "2½ Inch",
    ] {
        assert_eq!(ticks(text), 20_320, "{text}");
    }
}

#[test]
fn every_unit_is_read() {
    assert_eq!(ticks("6 cm"), 19_200);
    assert_eq!(ticks("63 mm"), 20_160);
    assert_eq!(ticks("2,5 cm"), 8_000);
    assert_eq!(ticks("1 1/4 yd"), 45 * 8128);
    assert_eq!(ticks("0.5 m"), 160_000);
    assert_eq!(ticks("0,125 m"), 40_000);
    assert_eq!(ticks("1/3 yd"), 12 * 8128);
    assert_eq!(ticks("⅔yd"), 24 * 8128);
    assert_eq!(ticks("⅜ yard"), 27 * 4064);
    assert_eq!(ticks("5' 6\""), 66 * 8128);
    assert_eq!(ticks("5′6½″"), 133 * 4064);
    assert_eq!(ticks("3 ft"), 36 * 8128);
    assert_eq!(ticks("1 yd 9 in"), 45 * 8128);
    assert_eq!(ticks("1 m 5 cm 2 mm"), 1052 * 320);
    assert_eq!(ticks(".75"), 6096);
    assert_eq!(ticks("0"), 0);
}

// Values carried over from published conversion tables: fractions of a yard in inches (Quilters Resources,
// "Measurements", https://quiltersresources.com/measurements.html) and decimals of an inch as fractions
// (Catbird Quilts, "Fraction Conversions", 2014-02-07).
#[test]
fn published_conversions_hold() {
    for (yards, inches) in
        [("1", "36"), ("3/4", "27"), ("5/8", "22 1/2"), ("1/2", "18"), ("3/8", "13.5"), ("1/4", "9")]
    {
        assert_eq!(ticks(&format!("{yards} yd")), ticks(inches), "{yards} yd");
    }
    for (decimal, fraction) in
        [(".0625", "1/16"), (".3125", "5/16"), (".5625", "9/16"), (".6875", "11/16"), (".8125", "13/16")]
    {
        assert_eq!(ticks(decimal), ticks(fraction), "{decimal}");
    }
}

#[test]
fn a_bare_number_takes_the_unit_its_heading_names() {
    let parsed = parse("50", Unit::Centimetre, Direction::Down).unwrap();
    assert_eq!(parsed.length.ticks(), 160_000);
    assert_eq!(parsed.unit, None);
    assert_eq!(parse("50 in", Unit::Centimetre, Direction::Down).unwrap().length, Length::from_inches(50));
}

#[test]
fn what_is_no_whole_tick_moves_the_way_it_is_told_and_says_so() {
    // 0.333 yd is "just under 12 in" in print (The Spruce Crafts, "Decimals to fractions conversion chart for
    // quilters"): 11.988 in = 97 438.464 ticks.
    let down = parse("0.333 yd", Unit::Inch, Direction::Down).unwrap();
    let up = parse("0.333 yd", Unit::Inch, Direction::Up).unwrap();
    assert_eq!((down.length.ticks(), down.rounded), (97_438, Some(Direction::Down)));
    assert_eq!((up.length.ticks(), up.rounded), (97_439, Some(Direction::Up)));
    // A third as a spreadsheet writes it.
    let third = parse("0.33333333333333333 yd", Unit::Inch, Direction::Up).unwrap();
    assert_eq!((third.length, third.rounded), (Length::from_inches(12), Some(Direction::Up)));
}

#[test]
fn what_is_no_length_is_told_with_what_to_remove() {
    assert_eq!(fault("9 7/8x"), LengthError::Extra { remove: "x".to_string() });
    assert_eq!(fault("9 7/8x").help(), "remove \"x\"");
    assert_eq!(fault("1o in"), LengthError::Extra { remove: "o in".to_string() });
    assert_eq!(fault("about 9"), LengthError::NoNumber { found: "about".to_string() });
    assert_eq!(fault(""), LengthError::Empty);
    assert_eq!(fault("  "), LengthError::Empty);
    assert_eq!(fault("-3 in"), LengthError::Negative);
    assert_eq!(fault("−3"), LengthError::Negative);
    assert_eq!(fault("2,500 mm").help(), "write 2.500 or 2500");
    assert_eq!(fault("2 9/8"), LengthError::Fraction { found: "9/8".to_string() });
    assert_eq!(fault("1/0"), LengthError::Fraction { found: "1/0".to_string() });
    assert_eq!(fault("1 yd 9"), LengthError::NoUnit { number: "9".to_string() });
    assert_eq!(fault("2 cm 1 in"), LengthError::Extra { remove: "1 in".to_string() });
    assert_eq!(fault("9 in 1 yd"), LengthError::Extra { remove: "1 yd".to_string() });
    assert_eq!(fault("1 2 3"), LengthError::Extra { remove: "2 3".to_string() });
    assert_eq!(fault("2.5.1"), LengthError::Extra { remove: ".1".to_string() });
    assert_eq!(fault("9999999999"), LengthError::TooLong);
    assert_eq!(fault("999999999 m"), LengthError::TooLong);
    assert_eq!(fault("1.000000000000000001"), LengthError::TooFine);
    assert_eq!(fault("1/1000000000"), LengthError::TooFine);
}

#[test]
fn two_sides_are_read_together() {
    let size = |text: &str| {
        parse_size(text, Unit::Inch, Direction::Up).map(|(w, h)| (w.length.ticks(), h.length.ticks()))
    };
    assert_eq!(size("2 1/2 x 4 1/2"), Ok((20_320, 36_576)));
    assert_eq!(size("2½\" × 4½\""), Ok((20_320, 36_576)));
    assert_eq!(size("2.5in X 4.5in"), Ok((20_320, 36_576)));
    assert_eq!(size("6 by 8 cm"), Ok((19_200, 25_600)));
    assert_eq!(size("6 cm * 8"), Ok((19_200, 25_600)));
    assert_eq!(size("10 in square"), Ok((81_280, 81_280)));
    assert_eq!(size("10\" sq"), Ok((81_280, 81_280)));
    assert_eq!(size("10 x 10 square"), Ok((81_280, 81_280)));
    assert_eq!(size("10"), Err(LengthError::NotASize));
    assert_eq!(size("1 x 2 x 3"), Err(LengthError::NotASize));
    assert_eq!(size("square"), Err(LengthError::Empty));
    assert_eq!(size(""), Err(LengthError::Empty));
    assert_eq!(size("4 x wide"), Err(LengthError::NoNumber { found: "wide".to_string() }));
}

#[test]
fn reading_what_is_shown_gives_the_same_length_in_either_system() {
    let mut random = SmallRng::seed_from_u64(8128);
    for round in 0..20_000 {
        // Every fourth anywhere, the rest on marks of the two rulers.
        let mark = [127, 32, 1016, 1][round % 4];
        let length = Length::from_ticks(random.random_range(0..3600 * 8128 / mark) * mark);
        for units in [Units::Inches, Units::Metric] {
            let shown = length.show(units);
            let parsed =
                parse(&shown, Unit::Metre, Direction::Down).unwrap_or_else(|e| panic!("{shown}: {e}"));
            assert_eq!((parsed.length, parsed.rounded), (length, None), "{shown}");
        }
    }
}

#[test]
fn rounding_up_and_down_differ_by_one_tick_at_most() {
    let mut random = SmallRng::seed_from_u64(64);
    for _ in 0..5_000 {
        let text = format!("{}.{:05} cm", random.random_range(0..500), random.random_range(0..100_000));
        let down = parse(&text, Unit::Inch, Direction::Down).unwrap();
        let up = parse(&text, Unit::Inch, Direction::Up).unwrap();
        let apart = up.length.ticks() - down.length.ticks();
        assert_eq!(apart, i64::from(down.rounded.is_some()), "{text}");
        assert_eq!(down.rounded.is_some(), up.rounded.is_some());
    }
}

#[test]
fn no_text_makes_the_reader_panic() {
    let mut random = SmallRng::seed_from_u64(7);
    let signs: Vec<char> = "0123456789 .,/-x\"'½⅜incmyd×″ &+ab\u{a0}'".chars().collect();
    for _ in 0..50_000 {
        let length = random.random_range(0..14);
        let text: String = (0..length).map(|_| signs[random.random_range(0..signs.len())]).collect();
        if let Ok(parsed) = parse(&text, Unit::Inch, Direction::Up) {
            assert!(parsed.length >= Length::ZERO, "{text}");
        }
        let _ = parse_size(&text, Unit::Inch, Direction::Up).map_err(|e| (e.to_string(), e.help()));
    }
}
