//! What every kind of unit takes, makes and measures.

use cutcloth::length::{Direction, Length, Unit, Units, parse, parse_size};
use cutcloth::pattern::unit::{Corner, Kind, Method, Recipe, Spec, UnitError};
use cutcloth::pattern::{RoleId, Sewing, Shape, Size, read_toml};

const A: RoleId = RoleId(0);
const B: RoleId = RoleId(1);
const C: RoleId = RoleId(2);

fn length(text: &str) -> Length {
    parse(text, Unit::Inch, Direction::Up).expect("a length").length
}

fn size(text: &str) -> Size {
    match parse_size(text, Unit::Inch, Direction::Up) {
        Ok((width, height)) => Size { width: width.length, height: height.length },
        Err(_) => Size::square(length(text)),
    }
}

fn recipe(kind: &Kind, method: Method, finished: &str) -> Result<Recipe, UnitError> {
    kind.recipe(&Spec { finished: size(finished), method, oversize: &[], sewing: Sewing::default() })
}

/// The recipe as `makes: count role size shape, ...`.
fn shown(kind: &Kind, method: Method, finished: &str) -> String {
    let recipe =
        recipe(kind, method, finished).unwrap_or_else(|error| panic!("{}", error.describe(Units::Inches)));
    let cuts = recipe.cuts.iter().map(|cut| {
        let role = ["A", "B", "C", "D"][cut.role.0];
        let shape = match cut.shape {
            Shape::Rectangle => "",
            Shape::CutOnce => " cut once",
            Shape::CutTwice => " cut twice",
        };
        let [width, height] = [cut.size.width, cut.size.height].map(|side| side.show_bare(Units::Inches));
        format!("{} {role} {width} x {height}{shape}", cut.count)
    });
    format!("{}: {}", recipe.makes, cuts.collect::<Vec<_>>().join(", "))
}

fn geese() -> Kind {
    Kind::Geese { goose: A, left: B, right: B }
}

#[test]
fn half_square_triangles_by_each_method() {
    let kind = Kind::HalfSquare { roles: [A, B] };
    let all = [
        (Method::TwoAtATime, "2: 1 A 3 7/8 x 3 7/8, 1 B 3 7/8 x 3 7/8"),
        (Method::FourAtATime, "4: 1 A 5 1/2 x 5 1/2, 1 B 5 1/2 x 5 1/2"),
        (Method::EightAtATime, "8: 1 A 7 3/4 x 7 3/4, 1 B 7 3/4 x 7 3/4"),
        (Method::CutTriangles, "2: 1 A 3 7/8 x 3 7/8 cut once, 1 B 3 7/8 x 3 7/8 cut once"),
    ];
    for (method, expected) in all {
        assert_eq!(shown(&kind, method, "3"), expected);
    }
    assert_eq!(recipe(&kind, Method::TwoAtATime, "3 x 4"), Err(UnitError::NotSquare(size("3 x 4"))));
}

#[test]
fn quarter_square_triangles_of_two_three_and_four_fabrics() {
    let two = Kind::QuarterSquare { roles: vec![A, B] };
    let three = Kind::QuarterSquare { roles: vec![A, B, C] };
    let four = Kind::QuarterSquare { roles: vec![A, B, C, RoleId(3)] };
    assert_eq!(shown(&two, Method::TwoAtATime, "4"), "2: 1 A 5 1/4 x 5 1/4, 1 B 5 1/4 x 5 1/4");
    assert_eq!(
        shown(&three, Method::CutTriangles, "4"),
        "4: 1 A 5 1/4 x 5 1/4 cut twice, 1 B 5 1/4 x 5 1/4 cut twice, 2 C 4 7/8 x 4 7/8 cut once"
    );
    assert!(shown(&four, Method::FourAtATime, "4").starts_with("4: 1 A 5 1/4"));
    assert_eq!(recipe(&two, Method::FourAtATime, "4"), Err(UnitError::NoSuchMethod(Method::FourAtATime)));
    // The pair of an hourglass must hold the unit's own cut-once square: 4 7/8 in for 4 in finished.
    let stage = recipe(&two, Method::TwoAtATime, "4").expect("an hourglass").steps[0].measures;
    assert_eq!(stage, Some(size("4 7/8")));
}

#[test]
fn what_squares_are_cut_larger_by_is_added_before_the_one_rounding() {
    let quarter_marks = Sewing { ruler: length("1/4"), ..Sewing::default() };
    let cut = |kind: &Kind, method: Method| {
        let oversize = [length("1/8")];
        let spec = Spec { finished: size("3"), method, oversize: &oversize, sewing: quarter_marks };
        kind.recipe(&spec).expect("a unit").cuts[0].size
    };
    // 3 + 0.854 + 0.125 = 3.979; 3 + 1.207 + 0.125 = 4.332; 2 x 3.854 + 0.125 = 7.832.
    let half = Kind::HalfSquare { roles: [A, B] };
    assert_eq!(cut(&half, Method::TwoAtATime), size("4"));
    assert_eq!(cut(&half, Method::EightAtATime), size("8"));
    assert_eq!(cut(&Kind::QuarterSquare { roles: vec![A, B] }, Method::TwoAtATime), size("4 1/2"));
}

