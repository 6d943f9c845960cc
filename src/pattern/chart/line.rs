//! One row of a chart, as far as it can be understood without the others.

use crate::diagnostic::Severity;
use crate::fabric::Cut;
use crate::length::{Direction, Length};
use crate::pattern::{Matching, Shape};
use crate::spreadsheet::{Cells, Reported, Row, key, list, near, tidy};

/// 100 yd, more than a bolt holds.
const LONGEST: Length = Length::from_inches(3600);

const SHAPES: &[(&str, Shape)] = &[
    ("rectangle", Shape::Rectangle),
    ("cut once", Shape::CutOnce),
    ("cut twice", Shape::CutTwice),
    ("rect", Shape::Rectangle),
    ("square", Shape::Rectangle),
    ("strip", Shape::Rectangle),
    ("as cut", Shape::Rectangle),
    ("once", Shape::CutOnce),
    ("cut once diagonally", Shape::CutOnce),
    ("cut in half diagonally", Shape::CutOnce),
    ("cut once on the diagonal", Shape::CutOnce),
    ("half-square triangles", Shape::CutOnce),
    ("hst", Shape::CutOnce),
    ("twice", Shape::CutTwice),
    ("cut twice diagonally", Shape::CutTwice),
    ("cut twice on the diagonal", Shape::CutTwice),
    ("cut on both diagonals", Shape::CutTwice),
    ("quarter-square triangles", Shape::CutTwice),
    ("qst", Shape::CutTwice),
];

const MATCHING: &[(&str, Matching)] = &[
    ("piece", Matching::Piece),
    ("block", Matching::Block),
    ("quilt", Matching::Quilt),
    ("pieces", Matching::Piece),
    ("any", Matching::Piece),
    ("scrappy", Matching::Piece),
    ("no", Matching::Piece),
    ("none", Matching::Piece),
    ("per block", Matching::Block),
    ("each block", Matching::Block),
    ("within block", Matching::Block),
    ("blocks", Matching::Block),
    ("whole quilt", Matching::Quilt),
    ("everywhere", Matching::Quilt),
    ("all", Matching::Quilt),
];

/// One row. What could not be read was reported and is `None`.
pub(super) struct Line<'s> {
    pub(super) row: &'s Row,
    pub(super) block: String,
    /// The block's name as names are compared.
    pub(super) block_key: String,
    pub(super) make: Option<u32>,
    pub(super) label: String,
    pub(super) role: Option<String>,
    pub(super) piece: Option<Piece>,
    pub(super) matching: Matching,
    /// `None` when the row does not say.
    pub(super) from: Option<Vec<Cut>>,
}

/// The rectangle of a row.
pub(super) struct Piece {
    pub(super) width: Length,
    pub(super) height: Length,
    pub(super) shape: Shape,
    pub(super) count: Option<u32>,
    pub(super) total: Option<u32>,
}

/// Reads a row of `block`; every cell is looked at before any fault drops the row.
pub(super) fn read<'s>(cells: &mut Cells<'s, '_>, block: String) -> Line<'s> {
    let make = cells.count("make").unwrap_or(None);
    let label = tidy(cells.text("label"));
    let role = cells.required("role").map(tidy).ok();
    let matching = cells
        .choice("matching", "C109", Severity::Error, MATCHING)
        .map(|word| word.unwrap_or(Matching::Piece));
    let from = from(cells);
    let piece = piece(cells);
    Line {
        row: cells.row,
        block_key: key(&block),
        block,
        make,
        label,
        role,
        piece,
        matching: matching.unwrap_or(Matching::Piece),
        from,
    }
}

