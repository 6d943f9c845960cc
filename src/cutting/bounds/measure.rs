//! Measures of pieces that no cutting of a sheet can exceed, for bounds that a caller combines over many sheets.

use crate::cutting::bounds::dual_feasible;
use crate::cutting::grid::order::Order;
use crate::cutting::{Kind, Sheet};

/// Thresholds a side: the measures are their pairs, so more are soon too many to look through.
const THRESHOLDS: usize = 6;

/// Area as a pair of dual feasible functions counts it: pieces cut from one sheet never measure more than the sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Measure {
    /// Of one piece, by kind.
    pub kinds: Vec<i64>,
    /// Of the sheet.
    pub sheet: i64,
}

/// Measures for one sheet and these kinds; the first is plain area on the grid of the pieces.
pub fn measures(sheet: Sheet, kinds: &[Kind]) -> Vec<Measure> {
    let order = Order::merged(kinds, &vec![1; kinds.len()]);
    let (w, h) = order.sheet(sheet);
    dual_feasible::measures(w, h, &order.sizes, THRESHOLDS)
        .into_iter()
        .map(|(sizes, sheet)| {
            let mut by_kind = vec![0; kinds.len()];
            for (members, &size) in order.members.iter().zip(&sizes) {
                for &(kind, _) in members {
                    by_kind[kind] = small(size);
                }
            }
            Measure { kinds: by_kind, sheet: small(sheet) }
        })
        .collect()
}

fn small(measure: u64) -> i64 {
    i64::try_from(measure).expect("measures are at most four times an area on the grid")
}
