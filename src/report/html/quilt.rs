//! The quilt: drawing, key, where each block lies.

use super::{swatch, table};
use crate::report::markup::Markup;
use crate::report::svg::patches::{self, Room};
use crate::report::view::PlanView;
use crate::report::view::quilt::QuiltView;

/// As wide as a page, and as high as leaves room for the key below.
const ROOM: Room = Room { width: 72_000, height: 66_000 };

/// How crowding is counted.
const CROWDING: &str = "Crowding counts, for every two blocks that have something in common, 16 when they are neighbours (also \
                        corner to corner), 4 two places apart and 1 three places apart.";

/// The page of the whole quilt.
pub(super) fn quilt(out: &mut Markup, plan: &PlanView) {
    let Some(quilt) = &plan.quilt else { return };
    out.leaf("h2", &[("class", "page"), ("id", &format!("{}quilt", plan.prefix))], "The quilt");
    out.leaf("p", &[], &format!("{}. Letters stand for prints.", quilt.drawing.title));
    out.element("figure", &[("class", "quilt")], |out| patches::draw(out, &quilt.drawing, ROOM));
    key(out, quilt);
    out.element("section", &[("class", "block")], |out| places(out, quilt));
}

fn key(out: &mut Markup, quilt: &QuiltView) {
    out.element("ul", &[("class", "quilt-key")], |out| {
        for print in &quilt.key {
            out.element("li", &[], |out| {
                swatch(out, print.color.as_deref());
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
