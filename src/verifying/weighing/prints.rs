//! What there is to cut from: prints with their sheets, trued up.

use crate::fabric::Cut;
use crate::stash::{PrintId, Stash};
use crate::verifying::changes::Changes;
use crate::verifying::record::Ticks;
use crate::verifying::supply::after_truing;

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
    let lots = |print| {
        let free = |row: Option<u32>| row.is_some_and(|row| changes.released.contains(&u64::from(row)));
        stash.lots_of(print).filter(move |lot| !lot.keep || free(lot.row))
    };
    (0..stash.prints.len())
        .map(PrintId)
        .map(|id| {
            let mut sheets: Vec<SheetKind> = Vec::new();
            for lot in lots(id) {
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
            let has_up = lots(id).any(|lot| lot.directional);
            Print { id, has_up, sheets, number: None }
        })
        .filter(|print| !print.sheets.is_empty())
        .collect()
}
