//! The requirement for reading: the amounts first, then every fabric with its steps.

use std::fmt::Write as _;

use crate::app::need::{Assumptions, Borders, Join, Meeting, Requirement, sizes};
use crate::cutting::{self, Axis, CutOff, Rect};
use crate::length::Length;
use crate::need::{AtWidth, Band, Finish, Need, RoleNeed, Sheets, Worked};
use crate::pattern::Pattern;

/// The whole answer.
pub(super) fn text(answer: &Requirement) -> String {
    let Requirement { pattern, how, need, sizes, .. } = answer;
    let mut out = format!("{}: fabric to buy when nothing is owned\n\n", pattern.title());
    out += &assumed(pattern, how);
    out += "\n";
    out += &table(need, how);
    if !sizes.is_empty() {
        out += "\nEvery size, by strips (and at least, where that is less):\n";
        out += &columns(&sizes::rows(pattern, sizes, how));
    }
    for role in &need.roles {
        out += "\n";
        out += &fabric(role, how);
    }
    match &need.finish {
        Some(finish) => out += &finishing(finish, how),
        None => {
            out += "\nBinding, backing and batting are not worked out: the pattern does not say how the quilt is set.\n";
        }
    }
    out
}

pub(super) fn assumed(pattern: &Pattern, how: &Assumptions) -> String {
    let show = |length: Length| length.show(how.units);
    let spare = &how.spare;
    let mut parts = vec![format!("usable width {}", show(how.width))];
    match pattern.sewing {
        Some(sewing) => parts.push(format!("seam {}", show(sewing.seam))),
        None => parts.push("cut sizes as the chart gives them, seams included".to_owned()),
    }
    parts.push(format!("{} for squaring up each fabric", show(spare.squaring)));
    if spare.percent > 0 {
        parts.push(format!("{} % spare", spare.percent));
    }
    if let Some(limit) = spare.strip_over {
        parts.push(format!("one strip spare where one is deeper than {}", show(limit)));
    }
    parts.push(format!("rounded up to {}", how.step.name()));
    match how.borders {
        Borders::AsWritten => {}
        Borders::Crosswise => parts.push("borders cut across the fabric".to_owned()),
        Borders::Lengthwise => parts.push("borders cut along the fabric in one piece".to_owned()),
    }
    match how.corners {
        None => {}
        Some(Meeting::Butted) => parts.push("borders butted".to_owned()),
        Some(Meeting::Mitred) => parts.push("borders mitred".to_owned()),
    }
    match (how.joins, how.border_join) {
        (false, _) => parts.push("borders not joined".to_owned()),
        (true, None) => {}
        (true, Some(Join::Straight)) => parts.push("border strips joined straight".to_owned()),
        (true, Some(Join::Diagonal)) => parts.push("border strips joined diagonally".to_owned()),
    }
    parts.push(match how.prewash {
        None => "fabric not washed before cutting".to_owned(),
        Some(wash) => format!(
            "fabric washed before cutting, which takes {} % of its width ({} becomes {}) and {} % of its length",
            wash.across,
            show(wash.width),
            show(how.width),
            wash.along
        ),
    });
    format!("Assumed: {}.\n", parts.join("; "))
}

fn table(answer: &Need, how: &Assumptions) -> String {
    let mut rows = vec![["fabric", "strips", "buy", "least", "buy", "saves"].map(str::to_owned).to_vec()];
    for role in &answer.roles {
        let at = &role.at;
        let saves = at.by_strips.amount.length - at.by_least.amount.length;
        rows.push(vec![
            role.name.clone(),
            at.by_strips.exact.show(how.units),
            at.by_strips.amount.show(),
            at.by_least.exact.show(how.units),
            at.by_least.amount.show(),
            if saves > Length::ZERO { saves.show(how.units) } else { "-".to_owned() },
        ]);
    }
    let mut out = columns(&rows);
    out +=
        "  strips: one depth of strip for each size, nothing shared between depths, as patterns print it\n";
    out += "  least: the shortest found when straight cuts may share a strip; --cutting shows how\n";
    out
}

/// Rows in columns, the first to the left, the others to the right.
pub(super) fn columns(rows: &[Vec<String>]) -> String {
    let count = rows.iter().map(Vec::len).max().unwrap_or(0);
    let wide = |column: usize| rows.iter().filter_map(|row| Some(row.get(column)?.chars().count())).max();
    let widths: Vec<usize> = (0..count).map(|column| wide(column).unwrap_or(0)).collect();
    let mut out = String::new();
    for row in rows {
        let cells = row.iter().zip(&widths).enumerate().map(|(column, (cell, &width))| {
            if column == 0 { format!("{cell:<width$}") } else { format!("{cell:>width$}") }
        });
        out += &format!("  {}\n", cells.collect::<Vec<_>>().join("   ").trim_end());
    }
    out
}

