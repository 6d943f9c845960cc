//! For sewing: block by block, and a label for every bag.

use super::{swatch, table};
use crate::report::markup::Markup;
use crate::report::svg::patches::{self, Room};
use crate::report::view::PlanView;
use crate::report::view::blocks::{BlockView, PrintUse};

/// Said above the sewing order.
const TRIAL: &str = "Make one trial block first, and measure it at every step, seams included. Where a size is off, \
                     mend the seam before you sew the others.";

/// How large blocks are drawn: five, three or two to a page's width; the first in which all letters fit.
const ROOMS: [Room; 3] = [Room::square(13_600), Room::square(22_500), Room::square(34_000)];

/// Every kind of block with its copies.
pub(super) fn blocks(out: &mut Markup, plan: &PlanView) {
    if plan.blocks.is_empty() {
        return;
    }
    out.leaf("h2", &[("class", "page"), ("id", &format!("{}sewing", plan.prefix))], "Sewing, block by block");
    for block in &plan.blocks {
        out.element("section", &[("class", if block.copies.len() > 12 { "" } else { "block" })], |out| {
            out.leaf("h3", &[], &block.heading);
            made_of(out, block);
            stages(out, block);
            drawings(out, block);
            copies(out, block);
        });
    }
}

fn made_of(out: &mut Markup, block: &BlockView) {
    let count = if block.copies.len() == 1 { "Pieces" } else { "In each" };
    let then = block.lines.iter().any(|line| !line.then.is_empty());
    let mut headings = vec!["Label", "Fabric", "Size as cut", count];
    if then {
        headings.push("Then");
    }
    table(out, "lines", &headings, |out| {
        for line in &block.lines {
            out.element("tr", &[], |out| {
                out.element("td", &[], |out| out.leaf("strong", &[], &line.label));
                for cell in [&line.role, &line.size, &line.count] {
                    out.leaf("td", &[], cell);
                }
                if then {
                    out.leaf("td", &[], &line.then);
                }
            });
        }
    });
}

/// In which order to sew, and what to measure on the way.
fn stages(out: &mut Markup, block: &BlockView) {
    if block.stages.is_empty() {
        return;
    }
    out.leaf("h4", &[], "Sewing order");
    if block.copies.len() > 1 {
        out.leaf("p", &[("class", "note")], TRIAL);
    }
    table(out, "stages", &["For each block", "Sew", "Must measure"], |out| {
        for stage in &block.stages {
            for (index, (step, size)) in stage.steps.iter().enumerate() {
                out.element("tr", &[], |out| {
                    if index == 0 {
                        let rows = stage.steps.len().to_string();
                        out.element("th", &[("scope", "row"), ("rowspan", &rows)], |out| {
                            out.text(&stage.heading)
                        });
                    }
                    out.leaf("td", &[], step);
                    out.leaf("td", &[("class", "size")], size.as_deref().unwrap_or(""));
                });
            }
        }
    });
}

/// The copies as they will look, alike ones drawn once.
fn drawings(out: &mut Markup, block: &BlockView) {
    if block.drawings.is_empty() {
        return;
    }
    let fits = |room: &Room| block.drawings.iter().all(|each| patches::all_lettered(&each.drawing, *room));
    let room = ROOMS.into_iter().find(fits).unwrap_or(ROOMS[ROOMS.len() - 1]);
    out.element("div", &[("class", "looks")], |out| {
        for each in &block.drawings {
            out.element("figure", &[], |out| {
                patches::draw(out, &each.drawing, room);
                out.element("figcaption", &[], |out| {
                    out.leaf("strong", &[], &each.name);
                    for (letters, print) in &each.prints {
                        out.element("div", &[], |out| {
                            super::letters(out, Some(letters));
                            out.text(print);
                        });
                    }
                });
            });
        }
    });
}

fn copies(out: &mut Markup, block: &BlockView) {
    let mut headings = vec!["Sewn", "Block"];
    let of_each = |alike: bool| (0..block.roles.len()).filter(move |&role| block.alike[role] == alike);
    if let Some(first) = block.copies.first() {
        for role in of_each(true) {
            out.element("p", &[], |out| {
                out.text(&format!("{} in every block: ", block.roles[role]));
                for print in &first.cells[role] {
                    print_use(out, print);
                    out.text(" ");
                }
            });
        }
    }
    headings.extend(of_each(false).map(|role| block.roles[role].as_str()));
    table(out, "copies", &headings, |out| {
        for copy in &block.copies {
            out.element("tr", &[], |out| {
                out.element("td", &[], |out| super::boxes(out, 1));
                out.leaf("td", &[], &copy.name);
                for cell in of_each(false).map(|role| &copy.cells[role]) {
                    out.element("td", &[], |out| {
                        for print in cell {
                            out.element("div", &[], |out| print_use(out, print));
                        }
                    });
                }
            });
        }
    });
}

fn print_use(out: &mut Markup, print: &PrintUse) {
    match &print.print {
        Some(name) => {
            swatch(out, &print.paint);
            super::letters(out, print.letters.as_deref());
            out.text(&format!("{name}: {}", print.pieces));
            out.leaf("span", &[("class", "small")], &format!(" ({})", print.cards));
        }
        None => out.leaf("strong", &[], &format!("short: {}", print.pieces)),
    }
}

/// A label for the bag of every copy.
pub(super) fn labels(out: &mut Markup, plan: &PlanView, quilt: &str) {
    if plan.blocks.is_empty() {
        return;
    }
    out.leaf("h2", &[("class", "page"), ("id", &format!("{}labels", plan.prefix))], "Bag labels");
    out.leaf(
        "p",
        &[],
        "Cut out along the dashed lines and put one in each bag with the pieces of that block.",
    );
    out.element("div", &[("class", "labels")], |out| {
        for block in &plan.blocks {
            for copy in &block.copies {
                out.element("div", &[("class", "bag")], |out| {
                    out.leaf("span", &[("class", "of")], quilt);
                    out.leaf("strong", &[], &copy.bag);
                    for (role, cell) in block.roles.iter().zip(&copy.cells) {
                        for print in cell {
                            let name = print.print.as_deref().unwrap_or("short");
                            out.leaf("div", &[], &format!("{role}: {name}, {}", print.pieces));
                        }
                    }
                });
            }
        }
    });
}
