//! Rules of a pattern that can have no effect: the designer meant something else by them, or forgot them.

use crate::diagnostic::{Diagnostic, Gathered, Place};
use crate::pattern::rules::{Waived, in_force, stated};
use crate::pattern::{Block, Pattern, RoleId};

/// A warning for each rule that no plan of `pattern`, in any of its sizes, could break.
pub(super) fn rules(pattern: &Pattern, file: &str) -> Vec<Diagnostic> {
    let mut said = Gathered::default();
    let of_sizes = pattern.sizes.iter().flat_map(|size| &size.blocks);
    let blocks: Vec<&Block> = pattern.blocks.iter().chain(of_sizes).collect();
    let has = |block: &Block, role: RoleId| block.pieces.iter().any(|line| line.role == role);
    let name = |role: RoleId| pattern.roles[role.0].name.as_str();
    for rule in stated(&in_force(pattern, &[])) {
        let (role, key, message) = match rule {
            Waived::Different(one, other)
                if !blocks.iter().any(|block| has(block, one) && has(block, other)) =>
            {
                let message = format!(
                    "\"{}\" and \"{}\" are never in one block, so it has no effect that they must differ",
                    name(one),
                    name(other)
                );
                // The rule stands with whichever of the two states it.
                let states = pattern.roles[one.0].rules.different.contains(&other);
                (if states { one } else { other }, "different", message)
            }
            Waived::AtMost(role) => {
                let most = pattern.roles[role.0].rules.at_most.unwrap_or(0);
                let made =
                    blocks.iter().filter(|block| has(block, role)).map(|block| block.make).max().unwrap_or(0);
                if most < made {
                    continue;
                }
                let message = format!(
                    "no block with \"{}\" is made more than {made} times, so at most {most} alike has no effect",
                    name(role)
                );
                (role, "at-most", message)
            }
            _ => continue,
        };
        let place = Place::file(file).field(&format!("role.{}.{key}", name(role)));
        said.push(Diagnostic::warning(
            "T133",
            place,
            message,
            "remove the rule, or check which role and number are meant",
        ));
    }
    said.into_list()
}
