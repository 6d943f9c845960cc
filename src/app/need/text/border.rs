//! A border step by step: from the size it goes round to the lengths as cut, and the strips they are joined from.

use std::fmt::Write as _;

use crate::app::need::text::steps::{many, mark, mark_down};
use crate::app::need::{Assumptions, Join};
use crate::length::Length;
use crate::need::{BorderNeed, BorderSide, JoinedBorder, JoinedPair};
use crate::pattern::layout::Corners;

/// The lines of a border under its fabric; `upright` when its print keeps its up.
pub(super) fn border(one: &BorderNeed, upright: bool, how: &Assumptions) -> String {
    let mut out = format!(
        "  border {}: {} finished, {}{}\n",
        one.border,
        one.width.show(how.units),
        corners(one.corners),
        one.joined.map_or(", each strip in one piece".to_owned(), |joined| joining(&joined, how)),
    );
    let stated = one.joined.is_some_and(|joined| joined.stated);
    for (name, side) in [("2 sides", &one.sides), ("top and bottom", &one.tops)] {
        let _ = write!(out, "    {name}: {} each", length(one, side, how));
        if let (Some(pair), Some(joined), false) = (side.joined, one.joined, stated) {
            out += &strips(pair, side.cut, joined.strip, how);
        }
        out += "\n";
    }
    if let Some(joined) = one.joined {
        out += &in_all(&joined, one, how);
        if upright {
            out += "    all strips run across the fabric: at the sides of the quilt the up of this print points sideways\n";
        }
    }
    out
}

/// The same in one sentence.
pub(in crate::app::need) fn border_sentence(one: &BorderNeed, how: &Assumptions) -> String {
    let show = |length: Length| length.show(how.units);
    let strips = one.joined.map_or(", each in one piece".to_owned(), |joined| {
        let each = many(joined.strips, "strip");
        format!(": {each} of {}{}", show(joined.strip), joining(&joined, how))
    });
    format!(
        "Border {}, {} finished, {}: 2 sides of {} and top and bottom of {} as cut{strips}.",
        one.border,
        show(one.width),
        corners(one.corners),
        show(one.sides.cut),
        show(one.tops.cut),
    )
}

fn corners(corners: Corners) -> &'static str {
    match corners {
        Corners::Butted => "butted",
        Corners::Squares(_) => "a square in each corner",
        Corners::Mitred { .. } => "mitred",
    }
}

fn joining(joined: &JoinedBorder, how: &Assumptions) -> String {
    let join = match joined.join {
        Join::Straight => "straight",
        Join::Diagonal => "diagonally",
    };
    format!(", joined {join}, {} lost at each join", joined.loss.show(how.units))
}

/// `56 in + 2 x 5 in + 1/2 in seams = 66 1/2 in`, the last up to a mark of the ruler where it lies between two.
fn length(one: &BorderNeed, side: &BorderSide, how: &Assumptions) -> String {
    let mut out = mark(side.inside, how);
    let reached = side.finished + one.seams;
    if side.finished > side.inside {
        let _ = write!(out, " + 2 x {}", one.width.show(how.units));
    }
    let _ = write!(out, " + {} seams", one.seams.show(how.units));
    let exact = match one.corners {
        Corners::Mitred { extra } => {
            let _ = write!(out, " + {} for the mitre", extra.show(how.units));
            reached + extra
        }
        Corners::Butted | Corners::Squares(_) => reached,
    };
    if exact == side.cut {
        format!("{out} = {}", side.cut.show(how.units))
    } else {
        format!("{out}, up to {}", side.cut.show(how.units))
    }
}

fn strips(pair: JoinedPair, cut: Length, strip: Length, how: &Assumptions) -> String {
    let show = |length: Length| length.show(how.units);
    if pair.together {
        let (strips, joins) = (many(pair.strips, "strip"), many(pair.joins(), "join"));
        let (gives, both) = (mark_down(pair.gives, how), show(cut + cut));
        return format!("; both from {strips} of {}, {joins}: {gives} for {both}", show(strip));
    }
    let each = pair.strips / 2;
    let joins = match each {
        1 => "no join".to_owned(),
        more => format!("{}: {}", many(more - 1, "join"), mark_down(pair.gives, how)),
    };
    format!("; each from {} of {}, {joins}", many(each, "strip"), show(strip))
}

/// How many strips, and whether fewer would do.
fn in_all(joined: &JoinedBorder, one: &BorderNeed, how: &Assumptions) -> String {
    let usual = [&one.sides, &one.tops].into_iter().filter_map(|side| side.joined).map(|pair| pair.strips);
    let strips = many(joined.strips, "strip");
    let mut out = if joined.stated {
        let each = format!("{strips} of {}", joined.strip.show(how.units));
        format!(
            "    {each}, as the pattern states; sides and top and bottom for themselves take {}",
            usual.sum::<u32>()
        )
    } else {
        format!("    in all {strips}")
    };
    if joined.fewest < joined.strips {
        let _ = write!(
            out,
            "; {} do when all four are joined with the fewest seams (strips = {} in the pattern)",
            joined.fewest, joined.fewest
        );
    }
    out + "\n"
}
