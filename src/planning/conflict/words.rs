//! A conflict in plain words, with its numbers.

use itertools::Itertools;

use crate::pattern::rules::Waived;
use crate::pattern::{BlockId, Count, RoleId};
use crate::planning::alternative::Inputs;
use crate::planning::plan::{Conflict, Reason, Thing};

/// One reason for each conflict.
pub(crate) fn reasons(inputs: &Inputs<'_>, conflicts: &[Conflict]) -> Vec<Reason> {
    let text = |(index, conflict): (usize, &Conflict)| {
        let things = conflict.things.iter().map(|thing| thing_in_words(inputs, thing)).join("; ");
        let one = conflict.things.len() == 1;
        let opening = match (index, one) {
            (0, false) => "together these do not fit",
            (0, true) => "this alone does not fit",
            (_, false) => "were that not so, these together would still not fit",
            (_, true) => "were that not so, this alone would still not fit",
        };
        let closing = match (conflict.minimal, conflict.whole, one) {
            (false, _, _) => "it is not shown that each of them is needed for that",
            (true, true, false) => "without any one of them it fits",
            (true, true, true) => "without it, it fits",
            (true, false, false) => "without any one of them the others fit, but not the whole quilt",
            (true, false, true) => "without it the whole quilt does not fit either",
        };
        format!("{opening}: {things}. {}", capital(closing))
    };
    conflicts.iter().enumerate().map(|conflict| Reason { code: "conflict", text: text(conflict) }).collect()
}

fn capital(text: &str) -> String {
    let (first, rest) = text.split_at(1);
    first.to_uppercase() + rest
}

fn thing_in_words(inputs: &Inputs<'_>, thing: &Thing) -> String {
    let pattern = inputs.pattern;
    let role = |role: RoleId| &pattern.roles[role.0].name;
    let print = |name: &str| format!("\"{name}\"");
    match *thing {
        Thing::Asked { block, role: of } => asked(inputs, block, of),
        Thing::Matching { block: Some(block), role: of } => {
            format!("one print for role {} throughout each {}", role(of), pattern.blocks[block.0].name)
        }
        Thing::Matching { block: None, role: of } => {
            format!("one print for role {} over the whole quilt", role(of))
        }
        Thing::From { role: of } => {
            let cuts = pattern.roles[of.0].from.iter().map(|cut| &cut.entry().name).join(" or ");
            format!("role {} from {cuts} only", role(of))
        }
        Thing::Decided { row } => {
            let row = &inputs.placements.rows[row];
            let place = match (&row.block, row.copy) {
                (Some(block), Some(copy)) => format!("{block} {copy}, role {}", row.role),
                (Some(block), None) => format!("{block}, role {}", row.role),
                (None, _) => format!("role {}", row.role),
            };
            format!("{} decided for {place} (line {} of the placements)", print(&row.print), row.line)
        }
        Thing::Kept { lot } => {
            let lot = inputs.stash.lot(lot);
            let row = lot.row.map_or(String::new(), |row| format!(" (row {row} of the stash)"));
            let name = &inputs.stash.print(lot.print).name;
            format!("{} of {} kept back{row}", lot.cut.entry().name, print(name))
        }
        Thing::Rule { rule } => match rule {
            Waived::Different(one, other) => {
                format!("different prints for roles {} and {} in a block", role(one), role(other))
            }
            Waived::AtMost(of) => format!(
                "at most {} copies of a block of one print in role {}",
                pattern.roles[of.0].rules.at_most.unwrap_or_default(),
                role(of)
            ),
            Waived::Only(of) => format!("only the prints listed for role {}", role(of)),
            Waived::Never(of) => format!("none of the prints ruled out for role {}", role(of)),
        },
        Thing::Up { print: of } => format!("{} keeping its up", print(&inputs.stash.print(of).name)),
    }
}

/// `role urchin in 8 Urchin (each 2 of 9 1/2 x 10 in)`.
fn asked(inputs: &Inputs<'_>, block: BlockId, role: RoleId) -> String {
    let units = inputs.rules.units;
    let of = &inputs.pattern.blocks[block.0];
    let lines = of.pieces.iter().filter(|line| line.role == role);
    let mut pieces = lines.map(|line| {
        let size = format!("{} x {}", line.width.show_bare(units), line.height.show(units));
        match line.count {
            Count::PerCopy(count) => format!("{count} of {size}"),
            Count::Total(count) => format!("{count} of {size} in all"),
        }
    });
    let pieces = pieces.join(", ");
    let name = &inputs.pattern.roles[role.0].name;
    if of.make == 1 {
        format!("role {name} in {} ({pieces})", of.name)
    } else {
        format!("role {name} in {} {} (each {pieces})", of.make, of.name)
    }
}
