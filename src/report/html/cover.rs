//! The page for a pattern's cover.

use super::{back, card, document, front, row};
use crate::report::markup::Markup;
use crate::report::view::PlanView;
use crate::report::view::cover::{Cover, Table};

/// The page.
pub(crate) fn page(cover: &Cover, plan: &PlanView) -> String {
    document(&format!("{}: fabric and cutting", cover.title), &foot(cover), |out| {
        out.leaf("h1", &[], &cover.title);
        out.leaf("p", &[("class", "revision")], &format!("Fabric and cutting, {}", cover.revision));
        if !cover.about.is_empty() {
            out.leaf("p", &[], &cover.about);
        }
        section(out, "Fabric to buy", &cover.buy, "requirements");
        if !cover.sizes.rows.is_empty() {
            section(out, "In every size", &cover.sizes, "sizes");
        }
        out.leaf("h2", &[], "We assumed");
        out.element("ul", &[], |out| {
            for line in &cover.assumptions {
                out.leaf("li", &[], line);
            }
        });
        section(out, "How the amounts come about", &cover.steps, "roundings");
        // The first page is the cover; cutting begins on a page of its own, and the cautions stand beside it.
        out.element("div", &[("class", "page opening")], |out| {
            front::cautions(out);
            card::cards(out, plan, &cover.revision, &cover.cutting);
            out.leaf("h2", &[("id", "counts")], "Counts");
            back::totals(out, plan);
        });
    })
}

fn foot(cover: &Cover) -> String {
    format!("{}, {}", cover.title, cover.revision)
}

fn section(out: &mut Markup, heading: &str, table: &Table, class: &str) {
    out.leaf("h2", &[], heading);
    // A column in which nothing stands is left out.
    let stands = |column: &usize| table.rows.iter().any(|row| !row[*column].is_empty());
    let columns: Vec<usize> = (0..table.headings.len()).filter(stands).collect();
    let headings: Vec<&str> = columns.iter().map(|&column| table.headings[column].as_str()).collect();
    super::table(out, class, &headings, |out| {
        for cells in &table.rows {
            let cells: Vec<&str> = columns.iter().map(|&column| cells[column].as_str()).collect();
            row(out, &cells);
        }
    });
}
