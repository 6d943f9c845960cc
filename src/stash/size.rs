//! The size of a lot: what is measured, what the cut makes usual, and what no fabric has.

use crate::fabric::{Cut, Family, Trued};
use crate::length::{Direction, Length, Units};
use crate::spreadsheet::{Cells, Reported};

/// No fabric is wider; the widest sold for backing are about 108 in (common practice, no source).
const WIDEST: Length = Length::from_inches(120);
/// 100 yd, more than a bolt holds.
const LONGEST: Length = Length::from_inches(3600);

/// Width and length as the row gives them, each perhaps not at all.
pub(super) fn measured(cells: &mut Cells) -> Result<(Option<Length>, Option<Length>), Reported> {
    let size = cells.size("size", Direction::Down);
    let width = cells.length("width", Direction::Down);
    let length = cells.length("length", Direction::Down);
    let (size, mut width, mut length) = (size?, width?, length?);
    if let Some((across, along)) = size {
        let differs = |side: Option<Length>, other| side.is_some_and(|side| side != other);
        if differs(width, across) || differs(length, along) {
            let message = format!("\"{}\" and the width and length beside it disagree", cells.text("size"));
            return Err(cells.error("F209", "size", message, "keep one of them"));
        }
        (width, length) = (Some(across), Some(along));
    }
    let wide = check_limit(cells, "width", width, WIDEST, "S103", "120 in");
    let long = check_limit(cells, "length", length, LONGEST, "S104", "100 yd");
    wide.and(long)?;
    Ok((width, length))
}

fn check_limit(
    cells: &mut Cells,
    name: &str,
    side: Option<Length>,
    limit: Length,
    code: &'static str,
    limit_text: &str,
) -> Result<(), Reported> {
    if side.is_none_or(|side| side <= limit) {
        return Ok(());
    }
    let name = if cells.text(name).is_empty() { "size" } else { name };
    let message = format!("\"{}\" is more than {limit_text}", cells.text(name));
    Err(cells.error(code, name, message, "check the number and its unit"))
}

/// The size of one sheet as held: measured where it is, usual where it is not.
pub(super) fn settle(
    cells: &mut Cells,
    cut: Cut,
    (width, length): (Option<Length>, Option<Length>),
) -> Result<(Length, Length), Reported> {
    let entry = cut.entry();
    let missing = |cells: &mut Cells, name: &str| {
        let message = format!("the {name} of {} is not given", with_article(&entry.name));
        cells.error("S102", name, message, &format!("measure the {name} and write it here"))
    };
    let across = width.or(entry.width).ok_or_else(|| missing(cells, "width"));
    let along = length.or(entry.length).ok_or_else(|| missing(cells, "length"));
    let size = (across?, along?);
    compare(cells, cut, size);
    Ok(size)
}

fn with_article(name: &str) -> String {
    match name {
        "yardage" => name.to_string(),
        _ => format!("a {name}"),
    }
}

/// Speaks up when the measured size is far from the usual one, or fits it only with its sides swapped.
fn compare(cells: &mut Cells, cut: Cut, (width, length): (Length, Length)) {
    let entry = cut.entry();
    let (Some(usual_width), Some(usual_length)) = (entry.width, entry.length) else {
        return;
    };
    let field =
        if cells.text("width").is_empty() && cells.text("length").is_empty() { "size" } else { "width" };
    let field = if cells.text(field).is_empty() { "length" } else { field };
    let usual =
        format!("{} across x {} along", usual_width.show(Units::Inches), usual_length.show(Units::Inches));
    // The width of yardage is the bolt's, and bolts differ.
    let is_near = |w, l| {
        (entry.family == Family::Yardage || within_a_third(w, usual_width)) && within_a_third(l, usual_length)
    };
    let off = |w, l| apart(w, usual_width).max(apart(l, usual_length));
    let given = format!("{} x {}", width.show(Units::Inches), length.show(Units::Inches));
    if entry.family != Family::Yardage && is_near(length, width) && off(length, width) < off(width, length) {
        cells.note(
            "S114",
            field,
            format!("{given}: {} is usually {usual}", with_article(&entry.name)),
            "width runs across the grain, from selvage to selvage, and length along it; swap them if need be",
        );
    } else if !is_near(width, length) {
        cells.warning(
            "S107",
            field,
            format!("{given} is far from {usual}, the usual size of {}", with_article(&entry.name)),
            "check the cut and the size; the size given here is the one used",
        );
    }
}

/// True when one is at most a third more than the other.
fn within_a_third(one: Length, other: Length) -> bool {
    3 * one.max(other).ticks() <= 4 * one.min(other).ticks()
}

fn apart(one: Length, other: Length) -> Length {
    one.max(other) - one.min(other)
}

/// The allowance, if squaring up leaves anything.
pub(super) fn check_allowance(
    cells: &mut Cells,
    cut: Cut,
    (width, length): (Length, Length),
    allowance: Length,
) -> Result<Length, Reported> {
    let trued = match cut.entry().trued {
        Trued::Both => width.min(length),
        Trued::Width => width,
        Trued::Length => length,
    };
    if allowance < trued {
        return Ok(allowance);
    }
    let whose = if cells.text("allowance").is_empty() { "for the run" } else { "for this row" };
    let message = format!(
        "the squaring-up allowance {whose}, {}, leaves nothing of a side of {}",
        allowance.show(Units::Inches),
        trued.show(Units::Inches)
    );
    Err(cells.error("S105", "allowance", message, "write a smaller allowance in this row; 0 means none"))
}
