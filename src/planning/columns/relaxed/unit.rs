//! Sheets alike over all prints, and what one is worth at some prices.

use std::collections::BTreeMap;

use crate::cutting::{Kind, ValueTable};
use crate::planning::columns::bound;
use crate::planning::columns::relaxed::Member;
use crate::planning::columns::relaxed::bars::bars;
use crate::planning::instance::holding::SheetKind;
use crate::planning::instance::{Bag, Class, Instance};

/// A sheet whose table takes more turns than this has none.
const MOST_TABLE: u64 = 6_000_000;
/// What a sheet without a table counts as.
const NO_TABLE: u64 = 100_000;

/// Sheets alike.
pub(crate) struct Unit {
    kind: SheetKind,
    /// How many there are.
    pub(crate) many: u32,
    /// By member: may it be cut from here?
    may: Vec<bool>,
    /// By member.
    kinds: Vec<Kind>,
    table: Option<ValueTable>,
}

/// What one sheet is worth.
pub(crate) struct Worth {
    /// Not more than this beyond its cost.
    pub(crate) gain: i128,
    /// Thousandths of pieces by member of a way that is worth about that, at what cost.
    pub(crate) counts: Vec<i64>,
    pub(crate) cost: i64,
}

/// The sheets of all classes, those alike together.
pub(crate) fn units(instance: &Instance, members: &[Member]) -> Vec<Unit> {
    let mut grouped: BTreeMap<(SheetKind, bool, Vec<bool>), u32> = BTreeMap::new();
    for class in &instance.classes {
        let wanted = wanted(instance, class);
        for kind in &class.sheets {
            let may = |member: &Member| wanted[member.bag] && instance.size_allowed(member.size, kind);
            let may = members.iter().map(may).collect();
            let all = grouped.entry((SheetKind { copies: 1, ..*kind }, class.turn, may)).or_default();
            *all = all.saturating_add(kind.copies.saturating_mul(class.many()));
        }
    }
    let unit = |((kind, turn, may), many): ((SheetKind, bool, Vec<bool>), u32)| {
        let by_size = instance.kinds(turn);
        let kinds: Vec<Kind> = members.iter().map(|member| by_size[member.size]).collect();
        let table = ValueTable::new(kind.sheet, &kinds);
        let table = (1..=MOST_TABLE).contains(&table.steps()).then_some(table);
        Unit { kind, many, may, kinds, table }
    };
    grouped.into_iter().filter(|((.., may), _)| may.contains(&true)).map(unit).collect()
}

/// By bag: may it come from a print of this class? A set that one print has no room for by itself cannot come from there
/// in parts either.
fn wanted(instance: &Instance, class: &Class) -> Vec<bool> {
    let room = |&(size, n): &(usize, u32)| bound::most_of_size(instance, class, size) >= u64::from(n);
    let fits = |bag: &Bag| bag.needs.iter().all(room);
    instance.bags.iter().zip(&class.allowed).map(|(bag, &allowed)| allowed && fits(bag)).collect()
}

impl Unit {
    /// Weighted fabric of one sheet.
    pub(crate) fn cost(&self) -> i64 {
        self.kind.cost(self.kind.sheet.height)
    }

    /// About how many turns of inner loops a worth takes.
    pub(crate) fn steps(&self) -> u64 {
        self.table.as_ref().map_or(NO_TABLE, ValueTable::steps)
    }

    /// The values of what may be cut from here.
    fn values(&self, prices: &[i64]) -> Vec<i64> {
        prices.iter().zip(&self.may).map(|(&p, &may)| if may { p } else { 0 }).collect()
    }

    /// What one sheet is worth at most; of yardage, what any shorter length is worth in proportion.
    pub(crate) fn most(&mut self, prices: &[i64]) -> i128 {
        let values = self.values(prices);
        let (by_bars, _) = bars(self.kind.sheet, &self.kinds, &values);
        match &mut self.table {
            Some(table) if !self.kind.by_length => by_bars.min(i128::from(table.bound(&values))),
            _ => by_bars,
        }
    }

    /// What one sheet is worth beyond its cost.
    pub(crate) fn worth(&mut self, prices: &[i64]) -> Worth {
        let values = self.values(prices);
        let (by_bars, counts) = bars(self.kind.sheet, &self.kinds, &values);
        let by_bars = Worth { gain: by_bars - i128::from(self.cost()), counts, cost: self.cost() };
        let Some(table) = &mut self.table else { return by_bars };
        let most = i128::from(table.bound(&values));
        // A shorter length of yardage may be worth more for its cost; the bars hold for every length, the table for none of
        // the cost.
        let cost = if self.kind.by_length { 0 } else { by_bars.cost };
        let gain = most - i128::from(cost);
        if by_bars.gain <= gain {
            return by_bars;
        }
        let counts = table.counts(&values).unwrap_or_default();
        Worth { gain, counts: counts.into_iter().map(|n| 1000 * i64::from(n)).collect(), cost }
    }
}
