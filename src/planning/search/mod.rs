//! The search for a plan: prices, columns, an integer master, and a bound that holds whatever was missed.
//!
//! Column generation in the manner of Gilmore and Gomory (1961) with a column for all that one print does,
//! so that no set is ever split over prints; the integer master over the columns found (a restricted master
//! heuristic) is exact where the plans of every class could be listed.

use rand::SeedableRng;
use rand::rngs::SmallRng;

use crate::planning::columns::bound::Fabric;
use crate::planning::columns::enumerate::Opening;
use crate::planning::columns::pool::{Column, Pool};
use crate::planning::columns::relaxed;
use crate::planning::instance::Instance;
use crate::planning::oracle::cut_print::Cutting;
use crate::planning::oracle::{Oracle, THOROUGH};

mod ahead;
mod build;
mod choose;
mod found;
mod generate;
mod hand;
mod many;
mod refuse;
mod repair;
#[cfg(test)]
mod repair_tests;
mod seed;
mod whether;
#[cfg(test)]
mod whether_tests;

pub(crate) use found::{Assignment, Found};
pub(crate) use refuse::Refusal;
use repair::TO_COMPLETE;

/// Fixed, so that the same input gives the same plan.
const SEED: u64 = 0x71DE_9001;
/// Rounds of pricing before the integer master is tried.
const ROUNDS: u32 = 60;
/// Rounds with long looks at what a print serves best, after those with quick ones.
const LONG_ROUNDS: u32 = 15;
/// Greedy passes that build a whole plan.
const PASSES: u32 = 12;
/// The same where columns are wanted that go well together, and no cheap plan.
const FEW_PASSES: u32 = 4;
/// With more pairs of a class of prints and a kind of bag than this a first plan is made before prices are worked out,
/// and less is asked about each class.
const LARGE: usize = 1_600;
/// With more kinds of bag than this a plan is made from filled sheets, and improved print by print before prices of whole
/// prints are worked out.
const RICH: usize = 24;
/// A plan within one part in so many of its bound is not worth building others beside it.
const CLOSE_ENOUGH: i128 = 200;

/// Searches for a complete plan or a proof that there is none.
pub(crate) fn search(
    oracle: &mut Oracle<'_>,
    effort: u32,
    progress: &mut dyn FnMut(Option<i64>, i128),
) -> Found {
    Search::new(oracle, effort).run(progress)
}

/// Searches only until some complete plan is found, or a proof that there is none, whatever the plan opens.
pub(crate) fn any(oracle: &mut Oracle<'_>, effort: u32) -> Found {
    let mut search = Search::new(oracle, effort);
    search.first_will_do = true;
    search.whether()
}

/// As [`any`]; a plan found is then made cheaper, and bounded.
pub(crate) fn any_improved(oracle: &mut Oracle<'_>, effort: u32) -> Found {
    let mut search = Search::new(oracle, effort);
    search.first_will_do = true;
    let found = search.whether();
    if !found.complete {
        return found;
    }
    search.oracle.hurried = search.large();
    search.oracle.yardage_counts = 1;
    search.bound_apart();
    search.improve(&mut |_, _| {});
    search.ended()
}

/// A first complete plan, quickly, or what came of looking for one.
pub(crate) fn first(oracle: &mut Oracle<'_>, effort: u32) -> Found {
    let mut search = Search::new(oracle, effort);
    search.seed();
    search.passes(&vec![0; search.demands.len()], 1);
    search.ended()
}

/// Searches for the plan that serves most, and for little fabric for it. `blocks` gives, per block kind, its copies and
/// what one copy needs of each bag; what it opens matters where it is to be `cheap`.
pub(crate) fn most_placed(
    oracle: &mut Oracle<'_>,
    blocks: &[(u32, Vec<(usize, u32)>)],
    cheap: bool,
    effort: u32,
) -> Found {
    let mut search = Search::new(oracle, effort);
    if search.demands.is_empty() {
        return search.found(Vec::new(), None);
    }
    search.seed();
    search.list();
    let areas: Vec<i64> = search.instance().bags.iter().map(|bag| bag.area).collect();
    let (mut rounds, mut passes) = (ROUNDS, PASSES);
    if !cheap {
        (search.nodes, rounds, passes) = (generate::LOOK_NODES, ROUNDS / 3, FEW_PASSES);
    }
    let prices = search.generate(&areas, Fabric::Free, rounds);
    search.passes(&prices, passes);
    let mut partial = search.most_placed(blocks, cheap);
    // Pushing pieces about may place what no choice of the columns known does.
    search.keep_part(partial.clone());
    search.repair(TO_COMPLETE / 20);
    let pushed = search.best.as_ref().map_or(&search.fullest.1, |(_, columns)| columns);
    if search.made(blocks, pushed) > search.made(blocks, &partial) {
        partial.clone_from(pushed);
    }
    if partial.is_empty() && search.oracle.stopped() {
        return search.ended();
    }
    let partial = if cheap { search.cheaper(partial) } else { partial };
    search.found(partial, None)
}

struct Search<'a, 'b> {
    oracle: &'a mut Oracle<'b>,
    demands: Vec<u32>,
    many: Vec<u32>,
    openings: Vec<Vec<Opening>>,
    pool: Pool,
    random: SmallRng,
    effort: u32,
    /// The best complete plan and its fabric.
    best: Option<(i64, Vec<Column>)>,
    /// The fullest plan that is not complete, with the area of its pieces: what is shown when the search is stopped.
    fullest: (i128, Vec<Column>),
    bound: i128,
    /// True when the first complete plan ends the search.
    first_will_do: bool,
    /// Nodes of the search for the best plan of a class whose plans are too many to list.
    nodes: u32,
    /// Whole prints are priced until so many questions were worked out anew.
    priced_until: u64,
    /// True when no choice of plans beats the best one; the bound may still be lower for yardage.
    closed: bool,
}

