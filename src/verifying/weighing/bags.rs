//! What is weighed, counted out from the pattern, and the prints that may serve it.

use std::collections::btree_map::Entry;
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

use crate::fabric::Cut;
use crate::pattern::rules::Direction;
use crate::pattern::{Pattern, Role};
use crate::stash::{PrintId, Stash};
use crate::verifying::changes::Changes;
use crate::verifying::fault::Faults;
use crate::verifying::record::{InCopies, SetName, Ticks, Weighing};
use crate::verifying::supply::after_truing;
use crate::verifying::wanted::{PieceKind, Wanted};
use crate::verifying::weighing::Asked;
use crate::verifying::weighing::cases::Bound;
use crate::verifying::weighing::governed::{Governed, InForce};
use crate::verifying::{between, decided};

/// Sums of a quilt's worth of such weights stay inside the 64 bits of a sheet's table.
const HEAVIEST: i64 = 1 << 44;

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

/// Sets, or single pieces, that are alike and weigh the same.
pub(super) struct Bag {
    pub(super) weight: i64,
    pub(super) count: u64,
    /// How often each shape is in one.
    pub(super) shapes: BTreeMap<Shape, u64>,
    /// Prints that may serve it.
    prints: BTreeSet<PrintId>,
    /// Bounds on what serves it, each with what is taken off its weight where the bound holds.
    bounds: Vec<(Rc<Bound>, i64)>,
    /// What the rules between fabrics say of it, if anything.
    pub(super) governed: Option<Governed>,
}

impl Bag {
    /// What it weighs where this print serves it.
    pub(super) fn weight_from(&self, print: &Print) -> i64 {
        let less = self.bounds.iter().filter(|(bound, _)| bound.holds_for(print));
        less.fold(self.weight, |weight, (_, price)| weight.saturating_sub(*price)).max(0)
    }

    /// No more of it come from this print: what a bound leaves to several, it leaves to each.
    pub(super) fn most_from(&self, print: &Print) -> u64 {
        let bounds = self.bounds.iter().filter(|(bound, _)| bound.holds_for(print));
        bounds.map(|(bound, _)| bound.most).fold(self.count, u64::min)
    }

    pub(super) fn may_come_from(&self, print: &Print) -> bool {
        let held = |shape: &Shape| {
            shape.from.is_empty() || print.sheets.iter().any(|sheet| shape.from.contains(&sheet.cut))
        };
        self.prints.contains(&print.id) && self.shapes.keys().all(held)
    }

    /// Is it a single piece that no rule ties to another?
    pub(super) fn is_alone(&self) -> bool {
        self.governed.is_none() && self.shapes.values().sum::<u64>() == 1
    }
}

/// Sheets alike.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct SheetKind {
    pub(super) width: Ticks,
    pub(super) height: Ticks,
    pub(super) cut: Cut,
    pub(super) copies: u64,
}

/// A print with all its sheets, or one of its sheets that stands for itself.
pub(super) struct Print {
    pub(super) id: PrintId,
    pub(super) has_up: bool,
    pub(super) sheets: Vec<SheetKind>,
    /// Of a single sheet: which of those alike, from 1.
    pub(super) number: Option<u64>,
}

impl Print {
    /// Sheet by sheet.
    pub(super) fn one_by_one(&self) -> impl Iterator<Item = Print> {
        let numbered = self.sheets.iter().flat_map(|kind| (1..=kind.copies).map(move |n| (kind, n)));
        numbered.map(|(kind, number)| Print {
            id: self.id,
            has_up: self.has_up,
            sheets: vec![SheetKind { copies: 1, ..kind.clone() }],
            number: Some(number),
        })
    }
}

