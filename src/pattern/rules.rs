//! What a role's fabric must or must not be: rules between fabrics, plain data.

use crate::color::ColorGroup;
use crate::fabric::Value;
use crate::pattern::{Pattern, RoleId};
use crate::spreadsheet::same_name;

/// The rules of one role beyond its matching. The default is no rule at all.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct RoleRules {
    /// Roles whose print in the same block copy must be another one.
    pub different: Vec<RoleId>,
    /// At most this many copies of a block may take the same print for this role.
    pub at_most: Option<u32>,
    /// When any is named, the print must be among these.
    pub only: Choice,
    /// The print must be none of these.
    pub never: Choice,
    /// Whether a print with an up must keep it.
    pub direction: Direction,
    /// From which fabrics of the whole quilt the print must stand out, and how much.
    pub contrast: Option<Contrast>,
    /// Names of prints left out for the sake of a contrast, set while planning; no file says them.
    pub excluded: Vec<String>,
}

/// How much a role must stand out from others.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Contrast {
    /// Roles that are one print over the whole quilt.
    pub with: Vec<RoleId>,
    /// The least contrast ratio, in hundredths.
    pub at_least: u32,
}

impl Contrast {
    /// A contrast ratio as written, `2` or `1.5`, in hundredths; from 1 to 21, as WCAG defines it.
    pub fn ratio(text: &str) -> Option<u32> {
        let (whole, parts) = text.trim().split_once(['.', ',']).unwrap_or((text.trim(), "0"));
        let digits = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
        if !digits(whole) || !digits(parts) || whole.len() > 2 || parts.len() > 2 {
            return None;
        }
        let hundredths: u32 = format!("{whole}{parts:0<2}").parse().ok()?;
        (100..=2100).contains(&hundredths).then_some(hundredths)
    }
}

/// Prints picked out by name, colour group or value.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Choice {
    /// Names of prints, as the stash writes them.
    pub prints: Vec<String>,
    /// Colour groups.
    pub colors: Vec<ColorGroup>,
    /// Light, medium or dark.
    pub values: Vec<Value>,
}

/// What becomes of the up of a directional print.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Direction {
    /// The pattern does not say: the stash decides (a directional print keeps its up).
    #[default]
    Unsaid,
    /// The up stays up in the sewn block: units that are turned get their pieces cut turned.
    Kept,
    /// Pieces may be turned, even of a directional print.
    Free,
}

impl Choice {
    /// True when nothing is picked out.
    pub fn is_empty(&self) -> bool {
        self.prints.is_empty() && self.colors.is_empty() && self.values.is_empty()
    }
}

impl Choice {
    /// Is a print of this name picked out by name?
    pub fn names(&self, print: &str) -> bool {
        self.prints.iter().any(|name| same_name(name, print))
    }
}

impl RoleRules {
    /// True when the role has no rule that restricts its prints or frees their direction.
    pub fn is_empty(&self) -> bool {
        *self == RoleRules::default()
    }
}

/// A rule that an alternative gives up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Waived {
    /// The two roles may share a print, whichever of them stated the rule.
    Different(RoleId, RoleId),
    /// Any number of block copies may be alike in this role.
    AtMost(RoleId),
    /// The role may take prints that are not among those named.
    Only(RoleId),
    /// The role may take the prints that were ruled out.
    Never(RoleId),
}

/// Every rule of `rules` (by role, as [`in_force`] gives them), each once: limits on repeating before lists of prints.
pub fn stated(rules: &[RoleRules]) -> Vec<Waived> {
    let each = || rules.iter().enumerate().map(|(role, rules)| (RoleId(role), rules));
    let mut stated = Vec::new();
    stated.extend(each().filter(|(_, rules)| rules.at_most.is_some()).map(|(role, _)| Waived::AtMost(role)));
    for (role, rules) in each() {
        // It is mutual, so each pair is met twice.
        let others = rules.different.iter().filter(|&&other| role < other);
        stated.extend(others.map(|&other| Waived::Different(role, other)));
    }
    stated.extend(each().filter(|(_, rules)| !rules.never.is_empty()).map(|(role, _)| Waived::Never(role)));
    stated.extend(each().filter(|(_, rules)| !rules.only.is_empty()).map(|(role, _)| Waived::Only(role)));
    stated
}

/// The rules of every role by number, without those waived. `different` is mutual: each of two roles names the
/// other, whichever stated it.
pub fn in_force(pattern: &Pattern, waived: &[Waived]) -> Vec<RoleRules> {
    let mut rules: Vec<RoleRules> = pattern.roles.iter().map(|role| role.rules.clone()).collect();
    for (index, role) in pattern.roles.iter().enumerate() {
        for other in &role.rules.different {
            rules[other.0].different.push(RoleId(index));
        }
    }
    for rules in &mut rules {
        rules.different.sort_unstable();
        rules.different.dedup();
    }
    for waiver in waived {
        match *waiver {
            Waived::Different(one, other) => {
                rules[one.0].different.retain(|&role| role != other);
                rules[other.0].different.retain(|&role| role != one);
            }
            Waived::AtMost(role) => rules[role.0].at_most = None,
            Waived::Only(role) => rules[role.0].only = Choice::default(),
            Waived::Never(role) => rules[role.0].never = Choice::default(),
        }
    }
    rules
}
