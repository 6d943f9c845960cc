//! Rules of contrast: in every block copy a role's prints stand out from the fabric they must stand out from.

use std::collections::{BTreeMap, BTreeSet};

use super::fault::{Faults, Rule};
use super::looks::Eyes;
use crate::pattern::Pattern;

/// The prints of each role in each block copy.
pub(super) type Prints<'a> = BTreeMap<(&'a str, u64), BTreeMap<&'a str, BTreeSet<&'a str>>>;

/// Checks the prints of each role in each block copy. A print that is bought is chosen to please.
pub(super) fn check(prints: &Prints<'_>, pattern: &Pattern, eyes: &Eyes<'_>, faults: &mut Faults) {
    for role in &pattern.roles {
        let Some(contrast) = &role.rules.contrast else { continue };
        for other in contrast.with.iter().map(|other| pattern.roles[other.0].name.as_str()) {
            let anywhere: BTreeSet<&str> =
                prints.values().filter_map(|roles| roles.get(other)).flatten().copied().collect();
            for ((block, copy), roles) in prints {
                let beside = roles.get(other).unwrap_or(&anywhere);
                for one in roles.get(role.name.as_str()).into_iter().flatten() {
                    for two in beside.iter().filter(|two| eyes.holds(one) && eyes.holds(two)) {
                        let ratio = eyes.contrast(one, two);
                        if ratio.is_none_or(|ratio| ratio < contrast.at_least) {
                            let found = ratio.map_or("not known".to_owned(), |ratio| {
                                format!("{}.{:02}", ratio / 100, ratio % 100)
                            });
                            let message = format!(
                                "{block} copy {copy}: the contrast of {one} (role {}) with {two} (role {other}) is {found}",
                                role.name
                            );
                            faults.add(Rule::Contrast, "", message);
                        }
                    }
                }
            }
        }
    }
}
