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
            (0, false) => "these do not fit together",
            (0, true) => "this alone does not fit",
            (_, false) => "apart from that, these do not fit together",
            (_, true) => "apart from that, this alone does not fit",
        };
        let without = if one { "without it" } else { "without any one of them" };
        let closing = match (conflict.minimal, conflict.whole) {
            (false, _) => "perhaps fewer of them are enough to conflict".to_owned(),
            (true, Verdict::Fits) => format!("{without} it fits"),
            (true, Verdict::Impossible) if one => "without it the whole quilt still does not fit".to_owned(),
            (true, Verdict::Impossible) => {
                format!("{without} the others fit, but there is another conflict")
            }
            (true, Verdict::Undecided) if one => {
                "whether everything fits without it is not settled".to_owned()
            }
            (true, Verdict::Undecided) => {
                format!("{without} the others fit; whether the whole quilt does is not settled")
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
                said.push(format!("\"{}\" staying upright", inputs.stash.print(print).name))
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
            [role] => format!("fabric {role} from {cuts} only"),
            _ => format!("each of the fabrics {} from {cuts} only", roles.join(", ")),
        }
    }));
    said
}

fn matching(pattern: &Pattern, block: Option<BlockId>, role: RoleId) -> String {
    let role = &pattern.roles[role.0].name;
    match block {
        Some(block) => format!("one print as fabric {role} throughout each {}", pattern.blocks[block.0].name),
        None => format!("one print as fabric {role} over the whole quilt"),
    }
}

fn decided(row: &Placement) -> String {
    let place = match (&row.block, row.copy) {
        (Some(block), Some(copy)) => format!("{block} {copy}, fabric {}", row.role),
        (Some(block), None) => format!("{block}, fabric {}", row.role),
        (None, _) => format!("fabric {}", row.role),
    };
    format!("\"{}\" decided for {place} (line {} of the placements)", row.print, row.line)
}

fn kept(stash: &Stash, lot: LotId) -> String {
    let lot = stash.lot(lot);
    let row = lot.line.map_or(String::new(), |line| format!(" (line {line} of your list)"));
    format!("{} of \"{}\" kept back{row}", lot.cut.entry().name, stash.print(lot.print).name)
}

fn rule_in_words(pattern: &Pattern, rule: Waived) -> String {
    let role = |role: RoleId| &pattern.roles[role.0].name;
    match rule {
        Waived::Different(one, other) => {
            format!("different prints as fabrics {} and {} in a block", role(one), role(other))
        }
        Waived::AtMost(of) => format!(
            "no print as fabric {} in more block copies than {}",
            role(of),
            pattern.roles[of.0].rules.at_most.unwrap_or_default()
        ),
        Waived::Only(of) => format!("only the prints listed for fabric {}", role(of)),
        Waived::Never(of) => format!("none of the prints ruled out for fabric {}", role(of)),
    }
}

fn capital(text: &str) -> String {
    let (first, rest) = text.split_at(1);
    first.to_uppercase() + rest
}

/// `fabric urchin in 8 Urchin (each 2 of 9 1/2 x 10 in)`.
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
        format!("fabric {name} in {} ({pieces})", of.name)
    } else {
        format!("fabric {name} in {} {} (each {pieces})", of.make, of.name)
    }
}
