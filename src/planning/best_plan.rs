//! The most that one print can be worth at given prices: best-first branch and bound over how many of each bag,
//! where the cutting engine says what fits. Stopped early it still bounds: no plan is worth more than the best
//! node that is left.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use crate::planning::instance::SheetKind;
use crate::planning::oracle::{Cutting, Oracle, QUICK};

/// What the search found.
pub(crate) struct BestPlan {
    /// No plan on these sheets is worth more.
    pub(crate) most: i128,
    /// The best plan met, (bag, count) ascending; empty when nothing is worth anything.
    pub(crate) plan: Vec<(usize, u32)>,
}

/// One node: counts are fixed for the first `depth` bags of the order.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
struct Node {
    /// No plan below is worth more.
    bound: i128,
    /// Older nodes first among equals, so that runs repeat.
    age: Reverse<u32>,
    depth: usize,
    plan: Vec<(usize, u32)>,
    worth: i128,
    area: i64,
}

/// Searches at most `nodes` nodes for the plan of one print of a class, on exactly these sheets, that is worth most.
pub(crate) fn best_plan(
    oracle: &mut Oracle<'_>,
    class: usize,
    sheets: &[SheetKind],
    prices: &[i64],
    nodes: u32,
) -> BestPlan {
    let instance = oracle.instance;
    let turn = instance.classes[class].turn;
    let mut order: Vec<usize> = (0..instance.bags.len())
        .filter(|&bag| instance.classes[class].allowed[bag] && prices[bag] > 0)
        .collect();
    // Worth per area, dearest first; cross-multiplied, so exact.
    let rate = |a: usize, b: usize| i128::from(prices[a]) * i128::from(instance.bags[b].area);
    order.sort_by(|&a, &b| rate(b, a).cmp(&rate(a, b)).then(a.cmp(&b)));
    let area = sheets.iter().map(|kind| kind.area() * i64::from(kind.copies)).sum();
    let rest = |depth: usize, mut area: i64| -> i128 {
        let mut worth = 0;
        for &bag in &order[depth..] {
            let (price, one) = (i128::from(prices[bag]), instance.bags[bag].area);
            let whole = i64::from(instance.bags[bag].demand()).min(area / one);
            worth += price * i128::from(whole);
            area -= whole * one;
            if whole < i64::from(instance.bags[bag].demand()) {
                // Part of one more: an upper bound, rounded up.
                return worth + (price * i128::from(area) + i128::from(one) - 1) / i128::from(one);
            }
        }
        worth
    };
    let mut heap = BinaryHeap::new();
    let mut age = 0;
    heap.push(Node { bound: rest(0, area), age: Reverse(0), depth: 0, plan: Vec::new(), worth: 0, area });
    let mut best: (i128, Vec<(usize, u32)>) = (0, Vec::new());
    for _ in 0..nodes {
        let Some(node) = heap.pop() else { break };
        if node.bound <= best.0 {
            return done(best.0, best);
        }
        let Some(&bag) = order.get(node.depth) else {
            // Every count is fixed; only a plan the engine was unsure of is worth more than the best one.
            return done(node.bound, best);
        };
        let one = instance.bags[bag].area;
        let most = i64::from(instance.bags[bag].demand()).min(node.area / one);
        for count in 0..=u32::try_from(most).unwrap_or(u32::MAX) {
            let mut plan = node.plan.clone();
            let worth = node.worth + i128::from(prices[bag]) * i128::from(count);
            let left = node.area - one * i64::from(count);
            if count > 0 {
                plan.push((bag, count));
                match &*oracle.fits_all_of(sheets, turn, &instance.pieces(&plan), QUICK) {
                    Cutting::Yes { .. } => {
                        if worth > best.0 {
                            best = (worth, plan.clone());
                        }
                    }
                    Cutting::No(_) => break, // nor do more of them
                    Cutting::Unknown => {}   // kept for the bound
                }
            }
            let bound = worth + rest(node.depth + 1, left);
            if bound > best.0 {
                age += 1;
                heap.push(Node { bound, age: Reverse(age), depth: node.depth + 1, plan, worth, area: left });
            }
        }
    }
    let open = heap.peek().map_or(0, |node| node.bound);
    done(open.max(best.0), best)
}

fn done(most: i128, (_, mut plan): (i128, Vec<(usize, u32)>)) -> BestPlan {
    plan.sort_unstable();
    BestPlan { most, plan }
}
