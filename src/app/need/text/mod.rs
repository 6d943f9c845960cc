//! The requirement for reading: the amounts first, then every fabric with its steps.

use crate::app::need::{Assumptions, Borders, Join, Meeting, Requirement, sizes};
use crate::length::{Length, Units};
use crate::need::{Need, moves_to_marks};
use crate::pattern::Pattern;

mod border;
mod fabric;
mod finish;
mod steps;

pub(super) use border::border_sentence;
pub(super) use fabric::fabric;
pub(super) use finish::{finishing, package};
pub(super) use steps::{added, many, mark_down, steps, washing};

/// The whole answer.
pub(in crate::app::need) fn text(answer: &Requirement) -> String {
    let Requirement { pattern, how, need, sizes, .. } = answer;
    let mut out = format!("{}: fabric to buy when nothing is owned\n\n", pattern.title());
    out += &assumed(pattern, how);
    out += "\n";
    out += &table(need, how);
    if !sizes.is_empty() {
        out += "\nEvery size, by strips (and at least, where that is less):\n";
        out += &columns(&sizes::rows(pattern, sizes, how, &sizes::amounts));
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

/// Which measures are taken for granted, and what becomes of sizes of the other system; nothing where neither matters.
pub(in crate::app::need) fn measures(pattern: &Pattern, how: &Assumptions) -> String {
    let usual = match how.units {
        Units::Inches => "",
        Units::Metric => {
            "What is not asked for is taken in round metric measures: common practice, no source. "
        }
    };
    let moved = match how.units {
        _ if !moves_to_marks(pattern, how.units) => "",
        Units::Inches => "Sizes given in centimetres go up to eighths of an inch.",
        Units::Metric => "Sizes given in inches go up to whole millimetres.",
    };
    format!("{usual}{moved}").trim_end().to_owned()
}

pub(in crate::app::need) fn assumed(pattern: &Pattern, how: &Assumptions) -> String {
    let show = |length: Length| length.show(how.units);
    let spare = &how.spare;
    let mut parts = vec![format!("usable width {}", show(how.width))];
    match pattern.sewing {
        Some(sewing) => parts.push(format!("seam {}", show(sewing.seam))),
        None => parts.push("cut sizes as the chart gives them, seams included".to_owned()),
    }
    // The backing is larger than the top anyway.
    let backing = if pattern.layout.is_some() { " but the backing" } else { "" };
    parts.push(format!("{} for squaring up each fabric{backing}", show(spare.squaring)));
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
            wash.lost.across.show(),
            show(wash.width),
            show(how.width),
            wash.lost.along.show()
        ),
    });
    let measures = measures(pattern, how);
    let measures = if measures.is_empty() { measures } else { measures + "\n" };
    format!("Assumed: {}.\n{measures}", parts.join("; "))
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
            if saves > Length::ZERO { mark_down(saves, how) } else { "-".to_owned() },
        ]);
    }
    let mut out = columns(&rows);
    out +=
        "  strips: one depth of strip for each size, nothing shared between depths, as patterns print it\n";
    out += "  least: the shortest found when straight cuts may share a strip; --cutting shows how\n";
    if how.prewash.is_some() {
        out += "  strips and least are lengths once washed, what to buy is unwashed\n";
    }
    out
}

/// Rows in columns, the first to the left, the others to the right.
pub(in crate::app::need) fn columns(rows: &[Vec<String>]) -> String {
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
