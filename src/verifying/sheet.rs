//! One sheet, from its own numbers: everything inside, nothing overlapping, nothing lost, every piece
//! freed by straight cuts, and the listed cuts leading there.

use super::edges;
use super::fault::{Faults, Rule, say};
use super::record::{Rect, Sheet};
use super::replay;

/// Checks the geometry of a sheet.
///
/// A sheet whose rectangles are not even on it or lie on each other is not looked at further: area, cuts
/// and edges would only say the same again.
pub(super) fn check(sheet: &Sheet, place: &str, faults: &mut Faults) {
    let before = faults.count();
    if sheet.pieces.is_empty() {
        faults.add(Rule::SheetEmpty, place, "no piece is cut from it".to_owned());
    }
    let named = named(sheet);
    inside(sheet, &named, place, faults);
    overlaps(&named, place, faults);
    if faults.count() > before {
        return;
    }
    let filled: i128 = named.iter().map(|(_, rect)| rect.area()).sum();
    let whole = Rect { x: 0, y: 0, width: sheet.width, height: sheet.height }.area();
    if filled != whole {
        let message = format!("pieces and leftovers cover {filled} of {whole} square ticks");
        faults.add(Rule::LeftoverArea, place, message);
    }
    let rects: Vec<Rect> = sheet.pieces.iter().map(|piece| piece.rect).collect();
    if let Err(stuck) = edges::separate(&rects) {
        let labels: Vec<&str> = stuck.iter().map(|&i| sheet.pieces[i].label.as_str()).collect();
        let message = format!("no straight cut from edge to edge parts {}", labels.join(", "));
        faults.add(Rule::EdgeToEdge, place, message);
    }
    if faults.count() == before {
        replay::check(sheet, place, faults);
    }
}

fn named(sheet: &Sheet) -> Vec<(String, Rect)> {
    let pieces = sheet.pieces.iter().map(|piece| (format!("piece {}", piece.label), piece.rect));
    let leftovers = sheet.leftovers.iter().map(|rect| ("a leftover".to_owned(), *rect));
    pieces.chain(leftovers).collect()
}

fn inside(sheet: &Sheet, named: &[(String, Rect)], place: &str, faults: &mut Faults) {
    for (name, rect) in named {
        if rect.width == 0 || rect.height == 0 {
            let message = format!("{name} measures {} x {}", say(rect.width), say(rect.height));
            faults.add(Rule::Outside, place, message);
        }
        if rect.right() > sheet.width || rect.top() > sheet.height {
            let message = format!(
                "{name} reaches to {} x {}, the sheet only to {} x {}",
                say(rect.right()),
                say(rect.top()),
                say(sheet.width),
                say(sheet.height)
            );
            faults.add(Rule::Outside, place, message);
        }
    }
}

/// Compares each with those that start before it ends, from left to right. Of each only the first overlap is
/// told: the next says no more, and a hostile file could make millions of them.
fn overlaps(named: &[(String, Rect)], place: &str, faults: &mut Faults) {
    let mut order: Vec<&(String, Rect)> = named.iter().collect();
    order.sort_by_key(|(_, rect)| *rect);
    for (index, (name, rect)) in order.iter().enumerate() {
        let mut rivals = order[index + 1..].iter().take_while(|(_, other)| other.x < rect.right());
        if let Some((other_name, other)) = rivals.find(|(_, other)| rect.overlaps(other)) {
            let message =
                format!("{name} ({}) lies over {other_name} ({})", replay::at(rect), replay::at(other));
            faults.add(Rule::Overlap, place, message);
        }
    }
}
