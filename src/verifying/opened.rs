//! How much fabric a plan opens, and what it claims about the least.

use std::collections::BTreeSet;

use super::fault::{Faults, Rule, say};
use super::record::{CutPiece, Record, Sheet, Verdict};
use super::supply::Origin;
use crate::fabric::Family;
use crate::pattern::Pattern;
use crate::pattern::rules::Direction;

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
    } else if !(fabric.bound..=opened).contains(&fabric.least_met) {
        let least = fabric.least_met;
        let message =
            format!("{least} is said to be the least found, between {} and {}", fabric.bound, fabric.opened);
        faults.add(Rule::Bound, "", message);
    } else if fabric.proved != (fabric.bound == fabric.opened) {
        let word = if fabric.proved { "proved" } else { "not proved" };
        let message =
            format!("{} opened with bound {} is said to be {word} least", fabric.opened, fabric.bound);
        faults.add(Rule::Bound, "", message);
    }
}

/// Checks what is said of keeping the up of prints: how many there are, what they are cut into and how much of that is
/// pieces, and that a plan free to turn pieces is never said to need more than this one, which turns none.
pub(super) fn upright(record: &Record, origins: &[Origin], pattern: &Pattern, faults: &mut Faults) {
    let Some(upright) = &record.upright else { return };
    let matters = |piece: &CutPiece| {
        let role = pattern.roles.iter().find(|role| role.name == piece.role);
        let free = role.is_some_and(|role| role.rules.direction == Direction::Free);
        piece.rect.width != piece.rect.height && !free
    };
    let sheets: Vec<(&Sheet, &Origin)> = record
        .sheets
        .iter()
        .zip(origins)
        .filter(|(sheet, origin)| origin.directional && sheet.pieces.iter().any(matters))
        .collect();
    let prints: BTreeSet<&str> = sheets.iter().map(|(_, origin)| origin.print.as_str()).collect();
    let mut cut_into = 0;
    let mut pieces = 0;
    for (sheet, origin) in &sheets {
        let family = origin.cut.map_or(Family::Yardage, |cut| cut.entry().family);
        cut_into += i128::from(sheet.width) * i128::from(used(sheet, family));
        let area = |piece: &CutPiece| i128::from(piece.rect.width) * i128::from(piece.rect.height);
        pieces += sheet.pieces.iter().map(area).sum::<i128>();
    }
    if (upright.cut_into, upright.pieces) != (cut_into, pieces) {
        let message = format!(
            "these prints are said to be cut into {} with pieces of {}, the sheets add up to {cut_into} and {pieces}",
            upright.cut_into, upright.pieces
        );
        faults.add(Rule::Upright, "", message);
    }
    if usize::try_from(upright.prints) != Ok(prints.len()) || prints.is_empty() {
        let message = format!("{} prints are said to keep their up, {} do", upright.prints, prints.len());
        faults.add(Rule::Upright, "", message);
    }
    if record.verdict != Verdict::Fits {
        let message = format!("the verdict is {}, so there is nothing to compare", record.verdict.word());
        faults.add(Rule::Upright, "", message);
    }
    if upright.opened > record.fabric.opened || upright.bound > upright.opened {
        let message = format!(
            "free to turn it opens {} with bound {}, as it is {}",
            upright.opened, upright.bound, record.fabric.opened
        );
        faults.add(Rule::Upright, "", message);
    }
    if upright.text.trim().is_empty() {
        faults.add(Rule::Reason, "", "the cost of keeping the up is not put in words".to_owned());
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
