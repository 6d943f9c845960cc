//! The quilt as a drawing of its own, in colour and in grey, with the key to its letters below.

use super::patches::{self, Room};
use super::{bars, px};
use crate::report::markup::Markup;
use crate::report::paint::Ink;
use crate::report::view::bars::BarsView;
use crate::report::view::quilt::{QuiltPrint, QuiltView};

/// A drawing for a screen.
const ROOM: Room = Room { width: 110_000, height: 150_000 };
/// Height of a line of the key, width of a column of it, space around it.
const LINE: i64 = 2_200;
const COLUMN: i64 = 27_000;
const EDGE: i64 = 1_200;

/// The same in grey beside it, and the space between.
const GREY_ROOM: Room = Room { width: 44_000, height: 60_000 };
const BETWEEN: i64 = 2_400;

/// The content of `quilt.svg`: the quilt, beside it in grey, below it the key.
pub(crate) fn file(quilt: &QuiltView) -> String {
    let drawing = &quilt.drawing;
    let (width, height) = patches::size(drawing, ROOM);
    let (grey, _) = patches::size(drawing, GREY_ROOM);
    let whole = (width + BETWEEN + grey, height);
    with_key(&drawing.title, whole, &quilt.key, |out| {
        patches::shapes(out, drawing, ROOM, Ink::Color);
        let beside = format!("translate({} {})", px(width + BETWEEN), px(BETWEEN));
        let label = [("x", px(width + BETWEEN)), ("y", px(1_600))];
        caption(out, &label, GREY_WORDS);
        out.element("g", &[("transform", &beside)], |out| {
            patches::shapes(out, drawing, GREY_ROOM, Ink::Grey)
        });
    })
}

/// The content of `quilt.svg` where only the pieces of the blocks are known: bars, in colour and in grey, and the key.
pub(crate) fn bars_file(view: &BarsView) -> String {
    let top = 2_400;
    let size = (bars::WIDTH, bars::height(view.bars.len()) + top);
    with_key(&view.title, size, &view.key, |out| {
        caption(out, &[("x", px(0)), ("y", px(1_600))], &view.title);
        let moved = format!("translate(0 {})", px(top));
        out.element("g", &[("transform", &moved)], |out| bars::shapes(out, &view.bars));
    })
}

/// What stands over the grey picture.
pub(crate) const GREY_WORDS: &str = "Light and dark, as you see it when you squint";

fn caption(out: &mut Markup, place: &[(&str, String)], words: &str) {
    let mut attributes: Vec<(&str, &str)> = place.iter().map(|(key, value)| (*key, value.as_str())).collect();
    attributes
        .extend([("font-family", "Arial, 'Liberation Sans', Helvetica, sans-serif"), ("font-size", "14")]);
    out.leaf("text", &attributes, words);
}

/// A drawing of this size with its key below.
fn with_key(
    title: &str,
    (width, height): (i64, i64),
    key: &[QuiltPrint],
    shapes: impl FnOnce(&mut Markup),
) -> String {
    let columns = (width / COLUMN).max(1);
    let number = i64::try_from(key.len()).unwrap_or(i64::MAX / LINE);
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
        out.leaf("title", &[], title);
        out.empty("rect", &[("width", "100%"), ("height", "100%"), ("fill", "#fff")]);
        let moved = format!("translate({} {})", px(EDGE), px(EDGE));
        out.element("g", &[("transform", &moved)], shapes);
        let type_face =
            [("font-family", "Arial, 'Liberation Sans', Helvetica, sans-serif"), ("font-size", "14")];
        out.element("g", &type_face, |out| {
            for (index, print) in (0..).zip(key) {
                let (column, line) = (index / lines.max(1), index % lines.max(1));
                entry(out, print, EDGE + column * COLUMN, height + 2 * EDGE + line * LINE);
            }
        });
    });
    out.finish()
}

/// A swatch, letters and name.
fn entry(out: &mut Markup, print: &QuiltPrint, x: i64, y: i64) {
    let swatch = [
        ("x", px(x)),
        ("y", px(y)),
        ("width", px(1_600)),
        ("height", px(1_600)),
        ("fill", print.paint.fill(Ink::Color).to_owned()),
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
