//! Placements CSV -> [`Placements`]. Whether the names exist is found out against a stash and a pattern, by `pins`.

use crate::diagnostic::{Diagnostic, Place};
use crate::placements::{Placement, Placements};
use crate::spreadsheet::{self, Cells, Column, Reported, tidy};

const COLUMNS: &[Column] = &[
    Column { name: "block", spellings: &["block name", "blocks"] },
    Column { name: "copy", spellings: &["block number", "number", "no", "copy of block", "which copy"] },
    Column { name: "role", spellings: &["fabric role", "fabric letter", "letter"] },
    Column { name: "print", spellings: &["prints", "fabric", "print name", "fabric name"] },
    Column { name: "label", spellings: &["piece label"] },
    Column { name: "piece", spellings: &["piece number", "which piece"] },
];

/// Reads a placements file. A row without a print is left open, and that is said.
///
/// ```
/// use cutcloth::placements;
/// let file = "block,copy,role,print\nUrchin,1,A,teal dot\n,,background,cream\n";
/// let (decided, diagnostics) = placements::read("placements.csv", file.as_bytes());
/// assert!(diagnostics.is_empty());
/// assert_eq!(decided.rows[0].block.as_deref(), Some("Urchin"));
/// assert_eq!(decided.rows[1].block, None);
/// ```
pub fn read(file_name: &str, bytes: &[u8]) -> (Placements, Vec<Diagnostic>) {
    let (sheet, mut diagnostics) = spreadsheet::read(file_name, bytes, COLUMNS);
    let mut placements = Placements { file: file_name.to_string(), rows: Vec::new() };
    let Some(sheet) = sheet else {
        return (placements, diagnostics);
    };
    sheet.require("role", &mut diagnostics);
    sheet.require("print", &mut diagnostics);
    if !sheet.has("role") || !sheet.has("print") {
        return (placements, diagnostics);
    }
    sheet.note_unused(&mut diagnostics);
    let mut open = 0;
    for row in &sheet.rows {
        match placement(&mut Cells::new(&sheet, row, &mut diagnostics)) {
            Ok(placement) if placement.print.is_empty() => open += 1,
            Ok(placement) => placements.rows.push(placement),
            Err(Reported) => {}
        }
    }
    if open > 0 {
        let message = match open {
            1 => "one row names no print and is left open".to_string(),
            many => format!("{many} rows name no print and are left open"),
        };
        diagnostics.push(Diagnostic::note("P111", Place::file(file_name), message, ""));
    }
    (placements, diagnostics)
}

fn placement(cells: &mut Cells) -> Result<Placement, Reported> {
    let role = cells.required("role").map(tidy);
    let copy = cells.count("copy");
    let piece = cells.count("piece");
    let named = |text: &str| (!text.is_empty()).then(|| tidy(text));
    let block = named(cells.text("block"));
    let label = named(cells.text("label"));
    let print = tidy(cells.text("print"));
    let copy = match copy {
        Ok(Some(_)) if block.is_none() => {
            let message = "a copy is named without its block".to_string();
            Err(cells.error("P110", "block", message, "write the block, or leave the copy empty too"))
        }
        other => other,
    };
    if matches!(piece, Ok(Some(_))) && label.is_none() {
        let message = "a piece is numbered without its label".to_string();
        return Err(cells.error("P110", "label", message, "write the label, or leave the piece empty too"));
    }
    Ok(Placement { line: cells.row.line, block, copy: copy?, role: role?, label, piece: piece?, print })
}