#[test]
fn pairs_of_quarters_are_trimmed_to_no_less_than_what_is_made_of_them() {
    let kind = Kind::QuarterSquare { roles: vec![A, B] };
    for ruler in ["1/16", "1/8", "1/4", "1/2", "0.1 cm", "0.5 cm"] {
        let sewing = Sewing { ruler: length(ruler), ..Sewing::default() };
        for eighths in 8..40 {
            let finished = Length::from_eighths(eighths);
            let method = Method::TwoAtATime;
            let spec = Spec { finished: Size::square(finished), method, oversize: &[], sewing };
            let recipe = kind.recipe(&spec).expect("an hourglass");
            let pair = recipe.steps[0].measures.expect("a pair").width;
            // An eighth of a mark may be missing where the finished side lies on no mark.
            let missing = if ruler.ends_with("cm") { sewing.ruler.ticks() / 8 } else { 0 };
            let needed = sewing.to_the_tick().half_square(finished).expect("positive").ticks() - missing;
            // The quarter square less one seam x sqrt 2 = 0.353553 in.
            let given = recipe.cuts[0].size.width.ticks() - 8128 * 353_553 / 1_000_000;
            assert!(
                (needed..=given).contains(&pair.ticks()),
                "{ruler}, {eighths}: {needed} {pair:?} {given}"
            );
        }
    }
}

#[test]
fn flying_geese_by_each_method() {
    assert_eq!(shown(&geese(), Method::FoldedCorners, "4 x 2"), "1: 1 A 4 1/2 x 2 1/2, 2 B 2 1/2 x 2 1/2");
    assert_eq!(shown(&geese(), Method::FourAtATime, "4 x 2"), "4: 1 A 5 1/4 x 5 1/4, 4 B 2 7/8 x 2 7/8");
    assert_eq!(
        shown(&geese(), Method::CutTriangles, "4 x 2"),
        "4: 1 A 5 1/4 x 5 1/4 cut twice, 4 B 2 7/8 x 2 7/8 cut once"
    );
    let two_wings = Kind::Geese { goose: A, left: B, right: C };
    assert_eq!(
        shown(&two_wings, Method::CutTriangles, "4 x 2"),
        "4: 1 A 5 1/4 x 5 1/4 cut twice, 2 B 2 7/8 x 2 7/8 cut once, 2 C 2 7/8 x 2 7/8 cut once"
    );
    assert_eq!(recipe(&geese(), Method::FourAtATime, "4 x 3"), Err(UnitError::NotTwoToOne(size("4 x 3"))));
    assert!(
        recipe(&two_wings, Method::FourAtATime, "4 x 2").is_err(),
        "four at a time has wings of one fabric"
    );
}

#[test]
fn folded_corners_on_a_rectangle_and_corners_that_would_pass_each_other() {
    let with = |corners: Vec<(Corner, RoleId)>, side: &str| Kind::FoldedCorners {
        base: A,
        corners,
        side: length(side),
    };
    let opposite = vec![(Corner::UpperLeft, B), (Corner::LowerRight, C)];
    assert_eq!(
        shown(&with(opposite.clone(), "2"), Method::Plain, "6 x 3"),
        "1: 1 A 6 1/2 x 3 1/2, 1 B 2 1/2 x 2 1/2, 1 C 2 1/2 x 2 1/2"
    );
    let beside = vec![(Corner::UpperLeft, B), (Corner::LowerLeft, B)];
    let refused = recipe(&with(beside, "2"), Method::Plain, "6 x 3");
    assert_eq!(refused, Err(UnitError::CornersTooLarge { side: length("2"), on: length("3") }));
    let touching = vec![(Corner::UpperLeft, B), (Corner::LowerLeft, B)];
    assert_eq!(shown(&with(touching, "1 1/2"), Method::Plain, "6 x 3"), "1: 1 A 6 1/2 x 3 1/2, 2 B 2 x 2");
    assert!(recipe(&with(opposite, "4"), Method::Plain, "6 x 3").is_err());
}

#[test]
fn a_square_in_a_square_by_both_methods() {
    let kind = Kind::SquareInSquare { centre: A, corners: B };
    assert_eq!(shown(&kind, Method::FoldedCorners, "4"), "1: 1 A 4 1/2 x 4 1/2, 4 B 2 1/2 x 2 1/2");
    assert_eq!(shown(&kind, Method::CutTriangles, "6"), "1: 1 A 4 3/4 x 4 3/4, 2 B 3 7/8 x 3 7/8 cut once");
}

