//! The most that one print can be worth at given prices: best-first branch and bound over how many of each bag,
//! where the cutting engine says what fits. Stopped early it still bounds: no plan is worth more than the best
//! node that is left.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use crate::cutting;
use crate::planning::instance::holding::SheetKind;
use crate::planning::oracle::cut_print::Cutting;
use crate::planning::oracle::{Oracle, QUICK};

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
    /// By ruler: what is left of the sheets.
    left: Vec<i64>,
}

/// Measures looked at in every node: area and the few that bound best before the search starts.
const RULERS: usize = 4;

/// One way to measure bags and sheets under which nothing that fits measures more than the sheets.
struct Ruler {
    /// By bag.
    bags: Vec<i64>,
    /// All sheets together.
    sheets: i64,
    /// (place in the order, price, measure, demand), best worth for its measure first.
    ranked: Vec<(usize, i128, i64, i64)>,
}

impl Ruler {
    fn new(oracle: &Oracle<'_>, prices: &[i64], order: &[usize], kinds: &[i64], sheets: i64) -> Ruler {
        let bags: Vec<i64> = oracle
            .instance
            .bags
            .iter()
            .map(|bag| bag.needs.iter().map(|&(size, n)| kinds[size] * i64::from(n)).sum())
            .collect();
        let mut ranked: Vec<(usize, i128, i64, i64)> = order
            .iter()
            .enumerate()
            .map(|(place, &bag)| {
                let demand = i64::from(oracle.instance.bags[bag].demand());
                (place, i128::from(prices[bag]), bags[bag], demand)
            })
            .collect();
        // What measures nothing comes first; then worth for measure, cross-multiplied, so exact.
        ranked.sort_by(|a, b| (b.1 * i128::from(a.2)).cmp(&(a.1 * i128::from(b.2))).then(a.0.cmp(&b.0)));
        Ruler { bags, sheets, ranked }
    }

    /// The rulers that bound the whole best, plain area among them. Sheets of several sizes have only area.
    fn best(
        oracle: &Oracle<'_>,
        class: usize,
        sheets: &[SheetKind],
        prices: &[i64],
        order: &[usize],
    ) -> Vec<Ruler> {
        let instance = oracle.instance;
        let areas: Vec<i64> =
            instance.sizes.iter().map(|size| size.width.by(size.height).square_ticks()).collect();
        let area = sheets.iter().map(|kind| kind.area() * i64::from(kind.copies)).sum();
        let mut rulers = vec![Ruler::new(oracle, prices, order, &areas, area)];
        if let [only] = sheets {
            let kinds = instance.kinds(instance.classes[class].turn);
            let measures = cutting::measures(only.sheet, &kinds);
            let others = measures.iter().map(|measure| {
                let sheets = measure.sheet * i64::from(only.copies);
                Ruler::new(oracle, prices, order, &measure.kinds, sheets)
            });
            let mut others: Vec<Ruler> = others.collect();
            others.sort_by_cached_key(|ruler| ruler.rest(0, ruler.sheets));
            rulers.extend(others.into_iter().take(RULERS - 1));
        }
        rulers
    }

    /// The most that bags from `depth` of the order on are worth when `left` is left (fractional knapsack, rounded up).
    fn rest(&self, depth: usize, mut left: i64) -> i128 {
        let mut worth = 0;
        for &(_, price, one, demand) in self.ranked.iter().filter(|(place, ..)| *place >= depth) {
            let whole = left.checked_div(one).map_or(demand, |fits| demand.min(fits));
            worth += price * i128::from(whole);
            left -= whole * one;
            if whole < demand {
                return worth + (price * i128::from(left) + i128::from(one) - 1) / i128::from(one);
            }
        }
        worth
    }
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
    // A bag with a piece that none of the sheets has room for would measure little, and seem to be had as often as asked for.
    let with_room = instance.with_room(&instance.classes[class], sheets);
    let mut order: Vec<usize> =
        (0..instance.bags.len()).filter(|&bag| with_room[bag] && prices[bag] > 0).collect();
    // Worth per area, dearest first; cross-multiplied, so exact.
    let rate = |a: usize, b: usize| i128::from(prices[a]) * i128::from(instance.bags[b].area);
    order.sort_by(|&a, &b| rate(b, a).cmp(&rate(a, b)).then(a.cmp(&b)));
    let rulers = Ruler::best(oracle, class, sheets, prices, &order);
    let rest = |depth: usize, left: &[i64]| -> i128 {
        rulers.iter().zip(left).map(|(ruler, &left)| ruler.rest(depth, left)).min().unwrap_or(0)
    };
    let whole: Vec<i64> = rulers.iter().map(|ruler| ruler.sheets).collect();
    let mut heap = BinaryHeap::new();
    let mut age = 0;
    heap.push(Node {
        bound: rest(0, &whole),
        age: Reverse(0),
        depth: 0,
        plan: Vec::new(),
        worth: 0,
        left: whole,
    });
    let mut best: (i128, Vec<(usize, u32)>) = (0, Vec::new());
    for _ in 0..nodes {
        if oracle.stopped() {
            break;
        }
        let Some(node) = heap.pop() else { break };
        if node.bound <= best.0 {
            return done(best.0, best);
        }
        let Some(&bag) = order.get(node.depth) else {
            // Every count is fixed; only a plan the engine was unsure of is worth more than the best one.
            return done(node.bound, best);
        };
        let mut most = i64::from(instance.bags[bag].demand());
        for (ruler, &left) in rulers.iter().zip(&node.left) {
            most = left.checked_div(ruler.bags[bag]).map_or(most, |fits| most.min(fits));
        }
        for count in 0..=u32::try_from(most).unwrap_or(u32::MAX) {
            let mut plan = node.plan.clone();
            let worth = node.worth + i128::from(prices[bag]) * i128::from(count);
            let used = rulers.iter().map(|ruler| ruler.bags[bag] * i64::from(count));
            let left: Vec<i64> = node.left.iter().zip(used).map(|(left, used)| left - used).collect();
            if count > 0 {
                plan.push((bag, count));
                if !instance.obeys(&plan) {
                    break; // nor with more of them
                }
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
            let bound = worth + rest(node.depth + 1, &left);
            if bound > best.0 {
                age += 1;
                heap.push(Node { bound, age: Reverse(age), depth: node.depth + 1, plan, worth, left });
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
