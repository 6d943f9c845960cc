//! Cutting chart CSV -> [`Pattern`]: the rectangles of a pattern, flat, as someone copies them from a paper
//! pattern. Every mistake is said in one run.

use std::collections::BTreeMap;
use std::path::Path;

use crate::diagnostic::{Diagnostic, Gathered, Place};
use crate::pattern::{Block, Count, Pattern, PieceLine, Role, RoleId};
use crate::spreadsheet::{self, Cells, Row, Sheet, key, same_name};

mod checks;
mod columns;
mod labels;
mod line;
mod rules;

use line::Line;

/// Reads a cutting chart. The pattern is named by a column `quilt`, else after the file.
///
/// Sizes between two exact lengths are rounded up: a piece cut too large can be trimmed. Rows with errors are
/// missing from the pattern that is returned; use it only when no diagnostic is an error.
///
/// ```
/// use cutcloth::pattern::{read_chart, Count};
/// let chart = "block,make,label,role,size,count\nLimpet,6,A1,A,2 1/2 x 4 1/2,4\n";
/// let (pattern, diagnostics) = read_chart("limpets.csv", chart.as_bytes());
/// assert!(diagnostics.is_empty());
/// assert_eq!(pattern.name, "limpets");
/// assert_eq!(pattern.blocks[0].make, 6);
/// assert_eq!(pattern.blocks[0].pieces[0].count, Count::PerCopy(4));
/// ```
pub fn read_chart(file_name: &str, bytes: &[u8]) -> (Pattern, Vec<Diagnostic>) {
    let name =
        Path::new(file_name).file_stem().map_or(file_name.to_string(), |s| s.to_string_lossy().into_owned());
    let mut pattern = Pattern { name, ..Pattern::default() };
    let (sheet, mut diagnostics) = spreadsheet::read(file_name, bytes, columns::COLUMNS);
    let Some(sheet) = sheet else {
        return (pattern, diagnostics.into_list());
    };
    if !columns::has_all(&sheet, &mut diagnostics) {
        return (pattern, diagnostics.into_list());
    }
    sheet.note_unused(&mut diagnostics);
    if let Some(name) = quilt_name(&sheet, &mut diagnostics) {
        pattern.name = name;
    }
    let lines = read_lines(&sheet, &mut diagnostics);
    let makes = checks::makes(&sheet, &lines, &mut diagnostics);
    let mut blocks: BTreeMap<&str, usize> = BTreeMap::new();
    let mut roles = Roles::default();
    for line in &lines {
        let block = *blocks.entry(&line.block_key).or_insert_with(|| {
            let make = makes.get(line.block_key.as_str()).copied().unwrap_or(1);
            pattern.blocks.push(Block { name: line.block.clone(), make, ..Block::default() });
            pattern.blocks.len() - 1
        });
        let role = line.role.as_ref().map(|name| roles.called(name));
        if let (Some(role), Some(piece)) = (role, &line.piece) {
            let make = pattern.blocks[block].make;
            let mut cells = Cells::new(&sheet, line.row, &mut diagnostics);
            if let Ok(count) = checks::count(&mut cells, piece.count, piece.total, make) {
                pattern.blocks[block].pieces.push(piece_line(line, role, piece, count));
            }
        }
    }
    checks::from(&sheet, &lines, &mut roles, &mut diagnostics);
    rules::read(&sheet, &lines, &mut roles.list, &mut diagnostics);
    pattern.roles = roles.list;
    checks::matching(&sheet, &lines, &mut diagnostics);
    labels::check(&sheet, &lines, &mut diagnostics);
    labels::fill(&mut pattern, &sheet, &mut diagnostics);
    checks::size_of_quilt(&pattern, &sheet, &mut diagnostics);
    (pattern, diagnostics.in_file_order(sheet.heading_line))
}

/// The name of the quilt, from the first row that gives one.
fn quilt_name(sheet: &Sheet, diagnostics: &mut Gathered) -> Option<String> {
    let mut named = sheet.rows.iter().filter(|row| !sheet.cell(row, "quilt").is_empty());
    let first = named.next()?;
    let name = sheet.cell(first, "quilt");
    for row in named.filter(|row| !same_name(sheet.cell(row, "quilt"), name)) {
        let message = format!(
            "\"{}\" is another quilt than \"{name}\" on line {}",
            sheet.cell(row, "quilt"),
            first.line
        );
        let help = "keep one quilt to a file";
        diagnostics.push(Diagnostic::error("C118", sheet.place(row, "quilt"), message, help));
    }
    Some(spreadsheet::tidy(name))
}

/// The roles so far, in order of first appearance.
#[derive(Default)]
struct Roles {
    list: Vec<Role>,
    /// Compared form of a name -> its place in the list.
    index: BTreeMap<String, usize>,
}

impl Roles {
    /// The role called `name`, added at the end when it is new.
    fn called(&mut self, name: &str) -> RoleId {
        let Roles { list, index } = self;
        RoleId(*index.entry(key(name)).or_insert_with(|| {
            list.push(Role { name: name.to_string(), ..Role::default() });
            list.len() - 1
        }))
    }
}

fn piece_line(line: &Line, role: RoleId, piece: &line::Piece, count: Count) -> PieceLine {
    PieceLine {
        label: line.label.clone(),
        role,
        width: piece.width,
        height: piece.height,
        count,
        shape: piece.shape,
        matching: line.matching,
        line: line.row.line,
    }
}

/// The rows in order; a row that names no block belongs to the block above.
fn read_lines<'s>(sheet: &'s Sheet, diagnostics: &mut Gathered) -> Vec<Line<'s>> {
    let mut lines: Vec<Line> = Vec::new();
    let mut carried: Vec<&Row> = Vec::new();
    for row in &sheet.rows {
        let above = lines.last().map(|line| line.block.clone());
        let mut cells = Cells::new(sheet, row, diagnostics);
        let block = spreadsheet::tidy(cells.text("block"));
        let block = match (block.is_empty(), above) {
            (false, _) => block,
            (true, Some(above)) => {
                carried.push(row);
                above
            }
            (true, None) => {
                let help = "write the block's name; the rows below it may leave it empty";
                cells.error(
                    "C101",
                    "block",
                    "this row names no block and none stands above it".to_string(),
                    help,
                );
                continue;
            }
        };
        lines.push(line::read(&mut cells, block));
    }
    if let Some(first) = carried.first() {
        let message = match carried.len() {
            1 => "this row names no block; it was taken with the block above".to_string(),
            many => {
                format!("this row and {} more name no block; each was taken with the block above", many - 1)
            }
        };
        diagnostics.push(Diagnostic::note("C116", sheet.place(first, "block"), message, ""));
    }
    lines
}

/// The heading line, for what concerns the whole chart.
fn top(sheet: &Sheet) -> Place {
    Place::line(&sheet.file, sheet.heading_line)
}
