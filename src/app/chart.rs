//! A pattern as a cutting chart in CSV: what a pattern file expands to, and what reads back as the same chart.

use crate::length::Units;
use crate::pattern::{Count, Matching, Pattern, Shape};
use crate::report::escape;

/// The headings of a cutting chart.
const HEADINGS: [&str; 11] =
    ["block", "make", "label", "role", "width", "height", "count", "total", "shape", "matching", "from"];

/// Writes the chart of `pattern`, lengths exact and with their unit.
pub(super) fn chart(pattern: &Pattern, units: Units) -> Vec<u8> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    // Writing to memory cannot fail, and every row has as many cells as the headings.
    let mut write = |cells: [String; 11]| {
        writer.write_record(cells.map(|cell| escape::cell(&cell))).expect("a row in memory");
    };
    write(HEADINGS.map(str::to_owned));
    for block in &pattern.blocks {
        for piece in &block.pieces {
            let role = &pattern.roles[piece.role.0];
            let (count, total) = match piece.count {
                Count::PerCopy(each) => (each.to_string(), String::new()),
                Count::Total(total) => (String::new(), total.to_string()),
            };
            let from: Vec<&str> = role.from.iter().map(|cut| cut.entry().name.as_str()).collect();
            write([
                block.name.clone(),
                block.make.to_string(),
                piece.label.clone(),
                role.name.clone(),
                piece.width.show(units),
                piece.height.show(units),
                count,
                total,
                shape(piece.shape).to_owned(),
                matching(piece.matching).to_owned(),
                from.join("; "),
            ]);
        }
    }
    writer.into_inner().expect("a writer in memory")
}

fn shape(shape: Shape) -> &'static str {
    match shape {
        Shape::Rectangle => "rectangle",
        Shape::CutOnce => "cut once",
        Shape::CutTwice => "cut twice",
    }
}

fn matching(matching: Matching) -> &'static str {
    match matching {
        Matching::Piece => "piece",
        Matching::Block => "block",
        Matching::Quilt => "quilt",
    }
}
