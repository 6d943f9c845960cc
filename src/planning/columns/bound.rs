//! Bounds that hold whatever the search did: at any prices of the bags, what the prints can give is
//! limited, so the rest must be left out or paid for (Lagrange; Farley 1990). Integers throughout.

use crate::cutting;
use crate::planning::instance::{Class, Instance};

/// What opened fabric counts while a bound is worked out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Fabric {
    /// As weighted: bounds the fabric of a complete plan.
    Weighted,
    /// Nothing: bounds what must be left out.
    Free,
}

/// Total demand at `prices` less the most all prints can give: a lower bound on the fabric of any complete
/// plan (`Weighted`), or on the worth of the bags left out (`Free`).
pub(crate) fn least(instance: &Instance, most: &[i128], prices: &[i64]) -> i128 {
    let demand: i128 = instance
        .bags
        .iter()
        .zip(prices)
        .map(|(bag, &price)| i128::from(price) * i128::from(bag.demand()))
        .sum();
    let given: i128 =
        instance.classes.iter().zip(most).map(|(class, &worth)| worth * i128::from(class.many())).sum();
    demand - given
}

/// The most one print of a class can give at `prices`, by area and by value tables alone.
pub(crate) fn loosely(instance: &Instance, class: &Class, prices: &[i64], fabric: Fabric) -> i128 {
    by_sheets(instance, class, prices, fabric).min(by_area(instance, class, prices, fabric)).max(0)
}

/// Price per square tick is shared out over a bag's pieces by area; every sheet then gives at most the value
/// of its best cutting with unlimited copies.
fn by_sheets(instance: &Instance, class: &Class, prices: &[i64], fabric: Fabric) -> i128 {
    let values = shared_out(instance, class, prices);
    let kinds = instance.kinds(class.turn);
    let mut total = 0;
    for kind in &class.sheets {
        let here: Vec<i64> =
            (0..values.len()).map(|s| if instance.size_allowed(s, kind) { values[s] } else { 0 }).collect();
        let worth = i128::from(cutting::value_bound(kind.sheet, &kinds, &here));
        let cost = match (fabric, kind.by_length) {
            (Fabric::Free, _) | (_, true) => 0,
            (Fabric::Weighted, false) => i128::from(kind.cost(kind.sheet.height)),
        };
        total += (worth - cost).max(0) * i128::from(kind.copies);
    }
    total
}

/// The largest share of any bag that there is room for, by size, rounded up.
fn shared_out(instance: &Instance, class: &Class, prices: &[i64]) -> Vec<i64> {
    let mut values = vec![0i64; instance.sizes.len()];
    let with_room = instance.with_room(class, &class.sheets);
    for (index, bag) in instance.bags.iter().enumerate().filter(|&(index, _)| with_room[index]) {
        for &(size, _) in &bag.needs {
            let area = instance.sizes[size].width.by(instance.sizes[size].height).square_ticks();
            let share = (i128::from(prices[index]) * i128::from(area) + i128::from(bag.area) - 1)
                / i128::from(bag.area);
            values[size] = values[size].max(i64::try_from(share).unwrap_or(i64::MAX / 1_000_000));
        }
    }
    values
}

/// Every piece covers its own area, which costs at least the least weight; demands and area limit the rest. A bag with a
/// piece that no sheet has room for counts nothing.
fn by_area(instance: &Instance, class: &Class, prices: &[i64], fabric: Fabric) -> i128 {
    let rate = if fabric == Fabric::Weighted { i128::from(class.least_weight()) } else { 0 };
    let with_room = instance.with_room(class, &class.sheets);
    let mut gains: Vec<(i128, i128, u32)> = instance
        .bags
        .iter()
        .enumerate()
        .filter(|&(index, _)| with_room[index])
        .map(|(index, bag)| {
            let area = i128::from(bag.area);
            (i128::from(prices[index]) - rate * area, area, bag.demand())
        })
        .filter(|&(gain, _, _)| gain > 0)
        .collect();
    // Best gain per area first; cross-multiplied, so exact.
    gains.sort_by(|a, b| (b.0 * a.1).cmp(&(a.0 * b.1)).then_with(|| a.cmp(b)));
    let mut left = i128::from(class.area());
    let mut total = 0;
    for (gain, area, demand) in gains {
        let whole = (left / area).min(i128::from(demand));
        total += whole * gain;
        left -= whole * area;
        if whole < i128::from(demand) {
            total += (gain * left + area - 1) / area;
            break;
        }
    }
    total
}

/// At most so many pieces of one size come from one print of a class, cut from it alone.
pub(crate) fn most_of_size(instance: &Instance, class: &Class, size: usize) -> u64 {
    // Other sizes are worth nothing, so they are left out.
    let kind_of_piece = [instance.kinds(class.turn)[size]];
    class
        .sheets
        .iter()
        .filter(|kind| instance.size_allowed(size, kind))
        .map(|kind| {
            let yields = u64::try_from(cutting::value_bound(kind.sheet, &kind_of_piece, &[1])).unwrap_or(0);
            yields * u64::from(kind.copies)
        })
        .sum()
}
