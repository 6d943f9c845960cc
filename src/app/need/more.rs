//! More of a print that is held: for a fabric that must be one print throughout, of which none is enough.

use std::collections::BTreeMap;

use crate::app::need::Assumptions;
use crate::cutting::{self, Kind, Sheet, Work};
use crate::need::{AtWidth, Wanted, at_width};
use crate::pattern::demand::{Demand, Set};
use crate::pattern::{Pattern, RoleId};
use crate::planning::permitted;
use crate::stash::{Lot, PrintId, Stash};

/// What a print that is held gives, and how much more of it is to be bought.
#[derive(Clone, Debug)]
pub(super) struct More {
    /// The role.
    pub(super) role: RoleId,
    /// The print.
    pub(super) print: String,
    /// Pieces that come from what is held of it.
    pub(super) pieces: u32,
    /// What the others need.
    pub(super) rest: AtWidth,
}

/// The print of which least is to be bought, its lots beside those in `opened` (by row) cut first; `None` when no
/// print that the role may take gives a piece.
pub(super) fn more(
    pattern: &Pattern,
    demand: &Demand,
    set: &Set,
    stash: &Stash,
    opened: &BTreeMap<u64, u32>,
    how: &Assumptions,
) -> Option<More> {
    let role = &pattern.roles[set.role.0];
    let allowed = permitted(&role.rules, stash);
    let pieces = set.pieces.iter().map(|&id| demand.piece(id));
    let wanted = crate::need::sizes(pattern, pieces, how);
    let mut best: Option<More> = None;
    for print in (0..stash.prints.len()).map(PrintId) {
        if allowed.as_ref().is_some_and(|list| !list.contains(&print)) {
            continue;
        }
        let held = |lot: &&Lot| {
            lot.print == print && !lot.keep && (set.from.is_empty() || set.from.contains(&lot.cut))
        };
        let lots: Vec<&Lot> = stash.lots.iter().filter(held).collect();
        let mut rest = wanted.clone();
        if lots.iter().any(|lot| lot.directional) {
            rest.iter_mut().for_each(|one| one.turn = false);
        }
        let given: u32 = lots.into_iter().map(|lot| take(lot, opened, &mut rest, how)).sum();
        rest.retain(|one| one.count > 0);
        let Ok(rest) = at_width(how.width, rest, how) else { continue };
        let less = best.as_ref().is_none_or(|best| rest.by_least.exact < best.rest.by_least.exact);
        if given > 0 && less {
            best = Some(More { role: set.role, print: stash.print(print).name.clone(), pieces: given, rest });
        }
    }
    best
}

/// Cuts the largest area of `wanted` that is found from the unopened sheets of a lot; how many pieces that is.
fn take(lot: &Lot, opened: &BTreeMap<u64, u32>, wanted: &mut [Wanted], how: &Assumptions) -> u32 {
    let used = lot.row.and_then(|row| opened.get(&u64::from(row))).copied().unwrap_or(0);
    let copies = lot.count.saturating_sub(used);
    let open: Vec<usize> = (0..wanted.len()).filter(|&one| wanted[one].count > 0).collect();
    if copies == 0 || open.is_empty() {
        return 0;
    }
    let kinds: Vec<Kind> = open.iter().map(|&one| wanted[one].kind()).collect();
    let counts: Vec<u32> = open.iter().map(|&one| wanted[one].count).collect();
    let values: Vec<i64> = kinds.iter().map(|kind| kind.width.by(kind.height).square_ticks()).collect();
    let sheet = Sheet { width: lot.sheet_width(), height: lot.sheet_length() };
    let work = &mut Work::steps(how.work / 8);
    let cut = cutting::knapsacks(sheet, copies, &kinds, &values, &counts, work);
    let mut given = 0;
    for (kind, _, _) in cut.layouts.iter().flat_map(|layout| layout.pieces()) {
        wanted[open[kind]].count -= 1;
        given += 1;
    }
    given
}
