//! What a split says in one of its two cases: of some things some prints, or single sheets, serve at most so many.

use std::collections::BTreeSet;
use std::rc::Rc;

use crate::stash::PrintId;
use crate::verifying::weighing::prints::{Print, SheetKind};
use crate::verifying::weighing::things::Name;

/// Of these things the sources named serve at most so many, or all others do.
pub(super) struct Bound {
    pub(super) things: Rc<BTreeSet<Name>>,
    pub(super) named: Rc<Sources>,
    /// True when it bounds the sources that are not named.
    pub(super) others: bool,
    pub(super) most: u64,
}

/// Prints with all their sheets, and single sheets.
pub(super) struct Sources {
    pub(super) prints: BTreeSet<PrintId>,
    /// Print, what the sheet is, and which of those alike.
    pub(super) sheets: BTreeSet<(PrintId, SheetKind, u64)>,
}

impl Bound {
    /// Does it speak of some sheets of this print only?
    pub(super) fn names_sheets_of(&self, print: &Print) -> bool {
        self.named.sheets.iter().any(|(other, ..)| *other == print.id)
    }

    /// Is everything that comes from this print, or this sheet, under the bound?
    pub(super) fn holds_for(&self, print: &Print) -> bool {
        let whole = self.named.prints.contains(&print.id);
        let named = match (print.number, print.sheets.first()) {
            (Some(number), Some(kind)) => {
                whole || self.named.sheets.contains(&(print.id, kind.clone(), number))
            }
            // Of some sheets only: neither those nor the others are all of it.
            _ if self.names_sheets_of(print) => return whole && !self.others,
            _ => whole,
        };
        named != self.others
    }
}
