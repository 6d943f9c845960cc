//! Which alternatives are shown: few, different in kind, and none that is another one and something besides.

use std::collections::BTreeSet;

use crate::planning::alternative::changes::SetName;
use crate::planning::outcome::Alternative;
use crate::planning::plan::Change;

/// No more are shown.
const MOST: usize = 5;

/// At most five of `found`, least cost first.
pub(in crate::planning) fn choose(mut found: Vec<Alternative>) -> Vec<Alternative> {
    found.retain(|alternative| !alternative.changes.is_empty());
    found.sort_by_key(rank);
    let mut least: Vec<Alternative> = Vec::new();
    for (index, alternative) in found.iter().enumerate() {
        // Of two that change the same, the first is kept.
        let smaller = |(other, than): (usize, &Alternative)| {
            other != index && contains(alternative, than) && (other < index || !contains(than, alternative))
        };
        if !found.iter().enumerate().any(smaller) {
            least.push(alternative.clone());
        }
    }
    // One of each kind; when there is no room for all, those of one sort of change before those of several.
    let sorts =
        |alternative: &Alternative| -> BTreeSet<Sort> { alternative.changes.iter().map(Sort::of).collect() };
    let mut known = BTreeSet::new();
    least.retain(|alternative| known.insert(sorts(alternative)));
    least.sort_by_key(|alternative| sorts(alternative).len());
    least.truncate(MOST);
    least.sort_by_key(rank);
    least
}

/// What sort of change it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Sort {
    Release,
    Buy,
    OtherPrint,
    Waive,
    TwoPrints,
    MixedPrints,
    OtherMethod,
    OtherSize,
    FewerCopies,
}

impl Sort {
    fn of(change: &Change) -> Sort {
        match change {
            Change::Release { .. } => Sort::Release,
            Change::Buy { .. } => Sort::Buy,
            Change::OtherPrint { .. } => Sort::OtherPrint,
            Change::Waive { .. } => Sort::Waive,
            Change::TwoPrints { .. } => Sort::TwoPrints,
            Change::MixedPrints { .. } => Sort::MixedPrints,
            Change::OtherMethod { .. } => Sort::OtherMethod,
            Change::OtherSize { .. } => Sort::OtherSize,
            Change::FewerCopies { .. } => Sort::FewerCopies,
        }
    }
}

/// Change to what the quilter sees, then fabric to buy, then money, then fabric opened.
fn rank(alternative: &Alternative) -> (u64, i128, i64, i128) {
    let changes = &alternative.changes;
    let visible = changes.iter().map(visible).fold(0, u64::saturating_add);
    let bought = changes.iter().map(bought).sum();
    let money = match alternative.price {
        Some(price) => price.0,
        None if bought == 0 => 0,
        None => i64::MAX,
    };
    (visible, bought, money, alternative.outcome.fabric.opened)
}

/// How much the quilter sees of it: nothing of other fabric of the same kind, a print here and there, blocks of mixed
/// prints, another size the designer drew, and most of all blocks that are not there. Sewn another way a unit looks the same.
fn visible(change: &Change) -> u64 {
    match change {
        Change::Release { .. } | Change::Buy { .. } => 0,
        Change::OtherMethod { .. } => 1,
        Change::OtherPrint { .. } => 10,
        Change::Waive { .. } => 50,
        Change::TwoPrints { .. } => 500,
        Change::MixedPrints { copies, .. } => 100 * copies.len() as u64,
        Change::OtherSize { .. } => 30_000,
        Change::FewerCopies { was, make, .. } => 10_000 * u64::from(was.saturating_sub(*make)),
    }
}

/// Fabric bought, in square ticks.
fn bought(change: &Change) -> i128 {
    match change {
        Change::Buy { width, length, count, .. } => {
            i128::from(width.by(*length).square_ticks()) * i128::from(*count)
        }
        _ => 0,
    }
}

/// True when `larger` makes every change of `smaller`, or more of the same.
fn contains(larger: &Alternative, smaller: &Alternative) -> bool {
    let covered = |change| larger.changes.iter().any(|more| covers((larger, more), (smaller, change)));
    smaller.changes.iter().all(covered)
}

fn covers((here, more): (&Alternative, &Change), (there, less): (&Alternative, &Change)) -> bool {
    match (more, less) {
        (Change::Release { lot }, Change::Release { lot: other }) => lot == other,
        (Change::Waive { rule }, Change::Waive { rule: other }) => rule == other,
        // Which two prints it is makes no other kind of quilt.
        (Change::TwoPrints { role, .. }, Change::TwoPrints { role: other, .. }) => role == other,
        (
            Change::OtherMethod { block, unit, method },
            Change::OtherMethod { block: of, unit: other, method: way },
        ) => (block, unit, method) == (of, other, way),
        (Change::OtherSize { size }, Change::OtherSize { size: other }) => size == other,
        (Change::OtherPrint { set, .. }, Change::OtherPrint { set: other, .. }) => {
            let (name, other) = (SetName::of(&here.demand, *set), SetName::of(&there.demand, *other));
            name.holds(&other)
        }
        (
            Change::MixedPrints { block, copies, role },
            Change::MixedPrints { block: of, copies: fewer, role: other },
        ) => (block, role) == (of, other) && fewer.iter().all(|copy| copies.contains(copy)),
        (Change::FewerCopies { block, make, .. }, Change::FewerCopies { block: of, make: more, .. }) => {
            block == of && make <= more
        }
        (
            Change::Buy { print, cut, width, length, count, .. },
            Change::Buy { print: same, cut: way, width: narrow, length: short, count: few, .. },
        ) => print == same && cut == way && width >= narrow && length >= short && count >= few,
        _ => false,
    }
}
