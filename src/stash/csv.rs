//! Stash CSV -> [`Stash`]: rows in the quilter's own headings and spellings, every mistake said in one run.

use crate::diagnostic::{Diagnostic, Gathered, Severity};
use crate::fabric::Cut;
use crate::length::{Direction, Length, Unit, parse};
use crate::spreadsheet::{self, Cells, Reported, Sheet, list, near, tidy};
use crate::stash::columns::{COLUMNS, VALUES};
use crate::stash::prints::Prints;
use crate::stash::{Lot, Stash, color, price, size};

/// Reads a stash file.
///
/// * `default_allowance`: taken once off the width and once off the length of every lot whose own `allowance` is empty,
///   as its cut of fabric says.
///
/// Rows with errors are missing from the stash that is returned; use it only when no diagnostic is an error.
/// Sizes between two exact lengths are rounded down, allowances up, so that a plan never counts on fabric
/// that is not there.
///
/// ```
/// use cutcloth::length::Length;
/// use cutcloth::stash;
/// let file = "fabric;qty;type\nteal dot;2;10\" sq\n";
/// let (stash, diagnostics) = stash::read("shelf.csv", file.as_bytes(), Length::ZERO);
/// assert!(diagnostics.is_empty());
/// assert_eq!(stash.lots[0].count, 2);
/// assert_eq!(stash.lots[0].width, Length::from_inches(10));
/// ```
pub fn read(file_name: &str, bytes: &[u8], default_allowance: Length) -> (Stash, Vec<Diagnostic>) {
    let (sheet, mut diagnostics) = spreadsheet::read(file_name, bytes, COLUMNS);
    let mut stash = Stash::default();
    let Some(mut sheet) = sheet else {
        return (stash, diagnostics.into_list());
    };
    take_cuts(&mut sheet, &mut diagnostics);
    let others = sheet.other_columns();
    stash.other_columns = others.iter().map(|&(_, heading)| heading.to_string()).collect();
    sheet.require("print", &mut diagnostics);
    let sized = sheet.has("size") || sheet.has("width") && sheet.has("length");
    if !sheet.has("cut") && !sized {
        sheet.require("cut", &mut diagnostics);
    }
    if !sheet.has("print") || !sheet.has("cut") && !sized {
        return (stash, diagnostics.into_list());
    }
    let mut prints = Prints::default();
    for row in &sheet.rows {
        let reader = LotReader { cells: Cells::new(&sheet, row, &mut diagnostics), default_allowance };
        let Ok((name, mut lot)) = reader.lot() else {
            continue;
        };
        lot.other = others.iter().map(|&(index, _)| row.at(index).to_string()).collect();
        lot.print = prints.place(&name, &lot, &sheet, row, &mut diagnostics);
        stash.lots.push(lot);
    }
    let directional = prints.directional();
    for lot in &mut stash.lots {
        lot.directional = directional[lot.print.0];
    }
    stash.prints = prints.finish();
    (stash, diagnostics.in_file_order(sheet.heading_line))
}

/// Takes a column that holds cuts of fabric, whatever its heading, as the cuts when no heading names them.
fn take_cuts(sheet: &mut Sheet, diagnostics: &mut Gathered) {
    if sheet.has("cut") {
        return;
    }
    // More than half of what is written there; a few words of a note may be a cut by chance. A heading that is a cut itself
    // is the first row of a file without headings.
    let holds_cuts = |&&(index, heading): &&(usize, &str)| {
        let written = sheet.rows.iter().map(|row| row.at(index)).filter(|cell| !cell.is_empty());
        let (all, cuts) = written
            .fold((0, 0), |(all, cuts), cell| (all + 1, cuts + usize::from(Cut::find(cell).is_some())));
        2 * cuts > all && Cut::find(heading).is_none()
    };
    if let Some(&(index, _)) = sheet.other_columns().iter().find(holds_cuts) {
        sheet.take(index, "cut", diagnostics);
    }
}

/// Reads one row. Cells are all read before any fault ends the row, so that each is reported.
struct LotReader<'s, 'd> {
    cells: Cells<'s, 'd>,
    default_allowance: Length,
}

