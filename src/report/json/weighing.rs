//! What a reason weighs, by the names the rest of the record uses.

use itertools::Itertools;

use crate::pattern::Pattern;
use crate::pattern::demand::{Demand, PieceId};
use crate::planning::{Weighed, Weighing};
use crate::report::json::SetName;
use crate::report::json::shape::{InCopiesRecord, WeighedRecord, WeighingRecord};

/// A weighing of sets and pieces of `demand`, which is that of `pattern`.
pub(super) fn weighing(pattern: &Pattern, demand: &Demand, weighing: &Weighing) -> WeighingRecord {
    let items = weighing.items.iter().map(|(weight, things)| {
        let sets = things.iter().filter_map(|thing| match thing {
            Weighed::Set(set) => Some(SetName::of(pattern, demand, demand.set(*set))),
            Weighed::Piece(_) => None,
        });
        let pieces = things.iter().filter_map(|thing| match thing {
            Weighed::Set(_) => None,
            Weighed::Piece(piece) => Some(alone(pattern, demand, *piece)),
        });
        WeighedRecord { weight: *weight, sets: by_copies(sets), pieces: by_copies(pieces) }
    });
    WeighingRecord { needed: weighing.needed, most: weighing.most, items: items.collect() }
}

fn alone(pattern: &Pattern, demand: &Demand, piece: PieceId) -> SetName {
    let piece = demand.piece(piece);
    SetName {
        block: Some(pattern.blocks[piece.block.0].name.clone()),
        copy: Some(piece.copy),
        role: pattern.roles[piece.role.0].name.clone(),
        label: Some(piece.label.clone()),
        piece: Some(piece.number),
    }
}

/// Those that differ in the block copy only are one entry.
fn by_copies(names: impl Iterator<Item = SetName>) -> Vec<InCopiesRecord> {
    let groups =
        names.map(|name| ((name.block, name.role, name.label, name.piece), name.copy)).into_group_map();
    let entries = groups.into_iter().sorted();
    entries
        .map(|((block, role, label, piece), copies)| InCopiesRecord {
            block,
            copies: copies.into_iter().flatten().collect(),
            role,
            label,
            piece,
        })
        .collect()
}
