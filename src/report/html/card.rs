//! For cutting: the fabric key and the cards.

use super::{boxes, paint, swatch, table};
use crate::report::markup::Markup;
use crate::report::svg;
use crate::report::view::PlanView;
use crate::report::view::card::{Card, Member};
use crate::report::view::steps::{CutLine, Step};

/// Cards with more lines than this may run over a page; their heading is then repeated.
const LONG: usize = 24;

/// Which print takes which role.
pub(super) fn key(out: &mut Markup, plan: &PlanView) {
    if plan.key.is_empty() {
        return;
    }
    out.leaf("h2", &[("id", &format!("{}key", plan.prefix))], "Fabric key");
    let headings = ["Pattern's fabric", "Your print", "Kept", "Goes to", "Cut on card"];
    table(out, "key", &headings, |out| {
        for role in &plan.key {
            for (index, print) in role.prints.iter().enumerate() {
                out.element("tr", &[], |out| {
                    if index == 0 {
                        let rows = role.prints.len().to_string();
                        out.element("td", &[("rowspan", &rows)], |out| {
                            out.leaf("strong", &[], &role.role);
                            if !role.title.is_empty() {
                                out.text(&format!(", {}", role.title));
                            }
                        });
                    }
                    out.element("td", &[], |out| {
                        swatch(out, print.color.as_deref());
                        out.text(&print.print);
                    });
                    for cell in [&print.place, &print.blocks, &print.cards] {
                        out.leaf("td", &[], cell);
                    }
                });
            }
        }
    });
}

/// All cards.
pub(super) fn cards(out: &mut Markup, plan: &PlanView, revision: &str) {
    if plan.cards.is_empty() {
        return;
    }
    out.leaf(
        "h2",
        &[("class", "page"), ("id", &format!("{}cutting", plan.prefix))],
        "Cutting, fabric by fabric",
    );
    if !plan.bought.is_empty() {
        out.leaf("p", &[], &format!("To buy first: {}.", plan.bought.join("; ")));
    }
    out.leaf(
        "p",
        &[],
        "Work through each card from top to bottom. A number in a ring is a cut; the same number stands beside its \
         ruler setting. Hatched parts are left over. Label every piece as it is cut.",
    );
    for card in &plan.cards {
        self::card(out, card, plan.cards.len(), revision);
    }
}

fn card(out: &mut Markup, card: &Card, of: usize, revision: &str) {
    let lines = card.steps.len() + card.members.len() + card.pieces.len();
    let class = if lines > LONG { "card long" } else { "card" };
    out.element("section", &[("class", class), ("id", &card.id)], |out| {
        let heading = format!("Card {} of {of}: {}", card.number, card.title);
        if let [only] = card.members.as_slice() {
            tape(out, only);
        }
        out.leaf("h3", &[], &heading);
        out.element("p", &[], |out| {
            out.leaf("strong", &[], &card.fabric);
            if let [only] = card.members.as_slice() {
                out.text(&format!(". Fabric {} of the pattern", only.roles));
                let kept =
                    if only.place.is_empty() { String::new() } else { format!(", kept: {}", only.place) };
                out.text(&format!("; {}{kept}.", only.source));
            }
        });
        out.element("ol", &[], |out| {
            for line in &card.lay {
                out.leaf("li", &[], line);
            }
        });
        let wide = svg::is_wide(&card.drawing);
        out.element("div", &[("class", if wide { "body wide" } else { "body" })], |out| {
            svg::draw(out, &card.drawing);
            out.element("div", &[], |out| {
                steps(out, card, &heading, lines > LONG);
            });
        });
        pieces(out, card);
        if card.members.len() > 1 {
            members(out, card);
        }
        out.leaf("p", &[("class", "revision")], revision);
        out.leaf("p", &[], &card.left);
        out.leaf("p", &[], &card.least);
    });
}