/// Everything that may be cut from, print by print.
pub(super) fn prints(stash: &Stash, changes: &Changes) -> Vec<Print> {
    let lots = || {
        let free = |row: Option<u32>| row.is_some_and(|row| changes.released.contains(&u64::from(row)));
        stash.lots.iter().filter(move |lot| !lot.keep || free(lot.row))
    };
    (0..stash.prints.len())
        .map(PrintId)
        .map(|id| {
            let mut sheets: Vec<SheetKind> = Vec::new();
            for lot in lots().filter(|lot| lot.print == id) {
                let (width, height) = after_truing(lot);
                let alike =
                    |held: &&mut SheetKind| (held.width, held.height, held.cut) == (width, height, lot.cut);
                match sheets.iter_mut().find(alike) {
                    Some(held) => held.copies += u64::from(lot.count),
                    None => {
                        let copies = u64::from(lot.count);
                        sheets.push(SheetKind { width, height, cut: lot.cut, copies });
                    }
                }
            }
            sheets.sort();
            Print { id, has_up: lots().any(|lot| lot.print == id && lot.directional), sheets, number: None }
        })
        .filter(|print| !print.sheets.is_empty())
        .collect()
}

/// Counts out what `weighing` names, in a case that `bounds` lead to.
///
/// # Errors
/// A name of nothing, or a name twice.
pub(super) fn read(
    weighing: &Weighing,
    bounds: &[(Rc<Bound>, i64)],
    asked: &Asked<'_>,
) -> Result<Vec<Bag>, String> {
    let &Asked { question, pattern, changes, wanted } = asked;
    let pieces = Pieces::of(wanted);
    let rules = InForce::new(pattern, changes, wanted);
    // What is wrong with the placements is told elsewhere.
    let decided = decided::decided(&question.placements, wanted, changes, &mut Faults::of(""));
    let (mut weighed, mut bags) = (BTreeSet::new(), BTreeMap::new());
    for item in &weighing.items {
        if !(1..=HEAVIEST).contains(&item.weight) {
            return Err(format!("a weight of {} is out of range", item.weight));
        }
        for one in pieces.named(&item.sets, &item.pieces)? {
            // The same cloth must not be counted twice, neither whole and in parts.
            if !one.pieces.iter().all(|&piece| weighed.insert(piece)) {
                return Err(format!("{} is weighed twice", one.set.say()));
            }
            let role = role_of(pattern, &one.set.role)?;
            let nowhere = rules.in_too_many_copies(role, pieces.of_set(one.set));
            let prints = (0..question.stash.prints.len()).map(PrintId).filter(|&print| {
                let name = &question.stash.print(print).name;
                let as_decided = decided.get(one.set).is_none_or(|decided| decided::same(decided, name));
                !nowhere && as_decided && between::may_take(role, name, &question.stash, changes)
            });
            let prints: BTreeSet<PrintId> = prints.collect();
            let shapes = one.shapes(role);
            let governed = rules.of(role, one.pieces.iter().map(|&(kind, _)| kind));
            let name = one.name();
            let bound: Vec<usize> =
                (0..bounds.len()).filter(|&bound| bounds[bound].0.things.contains(&name)).collect();
            let key = (item.weight, shapes, prints, governed.as_ref().map(Governed::known_by), bound);
            match bags.entry(key) {
                Entry::Vacant(vacant) => {
                    vacant.insert((1u64, governed));
                }
                Entry::Occupied(mut held) => {
                    let (count, known) = held.get_mut();
                    *count += 1;
                    known.iter_mut().zip(&governed).for_each(|(known, more)| known.with(more));
                }
            }
        }
    }
    let bags = bags.into_iter().map(|((weight, shapes, prints, _, bound), (count, governed))| {
        let bounds = bound.into_iter().map(|bound| bounds[bound].clone()).collect();
        Bag { weight, count, shapes, prints, bounds, governed }
    });
    Ok(bags.collect())
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
    set: &'a SetName,
    pieces: Vec<Numbered<'a>>,
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

    fn shapes(&self, role: &Role) -> BTreeMap<Shape, u64> {
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

    fn of_set(&self, set: &SetName) -> impl Iterator<Item = &'a PieceKind> {
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
