//! What an alternative changes about the question, read from its list and held against the inputs.

use std::collections::{BTreeMap, BTreeSet};

use super::fault::{Faults, Rule};
use super::record::{Purchase, Relaxed, SetName};
use crate::fabric::Cut;
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
    /// Blocks of which only so many are made.
    pub(super) makes: BTreeMap<String, u64>,
    /// What is bought.
    pub(super) bought: Vec<Purchase>,
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

fn find<'a>(pattern: &'a Pattern, block: &str) -> Result<&'a Block, String> {
    let held = pattern.blocks.iter().find(|held| held.name == block);
    held.ok_or_else(|| format!("the pattern has no block {block}"))
}
