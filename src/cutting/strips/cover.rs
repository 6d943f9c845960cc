//! Whole numbers of strips that give every piece, of the least height together, and a bound on every such choice.

use crate::cutting::Work;
use crate::cutting::grid::order::Size;
use crate::cutting::stock::columns::FINENESS;
use crate::cutting::stock::lp::{self, Dual};
use crate::cutting::strips::Style;
use crate::cutting::strips::pattern::{Pattern, every, heights, richest};

/// Answer to [`cover`].
pub(crate) struct Covered {
    /// The strips, the highest first, without a piece too many; `None` where none was found.
    pub(crate) strips: Option<Vec<Pattern>>,
    /// No strips of this style are lower together.
    pub(crate) bound: u32,
}

/// Patterns of one height that are listed at most; beyond, they are found where they pay. More make the choice among them
/// slow: 15,000 take a minute.
const MOST_LISTED: usize = 200;
/// Rounds of pricing.
const ROUNDS: usize = 60;
/// Nodes of the integer programme for plain strips; a quarter for others, of which fewer are wasted.
const NODES: u64 = 12_000;
/// Steps that one linear programme counts for, by its columns and sizes, as measured roughly.
const SOLVE_STEPS: u64 = 20;

/// The least height, together, of strips `w` wide that give `left` pieces of every size.
pub(crate) fn cover(w: u32, sizes: &[Size], left: &[u32], style: Style, work: &mut Work) -> Covered {
    if left.iter().all(|&n| n == 0) {
        return Covered { strips: Some(Vec::new()), bound: 0 };
    }
    let mut pool = listed(w, sizes, left, style, work);
    let heights = heights(w, sizes, left);
    let mut bound = 0;
    let column = |pattern: &Pattern| (pattern.counts(sizes.len()), i64::from(pattern.h));
    let mut known: Vec<(Vec<u32>, i64)> = pool.iter().map(column).collect();
    let unit = heights.first().copied().map_or(1, i64::from);
    let dual = |known: &[(Vec<u32>, i64)]| {
        let columns: Vec<lp::Column> =
            known.iter().map(|(counts, cost)| lp::Column { counts, cost: *cost }).collect();
        Dual::new(left, &columns, unit)
    };
    if let Some(mut dual) = dual(&known) {
        for _ in 0..ROUNDS {
            work.spend(SOLVE_STEPS * (known.len() as u64 + 50) * (sizes.len() as u64 + 5));
            let prices = dual.prices(FINENESS);
            let Some((found, least)) = priced(w, sizes, left, style, (&heights, &prices, unit), work) else {
                break;
            };
            bound = bound.max(least);
            let mut grown = false;
            for pattern in found {
                let new = column(&pattern);
                if known.contains(&new) {
                    continue;
                }
                if !dual.add(&lp::Column { counts: &new.0, cost: new.1 }) {
                    break;
                }
                known.push(new);
                pool.push(pattern);
                grown = true;
            }
            if !grown || work.left() == 0 {
                break;
            }
        }
    }
    let nodes = if style == Style::Plain { NODES } else { NODES / 4 };
    work.spend(SOLVE_STEPS * nodes / 4 * (pool.len() as u64 + 50) * (sizes.len() as u64 + 5));
    let costs: Vec<(i64, u32)> = pool
        .iter()
        .map(|pattern| (i64::from(pattern.h), u32::try_from(pattern.settings()).unwrap_or(u32::MAX)))
        .collect();
    let counts: Vec<&[u32]> = known.iter().map(|(counts, _)| counts.as_slice()).collect();
    let times = lp::fewest(left, &counts, &costs, i64::from(bound), nodes, &work.stop);

    let strips = times.and_then(|times| trimmed(&pool, &times, left));
    Covered { strips, bound }
}

