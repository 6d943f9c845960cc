//! What an alternative changes about the question, read from its list and held against the inputs.

use std::collections::{BTreeMap, BTreeSet};

use super::fault::{Faults, Rule};
use super::record::{Purchase, Relaxed, SetName};
use crate::fabric::Cut;
use crate::pattern::rules::RoleRules;
use crate::pattern::{Block, Matching, Pattern};
use crate::stash::Stash;

/// The changes by kind.
#[derive(Default)]
pub(super) struct Changes {
    /// Sets that may take another print than decided, with the print decided.
    pub(super) other_print: BTreeMap<SetName, String>,
    /// Rows of kept-back lots that may be used.
    pub(super) released: BTreeSet<u64>,
    /// Block, copy and role whose matching is given up.
    pub(super) mixed: BTreeSet<(String, u64, String)>,
    /// Roles that take two prints instead of one over the whole quilt.
    pub(super) two_prints: BTreeMap<String, Vec<String>>,
    /// Blocks of which only so many are made.
    pub(super) makes: BTreeMap<String, u64>,
    /// True in another size of the quilt.
    pub(super) resized: bool,
    /// What is bought.
    pub(super) bought: Vec<Purchase>,
    /// Rules between fabrics that are given up: which, of which role, and the other role of `different`.
    waived: BTreeSet<(Kept, String, Option<String>)>,
}

/// A rule between fabrics, by its word in the record.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Kept {
    Different,
    AtMost,
    Only,
    Never,
}

impl Changes {
    /// Sorts a list of changes, reporting those that do not apply to these inputs.
    pub(super) fn read(list: &[Relaxed], stash: &Stash, pattern: &Pattern, faults: &mut Faults) -> Changes {
        let mut changes = Changes::default();
        for change in list {
            if let Err(message) = changes.take(change, stash, pattern) {
                faults.add(Rule::Change, "", message);
            }
        }
        changes
    }

    fn take(&mut self, change: &Relaxed, stash: &Stash, pattern: &Pattern) -> Result<(), String> {
        match change {
            // Whether the set exists and was decided so is known once the demand is built.
            Relaxed::OtherPrint { set, decided } => {
                if self.other_print.insert(set.clone(), decided.clone()).is_some() {
                    return Err(format!("\"other print\" is listed twice for {}", set.say()));
                }
            }
            Relaxed::Release { lot } => {
                if !stash.lots.iter().any(|held| held.row.map(u64::from) == Some(*lot) && held.keep) {
                    return Err(format!(
                        "\"release\": row {lot} of the stash is not a lot that is kept back"
                    ));
                }
                if !self.released.insert(*lot) {
                    return Err(format!("\"release\" is listed twice for row {lot}"));
                }
            }
            Relaxed::MixedPrints { block, copies, role } => self.mix(block, copies, role, pattern)?,
            Relaxed::TwoPrints { role, prints } => self.split(role, prints, pattern)?,
            // Whether the pattern comes so is asked before anything is counted.
            Relaxed::Method(_) => {}
            Relaxed::Size { .. } => self.resized = true,
            Relaxed::FewerCopies { block, was, make } => {
                let held = find(pattern, block)?;
                let before = self.makes.insert(block.clone(), *make.min(&u64::from(held.make)));
                if u64::from(held.make) != *was || make >= was {
                    return Err(format!(
                        "\"fewer copies\": {block} is said to go from {was} to {make}, the pattern makes {}",
                        held.make
                    ));
                }
                if before.is_some() {
                    return Err(format!("\"fewer copies\" is listed twice for {block}"));
                }
            }
            Relaxed::Buy(purchase) => {
                if purchase.count == 0 || purchase.width == 0 || purchase.length == 0 {
                    return Err(format!("\"buy\": nothing of {} would be bought", purchase.print));
                }
                if Cut::find(&purchase.cut).is_none() {
                    return Err(format!("\"buy\": \"{}\" is no cut of fabric", purchase.cut));
                }
                self.bought.push(purchase.clone());
            }
            Relaxed::Rule { rule, role, other } => self.waive(rule, role, other.as_deref(), pattern)?,
        }
        Ok(())
    }

