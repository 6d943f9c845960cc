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

fn totals(out: &mut Markup, plan: &PlanView) {
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
    table(out, "leftovers", &["Size", "How many", "Back to the stash", "Prints"], |out| {
        for left in &plan.left {
            let back = if left.useful {
                format!("yes, as {}", left.cut.entry().name)
            } else {
                "too small".to_owned()
            };
            row(out, &[&left.size, &left.count.to_string(), &back, &left.prints]);
        }
    });
}

fn held(out: &mut Markup, plan: &PlanView) {
    if plan.held.is_empty() {
        return;
    }
    out.leaf("h3", &[], "How often each print is held");
    table(out, "held", &["Fabric", "How often", "Prints"], |out| {
        for held in &plan.held {
            for (often, names) in &held.counts {
                row(out, &[&held.cut, often, names]);
            }
            let kept = if held.kept.is_empty() { "none" } else { &held.kept };
            row(out, &[&held.cut, "doubles kept back", kept]);
        }
    });
}
