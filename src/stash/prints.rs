//! Rows -> prints: which rows are of one print, and where they contradict each other.

use std::collections::BTreeMap;

use crate::diagnostic::{Diagnostic, Gathered, Place};
use crate::spreadsheet::{Row, Sheet, key, same_name};
use crate::stash::{Lot, Print, PrintId};

/// The prints so far, each with what its rows said of it and the line that said it first.
#[derive(Debug, Default)]
pub(super) struct Prints {
    seen: Vec<Seen>,
    /// Compared form of a name -> its place in `seen`.
    index: BTreeMap<String, usize>,
}

#[derive(Debug)]
struct Seen {
    name: String,
    line: u64,
    directional: bool,
    /// True when any row says that it is directional.
    has_up: bool,
    color: Option<(String, u64)>,
    value: Option<(crate::fabric::Value, u64)>,
    respelled: bool,
}

impl Prints {
    /// The print called `name`, new or known; reports what `lot` says otherwise than the rows before.
    pub(super) fn place(
        &mut self,
        name: &str,
        lot: &Lot,
        sheet: &Sheet,
        row: &Row,
        diagnostics: &mut Gathered,
    ) -> PrintId {
        let color = lot.color.clone().map(|color| (color, row.line));
        let value = lot.value.map(|value| (value, row.line));
        let index = *self.index.entry(key(name)).or_insert(self.seen.len());
        if index == self.seen.len() {
            let (name, directional) = (name.to_string(), lot.directional);
            let line = row.line;
            let has_up = directional;
            self.seen.push(Seen { name, line, directional, has_up, color, value, respelled: false });
            return PrintId(index);
        }
        let seen = &mut self.seen[index];
        let place = |field| sheet.place(row, field);
        if seen.name != name && !seen.respelled {
            seen.respelled = true;
            let message =
                format!("\"{name}\" was taken as the print \"{}\" of line {}", seen.name, seen.line);
            diagnostics.push(Diagnostic::note("S110", place("print"), message, ""));
        }
        if seen.directional != lot.directional {
            diagnostics.push(directional(seen, lot, place("directional")));
            seen.has_up = true;
        }
        let differ = "one of the two rows may be another print, or a slip";
        match (&seen.color, &color) {
            (Some((before, line)), Some((now, _))) if !same_name(before, now) => {
                let message = format!("\"{}\" is {now} here and {before} on line {line}", seen.name);
                diagnostics.push(Diagnostic::warning("S108", place("color"), message, differ));
            }
            (None, Some(_)) => seen.color = color,
            _ => {}
        }
        match (seen.value, value) {
            (Some((before, line)), Some((now, _))) if before != now => {
                let message = format!("\"{}\" has another value here than on line {line}", seen.name);
                diagnostics.push(Diagnostic::warning("S108", place("value"), message, differ));
            }
            (None, Some(_)) => seen.value = value,
            _ => {}
        }
        PrintId(index)
    }

    /// By print: whether it has an up. Two rows of one print cannot differ in that, so one that says so is enough:
    /// a piece that lies wrong is worse than one that might have been turned.
    pub(super) fn directional(&self) -> Vec<bool> {
        self.seen.iter().map(|seen| seen.has_up).collect()
    }

    /// The prints in order of first appearance.
    pub(super) fn finish(self) -> Vec<Print> {
        self.seen.into_iter().map(|seen| Print { name: seen.name }).collect()
    }
}

fn directional(seen: &Seen, lot: &Lot, place: Place) -> Diagnostic {
    let not = |is: bool| if is { "directional" } else { "not directional" };
    let message = format!(
        "\"{}\" is {} here and {} on line {}; it was taken to have an up in every row",
        seen.name,
        not(lot.directional),
        not(seen.directional),
        seen.line
    );
    Diagnostic::warning("S109", place, message, "write yes or no in every row of the print")
}
