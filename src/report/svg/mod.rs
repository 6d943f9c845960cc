//! One drawing to scale, as SVG. Black on white; leftovers are hatched, so that grey or colour does not matter.
//!
//! Positions are whole hundredths of a pixel, 96 pixels to the inch of paper.

use crate::cutting::{Axis, Rect};
use crate::length::Length;
use crate::report::markup::Markup;
use crate::report::view::drawing::{Drawing, Place};

pub(crate) mod bars;
mod labels;
mod numbers;
pub(crate) mod patches;
pub(crate) mod quilt;

/// A rectangle on paper, in hundredths of a pixel; y grows downwards.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Paper {
    x: i64,
    y: i64,
    w: i64,
    h: i64,
}

impl Paper {
    fn middle(self) -> (i64, i64) {
        (self.x + self.w / 2, self.y + self.h / 2)
    }

    fn overlaps(self, other: Paper) -> bool {
        self.x < other.x + other.w
            && other.x < self.x + self.w
            && self.y < other.y + other.h
            && other.y < self.y + self.h
    }
}

/// Room for cut numbers to the left and below, for measures above and to the right.
const LEFT: i64 = 3200;
const TOP: i64 = 2200;
const RIGHT: i64 = 3600;
const BELOW: i64 = 1800;
/// More room below for a second row of numbers.
const SECOND_ROW: i64 = 1400;
/// Extra room to the right for labels of pieces too small to hold one.
const ASIDE: i64 = 7000;

/// Where the sheet's lengths lie on paper.
struct Scale {
    numerator: i64,
    denominator: i64,
    height: Length,
}

impl Scale {
    /// The largest scale at which the drawing fits its place beside the steps or, for a long strip, above them.
    fn of(drawing: &Drawing) -> Scale {
        let (width, height) = (drawing.width.ticks(), drawing.height.ticks());
        let small = drawing.width <= Length::from_inches(12);
        let (most_wide, most_high) = match drawing.place {
            Place::Across => (60_000, 60_000),
            Place::Above => (33_000, 36_000),
            Place::Beside if small => (20_500, 33_000),
            Place::Beside => (25_000, 38_000),
        };
        let (numerator, denominator) =
            if most_wide * height <= most_high * width { (most_wide, width) } else { (most_high, height) };
        Scale { numerator, denominator: denominator.max(1), height: drawing.height }
    }

    fn length(&self, length: Length) -> i64 {
        length.ticks() * self.numerator / self.denominator
    }

    fn rect(&self, rect: Rect) -> Paper {
        // Both edges are placed and the size is their difference, so that neighbours touch without a gap.
        let (left, right) = (self.length(rect.x), self.length(rect.x + rect.width));
        let upper = self.length(self.height - rect.y - rect.height);
        let lower = self.length(self.height - rect.y);
        Paper { x: LEFT + left, y: TOP + upper, w: right - left, h: lower - upper }
    }
}

/// Writes the drawing.
pub(super) fn draw(out: &mut Markup, drawing: &Drawing) {
    let scale = Scale::of(drawing);
    let sheet =
        scale.rect(Rect { x: Length::ZERO, y: Length::ZERO, width: drawing.width, height: drawing.height });
    let placed = labels::place(drawing, &scale);
    let aside = if placed.aside.is_empty() { 0 } else { ASIDE };
    let numbers = numbers::place(drawing, &scale, sheet, &placed);
    let below = BELOW + if numbers::second_row(&numbers, sheet) { SECOND_ROW } else { 0 };
    let (width, height) = (LEFT + sheet.w + RIGHT + aside, TOP + sheet.h + below);
    out.element(
        "svg",
        &[
            ("xmlns", "http://www.w3.org/2000/svg"),
            ("id", &drawing.id),
            ("class", "drawing"),
            ("role", "img"),
            ("viewBox", &format!("0 0 {} {}", px(width), px(height))),
            ("width", &px(width)),
            ("height", &px(height)),
        ],
        |out| {
            out.leaf("title", &[], &drawing.title);
            hatch(out, drawing);
            areas(out, drawing, &scale);
            cuts(out, drawing, &scale);
            outline(out, drawing, sheet);
            measures(out, drawing, sheet);
            labels::write(out, &placed, sheet);
            numbers::write(out, &numbers);
        },
    );
}

fn hatch(out: &mut Markup, drawing: &Drawing) {
    let id = format!("{}-hatch", drawing.id);
    out.element("defs", &[], |out| {
        let pattern = [
            ("id", id.as_str()),
            ("width", "6"),
            ("height", "6"),
            ("patternUnits", "userSpaceOnUse"),
            ("patternTransform", "rotate(45)"),
        ];
        out.element("pattern", &pattern, |out| {
            out.empty("rect", &[("width", "6"), ("height", "6"), ("fill", "#fff")]);
            out.empty("path", &[("d", "M0 0V6"), ("stroke", "#767676"), ("stroke-width", "1.6")]);
        });
    });
}