    /// True when this rule is given up for this role; `different` is given up for both roles at once.
    pub(super) fn waives(&self, rule: Kept, role: &str, other: Option<&str>) -> bool {
        let (role, other) = in_order(role, other);
        self.waived.contains(&(rule, role.to_owned(), other.map(str::to_owned)))
    }

    fn waive(
        &mut self,
        rule: &str,
        role: &str,
        other: Option<&str>,
        pattern: &Pattern,
    ) -> Result<(), String> {
        let rules_of = |name: &str| {
            let found = pattern.roles.iter().find(|held| held.name == name);
            found.map(|held| &held.rules).ok_or_else(|| format!("\"rule\": the pattern has no role {name}"))
        };
        let rules = rules_of(role)?;
        let names = |rules: &RoleRules, name: &str| {
            rules.different.iter().any(|other| pattern.roles[other.0].name == name)
        };
        let (kept, is_stated) = match (rule, other) {
            ("different", Some(other)) => {
                (Kept::Different, names(rules, other) || names(rules_of(other)?, role))
            }
            ("at most", None) => (Kept::AtMost, rules.at_most.is_some()),
            ("only", None) => (Kept::Only, !rules.only.is_empty()),
            ("never", None) => (Kept::Never, !rules.never.is_empty()),
            _ => return Err(format!("\"rule\": \"{rule}\" of role {role} is no rule that can be given up")),
        };
        if !is_stated {
            return Err(format!("\"rule\": role {role} has no such rule as \"{rule}\""));
        }
        let (role, other) = in_order(role, other);
        if !self.waived.insert((kept, role.to_owned(), other.map(str::to_owned))) {
            return Err(format!("\"rule\": \"{rule}\" is listed twice for role {role}"));
        }
        Ok(())
    }

    fn split(&mut self, role: &str, prints: &[String], pattern: &Pattern) -> Result<(), String> {
        let mut lines = pattern.blocks.iter().flat_map(|block| &block.pieces);
        if !lines.any(|line| line.matching == Matching::Quilt && pattern.roles[line.role.0].name == role) {
            return Err(format!("\"two prints\": nothing in role {role} must match over the whole quilt"));
        }
        if !matches!(prints, [one, other] if one != other) {
            return Err(format!("\"two prints\": {} prints are named for role {role}", prints.len()));
        }
        if self.two_prints.insert(role.to_owned(), prints.to_vec()).is_some() {
            return Err(format!("\"two prints\" is listed twice for role {role}"));
        }
        Ok(())
    }

    fn mix(&mut self, block: &str, copies: &[u64], role: &str, pattern: &Pattern) -> Result<(), String> {
        let held = find(pattern, block)?;
        let matches = held
            .pieces
            .iter()
            .any(|line| line.matching == Matching::Block && pattern.roles[line.role.0].name == role);
        if !matches {
            return Err(format!("\"mixed prints\": nothing in {block} must match in role {role}"));
        }
        if copies.is_empty() {
            return Err(format!("\"mixed prints\": no copy of {block} is named"));
        }
        for &copy in copies {
            if copy == 0 || copy > u64::from(held.make) {
                return Err(format!("\"mixed prints\": {block} has no copy {copy}"));
            }
            if !self.mixed.insert((block.to_owned(), copy, role.to_owned())) {
                return Err(format!("\"mixed prints\" is listed twice for {block} copy {copy}, role {role}"));
            }
        }
        Ok(())
    }
}

/// The two roles of `different` mean the same either way round.
fn in_order<'a>(role: &'a str, other: Option<&'a str>) -> (&'a str, Option<&'a str>) {
    match other {
        Some(other) if other < role => (other, Some(role)),
        _ => (role, other),
    }
}

fn find<'a>(pattern: &'a Pattern, block: &str) -> Result<&'a Block, String> {
    let held = pattern.blocks.iter().find(|held| held.name == block);
    held.ok_or_else(|| format!("the pattern has no block {block}"))
}
