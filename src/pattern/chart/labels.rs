//! Labels: one label means one thing in a block, and a piece without one gets one.

use crate::diagnostic::Diagnostic;
use crate::pattern::chart::line::Line;
use crate::pattern::chart::top;
use crate::pattern::{Block, Pattern};
use crate::spreadsheet::{Sheet, list, same_name};

/// Reports a label that stands for two sizes, roles or shapes in one block: on the mat it could not be told which.
pub(super) fn check(sheet: &Sheet, lines: &[Line], diagnostics: &mut Vec<Diagnostic>) {
    for (index, line) in lines.iter().enumerate().filter(|(_, line)| !line.label.is_empty()) {
        let same =
            |other: &&Line| same_name(&other.block, &line.block) && same_name(&other.label, &line.label);
        let Some(first) = lines[..index].iter().find(same) else {
            continue;
        };
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
pub(super) fn fill(pattern: &mut Pattern, sheet: &Sheet, diagnostics: &mut Vec<Diagnostic>) {
    let mut made = Vec::new();
    for block in &mut pattern.blocks {
        for index in 0..block.pieces.len() {
            if block.pieces[index].label.is_empty() {
                let label = free_label(block, &pattern.roles[block.pieces[index].role.0].name);
                made.push(format!("{} in {}", label, block.name));
                block.pieces[index].label = label;
            }
        }
    }
    if !made.is_empty() {
        let shown =
            if made.len() > 4 { vec![made[0].clone(), format!("{} more", made.len() - 1)] } else { made };
        let message = format!("labels were made up for pieces without one: {}", list(shown));
        diagnostics.push(Diagnostic::note("C115", top(sheet), message, ""));
    }
}

/// `A1`, `A2` ... for a letter, `background 1` ... for a name.
fn free_label(block: &Block, role: &str) -> String {
    let joint = if role.chars().count() <= 2 { "" } else { " " };
    let labels = (1..).map(|number: u32| format!("{role}{joint}{number}"));
    let is_free = |label: &String| block.pieces.iter().all(|piece| !same_name(&piece.label, label));
    labels.into_iter().find(is_free).unwrap_or_default()
}
