//! The rules between fabrics: which roles must differ, how many copies may be alike, which prints a role may take.
//!
//! Everything is read off the pieces as they are cut, and from the rules as the pattern states them.

use std::collections::{BTreeMap, BTreeSet};

use super::changes::{Changes, Kept};
use super::contrast::{self, Prints};
use super::decided::same;
use super::fault::{Faults, Rule};
use super::looks::Eyes;
use super::record::Record;
use super::supply::Origin;
use crate::color::ColorGroup;
use crate::fabric::Value;
use crate::pattern::rules::Choice;
use crate::pattern::{Pattern, Role};
use crate::stash::Stash;

/// Checks the prints of all pieces of `record`, whose sheets come from `origins`, against the rules that `changes`
/// does not give up.
pub(super) fn check(
    record: &Record,
    origins: &[Origin],
    stash: &Stash,
    pattern: &Pattern,
    changes: &Changes,
    faults: &mut Faults,
) {
    let mut prints = Prints::new();
    for (sheet, origin) in record.sheets.iter().zip(origins) {
        for piece in &sheet.pieces {
            let roles = prints.entry((&piece.block, piece.copy)).or_default();
            roles.entry(&piece.role).or_default().insert(&origin.print);
        }
    }
    different(&prints, pattern, changes, faults);
    contrast::check(&prints, pattern, &Eyes { stash, alike: record.rules.alike }, faults);
    for role in &pattern.roles {
        at_most(role, &prints, changes, faults);
        choices(role, &prints, stash, changes, faults);
    }
}

/// In no block copy may two roles share a print when either says so.
fn different(prints: &Prints<'_>, pattern: &Pattern, changes: &Changes, faults: &mut Faults) {
    let mut pairs: BTreeSet<(&str, &str)> = BTreeSet::new();
    for role in &pattern.roles {
        for other in &role.rules.different {
            let (one, other) = (role.name.as_str(), pattern.roles[other.0].name.as_str());
            if !changes.waives(Kept::Different, one, Some(other)) {
                pairs.insert((one.min(other), one.max(other)));
            }
        }
    }
    for ((block, copy), roles) in prints {
        for (one, other) in &pairs {
            let (Some(these), Some(those)) = (roles.get(one), roles.get(other)) else { continue };
            for print in these.intersection(those) {
                let message = format!("{block} copy {copy}: roles {one} and {other} are both of {print}");
                faults.add(Rule::Different, "", message);
            }
        }
    }
}

/// Of each block, so many copies may take one print for the role.
fn at_most(role: &Role, prints: &Prints<'_>, changes: &Changes, faults: &mut Faults) {
    let Some(most) = role.rules.at_most else { return };
    if changes.waives(Kept::AtMost, &role.name, None) {
        return;
    }
    let mut copies: BTreeMap<(&str, &str), u32> = BTreeMap::new();
    for ((block, _), roles) in prints {
        for print in roles.get(role.name.as_str()).into_iter().flatten() {
            *copies.entry((block, print)).or_insert(0) += 1;
        }
    }
    for ((block, print), count) in copies.into_iter().filter(|&(_, count)| count > most) {
        let message =
            format!("{count} copies of {block} take {print} for role {}, at most {most} may", role.name);
        faults.add(Rule::AtMost, "", message);
    }
}

/// `only` and `never`, for every print that some piece of the role comes from.
fn choices(role: &Role, prints: &Prints<'_>, stash: &Stash, changes: &Changes, faults: &mut Faults) {
    let of_role = prints.values().filter_map(|roles| roles.get(role.name.as_str()));
    let taken: BTreeSet<&str> = of_role.flatten().copied().collect();
    for print in taken {
        let known = Known::of(print, stash);
        if let Some(why) = known.missing(&role.rules.only)
            && !changes.waives(Kept::Only, &role.name, None)
        {
            faults.add(Rule::Only, "", format!("role {} takes {print}, {why}", role.name));
        }
        if let Some(why) = known.hit(&role.rules.never)
            && !changes.waives(Kept::Never, &role.name, None)
        {
            faults.add(Rule::Never, "", format!("role {} takes {print}, {why}", role.name));
        }
    }
}

/// Do `only` and `never` let a role take a print?
pub(super) fn may_take(role: &Role, print: &str, stash: &Stash, changes: &Changes) -> bool {
    let known = Known::of(print, stash);
    let waived = |rule| changes.waives(rule, &role.name, None);
    (waived(Kept::Only) || known.missing(&role.rules.only).is_none())
        && (waived(Kept::Never) || known.hit(&role.rules.never).is_none())
}

/// What the stash says of a print.
struct Known<'a> {
    name: &'a str,
    /// False for a print that is bought and not in the stash: whoever buys it chooses its colour and value.
    held: bool,
    color: Option<ColorGroup>,
    value: Option<Value>,
}

impl Known<'_> {
    fn of<'a>(name: &'a str, stash: &Stash) -> Known<'a> {
        let held = stash.find(name);
        Known {
            name,
            held: held.is_some(),
            color: held.and_then(|print| stash.print_color_group(print)),
            value: held.and_then(|print| stash.print_value(print)),
        }
    }

    /// Why it is not among what must be chosen from: of names, colours and values, each that is given must hold.
    fn missing(&self, only: &Choice) -> Option<&'static str> {
        if !only.prints.is_empty() && !only.prints.iter().any(|name| same(name, self.name)) {
            return Some("which is not among the prints it may take");
        }
        if !self.held {
            return None;
        }
        if !only.colors.is_empty() && !self.color.is_some_and(|color| only.colors.contains(&color)) {
            return Some("which is not known to be of a color it may take");
        }
        let values = !only.values.is_empty() && !self.value.is_some_and(|value| only.values.contains(&value));
        values.then_some("which is not known to be of a value it may take")
    }

    /// Why it is among what must not be chosen: one of names, colours and values is enough.
    fn hit(&self, never: &Choice) -> Option<&'static str> {
        if never.prints.iter().any(|name| same(name, self.name)) {
            return Some("which it must never take");
        }
        if self.color.is_some_and(|color| never.colors.contains(&color)) {
            return Some("which is of a color it must never take");
        }
        let values = self.value.is_some_and(|value| never.values.contains(&value));
        values.then_some("which is of a value it must never take")
    }
}
