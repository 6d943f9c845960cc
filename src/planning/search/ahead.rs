//! Questions to the oracle that are sure to be put soon, asked on several threads before. What the search then does is
//! the same, and so is what it finds; only the answers are there already.

use crate::planning::columns::best_plan::best_plan;
use crate::planning::columns::bound::Fabric;
use crate::planning::columns::enumerate;
use crate::planning::columns::price::{self, Taste};
use crate::planning::oracle::Oracle;
use crate::planning::search::Search;
use crate::planning::search::generate::NODES;
use crate::planning::search::seed::room;

impl Search<'_, '_> {
    /// Where there is much to ask, what is asked hangs on the answers before: nothing is sure to be put.
    fn ahead<T: Sync>(&self, jobs: &[T], ask: impl Fn(&mut Oracle<'_>, &T) + Sync) {
        if !self.large() {
            self.oracle.in_advance(jobs, ask);
        }
    }

    fn classes(&self) -> Vec<usize> {
        (0..self.many.len()).collect()
    }

    /// Every bag alone on every class.
    pub(super) fn seed_ahead(&self) {
        let (instance, demands) = (self.instance(), &self.demands);
        self.ahead(&self.classes(), |oracle, &class| {
            for bag in (0..demands.len()).filter(|&bag| instance.classes[class].allowed[bag]) {
                for most in [1, room(instance, class, bag, demands[bag])] {
                    price::most_of(oracle, class, &[], bag, most, &mut u32::MAX.clone());
                }
            }
        });
    }

    /// The plans of every class that are listed.
    pub(super) fn list_ahead(&self) {
        let effort = self.effort;
        self.ahead(&self.classes(), |oracle, &class| {
            enumerate::maximal_plans(oracle, class, effort);
        });
    }

    /// The first column of every class in a pass.
    pub(super) fn pass_ahead(&self, prices: &[i64], left: &[u32], taste: Taste) {
        let mut random = self.random.clone();
        let mut order = |class: usize| {
            price::order(self.instance(), class, prices, left, Fabric::Weighted, taste, &mut random)
        };
        let orders: Vec<(usize, Vec<usize>)> =
            self.classes().into_iter().map(|class| (class, order(class))).collect();
        self.ahead(&orders, |oracle, (class, order)| {
            price::along(oracle, *class, order, left, u32::MAX);
        });
    }

    /// The columns of every class in one round of prices, and the best plans where they are not listed.
    pub(super) fn round_ahead(&self, prices: &[i64], fabric: Fabric) {
        let mut random = self.random.clone();
        let (instance, demands) = (self.instance(), &self.demands);
        let mut orders = |class: usize| {
            let tastes = if self.is_listed(class) { &[][..] } else { &[Taste::Plain, Taste::Shaken] };
            let order =
                |&taste: &Taste| price::order(instance, class, prices, demands, fabric, taste, &mut random);
            tastes.iter().map(order).collect()
        };
        let jobs: Vec<(usize, Vec<Vec<usize>>)> =
            self.classes().into_iter().map(|class| (class, orders(class))).collect();
        self.ahead(&jobs, |oracle, (class, orders)| {
            for order in orders {
                price::along(oracle, *class, order, demands, u32::MAX);
            }
            for opening in self.openings[*class].iter().filter(|opening| opening.plans.is_none()) {
                best_plan(oracle, *class, &opening.sheets, prices, NODES);
            }
        });
    }
}
