//! The counts: totals by piece, prints held, leftovers.

use super::{row, table};
use crate::report::markup::Markup;
use crate::report::view::PlanView;

/// The last section of a plan.
pub(super) fn back(out: &mut Markup, plan: &PlanView) {
    out.leaf("h2", &[("id", &format!("{}counts", plan.prefix))], "Counts");
    totals(out, plan);
    leftovers(out, plan);
    held(out, plan);
}

pub(super) fn totals(out: &mut Markup, plan: &PlanView) {
    out.leaf("h3", &[], "Every piece: needed = cut + short");
    let headings = ["Block", "Label", "Fabric", "Size as cut", "Needed", "Cut", "Short"];
    table(out, "totals", &headings, |out| {
        for total in &plan.totals {
            row(
                out,
                &[
                    &total.block,
                    &total.label,
                    &total.role,
                    &total.size,
                    &total.need.to_string(),
                    &total.cut.to_string(),
                    &total.short.to_string(),
                ],
            );
        }
        let sum = |count: fn(&crate::report::view::back::TotalRow) -> u32| {
            plan.totals.iter().map(count).sum::<u32>().to_string()
        };
        out.element("tr", &[], |out| {
            out.leaf("th", &[("colspan", "4"), ("scope", "row")], "All pieces");
            for sum in [sum(|t| t.need), sum(|t| t.cut), sum(|t| t.short)] {
                out.leaf("th", &[], &sum);
            }
        });
    });
}

fn leftovers(out: &mut Markup, plan: &PlanView) {
    out.leaf("h3", &[], "Left over");
    if plan.left.is_empty() {
        out.leaf("p", &[], "Nothing is left of the fabric that is cut.");
        return;
    }
    if plan.left.iter().any(|left| left.useful) {
        out.leaf("p", &[], "Large enough to go back to the stash, as leftovers.csv lists them:");
        table(out, "leftovers", &["Size", "How many", "As", "Prints"], |out| {
            for left in plan.left.iter().filter(|left| left.useful) {
                row(out, &[&left.size, &left.count.to_string(), &left.cut.entry().name, &left.prints]);
            }
        });
    }
    if let Some(small) = &plan.too_small {
        out.leaf("p", &[], small);
    }
}

fn held(out: &mut Markup, plan: &PlanView) {
    if plan.held.is_empty() {
        return;
    }
    out.leaf("h3", &[], "How often you have each print");
    table(out, "held", &["Fabric", "You have", "Doubles not used"], |out| {
        for held in &plan.held {
            out.element("tr", &[], |out| {
                out.leaf("td", &[], &held.cut);
                out.element("td", &[], |out| {
                    for count in &held.counts {
                        out.leaf("div", &[], count);
                    }
                });
                out.leaf("td", &[], held.kept.as_deref().unwrap_or(""));
            });
        }
    });
}