pub(super) fn fabric(role: &RoleNeed, how: &Assumptions) -> String {
    let at = &role.at;
    let title = if role.title.is_empty() { String::new() } else { format!(" ({})", role.title) };
    let mut out = format!("{}{title}: {}\n", role.name, at.by_strips.amount.show());
    for bands in
        at.strips.bands.chunk_by(|one, next| (one.depth, one.lengthwise) == (next.depth, next.lengthwise))
    {
        out += &strips(at, bands, how);
    }
    out += &format!("  by strips: {}\n", steps(&at.by_strips, how));
    out += &least(at, how);
    out += &upright(role, how);
    out += &from_cuts(role, how);
    for (amount, from) in &role.holds {
        let said = match from {
            Some(width) if *width <= how.width => {
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
        let _ = writeln!(out, "  {} by strips {said}", amount.show());
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
fn strips(at: &AtWidth, bands: &[Band], how: &Assumptions) -> String {
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
            let one = &at.wanted[size];
            let cut = format!("{} x {}", one.width.show_bare(how.units), one.height.show(how.units));
            format!("{count} x {} ({cut})", one.labels.join(", "))
        });
        let gives = gives.collect::<Vec<_>>().join(" and ");
        let _ = writeln!(out, "    {} with {gives}: {} of the width", band.times, show(band.used));
    }
    out
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

pub(super) fn steps(worked: &Worked, how: &Assumptions) -> String {
    let show = |length: Length| length.show(how.units);
    let mut out = show(worked.exact);
    for added in added(worked, how) {
        out += &format!(" + {added}");
    }
    if worked.total != worked.exact {
        out += &format!(" = {}", mark(worked.total, how));
    }
    let amount = format!("{} ({})", worked.amount.show(), show(worked.amount.length));
    out + &format!(", up to {amount}, {} over", mark_down(worked.over(), how))
}

/// What is added to the exact length, one by one: `1 in squaring up`.
pub(super) fn added(worked: &Worked, how: &Assumptions) -> Vec<String> {
    let parts = [
        (worked.percent, "spare"),
        (worked.strip, "a strip spare"),
        (worked.squaring, "squaring up"),
        (worked.shrinkage, "for shrinkage"),
    ];
    let there = parts.into_iter().filter(|(length, _)| *length > Length::ZERO);
    there.map(|(length, what)| format!("{} {what}", mark(length, how))).collect()
}

/// Whether the fabric is washed first, and what that takes.
pub(super) fn washing(how: &Assumptions) -> String {
    match how.prewash {
        None => "The fabric is not washed before cutting.".to_owned(),
        Some(wash) => format!(
            "The fabric is washed before cutting and loses {} % of its width and {} % of its length: {} are reckoned as {}.",
            wash.across,
            wash.along,
            wash.width.show(how.units),
            how.width.show(how.units)
        ),
    }
}

/// A length that may lie between marks, told by the mark above it.
fn mark(length: Length, how: &Assumptions) -> String {
    crate::length::round::up(length, how.units.finest_mark()).show(how.units)
}

pub(super) fn mark_down(length: Length, how: &Assumptions) -> String {
    crate::length::round::down(length, how.units.finest_mark()).show(how.units)
}

fn least(at: &AtWidth, how: &Assumptions) -> String {
    let bound = if at.is_proved() {
        "no cutting takes less".to_owned()
    } else {
        format!("no cutting takes less than {}", mark_down(at.bound, how))
    };
    match at.layout {
        Some(_) => format!("  at least:  {}; {bound}\n", steps(&at.by_least, how)),
        None => format!("  at least:  nothing shorter than the strips was found; {bound}\n"),
    }
}

pub(super) fn finishing(finish: &Finish, how: &Assumptions) -> String {
    let units = how.units;
    let rules = &how.finish;
    let mut out = format!("\nFinishing a top of {} as sewn\n", finish.top.show(units));
    match finish.binding {
        None => out += "  binding: among the fabrics above\n",
        Some(binding) => {
            let ring = binding.length - rules.extra;
            let _ = write!(
                out,
                "  binding: {} round + {} for corners and closing = {}; ",
                ring.show(units),
                rules.extra.show(units),
                binding.length.show(units)
            );
            match binding.square {
                Some(side) => {
                    let _ = write!(
                        out,
                        "on the bias, {} wide, from a square of {}, 2 in of it for seams; ",
                        rules.strip_width.show(units),
                        side.show(units)
                    );
                }
                None => {
                    let join = match rules.join {
                        Join::Straight => "straight joins",
                        Join::Diagonal => "diagonal joins, one strip width lost at each",
                    };
                    let _ = write!(
                        out,
                        "{} strips of {} ({join}): ",
                        binding.strips,
                        rules.strip_width.show(units)
                    );
                }
            }
            let _ = writeln!(out, "{}", steps(&binding.worked, how));
        }
    }
    let other = finish.ways.iter().find(|way| **way != finish.panels);
    let _ = writeln!(
        out,
        "  backing: {} (the top and {} in all), {} of {} from {} usable width, seams {}: {}",
        finish.backing.show(units),
        rules.overage.show(units),
        many(finish.panels.count, "panel"),
        finish.panels.length.show(units),
        finish.backing_width.show(units),
        if finish.panels.upright { "upright" } else { "level" },
        steps(&finish.backing_amount, how)
    );
    if let Some(way) = other {
        let _ = writeln!(
            out,
            "    the other way: {} of {}, {}",
            many(way.count, "panel"),
            way.length.show(units),
            way.total().show(units)
        );
    }
    let packaged = finish
        .packaged
        .map_or("larger than any packaged size listed".to_owned(), |name| format!("packaged: {name}"));
    let _ = writeln!(out, "  batting: {}, up to whole inches; {packaged}", finish.batting.show(units));
    out
}

fn many(count: u32, one: &str) -> String {
    format!("{count} {one}{}", if count == 1 { "" } else { "s" })
}
