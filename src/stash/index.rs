//! Which lots are of which print and which print has a name, worked out once.

use std::collections::HashMap;
use std::sync::OnceLock;

use crate::stash::{Lot, Print, PrintId};

/// Places of lots and prints, for as many as there were when they were first asked for.
#[derive(Debug, Default)]
pub(super) struct Index {
    lots: OnceLock<Lots>,
    prints: OnceLock<HashMap<String, usize>>,
}

#[derive(Debug)]
struct Lots {
    number: usize,
    by_print: Vec<Vec<usize>>,
}

impl Index {
    /// The places of the lots of `print`; nothing when lots were added since it was first asked for.
    pub(super) fn lots_of(&self, lots: &[Lot], print: PrintId) -> Option<&[usize]> {
        let known = self.lots.get_or_init(|| {
            let prints = lots.iter().map(|lot| lot.print.0 + 1).max().unwrap_or(0);
            let mut by_print = vec![Vec::new(); prints];
            lots.iter().enumerate().for_each(|(place, lot)| by_print[lot.print.0].push(place));
            Lots { number: lots.len(), by_print }
        });
        let found = known.by_print.get(print.0).map_or(&[][..], Vec::as_slice);
        (known.number == lots.len()).then_some(found)
    }

    /// The print of exactly this name.
    pub(super) fn print(&self, prints: &[Print], name: &str) -> Option<PrintId> {
        let known = self.prints.get_or_init(|| {
            prints.iter().enumerate().map(|(place, print)| (print.name.clone(), place)).collect()
        });
        let found = known.get(name).copied();
        // Prints that were added since are looked for one by one; their order is that of their places.
        let added = || (known.len()..prints.len()).find(|&place| prints[place].name == name);
        found.or_else(added).map(PrintId)
    }
}

impl Clone for Index {
    /// A copy is made in order to change it, so it starts anew.
    fn clone(&self) -> Index {
        Index::default()
    }
}

#[cfg(test)]
mod tests {
    use crate::fabric::Cut;
    use crate::length::Length;
    use crate::stash::{Lot, Print, PrintId, Stash};

    #[test]
    fn lots_and_prints_added_after_the_first_question_are_found() {
        let lot =
            |print| Lot::plain(PrintId(print), Cut::scrap(), Length::from_inches(4), Length::from_inches(4));
        let mut stash = Stash { lots: vec![lot(1), lot(0), lot(1)], ..Stash::default() };
        let count = |stash: &Stash, print| stash.lots_of(PrintId(print)).count();
        assert_eq!([0, 1, 2].map(|print| count(&stash, print)), [1, 2, 0]);
        let named = |name: &str| Print { name: name.to_owned() };
        stash.prints = vec![named("kelp"), named("sand")];
        assert_eq!((stash.find("sand"), stash.find("coral")), (Some(PrintId(1)), None));
        stash.prints.push(named("coral"));
        assert_eq!(stash.find("coral"), Some(PrintId(2)));
        stash.lots.push(lot(2));
        assert_eq!([0, 1, 2].map(|print| count(&stash, print)), [1, 2, 1]);
        assert_eq!([0, 1, 2].map(|print| count(&stash.clone(), print)), [1, 2, 1]);
    }
}
