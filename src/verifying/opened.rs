//! How much fabric a plan opens, and what it claims about the least.

use super::fault::{Faults, Rule, say};
use super::record::{Record, Sheet};
use super::supply::Origin;
use crate::fabric::Family;

/// Recomputes the length used of every sheet, and the sum of width x used x weight.
pub(super) fn check(record: &Record, origins: &[Origin], places: &[String], faults: &mut Faults) {
    let mut opened: i128 = 0;
    for ((sheet, origin), place) in record.sheets.iter().zip(origins).zip(places) {
        // A cut that does not exist was reported with the sheet; it counts as a whole sheet of the dearest.
        let family = origin.cut.map_or(Family::Yardage, |cut| cut.entry().family);
        let used = used(sheet, family);
        if sheet.used != used {
            let message = format!("{} is said to be used, it is {}", say(sheet.used), say(used));
            faults.add(Rule::Used, place, message);
        }
        let weight = record.rules.weights[weight_index(family)];
        opened += i128::from(sheet.width) * i128::from(used) * i128::from(weight);
    }
    let fabric = &record.fabric;
    if fabric.opened != opened {
        let message = format!("{} is said to be opened, the sheets add up to {opened}", fabric.opened);
        faults.add(Rule::Opened, "", message);
    }
    if fabric.bound > fabric.opened {
        let message = format!("the bound {} is more than the {} opened", fabric.bound, fabric.opened);
        faults.add(Rule::Bound, "", message);
    } else if fabric.proved != (fabric.bound == fabric.opened) {
        let word = if fabric.proved { "proved" } else { "not proved" };
        let message =
            format!("{} opened with bound {} is said to be {word} least", fabric.opened, fabric.bound);
        faults.add(Rule::Bound, "", message);
    }
}

/// Yardage is used up to its last piece, anything else as a whole.
fn used(sheet: &Sheet, family: Family) -> i64 {
    match family {
        Family::Yardage => sheet.pieces.iter().map(|piece| piece.rect.top()).max().unwrap_or(0),
        Family::Scrap | Family::Precut | Family::FatQuarter => sheet.height,
    }
}

fn weight_index(family: Family) -> usize {
    match family {
        Family::Scrap => 0,
        Family::Precut => 1,
        Family::FatQuarter => 2,
        Family::Yardage => 3,
    }
}
