//! Amounts in words, every step from the exact length to what a shop cuts.

use crate::app::need::Assumptions;
use crate::length::{Length, round};
use crate::need::Worked;

/// `36 in + 1 in squaring up = 37 in, up to 1 1/8 yd (40 1/2 in), 3 1/2 in over`.
pub(in crate::app::need) fn steps(worked: &Worked, how: &Assumptions) -> String {
    let show = |length: Length| length.show(how.units);
    let mut out = show(worked.exact) + once_washed(how);
    for added in added(worked, how) {
        out += &format!(" + {added}");
    }
    if worked.total != worked.exact {
        out += &format!(" = {}", mark(worked.total, how));
    }
    let amount = format!("{} ({})", worked.amount.show(), mark_down(worked.amount.length, how));
    out + &format!(", up to {amount}, {} over", mark_down(worked.over(), how))
}

/// What is added to the exact length, one by one: `1 in squaring up`.
pub(in crate::app::need) fn added(worked: &Worked, how: &Assumptions) -> Vec<String> {
    let parts = [
        (worked.percent, "spare"),
        (worked.strip, "a strip spare"),
        (worked.squaring, "squaring up"),
        (worked.shrinkage, "for shrinkage"),
    ];
    let there = parts.into_iter().filter(|(length, _)| *length > Length::ZERO);
    there.map(|(length, what)| format!("{} {what}", mark(length, how))).collect()
}

/// What is said beside a measure of fabric that was washed.
pub(in crate::app::need) fn once_washed(how: &Assumptions) -> &'static str {
    if how.prewash.is_some() { " once washed" } else { "" }
}

/// Whether the fabric is washed first, and what that takes.
pub(in crate::app::need) fn washing(how: &Assumptions) -> String {
    match how.prewash {
        None => "The fabric is not washed before cutting.".to_owned(),
        Some(wash) => format!(
            "The fabric is washed before cutting and loses {} % of its width and {} % of its length: {} are reckoned as {}.",
            wash.lost.across.show(),
            wash.lost.along.show(),
            wash.width.show(how.units),
            how.width.show(how.units)
        ),
    }
}

/// A length that may lie between marks, told by the mark above it.
pub(in crate::app::need) fn mark(length: Length, how: &Assumptions) -> String {
    round::up(length, how.units.finest_mark()).show(how.units)
}

/// The mark below.
pub(in crate::app::need) fn mark_down(length: Length, how: &Assumptions) -> String {
    round::down(length, how.units.finest_mark()).show(how.units)
}

/// `1 strip`, `3 strips`.
pub(in crate::app::need) fn many(count: u32, one: &str) -> String {
    format!("{count} {one}{}", if count == 1 { "" } else { "s" })
}
