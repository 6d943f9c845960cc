//! What the quilter has decided is kept, unless the alternative says otherwise.

use std::collections::BTreeMap;

use super::changes::Changes;
use super::fault::{Faults, Rule};
use super::record::{Record, SetName};
use super::wanted::{Want, Wanted};
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
pub(super) fn decided<'a>(
    placements: &'a Placements,
    wanted: &'a Wanted,
    changes: &Changes,
    faults: &mut Faults,
) -> BTreeMap<&'a SetName, &'a str> {
    let mut decided: BTreeMap<&SetName, &str> = BTreeMap::new();
    let by_role = by_role(wanted);
    for row in &placements.rows {
        let narrowed = Narrowed::by(row);
        let (first, last) = row.copy.map_or((0, u64::MAX), |copy| (copy.into(), copy.into()));
        let role = plain(&row.role);
        let mut names_something = false;
        let pieces = by_role.range((role.clone(), first)..=(role, last));
        for piece in pieces.flat_map(|(_, pieces)| pieces).filter(|piece| narrowed.names(piece)) {
            names_something = true;
            let before = decided.insert(&piece.want.set, &row.print);
            if before.is_some_and(|before| !same(before, &row.print)) {
                let message =
                    format!("line {} of the placements decides {} anew", row.line, piece.want.set.say());
                faults.add(Rule::Inputs, "", message);
            }
        }
        // Where less is made, a decision about the rest has nothing left to name; nor has one about a role, a block or a
        // copy that the pattern does not have.
        let less = !changes.makes.is_empty() || changes.resized;
        if !names_something && !less && !left_over(row, wanted) {
            let message = format!("line {} of the placements names nothing in the pattern", row.line);
            faults.add(Rule::Inputs, "", message);
        }
    }
    decided
}

/// True when the pattern has no piece of the row's role, or none of that copy of its block.
fn left_over(row: &Placement, wanted: &Wanted) -> bool {
    let mut kinds = wanted.pieces.keys();
    let narrowed = Narrowed::by(row);
    let is_there = |copy: u64, block: &str| {
        narrowed.block.as_ref().is_none_or(|named| *named == plain(block))
            && row.copy.is_none_or(|named| u64::from(named) <= copy)
    };
    let role = plain(&row.role);
    !wanted.pieces.keys().any(|kind| plain(&kind.role) == role)
        || !kinds.any(|kind| is_there(kind.copy, &kind.block))
}

/// A piece with its names in the form in which they are compared.
struct Named<'a> {
    block: String,
    label: String,
    want: &'a Want,
}

/// Pieces by role and copy: a file of placements may have a row for every piece.
fn by_role(wanted: &Wanted) -> BTreeMap<(String, u64), Vec<Named<'_>>> {
    let mut by_role: BTreeMap<(String, u64), Vec<Named<'_>>> = BTreeMap::new();
    for (kind, wants) in &wanted.pieces {
        let pieces = by_role.entry((plain(&kind.role), kind.copy)).or_default();
        pieces.extend(wants.iter().map(|want| Named {
            block: plain(&kind.block),
            label: plain(&kind.label),
            want,
        }));
    }
    by_role
}

/// How far a row narrows its role down; what it leaves blank, it does not.
struct Narrowed {
    block: Option<String>,
    label: Option<String>,
    number: Option<u64>,
}

impl Narrowed {
    fn by(row: &Placement) -> Narrowed {
        Narrowed {
            block: row.block.as_deref().map(plain),
            label: row.label.as_deref().map(plain),
            number: row.piece.map(u64::from),
        }
    }

    fn names(&self, piece: &Named<'_>) -> bool {
        self.block.as_ref().is_none_or(|block| *block == piece.block)
            && self.label.as_ref().is_none_or(|label| *label == piece.label)
            && self.number.is_none_or(|number| number == piece.want.number)
    }
}

/// People's names for one thing differ in case and spaces.
fn plain(name: &str) -> String {
    name.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase()
}

/// True when two names differ in case and spaces only.
pub(super) fn same(one: &str, other: &str) -> bool {
    plain(one) == plain(other)
}
