//! Decisions -> the place of each block copy that has one, with every contradiction named.

use std::collections::BTreeMap;

use crate::diagnostic::{Diagnostic, Gathered};
use crate::pattern::layout::Place;
use crate::pattern::{BlockId, Pattern};
use crate::placements::pins::{find_block, left_out};
use crate::placements::{PlacedCopy, Placements};

/// Where the quilter wants copies of blocks, by block and copy.
///
/// Faults: a place that the layout has for another block; two places for one copy; two copies for one place. A block, copy
/// or place that is not there is a fault in a file of which nothing fits the pattern, and otherwise left over from an
/// earlier pattern: the row is left out with a warning. Several rows of a copy may name its place alike.
pub fn places(
    placements: &Placements,
    pattern: &Pattern,
) -> (BTreeMap<(BlockId, u32), Place>, Vec<Diagnostic>) {
    let mut check = Check {
        placements,
        diagnostics: Gathered::default(),
        surplus: Vec::new(),
        places: BTreeMap::new(),
        taken: BTreeMap::new(),
    };
    let layout = pattern.layout.as_ref().map(|layout| layout.places()).unwrap_or_default();
    let layout: BTreeMap<Place, BlockId> =
        layout.into_iter().map(|(place, cell)| (place, cell.block)).collect();
    for row in &placements.places {
        match find_block(placements, pattern, row.line, &row.block, Some(row.copy)) {
            Err(said) if said.is_error() => check.diagnostics.push(*said),
            Err(said) => check.surplus.push(*said),
            Ok(block) => check.row(row, block, &layout, pattern),
        }
    }
    // Rows that decide on prints show by themselves whether the file is of this pattern.
    let fitting = !check.places.is_empty() || !placements.rows.is_empty();
    check.diagnostics.extend(left_out(check.surplus, fitting));
    (
        check.places.into_iter().map(|(copy, (place, _))| (copy, place)).collect(),
        check.diagnostics.into_list(),
    )
}

struct Check<'a> {
    placements: &'a Placements,
    diagnostics: Gathered,
    /// What is told of rows that name what the pattern does not have.
    surplus: Vec<Diagnostic>,
    /// The place of each copy, with the line that says so.
    places: BTreeMap<(BlockId, u32), (Place, u64)>,
    /// The copy on each place, with the line that says so.
    taken: BTreeMap<Place, ((BlockId, u32), u64)>,
}

impl Check<'_> {
    fn error(&mut self, code: &'static str, row: &PlacedCopy, field: &str, message: String, help: &str) {
        self.diagnostics.push(Diagnostic::error(code, self.placements.place(row.line, field), message, help));
    }

    fn row(
        &mut self,
        row: &PlacedCopy,
        block: BlockId,
        layout: &BTreeMap<Place, BlockId>,
        pattern: &Pattern,
    ) {
        let Place { row: down, column } = row.place;
        let name = &pattern.blocks[block.0].name;
        match layout.get(&row.place) {
            None => {
                let (field, message, help) = no_such_place(row.place, layout);
                let place = self.placements.place(row.line, field);
                return self.surplus.push(Diagnostic::warning("P113", place, message, &help));
            }
            Some(other) if *other != block => {
                let other = &pattern.blocks[other.0].name;
                let message =
                    format!("row {down}, column {column} is a place for \"{other}\", not for \"{name}\"");
                let help = format!("write {}", listed(layout, block));
                return self.error("P114", row, "column", message, &help);
            }
            Some(_) => {}
        }
        let copy = (block, row.copy);
        match self.places.get(&copy) {
            Some((place, line)) if *place != row.place => {
                let message = format!(
                    "{name} {} is put at row {down}, column {column} here and at row {}, column {} on line {line}",
                    row.copy, place.row, place.column
                );
                return self.error(
                    "P115",
                    row,
                    "row",
                    message,
                    "keep one of the two places, and leave the other empty",
                );
            }
            Some(_) => return,
            None => {}
        }
        match self.taken.get(&row.place) {
            Some(((_, other), line)) => {
                let message =
                    format!("row {down}, column {column} is given to {name} {other} on line {line} already");
                self.error("P116", row, "column", message, "give one of the two another place, or none");
            }
            None => {
                self.places.insert(copy, (row.place, row.line));
                self.taken.insert(row.place, (copy, row.line));
            }
        }
    }
}

/// The field that is wrong, what is wrong with it, and what to do.
fn no_such_place(place: Place, layout: &BTreeMap<Place, BlockId>) -> (&'static str, String, String) {
    let Place { row, column } = place;
    let rows = layout.keys().map(|place| place.row).max().unwrap_or(0);
    let columns = layout.keys().filter(|place| place.row == row).map(|place| place.column).max();
    let smaller = "write a smaller number, or leave row and column empty".to_string();
    match columns {
        None if rows == 0 => {
            let help = "leave row and column empty".to_string();
            (
                "row",
                "the pattern does not say how its blocks are set, so there are no places".to_string(),
                help,
            )
        }
        None => ("row", format!("there is no row {row}; the layout has {rows} rows of blocks"), smaller),
        Some(columns) => {
            ("column", format!("there is no column {column} in row {row}; it has {columns} blocks"), smaller)
        }
    }
}

/// The places for a block in words, not more than a person wants to read.
fn listed(layout: &BTreeMap<Place, BlockId>, block: BlockId) -> String {
    let places = layout.iter().filter(|(_, other)| **other == block);
    let mut words: Vec<String> =
        places.map(|(place, _)| format!("row {}, column {}", place.row, place.column)).collect();
    if words.len() > 6 {
        words.truncate(6);
        words.push("...".to_string());
    }
    words.join("; or ")
}
