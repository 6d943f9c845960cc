//! The count of every piece, which must close: needed = cut + short. Otherwise nothing is printed.

use std::collections::BTreeMap;

use crate::length::Length;
use crate::pattern::demand::{Demand, Loosened};
use crate::pattern::{BlockId, Pattern, RoleId};
use crate::planning::{Change, Plan};
use crate::report::ReportError;

/// The count of the pieces of one label, role and size in one kind of block.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Total {
    /// Kind of block.
    pub block: BlockId,
    /// Label of the piece.
    pub label: String,
    /// The role.
    pub role: RoleId,
    /// Size across the grain, as cut.
    pub width: Length,
    /// Size along the grain, as cut.
    pub height: Length,
    /// How many the quilt needs.
    pub need: u32,
    /// How many the plan cuts.
    pub cut: u32,
    /// How many are in sets that are not placed.
    pub short: u32,
}

type Key = (BlockId, String, RoleId, Length, Length);

/// The totals of `plan`, in the order of the chart.
///
/// `need` is counted afresh from the pattern and the `changes` an alternative makes, not from `demand`, so that
/// a piece lost on the way is noticed as well as one that is cut twice.
///
/// # Errors
/// [`ReportError::DoesNotClose`] for the first line where need is not cut + short;
/// [`ReportError::UnknownPiece`] when a sheet holds a piece that `demand` does not have.
pub fn totals(
    pattern: &Pattern,
    demand: &Demand,
    plan: &Plan,
    changes: &[Change],
) -> Result<Vec<Total>, ReportError> {
    let mut totals: Vec<Total> = Vec::new();
    let mut places: BTreeMap<Key, usize> = BTreeMap::new();
    let mut at = |totals: &mut Vec<Total>, key: Key| {
        *places.entry(key.clone()).or_insert_with(|| {
            let (block, label, role, width, height) = key;
            totals.push(Total { block, label, role, width, height, need: 0, cut: 0, short: 0 });
            totals.len() - 1
        })
    };
    for piece in Demand::expand(pattern, &loosened(changes)).pieces {
        let line = at(&mut totals, (piece.block, piece.label, piece.role, piece.width, piece.height));
        totals[line].need += 1;
    }
    let key = |index: usize| {
        let piece = demand.pieces.get(index).ok_or(ReportError::UnknownPiece(index))?;
        Ok((piece.block, piece.label.clone(), piece.role, piece.width, piece.height))
    };
    for sheet in &plan.sheets {
        for (index, _, _) in sheet.layout.pieces() {
            let line = at(&mut totals, key(index)?);
            totals[line].cut += 1;
        }
    }
    for short in &plan.short {
        for piece in &demand.set(short.set).pieces {
            let line = at(&mut totals, key(piece.0)?);
            totals[line].short += 1;
        }
    }
    match totals.iter().find(|t| t.need != t.cut + t.short) {
        None => Ok(totals),
        Some(open) => Err(ReportError::DoesNotClose {
            block: pattern.blocks[open.block.0].name.clone(),
            label: open.label.clone(),
            need: open.need,
            cut: open.cut,
            short: open.short,
        }),
    }
}

/// What `changes` take back of the pieces asked for; from which prints they come is not counted here.
fn loosened(changes: &[Change]) -> Loosened {
    let mut loosened = Loosened::default();
    for change in changes {
        if let Change::FewerCopies { block, make, .. } = change {
            loosened.makes.insert(*block, *make);
        }
    }
    loosened
}
