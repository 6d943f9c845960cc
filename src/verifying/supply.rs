//! Where each sheet comes from: its lot in the stash, or a purchase of the alternative.

use std::collections::{BTreeMap, BTreeSet};

use super::changes::Changes;
use super::fault::{Faults, Rule, say};
use super::record::{Purchase, Sheet, Ticks};
use crate::fabric::{Cut, Trued};
use crate::stash::{Lot, LotId, Stash};

/// What is known of a sheet from its origin, whatever the record says about it.
pub(super) struct Origin {
    /// Name of the print.
    pub(super) print: String,
    /// The cut of fabric; `None` when the record names none that exists.
    pub(super) cut: Option<Cut>,
    /// True when pieces may not be turned.
    pub(super) directional: bool,
    /// Index among the purchases, when bought.
    pub(super) purchase: Option<usize>,
}

/// Finds the origin of every sheet, and checks that the sheet is what its origin makes it.
pub(super) struct Supply<'a> {
    stash: &'a Stash,
    changes: &'a Changes,
    /// Run default, for bought fabric.
    allowance: Ticks,
    /// Lot row or purchase, and copy.
    by_row: BTreeMap<u64, LotId>,
    seen: BTreeSet<(Option<u64>, Option<usize>, u64)>,
    /// Rows of which a sheet was used.
    used_rows: BTreeSet<u64>,
}

impl<'a> Supply<'a> {
    /// Everything that may be cut from.
    pub(super) fn new(stash: &'a Stash, changes: &'a Changes, allowance: Ticks) -> Supply<'a> {
        let rows = stash.lots.iter().enumerate();
        let by_row = rows.filter_map(|(place, lot)| Some((u64::from(lot.row?), LotId(place)))).collect();
        Supply { stash, changes, allowance, by_row, seen: BTreeSet::new(), used_rows: BTreeSet::new() }
    }

    /// The origin of `sheet`; of a sheet from nowhere, what the record says of it.
    pub(super) fn origin(&mut self, sheet: &Sheet, place: &str, faults: &mut Faults) -> Origin {
        let found = match (sheet.lot, &sheet.bought) {
            (Some(row), None) => self.lot_of(row, sheet, place, faults),
            (None, Some(_)) => self.purchase_of(sheet, place, faults),
            _ => {
                let message = "exactly one of lot and bought must be given".to_owned();
                faults.add(Rule::SheetLot, place, message);
                None
            }
        };
        found.unwrap_or_else(|| Origin {
            print: sheet.print.clone(),
            cut: Cut::find(&sheet.cut),
            directional: false,
            purchase: None,
        })
    }

    /// Reports lots that were released for nothing.
    pub(super) fn close(&self, faults: &mut Faults) {
        for row in self.changes.released.difference(&self.used_rows) {
            faults.add(Rule::Change, "", format!("\"release\": nothing is cut from row {row}"));
        }
    }

    fn lot_of(&mut self, row: u64, sheet: &Sheet, place: &str, faults: &mut Faults) -> Option<Origin> {
        let Some(lot) = self.by_row.get(&row).map(|&lot| self.stash.lot(lot)) else {
            let message = format!("the stash has no row {row}; it has {} lots", self.stash.lots.len());
            faults.add(Rule::SheetLot, place, message);
            return None;
        };
        let print = &self.stash.print(lot.print).name;
        if sheet.print != *print {
            let message = format!("its print is {}, the lot is {print}", sheet.print);
            faults.add(Rule::SheetPrint, place, message);
        }
        let entry = lot.cut.entry();
        if sheet.cut != entry.name {
            let message = format!("its cut is {}, the lot is {}", sheet.cut, entry.name);
            faults.add(Rule::SheetCut, place, message);
        }
        self.copy((Some(row), None), sheet.copy, u64::from(lot.count), place, faults);
        size(sheet, after_truing(lot), place, faults);
        if lot.keep && !self.changes.released.contains(&row) {
            faults.add(Rule::KeptBack, place, format!("row {row} of the stash is kept back"));
        }
        self.used_rows.insert(row);
        Some(Origin {
            print: print.clone(),
            cut: Some(lot.cut),
            directional: lot.directional,
            purchase: None,
        })
    }

    fn purchase_of(&mut self, sheet: &Sheet, place: &str, faults: &mut Faults) -> Option<Origin> {
        if sheet.bought.as_ref().is_some_and(|text| text.trim().is_empty()) {
            faults.add(Rule::Reason, place, "what was bought is left blank".to_owned());
        }
        let candidates: Vec<(usize, &Purchase)> = self
            .changes
            .bought
            .iter()
            .enumerate()
            .filter(|(_, bought)| bought.print == sheet.print && bought.cut == sheet.cut)
            .collect();
        let allowance = self.allowance;
        let size_of = move |bought: &Purchase| {
            let cut = Cut::find(&bought.cut)?;
            Some(less(cut.entry().trued, bought.width, bought.length, allowance))
        };
        let exact = candidates.iter().find(|(_, b)| size_of(b) == Some((sheet.width, sheet.height)));
        let Some(&(index, bought)) = exact.or(candidates.first()) else {
            let message = format!("no {} of {} is among the purchases", sheet.cut, sheet.print);
            faults.add(Rule::SheetLot, place, message);
            return None;
        };
        self.copy((None, Some(index)), sheet.copy, bought.count, place, faults);
        if let Some(expected) = size_of(bought) {
            size(sheet, expected, place, faults);
        }
        // Bought fabric of a print that has an "up" has one too.
        let held = self.stash.lots.iter().filter(|lot| self.stash.print(lot.print).name == bought.print);
        Some(Origin {
            print: bought.print.clone(),
            cut: Cut::find(&bought.cut),
            directional: held.into_iter().any(|lot| lot.directional),
            purchase: Some(index),
        })
    }

    fn copy(
        &mut self,
        (row, purchase): (Option<u64>, Option<usize>),
        copy: u64,
        count: u64,
        place: &str,
        faults: &mut Faults,
    ) {
        if copy == 0 || copy > count {
            let message = format!("it is copy {copy} of {count}");
            faults.add(Rule::SheetCopy, place, message);
        }
        if !self.seen.insert((row, purchase, copy)) {
            faults.add(Rule::SheetTwice, place, format!("copy {copy} is already in use"));
        }
    }
}

/// Width and length of a sheet of `lot`.
pub(super) fn after_truing(lot: &Lot) -> (Ticks, Ticks) {
    less(lot.cut.entry().trued, lot.width.ticks(), lot.length.ticks(), lot.allowance.ticks())
}

/// Width and length once the trued sides have lost the allowance.
fn less(trued: Trued, width: Ticks, length: Ticks, allowance: Ticks) -> (Ticks, Ticks) {
    match trued {
        Trued::Both => (width - allowance, length - allowance),
        Trued::Width => (width - allowance, length),
        Trued::Length => (width, length - allowance),
    }
}

fn size(sheet: &Sheet, (width, height): (Ticks, Ticks), place: &str, faults: &mut Faults) {
    if (sheet.width, sheet.height) != (width, height) {
        let message = format!(
            "it is {} x {}; squared up it must be {} x {}",
            say(sheet.width),
            say(sheet.height),
            say(width),
            say(height)
        );
        faults.add(Rule::SheetSize, place, message);
    }
}
