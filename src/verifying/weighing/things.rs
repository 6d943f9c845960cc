//! What may be weighed: the sets of the pattern, and single pieces of them, by their names in a record.

use std::collections::BTreeMap;

use crate::fabric::Cut;
use crate::pattern::rules::Direction;
use crate::pattern::{Pattern, Role};
use crate::verifying::record::{InCopies, SetName, Ticks};
use crate::verifying::wanted::{PieceKind, Wanted};

/// A rectangle to cut, and what its role says of it.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Shape {
    pub(super) width: Ticks,
    pub(super) height: Ticks,
    /// Cuts of fabric it may come from; empty for any.
    pub(super) from: Vec<Cut>,
    /// True when it may lie turned on a print that has an up.
    pub(super) free: bool,
}

pub(super) fn role_of<'a>(pattern: &'a Pattern, name: &str) -> Result<&'a Role, String> {
    pattern.roles.iter().find(|role| role.name == name).ok_or_else(|| format!("there is no role {name}"))
}

/// A piece: what it is, and its number among those of its label in the block copy.
type Numbered<'a> = (&'a PieceKind, u64);

/// The pieces of the pattern by set, and by name: block, copy, label, number.
pub(super) struct Pieces<'a> {
    sets: BTreeMap<&'a SetName, Vec<Numbered<'a>>>,
    single: BTreeMap<(&'a str, u64, &'a str, u64), (&'a SetName, &'a PieceKind)>,
}

/// One thing weighed: a set whole, or one piece of it.
pub(super) struct One<'a> {
    pub(super) set: &'a SetName,
    pub(super) pieces: Vec<Numbered<'a>>,
    single: bool,
}

/// What a thing is known by: whether it is a single piece, and the set, or the piece itself.
pub(super) type Name = (bool, SetName);

impl One<'_> {
    pub(super) fn name(&self) -> Name {
        let piece = |&(kind, number): &Numbered<'_>| SetName {
            block: Some(kind.block.clone()),
            copy: Some(kind.copy),
            role: kind.role.clone(),
            label: Some(kind.label.clone()),
            piece: Some(number),
        };
        match self.pieces.first().filter(|_| self.single) {
            Some(single) => (true, piece(single)),
            None => (false, self.set.clone()),
        }
    }

    pub(super) fn is_single(&self) -> bool {
        self.pieces.len() == 1
    }

    pub(super) fn shapes(&self, role: &Role) -> BTreeMap<Shape, u64> {
        let mut shapes = BTreeMap::new();
        for (kind, _) in &self.pieces {
            let shape = Shape {
                width: kind.width,
                height: kind.height,
                from: role.from.clone(),
                free: role.rules.direction == Direction::Free,
            };
            *shapes.entry(shape).or_insert(0) += 1;
        }
        shapes
    }
}

impl<'a> Pieces<'a> {
    pub(super) fn of(wanted: &'a Wanted) -> Pieces<'a> {
        let (mut sets, mut single) = (BTreeMap::new(), BTreeMap::new());
        for (kind, wants) in &wanted.pieces {
            for want in wants {
                sets.entry(&want.set).or_insert_with(Vec::new).push((kind, want.number));
                single.insert((&*kind.block, kind.copy, &*kind.label, want.number), (&want.set, kind));
            }
        }
        Pieces { sets, single }
    }

    pub(super) fn of_set(&self, set: &SetName) -> impl Iterator<Item = &'a PieceKind> {
        self.sets.get(set).into_iter().flatten().map(|&(kind, _)| kind)
    }

    pub(super) fn named(&self, sets: &[InCopies], pieces: &[InCopies]) -> Result<Vec<One<'a>>, String> {
        let mut found = Vec::new();
        for names in sets {
            let copies: Vec<Option<u64>> = match names.block {
                Some(_) => names.copies.iter().copied().map(Some).collect(),
                None => vec![None],
            };
            for copy in copies {
                let set = SetName {
                    block: names.block.clone(),
                    copy,
                    role: names.role.clone(),
                    label: names.label.clone(),
                    piece: names.piece,
                };
                let Some((&set, pieces)) = self.sets.get_key_value(&set) else {
                    return Err(format!("{} is named, and the pattern has no such set", set.say()));
                };
                found.push(One { set, pieces: pieces.clone(), single: false });
            }
        }
        for names in pieces {
            let (block, label) = (names.block.as_deref(), names.label.as_deref());
            let (block, label, number) =
                (block.unwrap_or_default(), label.unwrap_or_default(), names.piece.unwrap_or(0));
            for &copy in &names.copies {
                let Some(&(set, kind)) = self.single.get(&(block, copy, label, number)) else {
                    return Err(format!(
                        "piece {label} number {number} of {block} copy {copy} is named, and the pattern has none"
                    ));
                };
                found.push(One { set, pieces: vec![(kind, number)], single: true });
            }
        }
        Ok(found)
    }
}
