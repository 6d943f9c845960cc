//! What the quilter has decided is kept, unless the alternative says otherwise.

use std::collections::BTreeMap;

use super::changes::Changes;
use super::fault::{Faults, Rule};
use super::record::{Record, SetName};
use super::wanted::{PieceKind, Want, Wanted};
use crate::placements::{Placement, Placements};

/// Checks the print of every placed set against the placements.
pub(super) fn check(
    record: &Record,
    placements: &Placements,
    wanted: &Wanted,
    changes: &Changes,
    faults: &mut Faults,
) {
    let decided = decided(placements, wanted, changes, faults);
    for (set, print) in &changes.other_print {
        if !decided.get(set).is_some_and(|decided| same(decided, print)) {
            let message = format!("\"other print\": {print} was not decided for {}", set.say());
            faults.add(Rule::Change, "", message);
        }
    }
    for placed in &record.sets {
        let Some(print) = decided.get(&placed.set) else { continue };
        match (changes.other_print.contains_key(&placed.set), same(print, &placed.print)) {
            (false, false) => {
                let message =
                    format!("{} is cut from {}, decided was {print}", placed.set.say(), placed.print);
                faults.add(Rule::Placement, "", message);
            }
            (true, true) => {
                let message = format!("\"other print\": {} keeps {print} all the same", placed.set.say());
                faults.add(Rule::Change, "", message);
            }
            _ => {}
        }
    }
}

/// The print decided for each set: a set takes the print of any of its pieces that a row names.
fn decided<'a>(
    placements: &'a Placements,
    wanted: &'a Wanted,
    changes: &Changes,
    faults: &mut Faults,
) -> BTreeMap<&'a SetName, &'a str> {
    let mut decided: BTreeMap<&SetName, &str> = BTreeMap::new();
    for row in &placements.rows {
        let mut names_something = false;
        for (kind, want) in
            wanted.pieces.iter().flat_map(|(kind, wants)| wants.iter().map(move |w| (kind, w)))
        {
            if !names(row, kind, want) {
                continue;
            }
            names_something = true;
            let before = decided.insert(&want.set, &row.print);
            if before.is_some_and(|before| !same(before, &row.print)) {
                let message = format!("line {} of the placements decides {} anew", row.line, want.set.say());
                faults.add(Rule::Inputs, "", message);
            }
        }
        // Where fewer copies are made, a decision about the others has nothing left to name.
        if !names_something && changes.makes.is_empty() {
            let message = format!("line {} of the placements names nothing in the pattern", row.line);
            faults.add(Rule::Inputs, "", message);
        }
    }
    decided
}

/// True when a row names this piece: what it leaves blank, it does not narrow down.
fn names(row: &Placement, kind: &PieceKind, want: &Want) -> bool {
    same(&row.role, &kind.role)
        && row.block.as_ref().is_none_or(|block| same(block, &kind.block))
        && row.copy.is_none_or(|copy| u64::from(copy) == kind.copy)
        && row.label.as_ref().is_none_or(|label| same(label, &kind.label))
        && row.piece.is_none_or(|number| u64::from(number) == want.number)
}

/// People's names for one thing differ in case and spaces.
fn same(one: &str, other: &str) -> bool {
    let words = |name: &str| name.split_whitespace().map(str::to_lowercase).collect::<Vec<_>>();
    words(one) == words(other)
}
