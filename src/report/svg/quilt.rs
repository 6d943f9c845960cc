//! The quilt as a drawing of its own, with the key to its letters below.

use super::patches::{self, Room};
use super::px;
use crate::report::markup::Markup;
use crate::report::paint::paint;
use crate::report::view::quilt::{QuiltPrint, QuiltView};

/// A drawing for a screen.
const ROOM: Room = Room { width: 110_000, height: 150_000 };
/// Height of a line of the key, width of a column of it, space around it.
const LINE: i64 = 2_200;
const COLUMN: i64 = 27_000;
const EDGE: i64 = 1_200;

/// The content of `quilt.svg`.
pub(crate) fn file(quilt: &QuiltView) -> String {
    let (width, height) = patches::size(&quilt.drawing, ROOM);
    let columns = (width / COLUMN).max(1);
    let number = i64::try_from(quilt.key.len()).unwrap_or(i64::MAX / LINE);
    let lines = (number + columns - 1) / columns;
    let (wide, high) = (width.max(COLUMN) + 2 * EDGE, height + lines * LINE + 3 * EDGE);
    let mut out = Markup::new();
    let attributes = [
        ("xmlns", "http://www.w3.org/2000/svg"),
        ("viewBox", &format!("0 0 {} {}", px(wide), px(high))),
        ("width", &px(wide)),
        ("height", &px(high)),
    ];
    out.element("svg", &attributes, |out| {
        out.leaf("title", &[], &quilt.drawing.title);
        out.empty("rect", &[("width", "100%"), ("height", "100%"), ("fill", "#fff")]);
        let moved = format!("translate({} {})", px(EDGE), px(EDGE));
        out.element("g", &[("transform", &moved)], |out| patches::shapes(out, &quilt.drawing, ROOM));
        let type_face =
            [("font-family", "Arial, 'Liberation Sans', Helvetica, sans-serif"), ("font-size", "14")];
        out.element("g", &type_face, |out| {
            for (index, print) in (0..).zip(&quilt.key) {
                let (column, line) = (index / lines.max(1), index % lines.max(1));
                entry(out, print, EDGE + column * COLUMN, height + 2 * EDGE + line * LINE);
            }
        });
    });
    out.finish()
}

/// A swatch, letters and name.
fn entry(out: &mut Markup, print: &QuiltPrint, x: i64, y: i64) {
    let paint = print.color.as_deref().and_then(paint);
    let swatch = [
        ("x", px(x)),
        ("y", px(y)),
        ("width", px(1_600)),
        ("height", px(1_600)),
        ("fill", paint.unwrap_or_else(|| "#fff".to_owned())),
        ("stroke", "#000".to_owned()),
    ];
    let swatch: Vec<(&str, &str)> = swatch.iter().map(|(key, value)| (*key, value.as_str())).collect();
    out.empty("rect", &swatch);
    let line = px(y + 1_300);
    let letters = [("x", px(x + 2_200)), ("y", line.clone()), ("font-weight", "700".to_owned())];
    let letters: Vec<(&str, &str)> = letters.iter().map(|(key, value)| (*key, value.as_str())).collect();
    out.leaf("text", &letters, &print.letters);
    out.leaf("text", &[("x", &px(x + 5_000)), ("y", &line)], &print.print);
}
