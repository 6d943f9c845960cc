//! The numbers of the cuts: beside the sheet for cuts of the whole, on the line for the others.

use super::labels::Labels;
use super::{Paper, Scale, line, px, text};
use crate::cutting::Axis;
use crate::report::markup::Markup;
use crate::report::view::drawing::{Cut, Drawing};

/// Radius of the disc behind a number.
const RADIUS: i64 = 650;

/// How far numbers beside the sheet stand off its edge: the first row, and a second for cuts close together.
const ROWS: [i64; 2] = [900, 2300];

/// Cuts of one setting that lie closer together than this get only their first and last number.
const APART: i64 = 2400;

/// A number and the middle of its disc.
pub(super) struct Number {
    at: (i64, i64),
    number: u32,
}

/// Finds a place for every number for which there is room; of cuts too close together the steps tell the numbers.
pub(super) fn place(drawing: &Drawing, scale: &Scale, sheet: Paper, labels: &Labels) -> Vec<Number> {
    let texts: Vec<Paper> = labels.inside.iter().map(|label| label.covers()).collect();
    let mut numbers: Vec<Number> = Vec::new();
    for cut in &drawing.cuts {
        if cut.between && scale.length(cut.stroke.at) < APART {
            continue;
        }
        let (from, to) = line(scale, &cut.stroke);
        let places = places(cut, from, to, sheet);
        let free = |at: &&(i64, i64)| !numbers.iter().any(|other| disc(**at).overlaps(disc(other.at)));
        let clear = |at: &&(i64, i64)| !texts.iter().any(|&other| disc(**at).overlaps(other));
        let place = places.iter().filter(free).find(clear).or_else(|| places.iter().find(free));
        if let Some(&at) = place {
            numbers.push(Number { at, number: cut.stroke.number });
        }
    }
    numbers
}

/// True when a number stands in the second row below the sheet.
pub(super) fn second_row(numbers: &[Number], sheet: Paper) -> bool {
    numbers.iter().any(|number| number.at.1 > sheet.y + sheet.h + ROWS[0])
}

/// Writes the numbers.
pub(super) fn write(out: &mut Markup, numbers: &[Number]) {
    out.element("g", &[("class", "number")], |out| {
        for number in numbers {
            self::number(out, number.at, number.number);
        }
    });
}

fn disc((x, y): (i64, i64)) -> Paper {
    Paper { x: x - RADIUS, y: y - RADIUS, w: 2 * RADIUS, h: 2 * RADIUS }
}

/// Where the number of a cut may go, the best place first: outside the sheet for cuts of the whole, on the line for
/// others, then outside where the cut ends at an edge of the sheet.
fn places(cut: &Cut, from: (i64, i64), to: (i64, i64), sheet: Paper) -> Vec<(i64, i64)> {
    let mut outside = Vec::new();
    match cut.stroke.axis {
        Axis::Width if from.1 == sheet.y + sheet.h => outside.extend(ROWS.map(|row| (from.0, from.1 + row))),
        Axis::Height if from.0 == sheet.x => outside.extend(ROWS.map(|row| (from.0 - row, from.1))),
        Axis::Height if to.0 == sheet.x + sheet.w => outside.push((to.0 + ROWS[0], to.1)),
        _ => {}
    }
    if cut.whole {
        return outside;
    }
    along(from, to).into_iter().chain(outside).collect()
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