fn areas(out: &mut Markup, drawing: &Drawing, scale: &Scale) {
    let hatched = format!("url(#{}-hatch)", drawing.id);
    for area in &drawing.areas {
        let place = scale.rect(area.rect);
        let fill = if area.label.is_some() { "#fff" } else { hatched.as_str() };
        out.empty(
            "rect",
            &[
                ("x", &px(place.x)),
                ("y", &px(place.y)),
                ("width", &px(place.w)),
                ("height", &px(place.h)),
                ("fill", fill),
            ],
        );
    }
}

fn cuts(out: &mut Markup, drawing: &Drawing, scale: &Scale) {
    for cut in &drawing.cuts {
        let (from, to) = line(scale, &cut.stroke);
        let width = if cut.whole { "2.2" } else { "1.2" };
        out.empty(
            "path",
            &[
                ("d", &format!("M{} {}L{} {}", px(from.0), px(from.1), px(to.0), px(to.1))),
                ("stroke", "#000"),
                ("stroke-width", width),
            ],
        );
    }
}

/// Where a cut starts (at the left or lower edge) and ends.
fn line(scale: &Scale, stroke: &crate::report::working::Stroke) -> ((i64, i64), (i64, i64)) {
    let (first, _) = stroke.region.split(stroke.axis, stroke.at);
    let first = scale.rect(first);
    match stroke.axis {
        Axis::Width => ((first.x + first.w, first.y + first.h), (first.x + first.w, first.y)),
        Axis::Height => ((first.x, first.y), (first.x + first.w, first.y)),
    }
}

fn outline(out: &mut Markup, drawing: &Drawing, sheet: Paper) {
    let (left, right) = (px(sheet.x), px(sheet.x + sheet.w));
    let (top, bottom) = (px(sheet.y), px(sheet.y + sheet.h));
    let mut path = format!("M{left} {top}L{left} {bottom}L{right} {bottom}L{right} {top}");
    if drawing.torn {
        // A torn edge: the fabric goes on.
        let teeth = 16;
        for tooth in 1..=teeth {
            let x = sheet.x + sheet.w - sheet.w * tooth / teeth;
            let y = if tooth % 2 == 1 { sheet.y - 500 } else { sheet.y };
            path.push_str(&format!("L{} {}", px(x), px(y)));
        }
    }
    path.push('Z');
    out.empty("path", &[("d", &path), ("fill", "none"), ("stroke", "#000"), ("stroke-width", "2")]);
}

fn measures(out: &mut Markup, drawing: &Drawing, sheet: Paper) {
    let (x, y) = sheet.middle();
    text(out, (x, sheet.y - 1200), 1100, false, &drawing.width_text);
    let height =
        if drawing.torn { format!("{} in all", drawing.height_text) } else { drawing.height_text.clone() };
    text(out, (sheet.x + sheet.w + 2600, y), 1100, true, &height);
    if drawing.up {
        let (x, y) = (sheet.x + 600, sheet.y - 2000);
        let arrow = format!(
            "M{0} {1}V{2}M{3} {4}L{0} {2}L{5} {4}",
            px(x),
            px(y + 1500),
            px(y),
            px(x - 400),
            px(y + 500),
            px(x + 400)
        );
        out.empty("path", &[("d", &arrow), ("fill", "none"), ("stroke", "#000"), ("stroke-width", "2")]);
        text(out, (x + 1400, y + 800), 1100, false, "up");
    }
}

/// A text centred on a point, with a white rim so that lines below it do not disturb.
fn text(out: &mut Markup, at: (i64, i64), size: i64, turned: bool, words: &str) {
    let (x, y) = (px(at.0), px(at.1));
    let turn = format!("rotate(-90 {x} {y})");
    let size = px(size);
    let mut attributes = vec![
        ("x", x.as_str()),
        ("y", y.as_str()),
        ("dy", ".35em"),
        ("font-size", size.as_str()),
        ("text-anchor", "middle"),
    ];
    if turned {
        attributes.push(("transform", turn.as_str()));
    }
    out.leaf("text", &attributes, words);
}

/// Hundredths of a pixel as SVG writes them.
fn px(hundredths: i64) -> String {
    let sign = if hundredths < 0 { "-" } else { "" };
    let size = hundredths.unsigned_abs();
    match (size / 100, size % 100) {
        (whole, 0) => format!("{sign}{whole}"),
        (whole, part) => format!("{sign}{whole}.{part:02}"),
    }
}

#[cfg(test)]
mod tests {
    use super::px;

    #[test]
    fn hundredths_of_a_pixel_are_written_without_loss() {
        assert_eq!([px(0), px(5), px(-125), px(30_000)], ["0", "0.05", "-1.25", "300"]);
    }
}
