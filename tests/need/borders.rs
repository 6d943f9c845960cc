//! Borders butted, with squares, mitred; strips joined straight or diagonally.

use crate::jobs::no_spare;
use cutcloth::app::Given;
use cutcloth::app::need::{Asked, Format, Requirement};
use cutcloth::length::{Length, Units};
use cutcloth::need::{Assumptions, Join, Meeting, need};
use cutcloth::pattern::setting::{Point, Purpose};
use cutcloth::pattern::{Pattern, geometry, read_toml};

/// A plain middle of 50 x 60 in and one border of 4 in, with more keys for it.
fn text(keys: &str) -> String {
    format!(
        "[role]\nA = \"boats\"\nB = \"wall\"\n[[block]]\nname = \"Boat\"\nfinished = \"10 in\"\nrows = [\"A\"]\n\
         [layout]\nacross = 5\ndown = 6\n[[layout.border]]\nwidth = \"4 in\"\nrole = \"B\"\n{keys}"
    )
}

fn framed(keys: &str) -> Pattern {
    let (pattern, problems) = read_toml("framed.toml", text(keys).as_bytes());
    assert!(problems.is_empty(), "{problems:?}");
    pattern
}

/// Cut sizes of the border's fabric.
fn cut(pattern: &Pattern, how: &Assumptions) -> Vec<(String, u32)> {
    let answer = need(pattern, how).expect("it can be worked out");
    let wall = answer.roles.iter().find(|role| role.name == "B").expect("the border's fabric");
    let size = |length: Length| length.show_bare(Units::Inches);
    let one =
        |one: &cutcloth::need::Wanted| (format!("{} x {}", size(one.width), size(one.height)), one.count);
    wall.at.wanted.iter().map(one).collect()
}

fn wide() -> Assumptions {
    no_spare(Length::from_inches(42))
}

fn sizes(sizes: &[(&str, u32)]) -> Vec<(String, u32)> {
    sizes.iter().map(|&(size, count)| (size.to_owned(), count)).collect()
}

#[test]
fn mitred_strips_are_as_long_as_the_outer_edge_and_the_extra() {
    // 60 + 2 x 4 + 1/2 in as sewn and 1 in extra; butted sides end at the middle.
    assert_eq!(cut(&framed(""), &wide()), sizes(&[("4 1/2 x 60 1/2", 2), ("4 1/2 x 58 1/2", 2)]));
    let mitred = framed("corners = \"mitred\"\n");
    assert_eq!(cut(&mitred, &wide()), sizes(&[("4 1/2 x 69 1/2", 2), ("4 1/2 x 59 1/2", 2)]));
    let generous = framed("corners = \"mitred\"\nextra = \"6 in\"\n");
    assert_eq!(cut(&generous, &wide()), sizes(&[("4 1/2 x 74 1/2", 2), ("4 1/2 x 64 1/2", 2)]));
}

/// Twice the area inside the corners.
fn twice_area(corners: &[Point]) -> i64 {
    let next = corners.iter().cycle().skip(1);
    let cross =
        |(one, other): (&Point, &Point)| one.x.ticks() * other.y.ticks() - other.x.ticks() * one.y.ticks();
    corners.iter().zip(next).map(cross).sum::<i64>().abs()
}

#[test]
fn mitred_strips_fill_the_frame_and_meet_on_the_diagonals() {
    let top = geometry::top(&framed("corners = \"mitred\"\n")).expect("a layout");
    assert_eq!(top.size.show(Units::Inches), "58 x 68 in");
    let strips: Vec<_> = top
        .patches
        .iter()
        .filter(|patch| matches!(patch.purpose, Purpose::BorderSide(1) | Purpose::BorderTop(1)))
        .collect();
    assert_eq!(strips.len(), 4);
    let square_inch = Length::TICKS_PER_INCH * Length::TICKS_PER_INCH;
    let area: i64 = strips.iter().map(|patch| twice_area(&patch.corners)).sum();
    assert_eq!(area, 2 * (58 * 68 - 50 * 60) * square_inch);
    for strip in strips {
        // Two of its corners are corners of the quilt, the other two of the middle.
        let outer = |at: &&Point| at.x == Length::ZERO || at.x == top.size.width;
        assert_eq!(strip.corners.iter().filter(outer).count(), 2, "{strip:?}");
    }
}

#[test]
fn mitred_strips_are_joined_for_their_longer_lengths() {
    // Sides 2 x 69 1/2 = 139 in, ends 2 x 59 1/2 = 119 in; n strips of 42 in joined straight make 41 1/2 n + 1/2.
    let mitred = framed("corners = \"mitred\"\nstrip = \"42 in\"\n");
    assert_eq!(cut(&mitred, &wide()), sizes(&[("42 x 4 1/2", 7)]));
    // Joined diagonally, 37 1/2 n + 4 1/2: the ends need four as well.
    let diagonal = framed("corners = \"mitred\"\nstrip = \"42 in\"\njoin = \"diagonal\"\n");
    assert_eq!(cut(&diagonal, &wide()), sizes(&[("42 x 4 1/2", 8)]));
}

