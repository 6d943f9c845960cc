//! One fabric: its strips, its amounts, the least length and what else it may come from.

use std::fmt::Write as _;

use crate::app::need::Assumptions;
use crate::app::need::text::border;
use crate::app::need::text::steps::{many, mark_down, once_washed, steps};
use crate::cutting::{self, Axis, CutOff, Rect};
use crate::length::Length;
use crate::need::{AtWidth, Band, RoleNeed, Sheets, WIDEST, Worked};
use crate::pattern::{Shape, Size};

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
    let keeps_up = at.wanted.iter().any(|one| !one.turn);
    for border in &role.borders {
        out += &border::border(border, keeps_up, how);
    }
    out += &format!("  by strips: {}\n", steps(&at.by_strips, how));
    out += &least(role, how);
    out += &upright(role, how);
    out += &from_cuts(role, how);
    out += &holds(role, how);
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
        let _ = writeln!(out, "  at {}{}: {said}", width.show(how.units), once_washed(how));
    }
    if how.cutting {
        out += &working_order(at, how);
    }
    out
}

/// From which usable width on the amount by strips, and the next smaller one, works.
fn holds(role: &RoleNeed, how: &Assumptions) -> String {
    let show = |width: Length| width.show(how.units);
    let here = show(how.width);
    let washed = once_washed(how);
    let joined = role.borders.iter().any(|border| border.joined.is_some());
    let pairs = if joined { ", border strips counted as above" } else { "" };
    let mut out = String::new();
    for (amount, from) in &role.holds {
        let said = match from {
            Some(width) if *width == how.width => {
                format!("works at {here}{washed}, but not at the next mark below")
            }
            Some(width) if *width < how.width => {
                format!("works at every width from {} to {here}{washed}", show(*width))
            }
            Some(width) => format!("is too little at {here}{washed}; it works from {}", show(*width)),
            None => format!("is too little at any width up to {}", show(WIDEST)),
        };
        let _ = writeln!(out, "  {} by strips {said}{pairs}", amount.show());
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
            "  from {} of {}: ",
            entry.name,
            near(Size { width: sides[0], height: sides[1] }, how)
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

/// A size; one of the other system by the marks below.
fn near(size: Size, how: &Assumptions) -> String {
    let down = |side: Length, mark: Length| crate::length::round::down(side, mark);
    let by = |mark: Length| Size { width: down(size.width, mark), height: down(size.height, mark) };
    if by(how.units.finest_mark()) == size {
        return size.show(how.units);
    }
    format!("about {}", by(how.units.mark()).show(how.units))
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
    // Of strips that are joined there is no proof but for the strips as counted.
    let these = if role.joins_strips { "for these strips " } else { "" };
    let bound = if at.is_proved() {
        format!("{these}no cutting takes less")
    } else {
        format!("{these}no cutting takes less than {}", mark_down(at.bound, how))
    };
    match at.layout {
        Some(_) => format!("  at least:  {}; {bound}\n", steps(&at.by_least, how)),
        None => format!("  at least:  nothing shorter than the strips was found; {bound}\n"),
    }
}
