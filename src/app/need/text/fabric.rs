//! One fabric: its strips, its amounts, the least length and what else it may come from.

use std::fmt::Write as _;

use crate::app::need::Assumptions;
use crate::app::need::text::steps::{many, mark_down, steps};
use crate::cutting::{self, Axis, CutOff, Rect};
use crate::length::Length;
use crate::need::{AtWidth, Band, RoleNeed, Sheets, Worked};
use crate::pattern::Shape;

/// The paragraph of a fabric.
pub(in crate::app::need) fn fabric(role: &RoleNeed, how: &Assumptions) -> String {
    let at = &role.at;
    let title = if role.title.is_empty() { String::new() } else { format!(" ({})", role.title) };
    let mut out = format!("{}{title}: {}\n", role.name, at.by_strips.amount.show());
    for bands in
        at.strips.bands.chunk_by(|one, next| (one.depth, one.lengthwise) == (next.depth, next.lengthwise))
    {
        out += &strips(role, bands, how);
    }
    out += &format!("  by strips: {}\n", steps(&at.by_strips, how));
    out += &joined(role);
    out += &least(role, how);
    out += &upright(role, how);
    out += &from_cuts(role, how);
    for (amount, from) in &role.holds {
        let said = match from {
            Some(width) if *width == how.width => {
                format!("works at {}, but not at the next mark below", width.show(how.units))
            }
            Some(width) if *width < how.width => {
                format!(
                    "works at every width from {} to {}",
                    width.show(how.units),
                    how.width.show(how.units)
                )
            }
            Some(width) => format!(
                "is too little at {}; it works from {}",
                how.width.show(how.units),
                width.show(how.units)
            ),
            None => "is too little at any width up to 120 in".to_owned(),
        };
        let pairs = if role.joined.is_empty() { "" } else { ", border strips counted as above" };
        let _ = writeln!(out, "  {} by strips {said}{pairs}", amount.show());
    }
    for (width, there) in &role.others {
        let said = match there {
            Some(at) => format!(
                "{} by strips ({}), {} at least ({})",
                at.by_strips.amount.show(),
                at.by_strips.exact.show(how.units),
                at.by_least.amount.show(),
                at.by_least.exact.show(how.units)
            ),
            None => "a piece does not go into it".to_owned(),
        };
        let _ = writeln!(out, "  at {}: {said}", width.show(how.units));
    }
    if how.cutting {
        out += &working_order(at, how);
    }
    out
}

/// How the strips of borders are counted, where joining them otherwise takes fewer.
fn joined(role: &RoleNeed) -> String {
    let mut out = String::new();
    for border in role.joined.iter().filter(|border| border.fewest < border.strips) {
        let _ = writeln!(
            out,
            "  border {}: {} strips, its sides joined for themselves and so top and bottom; {} do when all four are joined with the fewest seams (strips = {} in the pattern)",
            border.border, border.strips, border.fewest, border.fewest
        );
    }
    out
}

/// What it costs that pieces of a print with an up are not turned.
fn upright(role: &RoleNeed, how: &Assumptions) -> String {
    let Some(free) = &role.free else { return String::new() };
    let show = |length: Length| length.show(how.units);
    let costs = |kept: &Worked, free: &Worked| match kept.exact - free.exact {
        more if more > Length::ZERO => format!("keeping its up takes {} more", show(more)),
        Length::ZERO => "keeping its up takes no more".to_owned(),
        less => format!("turning would take {} more", show(Length::ZERO - less)),
    };
    format!(
        "  a print with an up: width and length of its pieces are kept; if they might be turned, {} by strips ({}) and {} at least ({})\n",
        free.by_strips.amount.show(),
        costs(&role.at.by_strips, &free.by_strips),
        free.by_least.amount.show(),
        costs(&role.at.by_least, &free.by_least),
    )
}

