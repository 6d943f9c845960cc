//! Fabrics of the whole quilt that meet, such as border and background, take different prints wherever the stash has them.
//!
//! As if the pattern had said that they must differ, whatever fabric that opens: no small allowance decides it. One role of the two moves
//! to the print beside which the quilt looks best, of equals to the one that opens least.

use crate::looks::Touches;
use crate::pattern::Matching;
use crate::pattern::demand::{Demand, SetId};
use crate::planning::appearance::table::Table;
use crate::planning::oracle::answers::Answers;

/// Parts roles of the whole quilt that meet and have one print. Returns the weighted fabric that this opens, of yardage too.
pub(super) fn apart(table: &mut Table<'_>, touches: &Touches, demand: &Demand, answers: &mut Answers) -> i64 {
    let is_wide = |sets: &[SetId]| matches!(sets, [set] if demand.set(*set).matching == Matching::Quilt);
    let wide = touches.list.iter().filter(|touch| touch.sets.iter().all(|sets| is_wide(sets)));
    wide.map(|touch| part(table, touch.sets[0][0].0, touch.sets[1][0].0, answers)).sum()
}

fn part(table: &mut Table<'_>, one: usize, other: usize, answers: &mut Answers) -> i64 {
    let thing_of = |set: usize| table.things.iter().position(|thing| thing.set == set);
    let (Some(one), Some(other)) = (thing_of(one), thing_of(other)) else { return 0 };
    let print = |thing: usize, table: &Table<'_>| table.slots[table.things[thing].slot].print;
    if print(one, table) != print(other, table) {
        return 0;
    }
    let start = table.scene.cost;
    let mut best: Option<((i64, i64), (usize, usize))> = None;
    for thing in [one, other] {
        let from = table.things[thing].slot;
        for to in 0..table.slots.len() {
            if table.slots[to].print == table.slots[from].print || !table.allows(to, thing) {
                continue;
            }
            let Some(more) = more(table, thing, to, answers) else { continue };
            let back = table.relocate(&[(thing, to)]);
            let worth = (table.scene.cost, more);
            if table.keeps(&back) && worth.0 < start && best.is_none_or(|(least, _)| worth < least) {
                best = Some((worth, (thing, to)));
            }
            table.relocate(&back);
        }
    }
    let Some(((_, more), (thing, to))) = best else { return 0 };
    let from = table.things[thing].slot;
    table.relocate(&[(thing, to)]);
    for slot in [from, to] {
        if table.class(slot).whole_sheets()
            && let Some(paid) = table.cut(slot, answers, true)
        {
            table.pay(slot, paid);
        }
    }
    table.limit = table.limit.max(table.fabric);
    more
}

/// What more opens when a thing comes from another slot; `None` where no way to cut it there is known.
fn more(table: &mut Table<'_>, thing: usize, to: usize, answers: &mut Answers) -> Option<i64> {
    let from = table.things[thing].slot;
    let before = table.cut(from, answers, true)? + table.cut(to, answers, true)?;
    let back = table.relocate(&[(thing, to)]);
    let after = table.cut(from, answers, true).zip(table.cut(to, answers, true));
    table.relocate(&back);
    after.map(|(here, there)| here + there - before)
}
