//! What the page for a pattern's cover says before its cutting.

use crate::app::need::{Assumptions, Borders, Cutting, Join, Requirement, sizes, text};
use crate::length::Length;
use crate::need::{Need, RoleNeed, Worked};
use crate::report::cover::{Cover, Table};

/// Everything but the cards.
pub(super) fn words(answer: &Requirement, which: Cutting, date: Option<&str>) -> Cover {
    let Requirement { pattern, how, need, sizes, .. } = answer;
    let show = |length: Length| length.show(how.units);
    let mut revision = format!("revision {}", answer.revision(which));
    if let Some(date) = date {
        revision += &format!(", {date}");
    }
    let about = match &need.finish {
        Some(finish) => {
            let seam = pattern.sewing.unwrap_or_default().seam;
            let side = |sewn: Length| sewn - seam - seam;
            let (width, height) = (side(finish.top.width), side(finish.top.height));
            format!("Finished size {} x {}.", width.show_bare(how.units), show(height))
        }
        None => String::new(),
    };
    let mut rows = sizes::rows(pattern, sizes, how, &|role| role.at.by(which).amount.show());
    let headings = if rows.is_empty() || sizes.is_empty() { Vec::new() } else { rows.remove(0) };
    Cover {
        title: pattern.title(),
        revision,
        about,
        buy: buy(answer, which),
        steps: steps(answer, which),
        sizes: Table { rows: if headings.is_empty() { Vec::new() } else { rows }, headings },
        assumptions: assumptions(answer, which),
        cutting: match which {
            Cutting::Strips => {
                "One depth of strip for each size; strips are cut off first, then cut up. Pieces longer \
                 than the fabric is wide run along it and are cut before anything else of that fabric. \
                 Cut one fabric at a time."
                    .to_owned()
            }
            Cutting::Least => {
                "The shortest cutting found: strips are shared between sizes. Pieces longer than the \
                 fabric is wide run along it and are cut before anything else beside them."
                    .to_owned()
            }
        },
    }
}

fn headed(headings: &[&str]) -> Table {
    Table { headings: headings.iter().map(|heading| (*heading).to_owned()).collect(), rows: Vec::new() }
}

fn buy(answer: &Requirement, which: Cutting) -> Table {
    let Requirement { how, need, .. } = answer;
    let from = match how.prewash {
        None => "Enough at a usable width from",
        Some(_) => "Enough at a usable width, once washed, from",
    };
    let mut table = headed(&["Fabric", "Buy", from, "Or"]);
    for role in &need.roles {
        let name =
            if role.title.is_empty() { role.name.clone() } else { format!("{}: {}", role.name, role.title) };
        let from = match which {
            Cutting::Strips => role.holds.first().and_then(|(_, from)| *from),
            Cutting::Least => Some(how.width),
        };
        table.rows.push(vec![
            name,
            role.at.by(which).amount.show(),
            from.map_or("-".to_owned(), |width| width.show(how.units)),
            or(role),
        ]);
    }
    let Some(finish) = &need.finish else { return table };
    let plain = |name: &str, buy: String, from: String| vec![name.to_owned(), buy, from, String::new()];
    if let Some(binding) = &finish.binding {
        table.rows.push(plain("binding", binding.worked.amount.show(), how.width.show(how.units)));
    }
    let wide = finish.backing_width.show(how.units);
    table.rows.push(plain("backing", finish.backing_amount.amount.show(), wide));
    let batting = finish.batting.show(how.units);
    table.rows.push(plain("batting", batting, "-".to_owned()));
    table
}

/// Squares, strips or fat quarters in place of the length.
fn or(role: &RoleNeed) -> String {
    let all: Vec<String> = role
        .cuts
        .iter()
        .filter_map(|from| {
            let name = &from.cut.entry().name;
            let sheets: u64 = from.sets.iter().map(|(sets, each)| *sets as u64 * u64::from(each.count)).sum();
            let sets: usize = from.sets.iter().map(|(sets, _)| sets).sum();
            match from.all {
                None => None,
                Some(_) if sheets > 0 => {
                    Some(format!("{sheets} x {name}, one print for each of {sets} sets"))
                }
                Some(all) => Some(format!("{} x {name}", all.count)),
            }
        })
        .collect();
    all.join("; or ")
}