/// Strips of one depth: how many, what they take, and what each kind of them gives.
fn strips(role: &RoleNeed, bands: &[Band], how: &Assumptions) -> String {
    let show = |length: Length| length.show(how.units);
    let count: u32 = bands.iter().map(|band| band.times).sum();
    let depth = bands[0].depth;
    let taken = Length::from_ticks(depth.ticks() * i64::from(count));
    let mut out = if bands[0].lengthwise {
        format!("  along the fabric, cut first: {} of {}\n", many(count, "length"), show(depth))
    } else {
        format!("  {} {} deep = {}\n", many(count, "strip"), show(depth), show(taken))
    };
    for band in bands {
        let gives = band.pieces.iter().map(|&(size, count)| {
            let one = &role.at.wanted[size];
            let cut = format!("{} x {}", one.width.show_bare(how.units), one.height.show(how.units));
            let labels: Vec<String> = one.labels.iter().map(|label| named(role, label, one.width)).collect();
            format!("{count} x {} ({cut})", labels.join(", "))
        });
        let gives = gives.collect::<Vec<_>>().join(" and ");
        let _ = writeln!(out, "    {} with {gives}: {} of the width", band.times, show(band.used));
    }
    out
}

/// A label, and what becomes of its squares.
fn named(role: &RoleNeed, label: &str, width: Length) -> String {
    let cut = role.triangles.iter().find(|one| one.label == label && one.side == width);
    match cut.map(|one| one.shape) {
        Some(Shape::CutOnce) => format!("{label}: squares, then cut once corner to corner"),
        Some(Shape::CutTwice) => format!("{label}: squares, then cut twice corner to corner"),
        Some(Shape::Rectangle) | None => label.to_owned(),
    }
}

/// Squares, strips and fat quarters a role may be taken from.
fn from_cuts(role: &RoleNeed, how: &Assumptions) -> String {
    let mut out = String::new();
    for from in &role.cuts {
        let entry = from.cut.entry();
        let sides = [entry.width, entry.length].map(|side| side.unwrap_or_default());
        let _ = write!(
            out,
            "  from {} of {} x {}: ",
            entry.name,
            sides[0].show_bare(how.units),
            sides[1].show(how.units)
        );
        let count = |sheets: Sheets| {
            if sheets.bound == sheets.count {
                sheets.count.to_string()
            } else {
                format!("{} (fewer than {} do not do)", sheets.count, sheets.bound)
            }
        };
        match from.all {
            None => out += "a piece does not go into it",
            Some(all) => {
                let _ = write!(out, "{} if prints may be shared", count(all));
            }
        }
        for (sets, sheets) in &from.sets {
            let _ = write!(out, "; {} of one print each, {} a set", many_sets(*sets), count(*sheets));
        }
        out += "\n";
    }
    out
}

fn many_sets(sets: usize) -> String {
    format!("{sets} set{}", if sets == 1 { "" } else { "s" })
}

/// The cuts of the least length, in the order in which they are made.
fn working_order(at: &AtWidth, how: &Assumptions) -> String {
    let Some(layout) = &at.layout else { return String::new() };
    let show = |length: Length| length.show(how.units);
    let what = |off: &CutOff, rect: &Rect| match off {
        CutOff::Piece { kind, .. } => at.wanted[*kind].labels.join(", "),
        CutOff::Strip => format!("a part {} x {}", rect.width.show_bare(how.units), show(rect.height)),
        CutOff::Leftover => "left over".to_owned(),
    };
    let mut out = "  cutting the least length, in working order:\n".to_owned();
    for step in cutting::steps(layout) {
        let edge = if step.axis == Axis::Width { "left" } else { "lower" };
        let region = &step.region;
        let _ = writeln!(
            out,
            "    {}. of the part {} x {}, cut {} from its {edge} edge: {}; remains: {}",
            step.order,
            region.width.show_bare(how.units),
            show(region.height),
            show(step.at),
            what(&step.off.1, &step.off.0),
            what(&step.rest.1, &step.rest.0)
        );
    }
    out
}

/// The least length found, with its bound.
fn least(role: &RoleNeed, how: &Assumptions) -> String {
    let at = &role.at;
    let fewer = role.joined.iter().any(|border| border.fewest < border.strips);
    let bound = if fewer {
        format!("for these strips no cutting takes less than {}", mark_down(at.bound, how))
    } else if at.is_proved() {
        "no cutting takes less".to_owned()
    } else {
        format!("no cutting takes less than {}", mark_down(at.bound, how))
    };
    match at.layout {
        Some(_) => format!("  at least:  {}; {bound}\n", steps(&at.by_least, how)),
        None => format!("  at least:  nothing shorter than the strips was found; {bound}\n"),
    }
}
