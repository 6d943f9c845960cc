//! The first page, and the alternatives when it does not fit.

use super::{plan, table};
use crate::report::markup::Markup;
use crate::report::view::front::CAUTIONS;
use crate::report::view::{AlternativeView, Front, View};

/// Verdict, reasons, numbers, cautions.
pub(super) fn front(out: &mut Markup, view: &View) {
    let front = &view.front;
    out.leaf("h1", &[], &front.title);
    out.leaf("p", &[("class", "revision")], &format!("Cutting sheet, {}", front.revision));
    out.leaf("p", &[("class", "verdict")], front.verdict);
    out.leaf("p", &[], &front.proof);
    if !front.fits {
        reasons(out, view);
        if !view.alternatives.is_empty() {
            choices(out, view);
        }
        out.leaf("h2", &[], "As it stands");
    }
    out.leaf("p", &[], &front.numbers);
    if let Some(looks) = &view.plan.looks {
        out.leaf("p", &[], &looks.sentences.join(" "));
    }
    if !front.preferences.is_empty() {
        out.leaf("p", &[], &front.preferences);
    }
    for line in &front.choices {
        out.leaf("p", &[], line);
    }
    cautions(out);
    out.leaf("h2", &[], "We assumed");
    out.element("ul", &[], |out| {
        for line in &front.assumptions {
            out.leaf("li", &[], line);
        }
    });
}

fn reasons(out: &mut Markup, view: &View) {
    if view.front.reasons.len() > 1 {
        out.leaf("h2", &[], "Why");
        out.element("ul", &[], |out| {
            for reason in &view.front.reasons {
                out.leaf("li", &[], reason);
            }
        });
    }
    if !view.front.short.is_empty() {
        out.leaf("h2", &[], "What is short");
        table(out, "short", &["Short", "Why"], |out| {
            for (what, why) in &view.front.short {
                super::row(out, &[what, why]);
            }
        });
    }
}

/// The usual cautions, on every sheet.
pub(super) fn cautions(out: &mut Markup) {
    out.element("div", &[("class", "cautions")], |out| {
        out.leaf("h3", &[], "Before you cut");
        out.element("ul", &[], |out| {
            for caution in CAUTIONS {
                out.leaf("li", &[], caution);
            }
        });
    });
}

fn choices(out: &mut Markup, view: &View) {
    out.leaf("h2", &[("id", "alternatives")], "What would make it fit");
    out.leaf(
        "p",
        &[],
        "Each of these has been planned to the last piece and checked. Open the one you choose before you print: \
         what stays closed is not printed.",
    );
    table(out, "choices", &["", "Change", "Cost", "Then", "How it looks"], |out| {
        for alternative in &view.alternatives {
            out.element("tr", &[], |out| {
                out.element("td", &[], |out| {
                    let goal = format!("#alternative-{}", alternative.number);
                    out.leaf("a", &[("href", &goal)], &alternative.number.to_string());
                });
                out.leaf("td", &[], &alternative.changes.join("; "));
                out.leaf("td", &[], &alternative.cost);
                out.leaf("td", &[], &alternative.numbers);
                out.element("td", &[], |out| {
                    super::quilt::small(out, &alternative.plan);
                    if let Some(looks) = &alternative.plan.looks {
                        out.text(&looks.sentences.join(" "));
                    }
                });
            });
        }
    });
}

/// One alternative with its own plan, closed until it is chosen.
pub(super) fn alternative(out: &mut Markup, alternative: &AlternativeView, front: &Front) {
    out.element("details", &[], |out| {
        let heading = format!("Alternative {}: {}", alternative.number, alternative.changes.join("; "));
        out.leaf("summary", &[], &heading);
        let id = format!("alternative-{}", alternative.number);
        out.element("div", &[("id", &id)], |out| {
            out.leaf("p", &[], &format!("Cost: {}. {}", alternative.cost, alternative.numbers));
            cautions(out);
            plan(out, &alternative.plan, front);
        });
    });
}

/// What the stash gives as it is, closed.
pub(super) fn so_far(out: &mut Markup, view: &View) {
    if view.plan.cards.is_empty() {
        return;
    }
    out.element("details", &[], |out| {
        out.leaf("summary", &[], "What can be cut without any change");
        out.element("div", &[("id", "so-far")], |out| {
            out.leaf("p", &[], "This cuts the pieces that can be placed; the quilt stays incomplete.");
            plan(out, &view.plan, &view.front);
        });
    });
}
