//! What a reason weighs, by the names the rest of the record uses.

use itertools::Itertools;

use crate::pattern::Pattern;
use crate::pattern::demand::{Demand, PieceId};
use crate::planning::{Case, OneSheet, Weighed, Weighing};
use crate::report::json::shape::{
    CaseRecord, InCopiesRecord, SomeSheetsRecord, SplitRecord, WeighedRecord, WeighingRecord,
};
use crate::report::set_name::SetName;
use crate::stash::Stash;

/// What sets, pieces and prints are called.
pub(super) struct Names<'a> {
    pub(super) stash: &'a Stash,
    pub(super) pattern: &'a Pattern,
    pub(super) demand: &'a Demand,
}

impl Names<'_> {
    pub(super) fn weighing(&self, weighing: &Weighing) -> WeighingRecord {
        let items = weighing.items.iter().map(|(weight, things)| {
            let (sets, pieces) = self.things(things);
            WeighedRecord { weight: *weight, sets, pieces }
        });
        WeighingRecord { needed: weighing.needed, most: weighing.most, items: items.collect() }
    }

    pub(super) fn case(&self, case: &Case) -> CaseRecord {
        match case {
            Case::Split { things, prints, sheets, most } => {
                let (sets, pieces) = self.things(things);
                let prints = prints.iter().map(|&print| self.stash.print(print).name.clone()).collect();
                let sheets = self.sheets(sheets);
                let split = Some(SplitRecord { sets, pieces, prints, sheets, most: *most });
                CaseRecord { split, prices: Vec::new(), weighing: None }
            }
            Case::Refuted { prices, weighing } => {
                CaseRecord { split: None, prices: prices.clone(), weighing: Some(self.weighing(weighing)) }
            }
        }
    }

    /// Those alike are one entry.
    fn sheets(&self, sheets: &[OneSheet]) -> Vec<SomeSheetsRecord> {
        let what = |sheet: &OneSheet| {
            let (width, height) = (sheet.sheet.width.ticks(), sheet.sheet.height.ticks());
            (self.stash.print(sheet.print).name.clone(), sheet.cut.entry().name.clone(), width, height)
        };
        let groups = sheets.iter().map(|sheet| (what(sheet), sheet.number)).into_group_map();
        let entries = groups.into_iter().sorted();
        let record =
            |((print, cut, width, height), numbers)| SomeSheetsRecord { print, cut, width, height, numbers };
        entries.map(record).collect()
    }

    /// Sets and pieces.
    fn things(&self, things: &[Weighed]) -> (Vec<InCopiesRecord>, Vec<InCopiesRecord>) {
        let sets = things.iter().filter_map(|thing| match thing {
            Weighed::Set(set) => Some(SetName::of(self.pattern, self.demand, self.demand.set(*set))),
            Weighed::Piece(_) => None,
        });
        let pieces = things.iter().filter_map(|thing| match thing {
            Weighed::Set(_) => None,
            Weighed::Piece(piece) => Some(self.alone(*piece)),
        });
        (by_copies(sets), by_copies(pieces))
    }

    fn alone(&self, piece: PieceId) -> SetName {
        let piece = self.demand.piece(piece);
        SetName {
            block: Some(self.pattern.blocks[piece.block.0].name.clone()),
            copy: Some(piece.copy),
            role: self.pattern.roles[piece.role.0].name.clone(),
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
