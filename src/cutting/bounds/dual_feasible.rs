//! Dual feasible functions: ways to re-measure sides under which no cutting can gain, so that pieces that
//! measure more than the sheet are proved not to fit.
//!
//! Fekete and Schepers (2001); Carlier, Clautiaux and Moukrim (2007).

use crate::cutting::grid::order::Size;

/// A rule that re-measures lengths on a side of length `total`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Rule {
    /// Lengths above `total - k` count as all of it, those below `k` as nothing.
    Extremes {
        /// The threshold, at most half of `total`.
        k: u32,
    },
    /// Counts how many pieces of length `k` a side could hold, twice for exactness:
    /// above one half, what a complement leaves is counted.
    Copies {
        /// The unit of counting, at most half of `total`.
        k: u32,
    },
}

impl Rule {
    /// The measure of `x` on a side of length `total`.
    pub(crate) fn measure(self, x: u32, total: u32) -> u64 {
        let (x, total) = (u64::from(x), u64::from(total));
        match self {
            Rule::Extremes { k } => {
                let k = u64::from(k);
                if x + k > total {
                    total
                } else if x < k {
                    0
                } else {
                    x
                }
            }
            // f(x) = 2 floor(x / k) below half, floor(C / k) at half, 2 (floor(C / k) - floor((C - x) / k)) above.
            Rule::Copies { k } => {
                let k = u64::from(k);
                match (2 * x).cmp(&total) {
                    std::cmp::Ordering::Less => 2 * (x / k),
                    std::cmp::Ordering::Equal => total / k,
                    std::cmp::Ordering::Greater => 2 * (total / k - (total - x) / k),
                }
            }
        }
    }
}

/// Rules worth trying on a side of length `total` against pieces with these sides.
pub(crate) fn rules(sides: &[u32], total: u32, most: usize) -> Vec<Rule> {
    let mut ks: Vec<u32> = sides.iter().flat_map(|&s| [s, total.saturating_sub(s) + 1]).collect();
    ks.retain(|&k| k > 0 && 2 * u64::from(k) <= u64::from(total));
    ks.sort_unstable();
    ks.dedup();
    // Evenly thinned: a bound needs a few good thresholds, not all.
    let stride = ks.len().div_ceil(most.max(1)).max(1);
    let mut rules = vec![Rule::Extremes { k: 0 }];
    for k in ks.into_iter().step_by(stride) {
        rules.push(Rule::Extremes { k });
        rules.push(Rule::Copies { k });
    }
    rules
}

/// By pair of rules: the measure of every size (the way of lying that measures less) and of the sheet. The first pair
/// is plain area.
pub(crate) fn measures(w: u32, h: u32, sizes: &[Size], most: usize) -> Vec<(Vec<u64>, u64)> {
    let widths: Vec<u32> = sizes.iter().flat_map(|s| s.ways().map(|(w, _)| w)).collect();
    let heights: Vec<u32> = sizes.iter().flat_map(|s| s.ways().map(|(_, h)| h)).collect();
    let (on_w, on_h) = (rules(&widths, w, most), rules(&heights, h, most));
    let pairs = on_w.iter().flat_map(|&f| on_h.iter().map(move |&g| (f, g)));
    pairs
        .map(|(f, g)| {
            let of_sizes = sizes.iter().map(|&size| least(size, f, g, w, h)).collect();
            (of_sizes, f.measure(w, w) * g.measure(h, h))
        })
        .collect()
}

/// A pair of rules under which the pieces measure more than `sheets` sheets of `w` x `h`, as (pieces, sheets).
/// A piece that may turn counts the way that measures less.
pub(crate) fn excess(
    w: u32,
    h: u32,
    sheets: u64,
    sizes: &[Size],
    counts: &[u32],
    most: usize,
) -> Option<(u64, u64)> {
    let widths: Vec<u32> = sizes.iter().flat_map(|s| s.ways().map(|(w, _)| w)).collect();
    let heights: Vec<u32> = sizes.iter().flat_map(|s| s.ways().map(|(_, h)| h)).collect();
    let (on_w, on_h) = (rules(&widths, w, most), rules(&heights, h, most));
    for &f in &on_w {
        for &g in &on_h {
            let sheet = f.measure(w, w) * g.measure(h, h) * sheets;
            let need: u64 =
                sizes.iter().zip(counts).map(|(s, &n)| u64::from(n) * least(*s, f, g, w, h)).sum();
            if need > sheet {
                return Some((need, sheet));
            }
        }
    }
    None
}

/// The least number of `w` x `h` sheets that the best pair of rules proves necessary.
pub(crate) fn least_sheets(w: u32, h: u32, sizes: &[Size], counts: &[u32], most: usize) -> u64 {
    let widths: Vec<u32> = sizes.iter().flat_map(|s| s.ways().map(|(w, _)| w)).collect();
    let heights: Vec<u32> = sizes.iter().flat_map(|s| s.ways().map(|(_, h)| h)).collect();
    let (on_w, on_h) = (rules(&widths, w, most), rules(&heights, h, most));
    let mut best = 0;
    for &f in &on_w {
        for &g in &on_h {
            let sheet = f.measure(w, w) * g.measure(h, h);
            let need: u64 =
                sizes.iter().zip(counts).map(|(s, &n)| u64::from(n) * least(*s, f, g, w, h)).sum();
            if sheet > 0 {
                best = best.max(need.div_ceil(sheet));
            }
        }
    }
    best
}

/// The smaller measure of the ways a piece may lie that fit.
fn least(size: Size, f: Rule, g: Rule, w: u32, h: u32) -> u64 {
    size.ways()
        .filter(|&(a, b)| a <= w && b <= h)
        .map(|(a, b)| f.measure(a, w) * g.measure(b, h))
        .min()
        .unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Sums of lengths that fit a side never measure more than the side: tried on all multisets of small sides.
    #[test]
    fn no_set_of_lengths_that_fits_measures_more_than_the_side() {
        fn fill(rule: Rule, total: u32, least: u32, used: u32, measure: u64) {
            assert!(measure <= rule.measure(total, total), "{rule:?} on {total}");
            for x in least..=total - used {
                fill(rule, total, x, used + x, measure + rule.measure(x, total));
            }
        }
        for total in 1..=16 {
            for k in 0..=total / 2 {
                fill(Rule::Extremes { k }, total, 1, 0, 0);
                if k > 0 {
                    fill(Rule::Copies { k }, total, 1, 0, 0);
                }
            }
        }
    }

    #[test]
    fn four_pieces_wider_and_higher_than_half_do_not_share_a_sheet() {
        let sizes = [Size { w: 6, h: 6, turn: false }];
        assert!(excess(10, 10, 1, &sizes, &[2], 8).is_some());
        assert!(excess(10, 10, 1, &sizes, &[1], 8).is_none());
    }
}