/// A place to tape a swatch of the fabric.
fn tape(out: &mut Markup, member: &Member) {
    let style = member.color.as_deref().and_then(paint);
    let mut attributes = vec![("class", "tape")];
    if let Some(style) = &style {
        attributes.push(("style", style));
    }
    out.element("div", &attributes, |out| out.leaf("span", &[], "tape a swatch here"));
}

fn steps(out: &mut Markup, card: &Card, heading: &str, long: bool) {
    out.element("table", &[("class", "steps")], |out| {
        out.element("thead", &[], |out| {
            if long {
                out.element("tr", &[], |out| {
                    out.leaf("th", &[("class", "of"), ("colspan", "5")], heading);
                });
            }
            out.element("tr", &[], |out| {
                for heading in ["Cut", "Ruler at", "You get", "What remains", "Done"] {
                    out.leaf("th", &[("scope", "col")], heading);
                }
            });
        });
        out.element("tbody", &[], |out| {
            for step in &card.steps {
                line(out, step);
            }
        });
    });
}

fn line(out: &mut Markup, step: &Step) {
    out.element("tr", &[], |out| match step {
        Step::TrueUp { text, boxes: number } => {
            out.leaf("td", &[], "first");
            out.leaf("td", &[("colspan", "3")], text);
            out.element("td", &[], |out| boxes(out, *number));
        }
        Step::Part(text) | Step::Whole(text) => {
            out.leaf("td", &[("class", "part"), ("colspan", "5")], text);
        }
        Step::Cut(cut) => cut_line(out, cut),
    });
}

fn cut_line(out: &mut Markup, cut: &CutLine) {
    out.leaf("td", &[("class", "number-cell")], &cut.numbers);
    out.element("td", &[], |out| {
        out.leaf("span", &[("class", "setting")], &cut.setting);
        if let Some(times) = &cut.times {
            out.leaf("strong", &[], &format!(", {times}"));
        }
        out.empty("br", &[]);
        out.leaf("span", &[("class", "small")], &format!("from the {}", cut.from));
    });
    out.leaf("td", &[], &cut.gives);
    out.element("td", &[], |out| {
        out.text(&cut.remains);
        for note in &cut.notes {
            out.leaf("div", &[("class", "note small")], note);
        }
    });
    out.element("td", &[], |out| boxes(out, cut.boxes));
}

fn pieces(out: &mut Markup, card: &Card) {
    let many = card.members.len() > 1;
    let mut headings = vec!["Label", "Fabric", "Size as cut", if many { "From each" } else { "Pieces" }];
    if many {
        headings.push("In all");
    }
    headings.push("For");
    table(out, "pieces", &headings, |out| {
        for piece in &card.pieces {
            out.element("tr", &[], |out| {
                out.element("td", &[], |out| out.leaf("strong", &[], &piece.label));
                out.leaf("td", &[], &piece.role);
                out.element("td", &[], |out| {
                    out.text(&piece.size);
                    if !piece.then.is_empty() {
                        out.text(&format!(", {}", piece.then));
                    }
                });
                out.leaf("td", &[], &piece.each.to_string());
                if many {
                    out.leaf("td", &[], &piece.all.to_string());
                }
                out.leaf("td", &[], &piece.uses);
            });
        }
    });
}

fn members(out: &mut Markup, card: &Card) {
    let headings = ["Done", "Stack", "Print", "Fabric", "Which", "Kept", "Its pieces"];
    table(out, "members", &headings, |out| {
        for member in &card.members {
            out.element("tr", &[], |out| {
                out.element("td", &[], |out| boxes(out, 1));
                out.leaf("td", &[], &member.stack.to_string());
                out.element("td", &[], |out| {
                    swatch(out, member.color.as_deref());
                    out.text(&member.print);
                });
                for cell in [&member.roles, &member.source, &member.place, &member.uses] {
                    out.leaf("td", &[], cell);
                }
            });
        }
    });
}