/// The patterns of every height that are few enough to list; plain ones always come first, as the columns that a linear
/// programme asks for alone make poor whole plans.
fn listed(w: u32, sizes: &[Size], left: &[u32], style: Style, work: &mut Work) -> Vec<Pattern> {
    let mut pool: Vec<Pattern> = Vec::new();
    for h in heights(w, sizes, left) {
        for style in Style::ALL.into_iter().filter(|&simpler| simpler <= style) {
            let share = work.horizon() / 16;
            let mut part = work.share(share);
            let all = every(w, h, sizes, left, style, MOST_LISTED, &mut part);
            work.charge(share, &part);
            for pattern in all.unwrap_or_default() {
                if !pool.contains(&pattern) {
                    pool.push(pattern);
                }
            }
        }
    }
    // Every size has a strip, whatever was too much to list.
    for (size, of) in sizes.iter().enumerate().filter(|(size, _)| left[*size] > 0) {
        let mut only = vec![0; sizes.len()];
        only[size] = left[size];
        let mut values = vec![0; sizes.len()];
        values[size] = 1;
        let ways = of.ways().filter(|way| way.0 <= w);
        let strips = ways.filter_map(|way| richest(w, way.1, sizes, &only, Style::Plain, &values, work));
        for (_, pattern) in strips.collect::<Vec<_>>() {
            if !pool.contains(&pattern) {
                pool.push(pattern);
            }
        }
    }
    pool
}

/// The strip of every height that is worth most at `prices`, and the least height that these prove (Farley 1990). `None`
/// where strips cannot be priced.
fn priced(
    w: u32,
    sizes: &[Size],
    left: &[u32],
    style: Style,
    (heights, prices, unit): (&[u32], &[i64], i64),
    work: &mut Work,
) -> Option<(Vec<Pattern>, u32)> {
    let demanded: i128 = prices.iter().zip(left).map(|(&p, &n)| i128::from(p) * i128::from(n)).sum();
    // The largest ratio of worth to cost, as a fraction; at least one.
    let (mut over, mut under) = (1i128, 1i128);
    let mut found = Vec::new();
    for &h in heights {
        let Some((worth, pattern)) = richest(w, h, sizes, left, style, prices, work) else {
            if w > 0 && prices.iter().any(|&price| price > 0) && !fits_none(w, h, sizes, left, prices) {
                return None;
            }
            continue;
        };
        let cost = i128::from(h) * i128::from(FINENESS) / i128::from(unit);
        if i128::from(worth) * under > over * cost.max(1) {
            (over, under) = (i128::from(worth), cost.max(1));
        }
        if i128::from(worth) > cost {
            found.push(pattern);
        }
    }
    let numerator = demanded * i128::from(unit) * under;
    let denominator = i128::from(FINENESS) * over;
    let bound = (numerator + denominator - 1).div_euclid(denominator);
    Some((found, u32::try_from(bound).unwrap_or(0)))
}

/// True when nothing that is worth anything goes into a strip of this height.
fn fits_none(w: u32, h: u32, sizes: &[Size], left: &[u32], prices: &[i64]) -> bool {
    let worth = |&(size, _): &(usize, &Size)| left[size] > 0 && prices[size] > 0;
    !sizes.iter().enumerate().filter(worth).any(|(_, size)| size.ways().any(|way| way.0 <= w && way.1 <= h))
}

/// The chosen strips without the pieces that are too many; `None` where some are missing.
fn trimmed(pool: &[Pattern], times: &[u32], left: &[u32]) -> Option<Vec<Pattern>> {
    let chosen = pool.iter().zip(times);
    let mut strips: Vec<Pattern> =
        chosen.flat_map(|(pattern, &n)| std::iter::repeat_n(pattern.clone(), n as usize)).collect();
    strips.sort_by_key(|strip| std::cmp::Reverse(strip.h));
    let mut spare: Vec<i64> = left.iter().map(|&n| -i64::from(n)).collect();
    for column in strips.iter().flat_map(|strip| &strip.columns) {
        spare[column.size] += i64::from(column.pieces);
    }
    if spare.iter().any(|&n| n < 0) {
        return None;
    }
    // From the last strip, the lowest, so that whole strips go where they can.
    for strip in strips.iter_mut().rev() {
        for column in strip.columns.iter_mut().rev() {
            let gone = spare[column.size].min(i64::from(column.pieces));
            spare[column.size] -= gone;
            column.pieces -= u32::try_from(gone).expect("not more than the column has");
        }
        strip.columns.retain(|column| column.pieces > 0);
        strip.h = strip.columns.iter().map(|column| column.h * column.pieces).max().unwrap_or(0);
    }
    strips.retain(|strip| !strip.columns.is_empty());
    Some(strips)
}
