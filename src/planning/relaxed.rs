//! A bound on the fabric of any complete plan that forgets which pieces belong together: pieces of all sets are
//! cut from all sheets as if every print were alike.
//!
//! Prices of single pieces come from column generation over the kinds of sheet (Gilmore and Gomory 1965), drawn
//! towards the best so far (Wentges 1997). At any prices the pieces are worth at most what every sheet can be worth beyond its
//! cost (Farley 1990): by the value table, or for yardage too long for one by what can stand side by side
//! across its width (the bar relaxation, after Scheithauer 1999). It is strong where a print holds so much
//! that its plans cannot be listed, which is where the bounds by sets are weak.

use std::collections::BTreeMap;

use crate::cutting::{Kind, Stop, ValueTable};
use crate::planning::holding::SheetKind;
use crate::planning::instance::Instance;
use crate::planning::lp::Prices;

/// Rounds of prices.
const ROUNDS: usize = 80;
/// Turns of inner loops in all value tables, at the usual effort.
const STEPS: u64 = 100_000_000;
/// A sheet whose table takes more turns than this has none.
const MOST_TABLE: u64 = 6_000_000;
/// Rounds without a better bound before the search for prices ends.
const PATIENCE: usize = 8;

/// Sheets alike, over all prints.
struct Supply {
    kind: SheetKind,
    /// How many there are.
    copies: u32,
    /// By size: may it be cut from here?
    may: Vec<bool>,
    kinds: Vec<Kind>,
    table: Option<ValueTable>,
}

/// What one sheet is worth at some prices.
struct Worth {
    /// Not more than this beyond its cost.
    gain: i128,
    /// Pieces by size of a way that is worth it, and what that opens.
    counts: Vec<f64>,
}

/// No complete plan opens less weighted fabric.
pub(super) fn bound(instance: &Instance, effort: u32, stop: &Stop) -> i128 {
    let demands = demands(instance);
    let mut supplies = supplies(instance);
    if supplies.is_empty() {
        return 0;
    }
    let many: Vec<u32> = supplies.iter().map(|supply| supply.copies).collect();
    let dearest = supplies.iter().map(Supply::cost).max().unwrap_or(1);
    let caps = vec![dearest; demands.len()];
    let mut master = Prices::new(&demands, &many, &caps);
    let turns: u64 = supplies.iter().map(Supply::steps).sum();
    let affordable = STEPS / 100 * u64::from(effort.max(1)) / turns.max(1);
    let rounds = ROUNDS.min(usize::try_from(affordable).unwrap_or(ROUNDS)).max(2);
    let mut best: (i128, Vec<i64>) = (0, start(instance, &supplies));
    let mut centre = best.1.clone();
    let mut idle = 0;
    for _ in 0..rounds {
        if stop.seen() {
            break;
        }
        let mut least: i128 =
            demands.iter().zip(&centre).map(|(&n, &price)| i128::from(n) * i128::from(price)).sum();
        let mut rows = Vec::new();
        for (number, supply) in supplies.iter_mut().enumerate() {
            let worth = supply.worth(&centre);
            least -= worth.gain.max(0) * i128::from(supply.copies);
            rows.push((worth.counts, number, supply.cost()));
        }
        idle += 1;
        if least > best.0 {
            best = (least, centre);
            idle = 0;
        }
        if idle > PATIENCE {
            break;
        }
        master.add_rows(rows);
        // A third of the way from the best prices known to those of the columns known.
        let towards =
            |(&to, &from): (&i64, &i64)| from + (to - from) / if idle > PATIENCE / 2 { 1 } else { 3 };
        centre = master.prices().iter().zip(&best.1).map(towards).collect();
    }
    best.0
}

/// Pieces of each size wanted.
fn demands(instance: &Instance) -> Vec<u32> {
    let all: Vec<(usize, u32)> = instance.bags.iter().enumerate().map(|(i, bag)| (i, bag.demand())).collect();
    instance.pieces(&all)
}

/// Prices to begin with: every piece its area at the least weight there is.
fn start(instance: &Instance, supplies: &[Supply]) -> Vec<i64> {
    let weight = supplies.iter().map(|supply| supply.kind.weight).min().unwrap_or(0);
    instance.sizes.iter().map(|size| size.width.by(size.height).square_ticks() * weight).collect()
}

