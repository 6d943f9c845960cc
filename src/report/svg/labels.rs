//! Where the labels of pieces go: into the piece, along a row of equal small pieces, or beside the sheet with a line.

use super::{Paper, Scale, px, text};
use crate::report::markup::Markup;
use crate::report::view::drawing::Drawing;

/// Sizes of type for labels, the best first. The last is six points, the least that can be read at arm's length.
const SIZES: [i64; 5] = [1500, 1300, 1100, 900, 800];
/// Size of type for measures within a piece.
const SMALL: i64 = 850;

/// The labels of a drawing.
pub(super) struct Labels {
    /// Those within the sheet.
    pub(super) inside: Vec<Label>,
    /// Those beside it.
    pub(super) aside: Vec<Aside>,
}

/// A label within the sheet.
pub(super) struct Label {
    place: Paper,
    size: i64,
    turned: bool,
    words: String,
    below: Option<String>,
}

/// A label beside the sheet.
pub(super) struct Aside {
    from: (i64, i64),
    words: String,
}

impl Label {
    /// What it covers, about.
    pub(super) fn covers(&self) -> Paper {
        let (x, y) = self.place.middle();
        let mut long = width_of(&self.words, self.size);
        let mut high = self.size;
        if let Some(below) = &self.below {
            long = long.max(width_of(below, SMALL));
            high += SMALL + 200;
        }
        let (w, h) = if self.turned { (high, long) } else { (long, high) };
        Paper { x: x - w / 2, y: y - h / 2, w, h }
    }
}

/// Finds a place for every label.
pub(super) fn place(drawing: &Drawing, scale: &Scale) -> Labels {
    let mut inside = Vec::new();
    let mut small: Vec<Run> = Vec::new();
    for area in &drawing.areas {
        let place = scale.rect(area.rect);
        match &area.label {
            Some(label) => match fit(label, Some(&area.size), place) {
                Some(found) => inside.push(found),
                None => small.push(Run { label: label.clone(), number: 1, place }),
            },
            None => {
                inside.extend(fit("left over", Some(&area.size), place).or_else(|| fit("left", None, place)))
            }
        }
    }
    let mut aside = Vec::new();
    for run in together(small) {
        let words = run.words();
        match fit(&words, None, run.place) {
            Some(found) => inside.push(found),
            None => aside.push(Aside { from: run.place.middle(), words }),
        }
    }
    aside.sort_by_key(|label| (label.from.1, label.from.0));
    Labels { inside, aside }
}

/// Equal small pieces in a row.
struct Run {
    label: String,
    number: usize,
    place: Paper,
}

impl Run {
    fn words(&self) -> String {
        if self.number == 1 { self.label.clone() } else { format!("{} {}", self.number, self.label) }
    }
}

/// Joins neighbours with the same label, first from left to right, then from top to bottom.
fn together(mut runs: Vec<Run>) -> Vec<Run> {
    runs.sort_by(|a, b| (&a.label, a.place.y, a.place.x).cmp(&(&b.label, b.place.y, b.place.x)));
    let rows = join(runs, |a, b| a.y == b.y && a.h == b.h && a.x + a.w == b.x);
    let mut rows = rows;
    rows.sort_by(|a, b| (&a.label, a.place.x, a.place.y).cmp(&(&b.label, b.place.x, b.place.y)));
    join(rows, |a, b| a.x == b.x && a.w == b.w && a.y + a.h == b.y)
}

fn join(runs: Vec<Run>, touch: impl Fn(Paper, Paper) -> bool) -> Vec<Run> {
    let mut joined: Vec<Run> = Vec::new();
    for run in runs {
        match joined.last_mut() {
            Some(last) if last.label == run.label && touch(last.place, run.place) => {
                let (a, b) = (last.place, run.place);
                last.place = Paper { w: b.x + b.w - a.x, h: b.y + b.h - a.y, ..a };
                last.number += run.number;
            }
            _ => joined.push(run),
        }
    }
    joined
}

/// The label in the largest type that leaves room for the number of a cut beside it; else in the largest that fits.
fn fit(words: &str, measure: Option<&str>, place: Paper) -> Option<Label> {
    let (roomy, tight) = (1800, 500);
    fit_beside(words, measure, place, roomy).or_else(|| fit_beside(words, measure, place, tight))
}

/// Upright if it can be, with the measure below it where there is room.
fn fit_beside(words: &str, measure: Option<&str>, place: Paper, beside: i64) -> Option<Label> {
    for size in SIZES {
        for turned in [false, true] {
            let (long, high) = if turned { (place.h, place.w) } else { (place.w, place.h) };
            if width_of(words, size) + beside > long || size + 200 > high {
                continue;
            }
            let below = measure
                .filter(|text| width_of(text, SMALL) + 500 <= long && size + SMALL + 600 <= high)
                .map(str::to_owned);
            return Some(Label { place, size, turned, words: words.to_owned(), below });
        }
    }
    None
}

/// About how wide a text is: bold type of usual width takes six tenths of its size a letter.
fn width_of(words: &str, size: i64) -> i64 {
    i64::try_from(words.chars().count()).unwrap_or(i64::MAX / 10_000) * size * 6 / 10
}

/// Writes the labels.
pub(super) fn write(out: &mut Markup, labels: &Labels, sheet: Paper) {
    out.element("g", &[("class", "label")], |out| {
        for label in &labels.inside {
            let (x, y) = label.place.middle();
            let Some(below) = &label.below else {
                text(out, (x, y), label.size, label.turned, &label.words);
                continue;
            };
            // Two lines, about the middle; turned text reads from below, so its second line lies to the right.
            let (up, down) = ((SMALL + 200) / 2, (label.size + 200) / 2);
            let (first, second) =
                if label.turned { ((x - up, y), (x + down, y)) } else { ((x, y - up), (x, y + down)) };
            text(out, first, label.size, label.turned, &label.words);
            out.element("g", &[("class", "size")], |out| text(out, second, SMALL, label.turned, below));
        }
    });
    let mut lowest = sheet.y;
    for label in &labels.aside {
        let x = sheet.x + sheet.w + super::RIGHT;
        let y = label.from.1.max(lowest + 1100);
        lowest = y;
        let path = format!("M{} {}L{} {}", px(label.from.0), px(label.from.1), px(x), px(y));
        out.empty("path", &[("d", &path), ("fill", "none"), ("stroke", "#000"), ("stroke-width", "0.7")]);
        let middle = x + 300 + width_of(&label.words, 1000) / 2;
        text(out, (middle, y), 1000, false, &label.words);
    }
}
