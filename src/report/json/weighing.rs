//! What a reason weighs, by the names the rest of the record uses.

use itertools::Itertools;

use crate::pattern::demand::PieceId;
use crate::planning::{Weighed, Weighing};
use crate::report::json::SetName;
use crate::report::json::shape::{InCopiesRecord, WeighedRecord, WeighingRecord};
use crate::report::situation::Situation;

impl Situation<'_> {
    pub(super) fn weighing(&self, weighing: &Weighing) -> WeighingRecord {
        let items = weighing.items.iter().map(|(weight, things)| {
            let sets = things.iter().filter_map(|thing| match thing {
                Weighed::Set(set) => Some(SetName::of(self.pattern, self.demand, self.demand.set(*set))),
                Weighed::Piece(_) => None,
            });
            let pieces = things.iter().filter_map(|thing| match thing {
                Weighed::Set(_) => None,
                Weighed::Piece(piece) => Some(self.alone(*piece)),
            });
            WeighedRecord { weight: *weight, sets: by_copies(sets), pieces: by_copies(pieces) }
        });
        WeighingRecord { needed: weighing.needed, most: weighing.most, items: items.collect() }
    }

    fn alone(&self, piece: PieceId) -> SetName {
        let piece = self.demand.piece(piece);
        SetName {
            block: Some(self.block_name(piece).to_owned()),
            copy: Some(piece.copy),
            role: self.role_name(piece).to_owned(),
            label: Some(piece.label.clone()),
            piece: Some(piece.number),
        }
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