#[test]
fn strip_sets_are_cut_across_into_as_many_as_their_length_gives() {
    let strips = vec![(A, length("1")), (B, length("2")), (A, length("1"))];
    let kind = Kind::StripSet { strips, length: length("40") };
    assert_eq!(shown(&kind, Method::Plain, "2 x 4"), "16: 2 A 40 x 1 1/2, 1 B 40 x 2 1/2");
    let steps = recipe(&kind, Method::Plain, "2 x 4").expect("a strip set").steps;
    assert_eq!(steps[0].measures, Some(size("40 x 4 1/2")));
    assert_eq!(steps[1].measures, Some(size("2 1/2 x 4 1/2")));
    let wrong = recipe(&kind, Method::Plain, "2 x 5");
    assert_eq!(wrong, Err(UnitError::StripsDoNotAddUp { strips: length("4"), unit: length("5") }));
    let short = Kind::StripSet { strips: vec![(A, length("4"))], length: length("2") };
    assert!(matches!(recipe(&short, Method::Plain, "2 x 4"), Err(UnitError::StripsTooShort { .. })));
}

#[test]
fn no_unit_is_larger_than_the_fabric_that_goes_into_it() {
    let kinds = [
        Kind::Patch { role: A },
        Kind::HalfSquare { roles: [A, B] },
        Kind::QuarterSquare { roles: vec![A, B] },
        Kind::QuarterSquare { roles: vec![A, B, C] },
        Kind::SquareInSquare { centre: A, corners: B },
        geese(),
    ];
    for kind in &kinds {
        for &method in kind.methods() {
            for eighths in 4..80 {
                let width = Length::from_eighths(2 * eighths);
                let height = if *kind == geese() { Length::from_eighths(eighths) } else { width };
                let finished = Size { width, height };
                let spec = Spec { finished, method, oversize: &[], sewing: Sewing::default() };
                let recipe = kind.recipe(&spec).expect("a good unit");
                let unit = spec
                    .sewing
                    .unfinished(width)
                    .expect("a length")
                    .by(spec.sewing.unfinished(height).expect("a length"));
                let made = unit.checked_mul(recipe.makes.into()).expect("small");
                let cut: i64 = recipe
                    .cuts
                    .iter()
                    .map(|cut| cut.size.width.by(cut.size.height).square_ticks() * i64::from(cut.count))
                    .sum();
                assert!(cut >= made.square_ticks(), "{kind:?} {method:?} {eighths}");
                if let Some(last) = recipe.steps.last() {
                    assert_eq!(
                        last.measures,
                        Some(Size { width: width + length("1/2"), height: height + length("1/2") })
                    );
                }
            }
        }
    }
}

#[test]
fn units_that_lie_turned_take_turned_pieces_where_the_up_is_kept() {
    let text = r#"
        [role.A]
        direction = "kept"
        [role.B]
        [[block]]
        name = "Round"
        finished = "6 in"
        rows = ["bar bar>", "bar< barv"]
        [[block.unit]]
        name = "bar"
        kind = "rows"
        finished = "3 in"
        rows = ["long wide"]
        [[block.unit]]
        name = "long"
        kind = "rectangle"
        role = "A"
        finished = "1 x 3 in"
        [[block.unit]]
        name = "wide"
        kind = "rectangle"
        role = "B"
        finished = "2 x 3 in"
    "#;
    let (pattern, problems) = read_toml("round.toml", text.as_bytes());
    assert!(problems.is_empty(), "{}", problems[0]);
    let mut lines: Vec<String> = pattern.blocks[0]
        .pieces
        .iter()
        .map(|line| {
            let [width, height] = [line.width, line.height].map(|side| side.show_bare(Units::Inches));
            format!("{} {width} x {height} {:?}", pattern.roles[line.role.0].name, line.count)
        })
        .collect();
    lines.sort();
    assert_eq!(
        lines,
        ["A 1 1/2 x 3 1/2 PerCopy(2)", "A 3 1/2 x 1 1/2 PerCopy(2)", "B 2 1/2 x 3 1/2 PerCopy(4)"]
    );
}

#[test]
fn fabrics_that_change_from_block_to_block_are_not_mixed_in_one_batch() {
    let pattern = |matching: &str| {
        let text = format!(
            "[role.A]\nmatching = \"{matching}\"\n[role.B]\n[[block]]\nname = \"X\"\nmake = 3\nfinished = \"8 in\"\n\
             rows = [\"H H\", \"H H\"]\n[[block.unit]]\nname = \"H\"\nkind = \"half-square triangles\"\n\
             roles = [\"A\", \"B\"]\nfinished = \"4 in\"\nmethod = \"eight at a time\"\n"
        );
        let (pattern, problems) = read_toml("x.toml", text.as_bytes());
        assert!(problems.is_empty(), "{}", problems[0]);
        pattern
    };
    // Twelve units: by block three batches of eight, twelve over; all together two batches, four over.
    assert_eq!(pattern("block").blocks[0].units[0].ways[0].spare, 12);
    assert_eq!(pattern("quilt").blocks[0].units[0].ways[0].spare, 4);
}
