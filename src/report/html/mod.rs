//! The print sheet: one self-contained HTML file without scripts, read on paper in black and white.

use crate::report::escape;
use crate::report::markup::Markup;
use crate::report::paint::Paint;
use crate::report::view::{Front, PlanView, View};

mod back;
mod card;
pub(super) mod cover;
mod front;
mod quilt;
mod sewing;

/// The sheet.
pub(super) fn sheet(view: &View) -> String {
    let foot = format!("{}, {}", view.front.title, view.front.revision);
    document(&format!("{}: cutting sheet", view.front.title), &foot, |out| {
        front::front(out, view);
        if view.front.fits {
            plan(out, &view.plan, &view.front);
        } else {
            for alternative in &view.alternatives {
                front::alternative(out, alternative, &view.front);
            }
            front::so_far(out, view);
        }
    })
}

/// A whole file: its title, what stands at the foot of every printed page, and what `body` writes.
fn document(title: &str, foot: &str, body: impl FnOnce(&mut Markup)) -> String {
    let mut out = Markup::new();
    out.trusted("<!DOCTYPE html>\n");
    out.element("html", &[("lang", "en")], |out| {
        out.element("head", &[], |out| {
            out.empty("meta", &[("charset", "utf-8")]);
            out.empty("meta", &[("name", "viewport"), ("content", "width=device-width, initial-scale=1")]);
            out.leaf("title", &[], title);
            out.element("style", &[], |out| {
                out.trusted(include_str!("style.css"));
                out.trusted(&page_foot(foot));
            });
        });
        out.element("body", &[], body);
    });
    out.finish()
}

/// `words` and the page number at the foot of every printed page, where the browser can.
fn page_foot(words: &str) -> String {
    let words = escape::css_string(words);
    format!(
        "@page {{ @bottom-left {{ content: \"{words}\"; font: 8pt sans-serif; }} \
         @bottom-right {{ content: \"page \" counter(page) \" of \" counter(pages); font: 8pt sans-serif; }} }}\n"
    )
}

/// All sections of one plan.
fn plan(out: &mut Markup, plan: &PlanView, front: &Front) {
    card::key(out, plan);
    card::cards(out, plan, &front.revision, "");
    quilt::quilt(out, plan);
    sewing::blocks(out, plan);
    back::back(out, plan);
    sewing::labels(out, plan, &front.title);
}

/// A table with a heading row that is repeated on every page it reaches.
fn table(out: &mut Markup, class: &str, headings: &[&str], rows: impl FnOnce(&mut Markup)) {
    out.element("table", &[("class", class)], |out| {
        out.element("thead", &[], |out| {
            out.element("tr", &[], |out| {
                for heading in headings {
                    out.leaf("th", &[("scope", "col")], heading);
                }
            });
        });
        out.element("tbody", &[], rows);
    });
}

/// A row of plain cells.
fn row(out: &mut Markup, cells: &[&str]) {
    out.element("tr", &[], |out| {
        for cell in cells {
            out.leaf("td", &[], cell);
        }
    });
}

/// Boxes to tick.
fn boxes(out: &mut Markup, number: usize) {
    for _ in 0..number {
        out.leaf("span", &[("class", "box")], "");
    }
}

/// A small square in the fabric's colour, empty when the colour is not known.
fn swatch(out: &mut Markup, paint: &Paint) {
    match background(paint) {
        Some(style) => out.leaf("span", &[("class", "swatch"), ("style", &style)], ""),
        None => out.leaf("span", &[("class", "swatch")], ""),
    }
}

/// The letters of a print in the drawings, where there are drawings.
fn letters(out: &mut Markup, letters: Option<&str>) {
    if let Some(letters) = letters {
        out.leaf("strong", &[("class", "letters")], letters);
        out.text(" ");
    }
}

/// The colour of a print as a style.
fn background(paint: &Paint) -> Option<String> {
    paint.color.as_ref().map(|color| format!("background:{color}"))
}
