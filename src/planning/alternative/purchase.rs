//! Fabric to buy: of which cut, how large, how many, and what the stash is with it.

use crate::fabric::{Cut, Price};
use crate::length::Length;
use crate::planning::plan::Change;
use crate::stash::{Lot, Print, PrintId, Stash};

/// What would be bought of one cut.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Purchase {
    pub(super) print: Which,
    pub(super) cut: Cut,
    pub(super) width: Length,
    pub(super) length: Length,
    pub(super) count: u32,
    /// Of one, when the stash gives a price for this cut.
    pub(super) price: Option<Price>,
}

/// Whose print it is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Which {
    /// More of one already held.
    Held(PrintId),
    /// A print of the quilter's choice; numbered from 1.
    New(u32),
}

impl Purchase {
    /// Adds the lot to a stash; it will be squared up by `allowance` like any other.
    pub(super) fn add_to(&self, stash: &mut Stash, allowance: Length) {
        let print = match self.print {
            Which::Held(print) => print,
            Which::New(number) => {
                stash.prints.push(Print { name: new_name(stash, number) });
                PrintId(stash.prints.len() - 1)
            }
        };
        let like = stash.lots.iter().find(|lot| lot.print == print).cloned();
        stash.lots.push(Lot {
            allowance,
            count: self.count,
            directional: like.as_ref().is_some_and(|lot| lot.directional),
            color: like.as_ref().and_then(|lot| lot.color.clone()),
            value: like.as_ref().and_then(|lot| lot.value),
            price: self.price,
            ..Lot::plain(print, self.cut, self.width, self.length)
        });
    }

    /// Buying `count` of it, as a change of the plan; `stash` is the one it was added to.
    pub(super) fn change(&self, stash: &Stash, count: u32) -> Change {
        let print = match self.print {
            Which::Held(print) => print,
            Which::New(number) => {
                let new = stash.lots.iter().filter(|lot| lot.row.is_none()).map(|lot| lot.print);
                let mut prints: Vec<PrintId> = new.collect();
                prints.retain(|print| !stash.lots_of(*print).any(|lot| lot.row.is_some()));
                prints[number as usize - 1]
            }
        };
        Change::Buy { print, cut: self.cut, width: self.width, length: self.length, count, price: self.price }
    }
}

/// A name no print of the stash has.
fn new_name(stash: &Stash, number: u32) -> String {
    let mut name = format!("new print {number}");
    while stash.prints.iter().any(|print| print.name == name) {
        name.push('*');
    }
    name
}
