//! What must be cut: the pattern counted out once more, in the words of the record.
//!
//! Counted here from the lines of the pattern, and not taken from the planner's own expansion, so that a
//! mistake there does not excuse itself.

use std::collections::BTreeMap;

use super::changes::Changes;
use super::record::{SetName, Ticks};
use crate::pattern::{Count, Matching, Pattern};

/// No quilt has more pieces; a pattern that says so is not counted out.
const MOST_PIECES: u64 = 1_000_000;

/// Pieces that nobody can tell apart.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct PieceKind {
    pub(super) block: String,
    pub(super) copy: u64,
    pub(super) role: String,
    pub(super) label: String,
    pub(super) width: Ticks,
    pub(super) height: Ticks,
}

/// One piece to cut: its number among those of its label in the block copy, from 1, and its set.
#[derive(Clone, Debug)]
pub(super) struct Want {
    pub(super) number: u64,
    pub(super) set: SetName,
}

/// What must be cut.
#[derive(Default)]
pub(super) struct Wanted {
    /// The pieces of each kind.
    pub(super) pieces: BTreeMap<PieceKind, Vec<Want>>,
    /// Each set with its number of pieces.
    pub(super) sets: BTreeMap<SetName, u64>,
}

impl Wanted {
    /// Counts out `pattern` with the changes of an alternative.
    ///
    /// # Errors
    /// A pattern of more than a million pieces.
    pub(super) fn count(pattern: &Pattern, changes: &Changes) -> Result<Wanted, String> {
        let pieces: u64 =
            pattern.blocks.iter().map(|block| block_total(block, block.make)).fold(0, u64::saturating_add);
        if pieces > MOST_PIECES {
            return Err(format!(
                "the pattern asks for {pieces} pieces; no more than {MOST_PIECES} are checked"
            ));
        }
        let mut wanted = Wanted::default();
        for block in &pattern.blocks {
            let make = changes.makes.get(&block.name).copied().unwrap_or(u64::from(block.make));
            for copy in 1..=make {
                let mut numbers: BTreeMap<&str, u64> = BTreeMap::new();
                for line in &block.pieces {
                    let role = &pattern.roles[line.role.0].name;
                    let matching = in_force(line.matching, (&block.name, copy, role), changes);
                    let kind = PieceKind {
                        block: block.name.clone(),
                        copy,
                        role: role.clone(),
                        label: line.label.clone(),
                        width: line.width.ticks(),
                        height: line.height.ticks(),
                    };
                    for _ in 0..share(line.count, u64::from(block.make), copy) {
                        let number = numbers.entry(&line.label).or_insert(0);
                        *number += 1;
                        let set = set_of(&kind, matching, *number);
                        *wanted.sets.entry(set.clone()).or_insert(0) += 1;
                        wanted.pieces.entry(kind.clone()).or_default().push(Want { number: *number, set });
                    }
                }
            }
        }
        Ok(wanted)
    }
}

fn block_total(block: &crate::pattern::Block, make: u32) -> u64 {
    let of_line = |count| match count {
        Count::PerCopy(each) => u64::from(each).saturating_mul(u64::from(make)),
        Count::Total(total) => u64::from(total),
    };
    block.pieces.iter().map(|line| of_line(line.count)).fold(u64::from(make), u64::saturating_add)
}

/// A total is dealt out like cards: one to each copy in turn until none is left.
pub(super) fn share(count: Count, make: u64, copy: u64) -> u64 {
    match count {
        Count::PerCopy(each) => u64::from(each),
        Count::Total(total) => (u64::from(total) + make - copy) / make,
    }
}

/// The matching of a line, as the changes leave it: given up in some block copies, or, where two prints take the
/// place of one, the block copy's.
fn in_force(stated: Matching, (block, copy, role): (&str, u64, &String), changes: &Changes) -> Matching {
    match stated {
        Matching::Quilt if changes.two_prints.contains_key(role) => Matching::Block,
        Matching::Block if changes.mixed.contains(&(block.to_owned(), copy, role.clone())) => Matching::Piece,
        stated => stated,
    }
}

fn set_of(kind: &PieceKind, matching: Matching, number: u64) -> SetName {
    let role = kind.role.clone();
    match matching {
        Matching::Quilt => SetName { block: None, copy: None, role, label: None, piece: None },
        Matching::Block => {
            SetName { block: Some(kind.block.clone()), copy: Some(kind.copy), role, label: None, piece: None }
        }
        Matching::Piece => SetName {
            block: Some(kind.block.clone()),
            copy: Some(kind.copy),
            role,
            label: Some(kind.label.clone()),
            piece: Some(number),
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_total_is_dealt_out_evenly_and_completely() {
        for make in 1..9 {
            for total in 0..40 {
                let shares: Vec<u64> =
                    (1..=make).map(|copy| share(Count::Total(total), make, copy)).collect();
                assert_eq!(shares.iter().sum::<u64>(), u64::from(total));
                assert!(shares.iter().max().unwrap_or(&0) - shares.iter().min().unwrap_or(&0) <= 1);
                assert!(shares.is_sorted_by(|a, b| a >= b), "the first copies get the odd ones: {shares:?}");
            }
        }
    }
}
