//! For cutting: the fabric key and the cards.

use super::{background, boxes, letters, swatch, table};
use crate::report::markup::Markup;
use crate::report::svg;
use crate::report::view::PlanView;
use crate::report::view::card::{Card, Member};
use crate::report::view::drawing::Place;
use crate::report::view::steps::{CutLine, Step};

/// Cards with more lines than this may run over a page; their heading is then repeated.
const LONG: usize = 34;

/// With at most so many lines the pieces too are listed beside the drawing.
const BESIDE: usize = 9;

/// With at most so many steps there is more room below them than below the drawing.
const SHORT: usize = 6;

/// Which print takes which role.
pub(super) fn key(out: &mut Markup, plan: &PlanView) {
    if plan.key.is_empty() {
        return;
    }
    out.leaf("h2", &[("id", &format!("{}key", plan.prefix))], "Fabric key");
    for role in &plan.key {
        out.element("div", &[("class", "role")], |out| {
            out.element("h4", &[], |out| {
                out.text(&role.role);
                if !role.title.is_empty() {
                    out.text(&format!(", {}", role.title));
                }
            });
            out.element("ul", &[("class", "prints")], |out| {
                for print in &role.prints {
                    out.element("li", &[], |out| {
                        swatch(out, &print.paint);
                        letters(out, print.letters.as_deref());
                        out.leaf("strong", &[], &print.print);
                        out.leaf("span", &[("class", "small")], &print.about);
                    });
                }
            });
        });
    }
}

/// All cards; `about` is what there is to say about them, or nothing.
pub(super) fn cards(out: &mut Markup, plan: &PlanView, revision: &str, about: &str) {
    if plan.cards.is_empty() {
        return;
    }
    out.leaf("h2", &[("id", &format!("{}cutting", plan.prefix))], "Cutting, fabric by fabric");
    if !about.is_empty() {
        out.leaf("p", &[("class", "before-card")], about);
    }
    if !plan.bought.is_empty() {
        out.leaf("p", &[("class", "before-card")], &format!("To buy first: {}.", plan.bought.join("; ")));
    }
    out.leaf(
        "p",
        &[("class", "before-card")],
        "Work through each card from top to bottom. A number in a ring is a cut; the same number stands beside its \
         ruler setting. Hatched parts are left over. Label every piece as it is cut.",
    );
    for card in &plan.cards {
        self::card(out, card, plan.cards.len(), revision);
    }
}

fn card(out: &mut Markup, card: &Card, of: usize, revision: &str) {
    let lines = card.steps.len() + card.members.len() + card.pieces.len();
    let long = card.drawing.place == Place::Across || lines > LONG;
    let class = if long { "card long" } else { "card" };
    out.element("section", &[("class", class), ("id", &card.id)], |out| {
        let heading = format!("Card {} of {of}: {}, {}", card.number, card.title, card.fabric);
        out.element("div", &[("class", "head")], |out| {
            out.element("div", &[], |out| {
                out.element("h3", &[], |out| {
                    out.text(&heading);
                    out.leaf("span", &[("class", "revision")], &format!(" {revision}"));
                });
                if let [only] = card.members.as_slice() {
                    out.leaf("p", &[], &format!("Fabric: {}; {}.", only.roles, only.source));
                }
                lay(out, card);
            });
            if let [only] = card.members.as_slice() {
                tape(out, only);
            }
        });
        match card.drawing.place {
            Place::Beside => beside(out, card, &heading, long),
            Place::Above => above(out, card, &heading, long),
            Place::Across => across(out, card, &heading, long),
        }
        if card.members.len() > 1 {
            members(out, card);
        }
    });
}

/// The drawing to the left, the steps to the right.
fn beside(out: &mut Markup, card: &Card, heading: &str, long: bool) {
    let room = card.steps.len() + card.pieces.len() <= BESIDE;
    out.element("div", &[("class", "body")], |out| {
        out.element("div", &[], |out| {
            svg::draw(out, &card.drawing);
            if card.steps.len() > SHORT {
                left(out, card);
            }
        });
        out.element("div", &[], |out| {
            steps(out, card, heading, long);
            if card.steps.len() <= SHORT {
                left(out, card);
            }
            if room {
                pieces(out, card);
            }
        });
    });
    if !room {
        pieces(out, card);
    }
}

/// The drawing to the left, the pieces to the right, the steps below both.
fn above(out: &mut Markup, card: &Card, heading: &str, long: bool) {
    out.element("div", &[("class", "body")], |out| {
        svg::draw(out, &card.drawing);
        out.element("div", &[], |out| {
            pieces(out, card);
            left(out, card);
        });
    });
    steps(out, card, heading, long);
}

/// The drawing across the page, everything else below it.
fn across(out: &mut Markup, card: &Card, heading: &str, long: bool) {
    svg::draw(out, &card.drawing);
    out.element("div", &[("class", "wide")], |out| left(out, card));
    steps(out, card, heading, long);
    pieces(out, card);
}

/// What is left and how small the sheet may be.
fn left(out: &mut Markup, card: &Card) {
    out.leaf("p", &[("class", "left")], &card.left);
    out.leaf("p", &[("class", "left")], &card.least);
}

fn lay(out: &mut Markup, card: &Card) {
    out.element("ol", &[], |out| {
        for line in &card.lay {
            out.leaf("li", &[], line);
        }
    });
}

/// A place to tape a swatch of the fabric.
fn tape(out: &mut Markup, member: &Member) {
    let style = background(&member.paint);
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
                for heading in ["Cut", "Ruler at", "Gives", "What remains", "Done"] {
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
        Step::Part { text, measure, note } => {
            out.element("td", &[("class", "part"), ("colspan", "5")], |out| {
                out.leaf("strong", &[], text);
                out.text(&format!(": {measure}"));
                if !note.is_empty() {
                    out.leaf("div", &[("class", "note small")], note);
                }
            });
        }
        Step::Whole(text) => out.leaf("td", &[("class", "part"), ("colspan", "5")], text),
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
                    out.leaf("span", &[("class", "size")], &piece.size);
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
    let headings = ["Done", "Stack", "Print", "Fabric", "Where", "Its pieces"];
    table(out, "members", &headings, |out| {
        for member in &card.members {
            out.element("tr", &[], |out| {
                out.element("td", &[], |out| boxes(out, 1));
                out.leaf("td", &[], &member.stack.to_string());
                out.element("td", &[], |out| {
                    swatch(out, &member.paint);
                    out.text(&member.print);
                });
                for cell in [&member.roles, &member.source, &member.uses] {
                    out.leaf("td", &[], cell);
                }
            });
        }
    });
}
