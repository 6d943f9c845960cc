//! Columns by price: which bags a print serves best when each bag has a price.

use rand::Rng;
use rand::rngs::SmallRng;

use crate::planning::columns::bound::Fabric;
use crate::planning::columns::pool::Column;
use crate::planning::instance::Instance;
use crate::planning::oracle::Oracle;

/// Where there is much to ask: refusals for one column after which more is only added to what lies there; thrice as many
/// for shaken prices.
const PATIENCE: u32 = 5;

/// How an order of bags is drawn.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Taste {
    /// Price for area, exactly.
    Plain,
    /// Price for area, each shaken by up to a quarter.
    Shaken,
}

/// Plans for one print of a class, greedily: bags by price for area, as many as fit.
/// Every opening on the way that gains is returned; `left` limits the counts.
pub(crate) fn greedy(
    oracle: &mut Oracle<'_>,
    class_index: usize,
    prices: &[i64],
    left: &[u32],
    fabric: Fabric,
    taste: Taste,
    random: &mut SmallRng,
) -> Vec<Column> {
    let order = order(oracle.instance, class_index, prices, left, fabric, taste, random);
    let patience = if matches!(taste, Taste::Plain) { PATIENCE } else { PATIENCE * 3 };
    let mut columns = along(oracle, class_index, &order, left, patience);
    if fabric == Fabric::Weighted {
        columns.retain(|column| column.gain(prices) > 0);
    }
    columns
}

/// Bags by price for area, dearest first, as the taste has it.
pub(crate) fn order(
    instance: &Instance,
    class_index: usize,
    prices: &[i64],
    left: &[u32],
    fabric: Fabric,
    taste: Taste,
    random: &mut SmallRng,
) -> Vec<usize> {
    let class = &instance.classes[class_index];
    let rate = if fabric == Fabric::Weighted { i128::from(class.least_weight()) } else { 0 };
    let mut order: Vec<(i128, usize)> = (0..instance.bags.len())
        .filter(|&bag| class.allowed[bag] && left[bag] > 0)
        .filter(|&bag| i128::from(prices[bag]) > rate * i128::from(instance.bags[bag].area))
        .map(|bag| {
            let shake = match taste {
                Taste::Plain => 1000,
                Taste::Shaken => random.random_range(750..=1250),
            };
            let per_area = i128::from(prices[bag]) * 1_000_000 / i128::from(instance.bags[bag].area).max(1);
            (-(per_area * shake), bag)
        })
        .collect();
    order.sort_unstable();
    order.into_iter().map(|(_, bag)| bag).collect()
}

/// As many of each bag as fit beside those before it, with every opening on the way; each refusal costs `patience`.
pub(crate) fn along(
    oracle: &mut Oracle<'_>,
    class_index: usize,
    order: &[usize],
    left: &[u32],
    mut patience: u32,
) -> Vec<Column> {
    let instance = oracle.instance;
    let class = &instance.classes[class_index];
    let mut columns = Vec::new();
    let mut taken: Vec<(usize, u32)> = Vec::new();
    let mut area = 0i64;
    for &bag in order {
        let room = (class.area() - area) / instance.bags[bag].area.max(1);
        let most = left[bag].min(u32::try_from(room).unwrap_or(u32::MAX));
        let (count, cost) = most_of(oracle, class_index, &taken, bag, most, &mut patience);
        if count == 0 {
            continue;
        }
        taken.push((bag, count));
        area += instance.bags[bag].area * i64::from(count);
        let mut bags = taken.clone();
        bags.sort_unstable();
        columns.push(Column { class: class_index, bags, cost });
    }
    columns
}

/// The largest count of `bag` that still fits beside `taken`, with the fabric it then opens; each refusal costs `patience`.
/// Halving: what fits, fits with fewer.
pub(crate) fn most_of(
    oracle: &mut Oracle<'_>,
    class_index: usize,
    taken: &[(usize, u32)],
    bag: usize,
    most: u32,
    patience: &mut u32,
) -> (u32, i64) {
    let mut fits = (0, 0);
    let mut refused = most + 1;
    let mut next = most;
    while fits.0 + 1 < refused {
        match cost_of(oracle, class_index, taken, bag, next, patience) {
            Some(cost) => fits = (next, cost),
            None => refused = next,
        }
        next = (fits.0 + refused).div_ceil(2).max(fits.0 + 1);
    }
    fits
}

fn cost_of(
    oracle: &mut Oracle<'_>,
    class_index: usize,
    taken: &[(usize, u32)],
    bag: usize,
    count: u32,
    patience: &mut u32,
) -> Option<i64> {
    let instance = oracle.instance;
    let class = &instance.classes[class_index];
    let before = instance.pieces(taken);
    let mut pieces = before.clone();
    let mut bags = taken.to_vec();
    bags.push((bag, count));
    if !instance.obeys(&bags) {
        return None;
    }
    for &(size, each) in &instance.bags[bag].needs {
        pieces[size] += each * count;
    }
    if oracle.hurried && class.whole_sheets() {
        let added = oracle.add(class, &before, &pieces);
        if added.is_some() || *patience == 0 {
            return added;
        }
    }
    let cost = oracle.cut_to_build(class, &pieces).cost();
    if cost.is_none() {
        *patience = patience.saturating_sub(1);
    }
    cost
}