/// How the fabric comes, as far as the cut's own cell says.
struct Form {
    cut: Cut,
    /// A length that was written in place of a cut.
    length: Option<Length>,
}

impl LotReader<'_, '_> {
    fn lot(mut self) -> Result<(String, Lot), Reported> {
        let cells = &mut self.cells;
        let name = cells.required("print").map(tidy);
        let count = cells.count("count");
        let directional = cells.yes_no("directional");
        let keep = cells.yes_no("keep");
        let price = price::read(cells, "price");
        let color = color::read(cells, "color");
        let value = cells.choice("value", "S112", Severity::Warning, VALUES).unwrap_or(None);
        let form = self.form();
        let size = size::measured(&mut self.cells);
        let allowance = self.cells.length_or_zero("allowance", Direction::Up);
        let size = match (form, size) {
            (Ok(form), Ok((width, length))) => {
                size::settle(&mut self.cells, form.cut, (width, length.or(form.length)))
                    .map(|size| (form.cut, size))
            }
            _ => Err(Reported),
        };
        let (cut, (width, length)) = size?;
        let allowance = allowance?.unwrap_or(self.default_allowance);
        let allowance = size::check_allowance(&mut self.cells, cut, (width, length), allowance);
        let lot = Lot {
            row: Some(self.cells.row.number),
            line: Some(self.cells.row.line),
            // Placed by the caller, who knows the prints of the rows before.
            print: crate::stash::PrintId(0),
            cut,
            width,
            length,
            allowance: allowance?,
            count: count?.unwrap_or(1),
            directional: directional?.unwrap_or(false),
            keep: keep?.unwrap_or(false),
            color,
            value,
            place: self.cells.text("where").to_string(),
            price: price?,
            note: self.cells.text("note").to_string(),
            other: Vec::new(),
        };
        Ok((name?, lot))
    }

    /// The cut; scrap when sizes are given and no cut is, yardage when a length is written in its place.
    fn form(&mut self) -> Result<Form, Reported> {
        let text = self.cells.text("cut");
        if let Some(cut) = Cut::find(text) {
            return Ok(Form { cut, length: None });
        }
        if text.is_empty() {
            let sized = ["size", "width", "length"].iter().any(|name| !self.cells.text(name).is_empty());
            if sized {
                return Ok(Form { cut: Cut::scrap(), length: None });
            }
            let message = "neither a cut of fabric nor a size is given".to_string();
            return Err(self.cells.error(
                "F208",
                "cut",
                message,
                "write the cut, or measure width and length",
            ));
        }
        if let Ok(parsed) = parse(text, Unit::Inch, Direction::Down)
            && matches!(parsed.unit, Some(Unit::Yard | Unit::Metre))
        {
            let message = format!("\"{text}\" is a length; it was taken as yardage of that length");
            self.cells.note("S113", "cut", message, "");
            return Ok(Form { cut: Cut::yardage(), length: Some(parsed.length) });
        }
        Err(self.unknown_cut(text))
    }

    fn unknown_cut(&mut self, text: &str) -> Reported {
        let all = || Cut::all().map(|cut| cut.entry());
        let spellings =
            || all().flat_map(|entry| entry.spellings.iter().map(move |s| (s.as_str(), entry.name.as_str())));
        let mut close = near(text, all().map(|entry| entry.name.as_str()));
        if close.is_empty() {
            let by_spelling = near(text, spellings().map(|(spelling, _)| spelling));
            let name_of =
                |wanted: &&str| spellings().find(|(spelling, _)| spelling == wanted).map(|(_, name)| name);
            close = by_spelling.iter().filter_map(name_of).collect();
            close.dedup();
        }
        let quoted = |names: Vec<&str>| {
            list(names.into_iter().map(|name| format!("\"{name}\""))).replace(" and ", " or ")
        };
        let help = if close.is_empty() {
            let names = all().map(|entry| entry.name.as_str()).collect();
            format!("write {}; or leave it empty and measure width and length", quoted(names))
        } else {
            format!("did you mean {}?", quoted(close))
        };
        self.cells.error("S101", "cut", format!("\"{text}\" is not a known cut of fabric"), &help)
    }
}
