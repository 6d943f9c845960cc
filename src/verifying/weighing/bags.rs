//! What is weighed, counted out from the pattern, and the prints that may serve it.

use std::collections::btree_map::Entry;
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

use crate::stash::PrintId;
use crate::verifying::fault::Faults;
use crate::verifying::record::Weighing;
use crate::verifying::weighing::Asked;
use crate::verifying::weighing::bound::Bound;
use crate::verifying::weighing::governed::{Governed, InForce};
use crate::verifying::weighing::prints::Print;
use crate::verifying::weighing::things::{Pieces, Shape, role_of};
use crate::verifying::{between, decided};

/// Sums of a quilt's worth of such weights stay inside the 64 bits of a sheet's table.
const HEAVIEST: i64 = 1 << 44;

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
