//! One role of the whole quilt from two prints, each block copy wholly from one of them.

use std::collections::{BTreeMap, BTreeSet};

use itertools::Itertools;

use crate::pattern::{Matching, RoleId};
use crate::planning::alternative::Inputs;
use crate::planning::alternative::attempt::{Tried, attempt, decided, planned};
use crate::stash::{LotId, PrintId};

/// Pairs of prints tried for one role.
const MOST_PAIRS: usize = 8;

/// `start` with a short role of the whole quilt cut from two prints; roomiest pairs first.
pub(super) fn two_prints(inputs: &Inputs<'_>, start: &Tried) -> Option<Tried> {
    let short = start.short_sets().map(|set| start.demand.set(set));
    let roles: BTreeSet<RoleId> =
        short.filter(|set| set.matching == Matching::Quilt).map(|set| set.role).collect();
    roles.into_iter().find_map(|role| of_role(inputs, start, role))
}

fn of_role(inputs: &Inputs<'_>, start: &Tried, role: RoleId) -> Option<Tried> {
    let pieces = || inputs.demand.pieces.iter().filter(|piece| piece.role == role);
    if pieces().map(|piece| (piece.block, piece.copy)).unique().count() < 2 {
        return None;
    }
    let needed: i64 = pieces().map(|piece| piece.area().square_ticks()).sum();
    let room = room(inputs, start, role);
    // A print the quilter decided for the role stays one of the two.
    let kept = decided(inputs).find(|(set, _)| set.is_of_quilt(role)).map(|(_, print)| print);
    let mut pairs: Vec<(i64, [PrintId; 2])> = room
        .iter()
        .tuple_combinations()
        .map(|((&one, some), (&other, more))| (some + more, [one, other]))
        .filter(|(room, pair)| *room >= needed && kept.is_none_or(|print| pair.contains(&print)))
        .collect();
    pairs.sort_by_key(|&(room, pair)| (-room, pair));
    pairs.into_iter().take(MOST_PAIRS).find_map(|(_, pair)| {
        let tried = attempt(
            inputs,
            start.with(|changes| {
                changes.two_prints.insert(role, pair);
                changes.freed.extend(decided(inputs).map(|(set, _)| set).filter(|set| set.is_of_quilt(role)));
            }),
        );
        let tried = Some(tried).filter(Tried::fits).and_then(|tried| planned(inputs, tried))?;
        // Where one of the two suffices, the role needs no second one: something else was short.
        let used: BTreeSet<PrintId> = tried
            .demand
            .sets
            .iter()
            .zip(&tried.outcome.plan.prints)
            .filter(|(set, _)| set.role == role)
            .filter_map(|(_, print)| *print)
            .collect();
        (used == BTreeSet::from(pair)).then_some(tried)
    })
}

/// By print: the area of the fabric that may be used for the role.
fn room(inputs: &Inputs<'_>, start: &Tried, role: RoleId) -> BTreeMap<PrintId, i64> {
    let from = &inputs.pattern.roles[role.0].from;
    let mut room = BTreeMap::new();
    for (number, lot) in inputs.stash.lots.iter().enumerate() {
        let usable = !lot.keep || start.changes.released.contains(&LotId(number));
        if usable && (from.is_empty() || from.contains(&lot.cut)) {
            let area = lot.sheet_width().by(lot.sheet_length()).square_ticks() * i64::from(lot.count);
            *room.entry(lot.print).or_insert(0) += area;
        }
    }
    room
}
