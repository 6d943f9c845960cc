//! The counts at the end of the sheet: totals by piece, which close, and what is left.

use crate::fabric::{Cut, Family};
use crate::length::{Length, round};
use crate::planning::SheetPlan;
use crate::report::Total;
use crate::report::situation::Situation;
use crate::report::view::words;
use crate::stash::{Lot, LotId};

/// One line of the totals.
pub(crate) struct TotalRow {
    /// Kind of block.
    pub(crate) block: String,
    /// Label of the piece.
    pub(crate) label: String,
    /// The role.
    pub(crate) role: String,
    /// Size as cut.
    pub(crate) size: String,
    /// How many the quilt needs.
    pub(crate) need: u32,
    /// How many this plan cuts.
    pub(crate) cut: u32,
    /// How many are short.
    pub(crate) short: u32,
}

/// Leftovers of one size of one lot.
pub(crate) struct LeftoverRow {
    /// The lot they are left of.
    pub(crate) lot: LotId,
    /// The user's name of the print.
    pub(crate) print: String,
    /// As what it goes back to the stash.
    pub(crate) cut: Cut,
    /// Width, rounded down to a mark that can be read.
    pub(crate) width: String,
    /// Length, rounded down likewise.
    pub(crate) length: String,
    /// Both, for reading.
    pub(crate) size: String,
    /// How many alike.
    pub(crate) count: u32,
    /// True when large enough to go back to the stash.
    pub(crate) useful: bool,
    /// Where the fabric was kept.
    pub(crate) place: String,
    /// What it is left of.
    pub(crate) source: String,
}

/// The totals as text.
pub(crate) fn totals(here: &Situation<'_>, totals: &[Total]) -> Vec<TotalRow> {
    let pattern = here.pattern;
    totals
        .iter()
        .map(|total| TotalRow {
            block: pattern.blocks[total.block.0].name.clone(),
            label: total.label.clone(),
            role: pattern.roles[total.role.0].name.clone(),
            size: words::size(total.width, total.height, here.job.settings.units),
            need: total.need,
            cut: total.cut,
            short: total.short,
        })
        .collect()
}

/// Every leftover of the opened sheets; equal ones of one lot together, in order of the sheets.
pub(crate) fn leftovers(here: &Situation<'_>) -> Vec<LeftoverRow> {
    let units = here.job.settings.units;
    let mut found: Vec<(LotId, Cut, Length, Length, u32)> = Vec::new();
    for sheet in &here.outcome.plan.sheets {
        let lot = here.stash.lot(sheet.lot);
        for rect in sheet.layout.leftovers() {
            let cut = left_as(lot, sheet, rect.width, rect.height);
            let same = |known: &&mut (LotId, Cut, Length, Length, u32)| {
                (known.0, known.1, known.2, known.3) == (sheet.lot, cut, rect.width, rect.height)
            };
            match found.iter_mut().find(same) {
                Some(known) => known.4 += 1,
                None => found.push((sheet.lot, cut, rect.width, rect.height, 1)),
            }
        }
    }
    found
        .into_iter()
        .map(|(id, cut, width, length, count)| {
            let lot = here.stash.lot(id);
            LeftoverRow {
                lot: id,
                print: here.stash.print(lot.print).name.clone(),
                cut,
                width: round::down(width, units.finest_mark()).show(units),
                length: round::down(length, units.finest_mark()).show(units),
                size: words::fabric_size(width, length, units),
                count,
                useful: width.min(length) >= here.job.rules.useful_side,
                place: lot.place.clone(),
                source: match lot.line {
                    Some(line) => format!("left of line {line} of your list, {}", words::held(lot, units)),
                    None => format!("left of fabric bought, {}", words::held(lot, units)),
                },
            }
        })
        .collect()
}

/// Leftovers of one size, of whatever print: the table on the sheet.
pub(crate) struct LeftRow {
    /// The size.
    pub(crate) size: String,
    /// How many.
    pub(crate) count: u32,
    /// As what they go back.
    pub(crate) cut: Cut,
    /// True when large enough to go back to the stash.
    pub(crate) useful: bool,
    /// The prints, with their number where there is more than one.
    pub(crate) prints: String,
}

/// The leftovers by size: useful ones first.
pub(crate) fn by_size(leftovers: &[LeftoverRow]) -> Vec<LeftRow> {
    let mut rows: Vec<(LeftRow, Vec<(&str, u32)>)> = Vec::new();
    for left in leftovers {
        let known = rows.iter_mut().find(|(row, _)| row.size == left.size && row.cut == left.cut);
        let (row, prints) = match known {
            Some(row) => row,
            None => {
                let row = LeftRow {
                    size: left.size.clone(),
                    count: 0,
                    cut: left.cut,
                    useful: left.useful,
                    prints: String::new(),
                };
                rows.push((row, Vec::new()));
                rows.last_mut().expect("a row was just added")
            }
        };
        row.count += left.count;
        match prints.iter_mut().find(|(name, _)| *name == left.print) {
            Some((_, number)) => *number += left.count,
            None => prints.push((&left.print, left.count)),
        }
    }
    let mut rows: Vec<LeftRow> = rows
        .into_iter()
        .map(|(row, prints)| {
            let names = prints.into_iter().map(|(name, number)| match number {
                1 => name.to_owned(),
                _ => format!("{name} ({number})"),
            });
            LeftRow { prints: words::list(&names.collect::<Vec<_>>()), ..row }
        })
        .collect();
    rows.sort_by_key(|row| !row.useful);
    rows
}

/// How many leftovers are too small to go back to the stash; nothing when none is.
pub(crate) fn too_small(here: &Situation<'_>, leftovers: &[LeftoverRow]) -> Option<String> {
    let number: u32 = leftovers.iter().filter(|left| !left.useful).map(|left| left.count).sum();
    let least = here.job.rules.useful_side.show(here.job.settings.units);
    (number > 0).then(|| {
        let scraps = if number == 1 { "scrap" } else { "scraps" };
        format!("{number} {scraps} too small to keep: the shorter side is under {least}.")
    })
}

/// A leftover goes back as a scrap; across the whole bolt and at least a quarter yard long, as yardage again,
/// because no shop sells less by the yard.
fn left_as(lot: &Lot, sheet: &SheetPlan, width: Length, length: Length) -> Cut {
    let quarter_yard = Length::from_inches(9);
    let yardage = lot.cut.entry().family == Family::Yardage;
    if yardage && width == sheet.layout.width() && length >= quarter_yard {
        Cut::yardage()
    } else {
        Cut::scrap()
    }
}