/// The sheets of all classes, those alike together.
fn supplies(instance: &Instance) -> Vec<Supply> {
    let mut grouped: BTreeMap<(SheetKind, bool, Vec<bool>), u32> = BTreeMap::new();
    for class in &instance.classes {
        let mut wanted = vec![false; instance.sizes.len()];
        for (bag, _) in instance.bags.iter().zip(&class.allowed).filter(|&(_, &allowed)| allowed) {
            bag.needs.iter().for_each(|&(size, _)| wanted[size] = true);
        }
        for kind in &class.sheets {
            let may = (0..wanted.len()).map(|size| wanted[size] && instance.size_allowed(size, kind));
            let key = (SheetKind { copies: 1, ..*kind }, class.turn, may.collect());
            let copies = grouped.entry(key).or_default();
            *copies = copies.saturating_add(kind.copies.saturating_mul(class.many()));
        }
    }
    grouped
        .into_iter()
        .filter(|((_, _, may), _)| may.contains(&true))
        .map(|((kind, turn, may), copies)| {
            let kinds = instance.kinds(turn);
            let table = ValueTable::new(kind.sheet, &kinds);
            let table = (1..=MOST_TABLE).contains(&table.steps()).then_some(table);
            Supply { kind, copies, may, kinds, table }
        })
        .collect()
}

impl Supply {
    fn cost(&self) -> i64 {
        self.kind.cost(self.kind.sheet.height)
    }

    fn steps(&self) -> u64 {
        self.table.as_ref().map_or(100_000, ValueTable::steps)
    }

    fn worth(&mut self, prices: &[i64]) -> Worth {
        let values: Vec<i64> =
            prices.iter().zip(&self.may).map(|(&p, &may)| if may { p } else { 0 }).collect();
        let cost = i128::from(self.cost());
        let (by_bars, counts) = self.bars(&values);
        let Some(table) = &mut self.table else { return Worth { gain: by_bars - cost, counts } };
        let most = i128::from(table.bound(&values));
        let counts = table.counts(&values).unwrap_or_default().into_iter().map(f64::from).collect();
        if self.kind.by_length {
            // A shorter length may be worth more for its cost; the bars hold for every length.
            return Worth { gain: (by_bars - cost).min(most), counts };
        }
        Worth { gain: most.min(by_bars) - cost, counts }
    }

    /// Every line across the width crosses pieces that lie side by side. Spread over its height, a piece is
    /// worth so much on every line; the best choice side by side, on every line, is more than can be had, and
    /// in proportion so for every shorter length.
    fn bars(&self, values: &[i64]) -> (i128, Vec<f64>) {
        let sheet = self.kind.sheet;
        let unit = self.kinds.iter().flat_map(|k| [k.width, k.height]).map(|l| l.ticks()).fold(0, gcd).max(1);
        let room = usize::try_from(sheet.width.ticks() / unit).unwrap_or(0);
        // (size, width in units, worth on all lines together, rounded up, height)
        let mut ways: Vec<(usize, usize, i128, i64)> = Vec::new();
        for (size, kind) in self.kinds.iter().enumerate().filter(|&(size, _)| values[size] > 0) {
            let upright = (kind.width, kind.height);
            let turned = kind.turn.then_some((kind.height, kind.width));
            for (width, height) in std::iter::once(upright).chain(turned) {
                if width <= sheet.width && height <= sheet.height {
                    let (value, all) = (i128::from(values[size]), i128::from(sheet.height.ticks()));
                    let worth = (value * all).div_euclid(i128::from(height.ticks())) + 1;
                    let width = usize::try_from(width.ticks() / unit).unwrap_or(usize::MAX);
                    ways.push((size, width, worth, height.ticks()));
                }
            }
        }
        let mut best: Vec<(i128, Option<usize>)> = vec![(0, None); room + 1];
        for at in 1..=room {
            best[at] = (best[at - 1].0, None);
            for (number, &(_, width, worth, _)) in ways.iter().enumerate() {
                if width <= at && best[at - width].0 + worth > best[at].0 {
                    best[at] = (best[at - width].0 + worth, Some(number));
                }
            }
        }
        (best[room].0, self.stacked(&best, &ways))
    }

    /// The pieces of the best line, as many of each above each other as the length holds.
    fn stacked(&self, best: &[(i128, Option<usize>)], ways: &[(usize, usize, i128, i64)]) -> Vec<f64> {
        let mut counts = vec![0.0; self.kinds.len()];
        let mut at = best.len() - 1;
        while at > 0 {
            match best[at].1 {
                None => at -= 1,
                Some(number) => {
                    let (size, width, _, height) = ways[number];
                    counts[size] += Prices::ratio(self.kind.sheet.height.ticks(), height);
                    at -= width;
                }
            }
        }
        counts
    }
}

fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { gcd(b, a % b) }
}
