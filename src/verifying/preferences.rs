//! What a plan is measured by after its fabric: useful leftovers, different layouts, ruler settings, stages.

use std::collections::{BTreeMap, BTreeSet};

use super::fault::{Faults, Rule, say};
use super::record::{Across, Bounded, Cut, Record, Rect, Sheet, Ticks, Verdict};
use super::supply::Origin;
use crate::fabric::Family;
use crate::length::{Length, Units};

/// A layout: the size of the sheet and its cuts, whatever their order.
type Layout = (Ticks, Ticks, Vec<(Rect, bool, Ticks)>);

/// Recomputes every figure from sheets that have been found right.
pub(super) fn check(record: &Record, origins: &[Origin], faults: &mut Faults) {
    let said = &record.preferences;
    let mark = said.ruler_mark;
    if ![Units::Inches, Units::Metric].map(|units| units.mark().ticks()).contains(&mark) {
        faults.add(Rule::Preferences, "", format!("{} is no mark of a usual ruler", say(mark)));
        return;
    }
    let layouts: BTreeMap<Layout, &Sheet> =
        record.sheets.iter().map(|sheet| (layout(sheet), sheet)).collect();
    let (mut settings, mut off_ruler, mut deepest) = (0, 0, 0);
    for sheet in layouts.values() {
        let set: BTreeSet<Ticks> = sheet.cuts.iter().map(|cut| cut.at).collect();
        settings += set.len();
        off_ruler += set.iter().filter(|&at| at % mark != 0).count();
        deepest = deepest.max(stages(sheet));
    }
    let figures = [
        ("different layouts", i128::from(said.layouts.reached), count(layouts.len())),
        ("ruler settings", said.settings.into(), count(settings)),
        ("ruler settings between marks", said.off_ruler.into(), count(off_ruler)),
        ("stages", said.stages.into(), count(deepest)),
        ("worth of useful leftovers", said.leftovers.reached.into(), leftovers(record, origins)),
    ];
    for (name, said, found) in figures {
        if said != found {
            faults.add(Rule::Preferences, "", format!("{name}: {said} by the record, {found} by its sheets"));
        }
    }
    bound("leftovers", &said.leftovers, i64::ge, record, faults);
    bound("layouts", &said.layouts, i64::le, record, faults);
    if said.text.trim().is_empty() && !record.sheets.is_empty() {
        faults.add(Rule::Reason, "", "the preferences are not put in words".to_owned());
    }
}

/// A claim about the best of a complete plan: what `may` stand to what is reached, and equal only when claimed.
fn bound(name: &str, said: &Bounded, may: fn(&i64, &i64) -> bool, record: &Record, faults: &mut Faults) {
    let Bounded { reached, bound, claimed } = *said;
    let message = match bound {
        Some(_) if record.verdict != Verdict::Fits => {
            format!("{name}: a bound for a plan that is not complete")
        }
        Some(bound) if !may(&bound, &reached) => {
            format!("{name}: the bound {bound} is past the {reached} reached")
        }
        _ if claimed != (bound == Some(reached)) => {
            let word = if claimed { "claimed" } else { "not claimed" };
            format!(
                "{name}: {reached} with bound {} is said to be {word}",
                bound.map_or("none".to_owned(), |b| b.to_string())
            )
        }
        _ => return,
    };
    faults.add(Rule::PreferenceBound, "", message);
}

fn count(number: usize) -> i128 {
    i128::try_from(number).unwrap_or(i128::MAX)
}

fn layout(sheet: &Sheet) -> Layout {
    let cut = |cut: &Cut| (cut.region, cut.across == Across::Width, cut.at);
    let mut cuts: Vec<_> = sheet.cuts.iter().map(cut).collect();
    cuts.sort_unstable();
    (sheet.width, sheet.height, cuts)
}

/// The most changes of direction that any part of a sheet goes through, the first cut included.
fn stages(sheet: &Sheet) -> usize {
    let whole = Rect { x: 0, y: 0, width: sheet.width, height: sheet.height };
    let mut made: BTreeMap<Rect, (usize, Option<Across>)> = BTreeMap::from([(whole, (0, None))]);
    for cut in &sheet.cuts {
        let (stage, last) = made.get(&cut.region).copied().unwrap_or_default();
        let stage = stage + usize::from(last != Some(cut.across));
        for part in super::replay::halves(cut.region, cut.across, cut.at) {
            made.insert(part, (stage, Some(cut.across)));
        }
    }
    made.values().map(|&(stage, _)| stage).max().unwrap_or(0)
}

/// Area times shorter side of every leftover whose shorter side is useful, in square ticks times inches, rounded down;
/// what is not used of yardage is none.
fn leftovers(record: &Record, origins: &[Origin]) -> i128 {
    let bolt = |origin: &Origin| origin.cut.is_some_and(|cut| cut.entry().family == Family::Yardage);
    let sheets = record.sheets.iter().zip(origins).filter(|(_, origin)| !bolt(origin));
    let worth = |rect: &Rect| {
        let shorter = rect.width.min(rect.height);
        if shorter < record.rules.useful_side { 0 } else { rect.area() * i128::from(shorter) }
    };
    let worth: i128 = sheets.flat_map(|(sheet, _)| &sheet.leftovers).map(worth).sum();
    worth.div_euclid(i128::from(Length::TICKS_PER_INCH))
}
