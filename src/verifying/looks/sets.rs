//! Which prints serve a role in a block copy, as the record lists its sets.

use std::collections::{BTreeMap, BTreeSet};

use super::super::record::Record;
use crate::pattern::{Matching, Pattern};

/// The sets of a record by where they are, each with its print or none where it is short.
pub(super) struct Sets<'a> {
    /// By block copy and role; loose pieces apart from sets.
    here: BTreeMap<(&'a str, u64, &'a str), Vec<Option<&'a str>>>,
    loose: BTreeMap<(&'a str, u64, &'a str), Vec<Option<&'a str>>>,
    /// By role, for the whole quilt.
    wide: BTreeMap<&'a str, Option<&'a str>>,
    /// Blocks and roles with pieces that are one print over the whole quilt.
    in_block: BTreeSet<(&'a str, &'a str)>,
}

impl<'a> Sets<'a> {
    pub(super) fn of(record: &'a Record, pattern: &'a Pattern) -> Sets<'a> {
        let mut sets = Sets {
            here: BTreeMap::new(),
            loose: BTreeMap::new(),
            wide: BTreeMap::new(),
            in_block: BTreeSet::new(),
        };
        for block in &pattern.blocks {
            for line in block.pieces.iter().filter(|line| line.matching == Matching::Quilt) {
                sets.in_block.insert((&block.name, &pattern.roles[line.role.0].name));
            }
        }
        let placed = record.sets.iter().map(|placed| (&placed.set, Some(placed.print.as_str())));
        for (set, print) in placed.chain(record.short.iter().map(|short| (&short.set, None))) {
            match (&set.block, set.copy) {
                (Some(block), Some(copy)) => {
                    let of = if set.label.is_some() { &mut sets.loose } else { &mut sets.here };
                    of.entry((block, copy, &set.role)).or_default().push(print);
                }
                _ => {
                    sets.wide.insert(&set.role, print);
                }
            }
        }
        sets
    }

    /// What serves a role in a block copy: its own sets, with that of the whole quilt where the block has pieces of it; where the
    /// block has nothing of the role, or over the whole quilt, all sets of the role.
    pub(super) fn serving(&self, copy: Option<(&'a str, u64)>, role: &'a str) -> Vec<Option<&'a str>> {
        let wide = || self.wide.get(role).copied();
        if let Some((block, copy)) = copy {
            let key = (block, copy, role);
            let own = self.here.get(&key).into_iter().chain(self.loose.get(&key)).flatten().copied();
            let mut found: Vec<Option<&str>> = own.collect();
            if self.in_block.contains(&(block, role)) {
                found.extend(wide());
            }
            if !found.is_empty() {
                return found;
            }
        }
        let all = self.here.iter().chain(&self.loose).filter(|((_, _, of), _)| *of == role);
        all.flat_map(|(_, prints)| prints.iter().copied()).chain(wide()).collect()
    }

    /// In how many block copies the print that comes in most is; pairs of copies of a block with one print in one role; pairs of
    /// loose pieces of one role in a copy with one print.
    pub(super) fn repeats(&self) -> (u64, u64, u64) {
        let mut copies: BTreeMap<&str, BTreeSet<(&str, u64)>> = BTreeMap::new();
        for ((block, copy, _), prints) in self.here.iter().chain(&self.loose) {
            for print in prints.iter().flatten() {
                copies.entry(print).or_default().insert((block, *copy));
            }
        }
        let most = copies.values().map(BTreeSet::len).max().unwrap_or(0) as u64;
        let mut alike: BTreeMap<(&str, &str, &str), u64> = BTreeMap::new();
        for ((block, _, role), prints) in &self.here {
            for print in prints.iter().flatten() {
                *alike.entry((block, role, print)).or_default() += 1;
            }
        }
        let mut pieces: BTreeMap<(&str, u64, &str, &str), u64> = BTreeMap::new();
        for ((block, copy, role), prints) in &self.loose {
            for print in prints.iter().flatten() {
                *pieces.entry((block, *copy, role, print)).or_default() += 1;
            }
        }
        let pairs = |count: &u64| count * (count - 1) / 2;
        (most, alike.values().map(pairs).sum(), pieces.values().map(pairs).sum())
    }
}