#[test]
fn what_is_asked_for_goes_before_the_pattern() {
    let with =
        |corners: Option<Meeting>, border_join: Option<Join>| Assumptions { corners, border_join, ..wide() };
    let (butted, mitred) = (framed(""), framed("corners = \"mitred\"\n"));
    assert_eq!(cut(&butted, &with(Some(Meeting::Mitred), None)), cut(&mitred, &wide()));
    assert_eq!(cut(&mitred, &with(Some(Meeting::Butted), None)), cut(&butted, &wide()));
    let strips = framed("corners = \"mitred\"\nstrip = \"42 in\"\nstrips = 9\n");
    assert_eq!(cut(&strips, &wide()), sizes(&[("42 x 4 1/2", 9)]), "as the designer says");
    assert_eq!(cut(&strips, &with(None, Some(Join::Diagonal))), sizes(&[("42 x 4 1/2", 8)]), "as counted");
    let squares = framed("cornerstones = \"A\"\n");
    assert_eq!(cut(&squares, &with(Some(Meeting::Mitred), None)), cut(&squares, &wide()), "squares stay");
}

#[test]
fn a_mitred_border_that_may_not_be_joined_is_refused_with_its_own_length() {
    let how = Assumptions { joins: false, corners: Some(Meeting::Mitred), ..wide() };
    let wrong = need(&framed("strip = \"42 in\"\n"), &how).expect_err("69 1/2 in are more than 42");
    let said = wrong[0].message(Units::Inches);
    assert!(
        said.contains("border 1 needs 69 1/2 in in one piece at the sides (59 1/2 in at top and bottom)"),
        "{said}"
    );
}

#[test]
fn a_border_strip_that_joins_use_up_is_refused() {
    let (_, problems) = read_toml("framed.toml", text("strip = \"4 in\"\njoin = \"diagonal\"\n").as_bytes());
    assert_eq!(problems.len(), 1, "{problems:?}");
    assert!(problems[0].message.contains("strips of 4 in are used up by their joins"), "{}", problems[0]);
}

#[test]
fn corners_that_contradict_each_other_are_refused() {
    let said = |keys: &str| -> Vec<String> {
        let (_, problems) = read_toml("framed.toml", text(keys).as_bytes());
        problems.iter().map(|problem| problem.message.clone()).collect()
    };
    let both = said("corners = \"mitred\"\ncornerstones = \"A\"\n");
    assert_eq!(both, ["a border with cornerstones has squares in its corners"]);
    let idle = said("extra = \"2 in\"\n");
    assert_eq!(idle, ["extra is what mitred strips are cut longer, and these are not mitred"]);
    let unknown = said("corners = \"rounded\"\n");
    assert_eq!(unknown, ["\"rounded\" is not one of the words that mean something here"]);
}

/// Ten blocks side by side, 50 in wide, in a border of 4 in from strips of 40 in, as text.
fn joined_text(height: &str) -> String {
    let text = format!(
        "[role]\nA = \"boats\"\nB = \"wall\"\n[[block]]\nname = \"Boat\"\nfinished = \"5 x {height} in\"\nrows = [\"A\"]\n\
         [layout]\nacross = 10\ndown = 1\n[[layout.border]]\nwidth = \"4 in\"\nrole = \"B\"\nstrip = \"40 in\"\n"
    );
    let file = Given { name: "wall.toml".to_owned(), bytes: text.into_bytes() };
    let how = no_spare(Length::from_inches(40));
    let answer = Requirement::of(&Asked { pattern: &file, size: None, how: &how, owned: None });
    String::from_utf8(answer.expect("it can be worked out").written(Format::Text)).expect("text")
}

/// Two strips of 40 in joined straight are 79 1/2 in to the last thread, so sides of 79 1/2 in take two each; both off
/// one length would lose a seam that nobody sews (159 in, and four strips end to end are 158 1/2 in). Top and bottom of
/// 58 1/2 in are 117 in, and three strips with two joins 119 in. All four are 276 in, for which seven strips end to end
/// (277 in) are no fewer.
#[test]
fn a_side_of_exactly_two_joined_strips_takes_two() {
    let text = joined_text("79");
    for part in [
        "2 sides: 79 in + 1/2 in seams = 79 1/2 in each; each from 2 strips of 40 in, 1 join: 79 1/2 in\n",
        "top and bottom: 50 in + 2 x 4 in + 1/2 in seams = 58 1/2 in each; both from 3 strips of 40 in, 2 joins: 119 in for 117 in\n",
        "in all 7 strips\n",
        "7 strips 4 1/2 in deep = 31 1/2 in",
    ] {
        assert!(text.contains(part), "{part:?} is not in\n{text}");
    }
}

/// An eighth more, and a side alone takes a third strip; both sides of 79 5/8 in are 159 1/4 in, five strips end to end
/// 198 in. With top and bottom that is eight, while all four, 276 1/4 in, come from seven strips end to end (277 in).
#[test]
fn an_eighth_more_than_two_strips_is_joined_together() {
    let text = joined_text("79 1/8");
    for part in [
        "= 79 5/8 in each; both from 5 strips of 40 in, 4 joins: 198 in for 159 1/4 in\n",
        "in all 8 strips; 7 do when all four are joined with the fewest seams (strips = 7 in the pattern)\n",
        "for these strips no cutting takes less",
    ] {
        assert!(text.contains(part), "{part:?} is not in\n{text}");
    }
}
