//! Placements CSV -> [`Placements`]. Whether the names exist is found out against a stash and a pattern, by `pins`.

use crate::diagnostic::{Diagnostic, Place};
use crate::pattern::layout;
use crate::placements::{PlacedCopy, Placement, Placements};
use crate::spreadsheet::{self, Cells, Column, Reported, tidy};

const COLUMNS: &[Column] = &[
    Column { name: "block", spellings: &["block name", "blocks"] },
    Column { name: "copy", spellings: &["block number", "number", "no", "copy of block", "which copy"] },
    Column { name: "role", spellings: &["fabric role", "fabric letter", "letter"] },
    Column { name: "print", spellings: &["prints", "fabric", "print name", "fabric name"] },
    Column { name: "label", spellings: &["piece label"] },
    Column { name: "piece", spellings: &["piece number", "which piece"] },
    Column { name: "row", spellings: &["row of the quilt", "quilt row"] },
    Column { name: "column", spellings: &["column of the quilt", "quilt column", "place in the row"] },
];

/// Reads a placements file. A row without a print is left open, and that is said, unless it gives a block its place.
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
    let mut placements = Placements { file: file_name.to_string(), rows: Vec::new(), places: Vec::new() };
    let Some(sheet) = sheet else {
        return (placements, diagnostics.into_list());
    };
    sheet.require("role", &mut diagnostics);
    sheet.require("print", &mut diagnostics);
    if !sheet.has("role") || !sheet.has("print") {
        return (placements, diagnostics.into_list());
    }
    sheet.note_unused(&mut diagnostics);
    let mut open = 0;
    for row in &sheet.rows {
        let mut cells = Cells::new(&sheet, row, &mut diagnostics);
        let copy = cells.count("copy");
        let placed = !cells.text("row").is_empty() || !cells.text("column").is_empty();
        placements.places.extend(place(&mut cells, copy).ok().flatten());
        match placement(&mut cells, copy, placed) {
            Ok(placement) if !placement.print.is_empty() => placements.rows.push(placement),
            Ok(_) if !placed => open += 1,
            Ok(_) | Err(Reported) => {}
        }
    }
    if open > 0 {
        let message = match open {
            1 => "one row names no print and is left open".to_string(),
            many => format!("{many} rows name no print and are left open"),
        };
        diagnostics.push(Diagnostic::note("P111", Place::file(file_name), message, ""));
    }
    (placements, diagnostics.into_list())
}

/// The place a row gives to a copy of a block, if it does.
fn place(cells: &mut Cells, copy: Result<Option<u32>, Reported>) -> Result<Option<PlacedCopy>, Reported> {
    let (row, column) = (cells.count("row"), cells.count("column"));
    let (row, column) = (row?, column?);
    if row.is_none() && column.is_none() {
        return Ok(None);
    }
    let block = tidy(cells.text("block"));
    let copy = copy?;
    // A copy without its block is told where the print is read.
    let missing = [
        ("row", row.is_none()),
        ("column", column.is_none()),
        ("copy", copy.is_none()),
        ("block", block.is_empty() && copy.is_none()),
    ];
    if let Some((field, _)) = missing.into_iter().find(|(_, missing)| *missing) {
        let message = format!("a place is named without its {field}");
        let help = "a place needs block, copy, row and column; or leave row and column empty";
        return Err(cells.error("P112", field, message, help));
    }
    Ok(row.zip(column).zip(copy).filter(|_| !block.is_empty()).map(|((row, column), copy)| PlacedCopy {
        line: cells.row.line,
        block,
        copy,
        place: layout::Place { row, column },
    }))
}

fn placement(
    cells: &mut Cells,
    copy: Result<Option<u32>, Reported>,
    placed: bool,
) -> Result<Placement, Reported> {
    // A row may say nothing but a place.
    let blank = placed && cells.text("role").is_empty() && cells.text("print").is_empty();
    let role = if blank { Ok(String::new()) } else { cells.required("role").map(tidy) };
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