fn piece(cells: &mut Cells) -> Option<Piece> {
    let shape =
        cells.choice("shape", "C108", Severity::Error, SHAPES).map(|word| word.unwrap_or(Shape::Rectangle));
    let size = size(cells);
    let (count, total) = (cells.count("count"), cells.count("total"));
    let (shape, (width, height)) = (shape.ok()?, size.ok()?);
    if shape != Shape::Rectangle && width != height {
        let message = "only a square can be cut corner to corner, and width and height differ".to_string();
        cells.error("C107", "shape", message, "make the sides equal, or the shape a rectangle");
        return None;
    }
    Some(Piece { width, height, shape, count: count.ok()?, total: total.ok()? })
}

fn size(cells: &mut Cells) -> Result<(Length, Length), Reported> {
    let size = cells.size("size", Direction::Up);
    let width = cells.length("width", Direction::Up);
    let height = cells.length("height", Direction::Up);
    let (size, width, height) = (size?, width?, height?);
    let (width, height) = match size {
        Some((across, along)) if width.is_none_or(|w| w == across) && height.is_none_or(|h| h == along) => {
            (across, along)
        }
        Some(_) => {
            let message = format!("\"{}\" and the width and height beside it disagree", cells.text("size"));
            return Err(cells.error("F209", "size", message, "keep one of them"));
        }
        None => {
            let missing = |cells: &mut Cells, name: &str| {
                let name = if cells.sheet.has(name) { name } else { "size" };
                cells.error(
                    "F208",
                    name,
                    "nothing is written here".to_string(),
                    "write the size as cut, with seams",
                )
            };
            let width = width.ok_or_else(|| missing(cells, "width"));
            let height = height.ok_or_else(|| missing(cells, "height"));
            (width?, height?)
        }
    };
    if width.max(height) > LONGEST {
        let name = if width > LONGEST && cells.sheet.has("width") { "width" } else { "height" };
        let message = "the piece is longer than 100 yd".to_string();
        return Err(cells.error("C117", name, message, "check the number and its unit"));
    }
    Ok((width, height))
}

/// The cuts of fabric that the row's role may be taken from, parted by `/`, `;` or `or`.
fn from(cells: &mut Cells) -> Option<Vec<Cut>> {
    let text = cells.text("from");
    if text.is_empty() || text.eq_ignore_ascii_case("any") {
        return None;
    }
    // A whole cell first: "1/2 yard" is one cut.
    let parts: Vec<&str> = match Cut::find(text) {
        Some(_) => vec![text],
        None => text.split(" or ").flat_map(|part| part.split([';', '|', '+'])).flat_map(by_stroke).collect(),
    };
    let mut cuts = Vec::new();
    for part in parts.into_iter().map(str::trim).filter(|part| !part.is_empty()) {
        match Cut::find(part) {
            Some(cut) => cuts.push(cut),
            None => {
                let close = near(part, Cut::all().map(|cut| cut.entry().name.as_str()));
                let help = match close.is_empty() {
                    true => "write a cut of fabric, e.g. 10-inch square / fat quarter".to_string(),
                    false => {
                        format!("did you mean {}?", list(close.iter().map(|name| format!("\"{name}\""))))
                    }
                };
                cells.error("C110", "from", format!("\"{part}\" is not a known cut of fabric"), &help);
            }
        }
    }
    cuts.sort_unstable();
    cuts.dedup();
    Some(cuts)
}

/// Parts a text at strokes, but not inside a fraction.
fn by_stroke(text: &str) -> Vec<&str> {
    let mut parts = Vec::new();
    let mut begin = 0;
    for (at, _) in text.match_indices('/') {
        let digit_before = text[..at].ends_with(|c: char| c.is_ascii_digit());
        let digit_after = text[at + 1..].starts_with(|c: char| c.is_ascii_digit());
        if !(digit_before && digit_after) {
            parts.push(&text[begin..at]);
            begin = at + 1;
        }
    }
    parts.push(&text[begin..]);
    parts
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_stroke_parts_cuts_and_not_fractions() {
        assert_eq!(
            by_stroke("fat quarter/2 1/2-inch strip / FQ"),
            ["fat quarter", "2 1/2-inch strip ", " FQ"]
        );
    }
}