impl<'a, 'b> Search<'a, 'b> {
    fn new(oracle: &'a mut Oracle<'b>, effort: u32) -> Search<'a, 'b> {
        let instance = oracle.instance;
        Search {
            demands: instance.bags.iter().map(|bag| bag.demand()).collect(),
            many: instance.classes.iter().map(|class| class.many()).collect(),
            openings: Vec::new(),
            pool: Pool::default(),
            random: SmallRng::seed_from_u64(SEED),
            effort,
            oracle,
            best: None,
            fullest: (0, Vec::new()),
            bound: 0,
            first_will_do: false,
            nodes: generate::NODES,
            priced_until: u64::MAX,
            closed: false,
        }
    }

    /// Is there so much to ask that all of it is asked with short looks?
    fn large(&self) -> bool {
        self.many.len() * self.demands.len() > LARGE
    }

    fn instance(&self) -> &'b Instance {
        self.oracle.instance
    }

    fn run(&mut self, progress: &mut dyn FnMut(Option<i64>, i128)) -> Found {
        if self.demands.is_empty() {
            return self.found(Vec::new(), None);
        }
        self.oracle.hurried = self.large();
        self.one_print();
        if self.best.is_some() {
            self.bound_apart();
            if self.near_bound() {
                return self.ended();
            }
        }
        // A first plan at once, before the prices that lead to better ones.
        let rich = self.demands.len() > RICH;
        if rich {
            self.by_fills(TO_COMPLETE / 20, progress);
        }
        if self.best.is_none() {
            self.first_plan();
        }
        self.seed();
        if let Some(refusal) = self.homeless() {
            return self.found(Vec::new(), Some(refusal));
        }
        if self.best.is_none()
            && let Some(refusal) = self.counted()
        {
            return self.found(Vec::new(), Some(refusal));
        }
        if self.best.is_none() {
            self.repair(if self.large() { TO_COMPLETE } else { TO_COMPLETE / 20 });
        }
        progress(self.best.as_ref().map(|(cost, _)| *cost), 0);
        let large = self.large();
        let mut bounded = false;
        if large || rich {
            self.bound_apart();
            bounded = self.best.is_some();
            progress(self.best.as_ref().map(|(cost, _)| *cost), self.bound);
            if rich && !self.near_bound() {
                self.improve(progress);
            }
        }
        if self.oracle.stopped() {
            return self.ended();
        }
        self.list();
        if rich && !self.all_listed() {
            // Pricing whole prints would take long and tell little; whether there is a plan at all, `any` asks.
            return self.ended();
        }
        let caps = self.caps();
        let prices = self.generate(&caps, Fabric::Weighted, ROUNDS * self.effort.max(1) / 100);
        self.choose(&prices);
        if self.oracle.stopped() {
            return self.ended();
        }
        if !bounded {
            self.bound_apart();
            bounded = self.best.is_some();
        }
        progress(self.best.as_ref().map(|(cost, _)| *cost), self.bound);
        if !self.closed && !self.near_bound() {
            self.improve(progress);
            self.passes(&prices, if large { 2 } else { PASSES });
            self.choose(&prices);
        }
        progress(self.best.as_ref().map(|(cost, _)| *cost), self.bound);
        let mut refusal = None;
        if self.best.is_none() {
            refusal = self.refuse();
            // Columns found while proving may be what was missing.
            self.choose(&prices);
            if self.best.is_none() && refusal.is_none() {
                self.repair(TO_COMPLETE / 3);
            }
        }
        if !bounded {
            self.bound_apart();
        }
        if self.oracle.stopped() && refusal.is_none() {
            return self.ended();
        }
        match self.best.clone() {
            Some((_, columns)) => self.found(columns, None),
            None => self.found(Vec::new(), refusal),
        }
    }

    /// Is there a plan so near its bound that looking for better ones is not worth the time?
    fn near_bound(&self) -> bool {
        let near = |cost: i64| i128::from(cost) <= self.bound + self.bound / CLOSE_ENOUGH;
        self.best.as_ref().is_some_and(|(cost, _)| near(*cost))
    }

    /// The bound that forgets which pieces belong together, where the one by sets leaves a gap.
    fn bound_apart(&mut self) {
        let Some((cost, _)) = self.best else { return };
        if i128::from(cost) > self.bound {
            let apart =
                relaxed::least(self.instance(), self.effort, self.oracle.threads(), self.oracle.stop());
            debug_assert!(apart <= i128::from(cost), "a bound never passes a plan");
            self.bound = self.bound.max(self.rounded_up(apart));
        }
        self.one_print();
    }

    /// Where one print serves all of it, how short it can be cut is a question for the cutting engine alone.
    fn one_print(&mut self) {
        let bags: Vec<(usize, u32)> = self.demands.iter().copied().enumerate().collect();
        if self.many != [1] || !self.instance().obeys(&bags) {
            return;
        }
        let pieces = self.instance().pieces(&bags);
        if let Cutting::Yes { cost, least, .. } =
            &*self.oracle.cut(&self.instance().classes[0], &pieces, THOROUGH)
        {
            self.keep(vec![Column { class: 0, bags, cost: *cost }]);
            self.bound = self.bound.max(i128::from(*least));
        }
    }
}
