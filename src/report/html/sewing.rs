//! For sewing: block by block, and a label for every bag.

use super::{swatch, table};
use crate::report::markup::Markup;
use crate::report::view::PlanView;
use crate::report::view::blocks::{BlockView, PrintUse};

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

fn copies(out: &mut Markup, block: &BlockView) {
    let mut headings = vec!["Sewn", "Block"];
    headings.extend(block.roles.iter().map(String::as_str));
    table(out, "copies", &headings, |out| {
        for copy in &block.copies {
            out.element("tr", &[], |out| {
                out.element("td", &[], |out| super::boxes(out, 1));
                out.leaf("td", &[], &copy.name);
                for cell in &copy.cells {
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
            swatch(out, print.color.as_deref());
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
