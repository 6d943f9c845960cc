//! What a set is called in files and sentences: by block and copy, role, and label where it is one piece.

use crate::pattern::demand::{Demand, Set};
use crate::pattern::{Matching, Pattern};

/// What a set is called in a file.
pub(crate) struct SetName {
    pub(crate) block: Option<String>,
    pub(crate) copy: Option<u32>,
    pub(crate) role: String,
    pub(crate) label: Option<String>,
    pub(crate) piece: Option<u32>,
}

impl SetName {
    /// Block and copy unless the set is the whole quilt's; label and number where it is a single piece.
    pub(crate) fn of(pattern: &Pattern, demand: &Demand, set: &Set) -> SetName {
        let single = match set.matching {
            Matching::Piece => set.pieces.first().map(|&id| demand.piece(id)),
            Matching::Block | Matching::Quilt => None,
        };
        SetName {
            block: set.block.map(|(block, _)| pattern.blocks[block.0].name.clone()),
            copy: set.block.map(|(_, copy)| copy),
            role: pattern.roles[set.role.0].name.clone(),
            label: single.map(|piece| piece.label.clone()),
            piece: single.map(|piece| piece.number),
        }
    }
}
