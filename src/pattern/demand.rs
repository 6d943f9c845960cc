//! Pattern -> demand: every single rectangle to cut, and the sets that matching ties to one print.

use std::collections::BTreeMap;

use crate::fabric::Cut;
use crate::length::{Area, Length};
use crate::pattern::rules::{self, RoleRules, Waived};
use crate::pattern::{BlockId, Count, Matching, Pattern, RoleId, Shape};
use crate::spreadsheet::same_name;

/// Index of a set in [`Demand::sets`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct SetId(pub usize);

/// Index of a piece in [`Demand::pieces`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PieceId(pub usize);

/// Everything to cut.
#[derive(Clone, Debug, Default)]
pub struct Demand {
    /// What must come from one print, each.
    pub sets: Vec<Set>,
    /// Every rectangle, one entry each.
    pub pieces: Vec<Piece>,
    /// The rules in force, by role.
    pub rules: Vec<RoleRules>,
}

/// Changes to a pattern's demand that only an alternative makes.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Loosened {
    /// Block copies and roles whose `block` matching is given up: each piece may take its own print.
    pub mixed: Vec<(BlockId, u32, RoleId)>,
    /// Blocks of which only the first so many copies are made.
    pub makes: BTreeMap<BlockId, u32>,
    /// Rules between fabrics that are given up.
    pub waived: Vec<Waived>,
    /// Roles whose one print over the whole quilt becomes two, by name; each block copy takes one of them.
    pub two_prints: BTreeMap<RoleId, [String; 2]>,
}

/// Pieces that one matching rule ties to one print.
#[derive(Clone, Debug)]
pub struct Set {
    /// The rule.
    pub matching: Matching,
    /// Kind of block and copy from 1; `None` for a set over the whole quilt.
    pub block: Option<(BlockId, u32)>,
    /// The role.
    pub role: RoleId,
    /// Its pieces.
    pub pieces: Vec<PieceId>,
    /// Cuts of fabric it may be taken from; empty means any.
    pub from: Vec<Cut>,
}

/// One rectangle to cut.
#[derive(Clone, Debug)]
pub struct Piece {
    /// Label of its chart line.
    pub label: String,
    /// Kind of block.
    pub block: BlockId,
    /// Copy of the block, from 1.
    pub copy: u32,
    /// The role.
    pub role: RoleId,
    /// Number among the pieces of this label in this block copy, from 1.
    pub number: u32,
    /// Across the grain, as cut.
    pub width: Length,
    /// Along the grain, as cut.
    pub height: Length,
    /// What it becomes.
    pub shape: Shape,
    /// The set it belongs to.
    pub set: SetId,
}

impl Piece {
    /// Its area as cut.
    pub fn area(&self) -> Area {
        self.width.by(self.height)
    }
}

impl Demand {
    /// The set with this id.
    pub fn set(&self, id: SetId) -> &Set {
        &self.sets[id.0]
    }

    /// The piece with this id.
    pub fn piece(&self, id: PieceId) -> &Piece {
        &self.pieces[id.0]
    }

    /// Area of all pieces of a set.
    pub fn set_area(&self, id: SetId) -> Area {
        self.set(id).pieces.iter().map(|&p| self.piece(p).area()).sum()
    }

    /// Expands `pattern` to its pieces and sets, with the changes an alternative may make.
    pub fn expand(pattern: &Pattern, changes: &Loosened) -> Demand {
        let mut demand = Demand { rules: rules::in_force(pattern, &changes.waived), ..Demand::default() };
        for (role, prints) in &changes.two_prints {
            // The two, where the pattern names none for the role or names both; else what it names stands.
            let only = &mut demand.rules[role.0].only.prints;
            let named = |print: &String| only.iter().any(|name| same_name(print, name));
            if only.is_empty() || prints.iter().all(named) {
                *only = prints.to_vec();
            }
        }
        let mut quilt_sets: BTreeMap<RoleId, SetId> = BTreeMap::new();
        for (block_index, block) in pattern.blocks.iter().enumerate() {
            let block_id = BlockId(block_index);
            let make = changes.makes.get(&block_id).map_or(block.make, |&m| m.min(block.make));
            for copy in 1..=make {
                let mut block_sets: BTreeMap<RoleId, SetId> = BTreeMap::new();
                let mut numbers: BTreeMap<&str, u32> = BTreeMap::new();
                for line in &block.pieces {
                    let matching = match line.matching {
                        Matching::Block if changes.mixed.contains(&(block_id, copy, line.role)) => {
                            Matching::Piece
                        }
                        Matching::Quilt if changes.two_prints.contains_key(&line.role) => Matching::Block,
                        rule => rule,
                    };
                    for _ in 0..copies_in(line.count, block.make, copy) {
                        let set = match matching {
                            Matching::Piece => {
                                demand.open(pattern, matching, Some((block_id, copy)), line.role)
                            }
                            Matching::Block => *block_sets.entry(line.role).or_insert_with(|| {
                                demand.open(pattern, matching, Some((block_id, copy)), line.role)
                            }),
                            Matching::Quilt => *quilt_sets
                                .entry(line.role)
                                .or_insert_with(|| demand.open(pattern, matching, None, line.role)),
                        };
                        let number = numbers.entry(&line.label).or_insert(0);
                        *number += 1;
                        let id = PieceId(demand.pieces.len());
                        demand.sets[set.0].pieces.push(id);
                        demand.pieces.push(Piece {
                            label: line.label.clone(),
                            block: block_id,
                            copy,
                            role: line.role,
                            number: *number,
                            width: line.width,
                            height: line.height,
                            shape: line.shape,
                            set,
                        });
                    }
                }
            }
        }
        demand
    }

    fn open(
        &mut self,
        pattern: &Pattern,
        matching: Matching,
        block: Option<(BlockId, u32)>,
        role: RoleId,
    ) -> SetId {
        self.sets.push(Set {
            matching,
            block,
            role,
            pieces: Vec::new(),
            from: pattern.roles[role.0].from.clone(),
        });
        SetId(self.sets.len() - 1)
    }
}

/// How many of a line's pieces copy number `copy` (from 1) of `make` gets.
pub fn copies_in(count: Count, make: u32, copy: u32) -> u32 {
    match count {
        Count::PerCopy(each) => each,
        Count::Total(total) => total / make + u32::from(copy <= total % make),
    }
}
