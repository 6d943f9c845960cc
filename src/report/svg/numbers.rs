//! The numbers of the cuts: beside the sheet for cuts of the whole, on the line for the others.

use super::labels::Labels;
use super::{Paper, Scale, line, px, text};
use crate::cutting::Axis;
use crate::report::markup::Markup;
use crate::report::view::drawing::Drawing;

/// Radius of the disc behind a number.
const RADIUS: i64 = 650;

/// Writes every number for which there is room; of cuts too close together the steps tell the numbers.
pub(super) fn write(out: &mut Markup, drawing: &Drawing, scale: &Scale, sheet: Paper, labels: &Labels) {
    let texts: Vec<Paper> = labels.inside.iter().map(|label| label.covers()).collect();
    let mut taken: Vec<Paper> = Vec::new();
    out.element("g", &[("class", "number")], |out| {
        for (stroke, level) in &drawing.cuts {
            let (from, to) = line(scale, stroke);
            let places = if *level == 0 { beside(stroke.axis, from, sheet) } else { along(from, to) };
            let free = |at: &&(i64, i64)| !taken.iter().any(|&other| disc(**at).overlaps(other));
            let clear = |at: &&(i64, i64)| !texts.iter().any(|&other| disc(**at).overlaps(other));
            let place = places.iter().filter(free).find(clear).or_else(|| places.iter().find(free));
            if let Some(&at) = place {
                taken.push(disc(at));
                number(out, at, stroke.number);
            }
        }
    });
}

fn disc((x, y): (i64, i64)) -> Paper {
    Paper { x: x - RADIUS, y: y - RADIUS, w: 2 * RADIUS, h: 2 * RADIUS }
}

/// Outside the sheet where the cut starts; two rows, for cuts close together.
fn beside(axis: Axis, from: (i64, i64), sheet: Paper) -> Vec<(i64, i64)> {
    let rows = [900, 2300];
    match axis {
        Axis::Width => rows.iter().map(|row| (from.0, sheet.y + sheet.h + row)).collect(),
        Axis::Height => rows.iter().map(|row| (sheet.x - row, from.1)).collect(),
    }
}

/// On the line, near its start if there is room.
fn along(from: (i64, i64), to: (i64, i64)) -> Vec<(i64, i64)> {
    let length = (to.0 - from.0).abs() + (to.1 - from.1).abs();
    let point = |part: i64, whole: i64| {
        (from.0 + (to.0 - from.0) * part / whole, from.1 + (to.1 - from.1) * part / whole)
    };
    if length < 3000 {
        return vec![point(1, 2)];
    }
    let mut places = vec![point(1000, length)];
    places.extend([(1, 4), (1, 2), (3, 4)].map(|(part, whole)| point(part, whole)));
    places.push(point(length - 1000, length));
    places
}

fn number(out: &mut Markup, at: (i64, i64), number: u32) {
    let digits = number.to_string();
    let size = match digits.len() {
        1 => 950,
        2 => 850,
        _ => 700,
    };
    out.empty(
        "circle",
        &[
            ("cx", &px(at.0)),
            ("cy", &px(at.1)),
            ("r", &px(RADIUS)),
            ("fill", "#fff"),
            ("stroke", "#000"),
            ("stroke-width", "1"),
        ],
    );
    text(out, at, size, false, &digits);
}
