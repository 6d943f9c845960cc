//! The quilt: drawing, key, where each block lies.

use super::{swatch, table};
use crate::report::markup::Markup;
use crate::report::svg::bars;
use crate::report::svg::patches::{self, Room};
use crate::report::svg::quilt::GREY_WORDS;
use crate::report::view::PlanView;
use crate::report::view::quilt::{QuiltPrint, QuiltView};

/// As wide as a page, and as high as leaves room for the key below.
const ROOM: Room = Room { width: 72_000, height: 66_000 };

/// The same in grey beside the key, and small in a table of alternatives.
const GREY: Room = Room { width: 24_000, height: 24_000 };
const SMALL: Room = Room { width: 13_000, height: 13_000 };

/// How bars are read.
const BARS: &str =
    "Letters stand for prints; to the right the same in light and dark, as you see it when you squint.";

/// What counts as alike.
const ALIKE: &str = "Two fabrics look alike here when they differ little in light and dark (contrast) and in colour. Prints named \
                     as a mend stand out beside all that they would meet; whether every piece fits is told by planning again with \
                     the print in placements.csv.";

/// How crowding is counted.
const CROWDING: &str = "Crowding counts, for every two blocks that have something in common, 16 when they are neighbours (also \
                        corner to corner), 4 two places apart and 1 three places apart.";

/// The page of the whole quilt.
pub(super) fn quilt(out: &mut Markup, plan: &PlanView) {
    let id = format!("{}quilt", plan.prefix);
    let heading = |out: &mut Markup| out.leaf("h2", &[("class", "page"), ("id", &id)], "The quilt");
    if let Some(quilt) = &plan.quilt {
        heading(out);
        out.leaf("p", &[], &format!("{}. Letters stand for prints.", quilt.drawing.title));
        out.element("figure", &[("class", "quilt")], |out| patches::draw(out, &quilt.drawing, ROOM));
        out.element("div", &[("class", "beside")], |out| {
            out.element("figure", &[("class", "grey")], |out| {
                patches::draw_grey(out, &quilt.drawing, GREY);
                out.leaf("figcaption", &[], GREY_WORDS);
            });
            key(out, &quilt.key);
        });
        looks(out, plan);
        if !quilt.rows.is_empty() {
            out.element("section", &[("class", "block")], |out| places(out, quilt));
        }
    } else if let Some(bars) = &plan.bars {
        heading(out);
        out.leaf("p", &[], &format!("{}, by area as cut. {BARS}", bars.title));
        out.element("figure", &[("class", "quilt")], |out| bars::draw(out, bars));
        key(out, &bars.key);
        looks(out, plan);
    }
}

/// A small picture of the quilt, in colour and in grey.
pub(super) fn small(out: &mut Markup, plan: &PlanView) {
    if let Some(quilt) = &plan.quilt {
        out.element("div", &[("class", "small-quilt")], |out| {
            patches::draw_plain(out, &quilt.drawing, SMALL);
            patches::draw_grey(out, &quilt.drawing, SMALL);
        });
    } else if let Some(bars) = &plan.bars {
        bars::draw_small(out, bars);
    }
}

/// What looks alike where it meets, and how often the prints come.
fn looks(out: &mut Markup, plan: &PlanView) {
    let Some(looks) = &plan.looks else { return };
    out.element("section", &[("class", "block")], |out| {
        out.leaf("h3", &[], "How it looks");
        out.leaf("p", &[], &looks.sentences.join(" "));
        if !looks.clashes.is_empty() {
            out.leaf("p", &[("class", "small")], ALIKE);
            table(
                out,
                "clashes",
                &["Where", "These two look alike", "Contrast", "What would mend it"],
                |out| {
                    for clash in &looks.clashes {
                        super::row(out, &[&clash.place, &clash.prints, &clash.contrast, &clash.mend]);
                    }
                },
            );
        }
        if !looks.repeats.is_empty() {
            table(out, "repeats", &["In so many blocks", "Prints", "Which"], |out| {
                for repeat in &looks.repeats {
                    let (blocks, number) = (repeat.blocks.to_string(), repeat.number.to_string());
                    super::row(out, &[&blocks, &number, &repeat.prints]);
                }
            });
        }
    });
}

fn key(out: &mut Markup, prints: &[QuiltPrint]) {
    out.element("ul", &[("class", "quilt-key")], |out| {
        for print in prints {
            out.element("li", &[], |out| {
                swatch(out, &print.paint);
                super::letters(out, Some(&print.letters));
                out.text(&print.print);
                out.leaf("span", &[("class", "small")], &format!(": {}", print.roles));
            });
        }
    });
}

fn places(out: &mut Markup, quilt: &QuiltView) {
    out.leaf("h3", &[], "Where each block lies");
    for sentence in &quilt.spread {
        out.leaf("p", &[], sentence);
    }
    if quilt.spread.iter().any(|sentence| sentence.starts_with("Crowding")) {
        out.leaf("p", &[("class", "small")], CROWDING);
    }
    out.leaf(
        "p",
        &[],
        &format!(
            "To move a block, change its row and column in placements.csv and plan again. {}",
            quilt.counted
        ),
    );
    let widest = quilt.rows.iter().map(Vec::len).max().unwrap_or(0);
    let mut headings = vec!["Row".to_owned()];
    headings.extend((1..=widest).map(|column| column.to_string()));
    let headings: Vec<&str> = headings.iter().map(String::as_str).collect();
    table(out, "places", &headings, |out| {
        for (row, number) in quilt.rows.iter().zip(1..) {
            out.element("tr", &[], |out| {
                out.leaf("th", &[("scope", "row")], &number.to_string());
                for column in 0..widest {
                    out.leaf("td", &[], row.get(column).map_or("", String::as_str));
                }
            });
        }
    });
}
