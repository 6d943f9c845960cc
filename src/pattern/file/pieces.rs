//! `[[block.piece]]` and `[[piece]]`: lines of the paper pattern's own cutting chart.

use crate::pattern::expand;
use crate::pattern::file::keys::Keys;
use crate::pattern::file::roles::Roles;
use crate::pattern::file::source::{Source, code};
use crate::pattern::file::words::{MATCHING, SHAPES, word};
use crate::pattern::{Count, PieceLine, Shape};

/// A `[[block.piece]]`: a line of the paper pattern's own chart.
#[derive(Clone)]
pub(super) struct Given {
    /// The line; its count is a guess while `counted` is false.
    pub(super) line: PieceLine,
    /// Whether the file gives the count.
    pub(super) counted: bool,
}

const KEYS: &[&str] = &["label", "role", "size", "count", "total", "shape", "matching"];

/// `[[block.piece]]` or `[[piece]]`.
pub(super) fn read_pieces(keys: &Keys, roles: &Roles, source: &mut Source) -> Vec<Given> {
    let mut pieces: Vec<Given> = Vec::new();
    for piece in keys.tables("piece", source) {
        pieces.extend(read_piece(&piece, &pieces, roles, source));
    }
    pieces
}

/// One piece, to stand beside `others`.
pub(super) fn read_piece(
    piece: &Keys,
    others: &[Given],
    roles: &Roles,
    source: &mut Source,
) -> Option<Given> {
    piece.only(KEYS, source);
    let role = piece.need("role", "name the role it is cut from", source);
    let role = role.and_then(|item| roles.of(&item, source));
    let help = "give its size as cut, such as size = \"4 1/2 x 2 1/2\"";
    let size = piece.need("size", help, source).and_then(|item| item.size(source));
    let shape = piece.get("shape", source).map_or(Some(Shape::Rectangle), |item| word(&item, SHAPES, source));
    let matching = piece.get("matching", source).and_then(|item| word(&item, MATCHING, source));
    let count = piece.get("count", source).map(|item| item.count(source).map(Count::PerCopy));
    let total = piece.get("total", source).map(|item| item.count(source).map(Count::Total));
    if count.is_some() && total.is_some() {
        let message = "both a count for each block copy and a total are given".to_string();
        source.error(code::COUNTS, piece.line, "piece.total", message, "keep one of count and total");
    }
    let label = piece.text("label", source);
    let counted = count.or(total);
    let (role, size, shape) = (role?, size?, shape?);
    if shape != Shape::Rectangle && size.width != size.height {
        let message =
            format!("{} is not square, and triangles are cut from squares", size.show(source.units()));
        let help = "give one length, or drop the shape";
        source.error(code::OUT_OF_RANGE, piece.line, "piece.size", message, help);
    }
    let label = label.unwrap_or_else(|| free_label(&roles.roles[role.0].name, others));
    if others.iter().any(|other| other.line.label == label) {
        let message = format!("two pieces are labelled \"{label}\"");
        source.error(code::NAME_TAKEN, piece.line, "piece.label", message, "give each piece its own label");
    }
    let line = PieceLine {
        label,
        role,
        width: size.width,
        height: size.height,
        count: counted.unwrap_or(Some(Count::PerCopy(1)))?,
        shape,
        matching: matching.unwrap_or(roles.uses[role.0].matching),
        line: piece.line,
    };
    Some(Given { line, counted: counted.is_some() })
}

fn free_label(role: &str, pieces: &[Given]) -> String {
    let numbered = (1..).map(|number| expand::label(role, number));
    let taken = |label: &String| pieces.iter().any(|piece| piece.line.label == *label);
    numbered.into_iter().find(|label| !taken(label)).unwrap_or_default()
}
