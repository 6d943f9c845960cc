//! A conflict in plain words, with its numbers.

use std::collections::BTreeMap;

use itertools::Itertools;

use crate::fabric::Cut;
use crate::pattern::rules::Waived;
use crate::pattern::{BlockId, Count, Pattern, RoleId};
use crate::placements::Placement;
use crate::planning::alternative::Inputs;
use crate::planning::plan::{Conflict, Reason, Thing, Verdict};
use crate::stash::{LotId, Stash};

/// One reason for each conflict.
pub(crate) fn reasons(inputs: &Inputs<'_>, conflicts: &[Conflict]) -> Vec<Reason> {
    let text = |(index, conflict): (usize, &Conflict)| {
        let things = things(inputs, &conflict.things).join("; ");
        let one = conflict.things.len() == 1;
        let opening = match (index, one) {
            (0, false) => "together these do not fit",
            (0, true) => "this alone does not fit",
            (_, false) => "were that not so, these together would still not fit",
            (_, true) => "were that not so, this alone would still not fit",
        };
        let without = if one { "without it" } else { "without any one of them" };
        let closing = match (conflict.minimal, conflict.whole) {
            (false, _) => "it is not shown that each of them is needed for that".to_owned(),
            (true, Verdict::Fits) => format!("{without} it fits"),
            (true, Verdict::Impossible) if one => "even without it the whole quilt does not fit".to_owned(),
            (true, Verdict::Impossible) => {
                format!("{without} the others fit, and still there is more that does not")
            }
            (true, Verdict::Undecided) if one => "whether all fits without it is not shown".to_owned(),
            (true, Verdict::Undecided) => {
                format!("{without} the others fit; whether the whole quilt then does is not shown")
            }
        };
        format!("{opening}: {things}. {}", capital(&closing))
    };
    conflicts.iter().enumerate().map(|conflict| Reason::new("conflict", text(conflict))).collect()
}

/// Each thing in words; limits on where roles come from that are the same are told together.
fn things(inputs: &Inputs<'_>, things: &[Thing]) -> Vec<String> {
    let mut said: Vec<String> = Vec::new();
    let mut limited: BTreeMap<&[Cut], Vec<&str>> = BTreeMap::new();
    for thing in things {
        match *thing {
            Thing::Asked { block, role } => said.push(asked(inputs, block, role)),
            Thing::Matching { block, role } => said.push(matching(inputs.pattern, block, role)),
            Thing::Decided { row } => said.push(decided(&inputs.placements.rows[row])),
            Thing::Kept { lot } => said.push(kept(inputs.stash, lot)),
            Thing::Rule { rule } => said.push(rule_in_words(inputs.pattern, rule)),
            Thing::Up { print } => {
                said.push(format!("\"{}\" keeping its up", inputs.stash.print(print).name))
            }
            Thing::From { role } => {
                let role = &inputs.pattern.roles[role.0];
                limited.entry(&role.from).or_default().push(&role.name);
            }
        }
    }
    said.extend(limited.into_iter().map(|(from, roles)| {
        let cuts = from.iter().map(|cut| &cut.entry().name).join(" or ");
        match roles[..] {
            [role] => format!("role {role} from {cuts} only"),
            _ => format!("each of the roles {} from {cuts} only", roles.join(", ")),
        }
    }));
    said
}

fn matching(pattern: &Pattern, block: Option<BlockId>, role: RoleId) -> String {
    let role = &pattern.roles[role.0].name;
    match block {
        Some(block) => format!("one print for role {role} throughout each {}", pattern.blocks[block.0].name),
        None => format!("one print for role {role} over the whole quilt"),
    }
}

fn decided(row: &Placement) -> String {
    let place = match (&row.block, row.copy) {
        (Some(block), Some(copy)) => format!("{block} {copy}, role {}", row.role),
        (Some(block), None) => format!("{block}, role {}", row.role),
        (None, _) => format!("role {}", row.role),
    };
    format!("\"{}\" decided for {place} (line {} of the placements)", row.print, row.line)
}

fn kept(stash: &Stash, lot: LotId) -> String {
    let lot = stash.lot(lot);
    let row = lot.row.map_or(String::new(), |row| format!(" (row {row} of the stash)"));
    format!("{} of \"{}\" kept back{row}", lot.cut.entry().name, stash.print(lot.print).name)
}

fn rule_in_words(pattern: &Pattern, rule: Waived) -> String {
    let role = |role: RoleId| &pattern.roles[role.0].name;
    match rule {
        Waived::Different(one, other) => {
            format!("different prints for roles {} and {} in a block", role(one), role(other))
        }
        Waived::AtMost(of) => format!(
            "no print for role {} in more block copies than {}",
            role(of),
            pattern.roles[of.0].rules.at_most.unwrap_or_default()
        ),
        Waived::Only(of) => format!("only the prints listed for role {}", role(of)),
        Waived::Never(of) => format!("none of the prints ruled out for role {}", role(of)),
    }
}

fn capital(text: &str) -> String {
    let (first, rest) = text.split_at(1);
    first.to_uppercase() + rest
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
