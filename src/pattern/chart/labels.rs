//! Labels: one label means one thing in a block, and a piece without one gets one.

use std::collections::{BTreeMap, BTreeSet};

use crate::diagnostic::{Diagnostic, Gathered};
use crate::pattern::chart::line::Line;
use crate::pattern::chart::top;
use crate::pattern::{Pattern, RoleId};
use crate::spreadsheet::{Sheet, key, list, same_name};

/// Reports a label that stands for two sizes, roles or shapes in one block: on the mat it could not be told which.
pub(super) fn check(sheet: &Sheet, lines: &[Line], diagnostics: &mut Gathered) {
    let mut first: BTreeMap<(&str, String), &Line> = BTreeMap::new();
    for line in lines.iter().filter(|line| !line.label.is_empty()) {
        let first = *first.entry((&line.block_key, key(&line.label))).or_insert(line);
        let (Some(here), Some(there)) = (&line.piece, &first.piece) else {
            continue;
        };
        let other_role = match (&line.role, &first.role) {
            (Some(here), Some(there)) => !same_name(here, there),
            _ => false,
        };
        let what = if (here.width, here.height) != (there.width, there.height) {
            "size"
        } else if other_role {
            "role"
        } else if here.shape != there.shape {
            "shape"
        } else {
            continue;
        };
        let message =
            format!("\"{}\" has another {what} in \"{}\" on line {}", line.label, line.block, first.row.line);
        diagnostics.push(Diagnostic::error(
            "C106",
            sheet.place(line.row, "label"),
            message,
            "give the two pieces different labels",
        ));
    }
}

/// Makes up labels where there are none: the role and a number that no other label of the block has.
pub(super) fn fill(pattern: &mut Pattern, sheet: &Sheet, diagnostics: &mut Gathered) {
    let mut made = Vec::new();
    for block in &mut pattern.blocks {
        let mut taken: BTreeSet<String> =
            block.pieces.iter().map(|piece| key(&piece.label)).filter(|label| !label.is_empty()).collect();
        let mut last: BTreeMap<RoleId, u32> = BTreeMap::new();
        for piece in block.pieces.iter_mut().filter(|piece| piece.label.is_empty()) {
            let number = last.entry(piece.role).or_insert(0);
            piece.label = free_label(&pattern.roles[piece.role.0].name, number, &taken);
            taken.insert(key(&piece.label));
            made.push(format!("{} in {}", piece.label, block.name));
        }
    }
    if !made.is_empty() {
        let shown =
            if made.len() > 4 { vec![made[0].clone(), format!("{} more", made.len() - 1)] } else { made };
        let message = format!("labels were made up for pieces without one: {}", list(shown));
        diagnostics.push(Diagnostic::note("C115", top(sheet), message, ""));
    }
}

/// `A1`, `A2` ... for a letter, `background 1` ... for a name: the first after `last` that is not taken.
fn free_label(role: &str, last: &mut u32, taken: &BTreeSet<String>) -> String {
    let joint = if role.chars().count() <= 2 { "" } else { " " };
    loop {
        *last += 1;
        let label = format!("{role}{joint}{last}");
        if !taken.contains(&key(&label)) {
            return label;
        }
    }
}
