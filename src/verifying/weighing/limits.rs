//! What `at-most` and `different` leave one print to serve. Only what is plain is used.

use std::collections::{BTreeMap, BTreeSet};

use super::bags::{Bag, role_of};
use crate::pattern::{Pattern, Role};
use crate::verifying::changes::{Changes, Kept};
use crate::verifying::wanted::{PieceKind, Wanted};

/// Limits a bag of whole sets of one block and role.
///
/// # Errors
/// A role that the pattern does not have.
pub(super) fn limit(
    bag: &mut Bag,
    (block, name): (&str, &str),
    pattern: &Pattern,
    changes: &Changes,
    wanted: &Wanted,
) -> Result<(), String> {
    let role = role_of(pattern, name)?;
    let sets = |role: &str| {
        let mine = wanted.sets.keys().filter(|set| set.block.as_deref() == Some(block) && set.role == role);
        let mut in_copies: BTreeMap<u64, u64> = BTreeMap::new();
        mine.filter_map(|set| set.copy).for_each(|copy| *in_copies.entry(copy).or_insert(0) += 1);
        in_copies
    };
    let mine = sets(name);
    let in_one = |sets: &BTreeMap<u64, u64>| sets.values().copied().max().unwrap_or(0);
    bag.copies = mine.keys().copied().max().unwrap_or(0);
    if let Some(most) = role.rules.at_most
        && !changes.waives(Kept::AtMost, name, None)
    {
        // So many copies, each with all its sets.
        bag.at_most = Some(u64::from(most).saturating_mul(in_one(&mine)));
    }
    for other in &pattern.roles {
        let names = |one: &Role, two: &Role| {
            one.rules.different.iter().any(|role| pattern.roles[role.0].name == two.name)
        };
        let differ = (names(role, other) || names(other, role)) && other.name != role.name;
        let single = in_one(&mine) == 1 && in_one(&sets(&other.name)) == 1;
        if differ && single && !changes.waives(Kept::Different, name, Some(&other.name)) {
            bag.different.insert(other.name.clone());
        }
    }
    Ok(())
}

/// Is a set of these pieces in more copies of one block than may take one print?
pub(super) fn in_too_many_copies<'a>(
    role: &Role,
    pieces: impl Iterator<Item = &'a PieceKind>,
    changes: &Changes,
) -> bool {
    let Some(most) = role.rules.at_most.filter(|_| !changes.waives(Kept::AtMost, &role.name, None)) else {
        return false;
    };
    let mut copies: BTreeMap<&str, BTreeSet<u64>> = BTreeMap::new();
    for piece in pieces {
        copies.entry(&piece.block).or_default().insert(piece.copy);
    }
    copies.values().any(|copies| copies.len() > most as usize)
}
