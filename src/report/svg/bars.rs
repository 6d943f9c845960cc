//! Blocks as bars of their prints to scale, in colour and beside it in grey.

use super::px;
use crate::report::markup::Markup;
use crate::report::paint::Ink;
use crate::report::view::bars::{Bar, BarsView};

/// Height of a bar, and from one to the next.
const BAR: i64 = 1_500;
const LINE: i64 = 2_000;
/// Where bars begin, in colour and in grey, and how long they are.
const COLOR: (i64, i64) = (11_000, 40_000);
const GREY: (i64, i64) = (53_000, 18_000);
/// The most bars of one drawing, so that it fits a page.
const MOST: usize = 40;
/// A bar of the small picture.
const SMALL: (i64, i64) = (9_000, 400);
/// The room letters take.
const LETTERS: i64 = 2_000;

/// Width of the drawing of bars.
pub(crate) const WIDTH: i64 = GREY.0 + GREY.1 + 100;

/// Writes all bars, in as many drawings as they need.
pub(crate) fn draw(out: &mut Markup, view: &BarsView) {
    for bars in view.bars.chunks(MOST) {
        let high = height(bars.len());
        svg(out, (WIDTH, high), &view.title, |out| shapes(out, bars));
    }
}

/// A small picture of all bars, in colour and beside it in grey.
pub(crate) fn draw_small(out: &mut Markup, view: &BarsView) {
    let (wide, line) = SMALL;
    let number = i64::try_from(view.bars.len()).unwrap_or(0);
    svg(out, (2 * wide + 1_000, number * line), &view.title, |out| {
        for (index, bar) in (0..).zip(&view.bars) {
            for (ink, x) in [(Ink::Color, 0), (Ink::Grey, wide + 1_000)] {
                parts(out, bar, ink, [x, index * line, wide, line]);
            }
        }
    });
}

/// Height of so many bars.
pub(super) fn height(bars: usize) -> i64 {
    i64::try_from(bars).unwrap_or(0) * LINE + 100
}

fn svg(out: &mut Markup, (width, height): (i64, i64), title: &str, inside: impl FnOnce(&mut Markup)) {
    let (width, height) = (px(width), px(height));
    let attributes = [
        ("xmlns", "http://www.w3.org/2000/svg"),
        ("class", "patchwork"),
        ("role", "img"),
        ("viewBox", &format!("0 0 {width} {height}")),
        ("width", &width),
        ("height", &height),
    ];
    out.element("svg", &attributes, |out| {
        out.leaf("title", &[], title);
        inside(out);
    });
}

/// Bars with their names.
pub(super) fn shapes(out: &mut Markup, bars: &[Bar]) {
    let type_face = [
        ("font-family", "Arial, 'Liberation Sans', Helvetica, sans-serif"),
        ("font-size", "12"),
        ("text-anchor", "end"),
    ];
    out.element("g", &type_face, |out| {
        for (index, bar) in (0..).zip(bars) {
            let y = px(index * LINE + BAR * 7 / 10);
            out.leaf("text", &[("x", &px(COLOR.0 - 800)), ("y", &y)], &bar.name);
        }
    });
    out.element("g", &[("stroke", "#000"), ("stroke-width", "0.5")], |out| {
        for (index, bar) in (0..).zip(bars) {
            for (ink, (x, wide)) in [(Ink::Color, COLOR), (Ink::Grey, GREY)] {
                parts(out, bar, ink, [x, index * LINE, wide, BAR]);
            }
        }
    });
    letters(out, bars);
}

/// The parts of a bar within a rectangle.
fn parts(out: &mut Markup, bar: &Bar, ink: Ink, [x, y, wide, high]: [i64; 4]) {
    for (from, to, part) in spans(bar, wide) {
        let (left, top) = (px(x + from), px(y));
        let (wide, high) = (px(to - from), px(high));
        let fill = part.paint.fill(ink);
        let place = [("x", left.as_str()), ("y", top.as_str()), ("width", wide.as_str())];
        out.empty("rect", &[&place[..], &[("height", high.as_str()), ("fill", fill)]].concat());
    }
}

/// The parts of a bar, each from where to where.
fn spans(bar: &Bar, wide: i64) -> Vec<(i64, i64, &crate::report::view::bars::Part)> {
    let mut share = 0;
    let mut spans = Vec::new();
    for (index, part) in bar.parts.iter().enumerate() {
        let from = wide * share / 10_000;
        share += part.share;
        // What rounding leaves goes to the last.
        let to = if index + 1 == bar.parts.len() { wide } else { wide * share / 10_000 };
        spans.push((from, to, part));
    }
    spans
}

fn letters(out: &mut Markup, bars: &[Bar]) {
    let type_face = [
        ("font-family", "Arial, 'Liberation Sans', Helvetica, sans-serif"),
        ("font-size", "11"),
        ("font-weight", "700"),
        ("text-anchor", "middle"),
        ("stroke", "#fff"),
        ("stroke-width", "2.2"),
        ("stroke-linejoin", "round"),
        ("paint-order", "stroke"),
    ];
    out.element("g", &type_face, |out| {
        for (index, bar) in (0..).zip(bars) {
            let y = px(index * LINE + BAR * 3 / 4);
            for (from, to, part) in spans(bar, COLOR.1) {
                if to - from >= LETTERS {
                    out.leaf("text", &[("x", &px(COLOR.0 + (from + to) / 2)), ("y", &y)], &part.letters);
                }
            }
        }
    });
}
