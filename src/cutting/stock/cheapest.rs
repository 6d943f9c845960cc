//! Cutting everything from sheets that cost something: fewest sheets, or the cheapest mix of sizes.

use crate::cutting::grid::block::{Namer, layout_with};
use crate::cutting::grid::order::Order;
use crate::cutting::stock::Stock;
use crate::cutting::stock::cover::Cover;
use crate::cutting::stock::pricing::Pricer;
use crate::cutting::{Kind, Layout, Sheet, Work};

/// A size of sheet to be had in any number at a cost.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Purchasable {
    /// The sheet.
    pub sheet: Sheet,
    /// What one costs; at least 1.
    pub cost: i64,
}

/// Answer to [`cheapest`].
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cheapest {
    /// Every sheet cut: which of the sizes, and how. Empty when not everything could be cut.
    pub layouts: Vec<(usize, Layout)>,
    /// What they cost together, when everything is cut.
    pub cost: Option<i64>,
    /// Nothing costs less.
    pub bound: i64,
}

/// The cheapest way found to cut `counts[k]` pieces of every kind from purchasable sheets, with a bound.
///
/// # Panics
/// When `counts` has not one count a kind, or a cost is below 1.
pub fn cheapest(sheets: &[Purchasable], kinds: &[Kind], counts: &[u32], work: &mut Work) -> Cheapest {
    assert_eq!(kinds.len(), counts.len(), "one count a kind");
    assert!(sheets.iter().all(|s| s.cost >= 1), "a sheet costs something");
    let order = Order::merged(kinds, counts);
    let stock: Vec<Stock> = sheets
        .iter()
        .map(|s| {
            let (w, h) = order.sheet(s.sheet);
            Stock { w, h, cost: s.cost }
        })
        .collect();
    let mut search = Cover::new(&order, &stock, Pricer::each(&stock, &order));
    search.recuts = stock.iter().any(|s| s.cost != stock[0].cost);
    search.construct();
    search.run(work);
    let mut namer = Namer::new(&order, kinds);
    let layouts: Vec<(usize, Layout)> = search
        .best
        .iter()
        .flatten()
        .map(|(sheet, block)| (*sheet, layout_with(Some(block), sheets[*sheet].sheet, &mut namer)))
        .collect();
    let cost = search.best.is_some().then_some(search.cost);
    Cheapest { layouts, cost, bound: search.bound }
}