fn steps(answer: &Requirement, which: Cutting) -> Table {
    let Requirement { how, need, .. } = answer;
    let mut table =
        headed(&["Fabric", "Cut", "and added", "in all", "rounded up to", "over", "Shortest known cutting"]);
    let mut row = |name: &str, worked: &Worked, shortest: String| {
        let mark = |length: Length| crate::length::round::up(length, how.units.finest_mark()).show(how.units);
        let added = text::added(worked, how).join(", ");
        table.rows.push(vec![
            name.to_owned(),
            mark(worked.exact),
            if added.is_empty() { "nothing".to_owned() } else { added },
            mark(worked.total),
            format!("{} ({})", worked.amount.show(), worked.amount.length.show(how.units)),
            text::mark_down(worked.over(), how),
            shortest,
        ]);
    };
    for role in &need.roles {
        row(&role.name, role.at.by(which), shortest(role, how));
    }
    if let Some(finish) = &need.finish {
        if let Some(binding) = &finish.binding {
            row("binding", &binding.worked, String::new());
        }
        row("backing", &finish.backing_amount, String::new());
    }
    table
}

/// The least length found, and what is known of the least there is; of strips that are joined only as they are counted.
fn shortest(role: &RoleNeed, how: &Assumptions) -> String {
    let at = &role.at;
    let found = at.by_least.exact.show(how.units);
    let strips = if role.joins_strips { " for these strips" } else { "" };
    match at.is_proved() {
        true => format!("{found}, none is shorter{strips}"),
        false => format!("{found}, none under {}{strips}", text::mark_down(at.bound, how)),
    }
}

fn assumptions(answer: &Requirement, which: Cutting) -> Vec<String> {
    let Requirement { pattern, how, need, .. } = answer;
    let show = |length: Length| length.show(how.units);
    let spare = &how.spare;
    let mut lines = vec![format!("Usable width of the fabric, selvages not counted: {}.", show(how.width))];
    lines.push(match pattern.sewing {
        Some(sewing) => {
            format!("Seam allowance {}. Sizes are as cut, seams included: width x length.", show(sewing.seam))
        }
        None => "Sizes are as cut, seams included: width x length.".to_owned(),
    });
    let measures = text::measures(pattern, how);
    if !measures.is_empty() {
        lines.push(measures);
    }
    lines.push(text::washing(how));
    lines.push(match spare.squaring {
        Length::ZERO => "Nothing is added for squaring up.".to_owned(),
        squaring => format!("{} of each fabric is reckoned for squaring up its end.", show(squaring)),
    });
    let mut more = Vec::new();
    if spare.percent > 0 {
        more.push(format!("{} % of the length", spare.percent));
    }
    if let Some(limit) = spare.strip_over {
        more.push(format!("one strip of fabrics with a strip deeper than {}", show(limit)));
    }
    lines.push(if more.is_empty() {
        format!("No spare is added beyond rounding up to {}.", how.step.name())
    } else {
        format!("Spare: {}; then rounded up to {}.", more.join(" and "), how.step.name())
    });
    match how.borders {
        Borders::AsWritten => {}
        Borders::Crosswise => lines.push("Borders are cut across the fabric.".to_owned()),
        Borders::Lengthwise => lines.push("Borders are cut along the fabric, each in one piece.".to_owned()),
    }
    let borders = need.roles.iter().flat_map(|role| &role.borders);
    lines.extend(borders.map(|border| text::border_sentence(border, how)));
    lines.push(direction(need, which));
    let Some(finish) = &need.finish else { return lines };
    let rules = &how.finish;
    lines.push(format!(
        "Backing {} and batting {}: {} larger than the top, both sides together. Backing: {} of {}.",
        finish.backing.show(how.units),
        finish.batting.show(how.units),
        show(rules.overage),
        text::many(finish.panels.count, "panel"),
        show(finish.panels.length),
    ));
    if let Some(binding) = &finish.binding {
        let join = match rules.join {
            Join::Straight => "straight",
            Join::Diagonal => "diagonally",
        };
        lines.push(match binding.bias {
            Some(bias) => format!(
                "Binding on the bias, {} wide, from {} of {}.",
                show(rules.strip_width),
                text::many(bias.count, "square"),
                show(bias.side)
            ),
            None => format!(
                "Binding: {} of {}, joined {join}, for {} round with {} for corners and closing.",
                text::many(binding.strips, "strip"),
                show(rules.strip_width),
                show(binding.length),
                show(rules.extra)
            ),
        });
    }
    lines
}

/// Which fabrics keep an up, and what that costs.
fn direction(need: &Need, which: Cutting) -> String {
    let kept = need.roles.iter().filter_map(|role| {
        let free = role.free.as_ref()?;
        let (here, there) = (role.at.by(which).amount.show(), free.by(which).amount.show());
        Some(format!("{} ({here}; {there} if its pieces might be turned)", role.name))
    });
    let kept: Vec<String> = kept.collect();
    if kept.is_empty() {
        return "No print is taken to have an up: pieces may lie either way on the fabric.".to_owned();
    }
    format!("Prints with an up, of whose pieces width and length are never exchanged: {}.", kept.join("; "))
}
