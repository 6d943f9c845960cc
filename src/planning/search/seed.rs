//! The columns a search begins with: every bag alone, and all plans of classes that have few.

use crate::planning::columns::enumerate;
use crate::planning::columns::pool::Column;
use crate::planning::columns::price;
use crate::planning::instance::Instance;
use crate::planning::search::Search;

/// Plans given to the master at once when there are no more: each costs one warm step of the LP.
const SHORT_LIST: usize = 400;

impl Search<'_, '_> {
    /// One column for every bag alone on every class that may hold it.
    pub(super) fn seed(&mut self) {
        self.seed_ahead();
        // Of many, only what no column serves yet.
        let mut wanted = vec![true; self.demands.len()];
        if self.large() {
            let served = self.pool.columns().iter().flat_map(|column| &column.bags);
            served.for_each(|&(bag, _)| wanted[bag] = false);
        }
        for class in 0..self.many.len() {
            if self.oracle.stopped() {
                return;
            }
            for bag in (0..self.demands.len()).filter(|&bag| wanted[bag]) {
                if !self.instance().classes[class].allowed[bag] {
                    continue;
                }
                let most = room(self.instance(), class, bag, self.demands[bag]);
                for count in [1, price::most_of(self.oracle, class, &[], bag, most, &mut u32::MAX.clone()).0]
                {
                    self.add(class, &[(bag, count)]);
                }
            }
        }
    }

    pub(super) fn add(&mut self, class: usize, bags: &[(usize, u32)]) {
        if bags.iter().any(|&(_, count)| count == 0) || !self.instance().obeys(bags) {
            return;
        }
        let pieces = self.instance().pieces(bags);
        let answer = self.oracle.cut_to_build(&self.instance().classes[class], &pieces);
        if let Some(cost) = answer.cost() {
            self.pool.add(Column { class, bags: bags.to_vec(), cost });
        }
    }

    /// Lists the plans of small classes.
    pub(super) fn list(&mut self) {
        self.list_ahead();
        let effort = if self.large() { (self.effort / 5).min(20) } else { self.effort };
        self.openings =
            (0..self.many.len()).map(|class| enumerate::maximal_plans(self.oracle, class, effort)).collect();
        self.take_short_lists();
    }

    pub(super) fn all_listed(&self) -> bool {
        (0..self.many.len()).all(|class| self.is_listed(class))
    }

    /// Short lists of plans go to the master whole: that saves rounds of pricing.
    pub(super) fn take_short_lists(&mut self) {
        let plans = || self.openings.iter().flatten().filter_map(|opening| opening.plans.as_ref()).flatten();
        if plans().count() <= SHORT_LIST {
            let all: Vec<Column> = plans().cloned().collect();
            for plan in all {
                self.pool.add(plan);
            }
        }
    }
}

/// How many of a bag one print of a class has area for, at most `demand`.
pub(super) fn room(instance: &Instance, class: usize, bag: usize, demand: u32) -> u32 {
    let room = instance.classes[class].area() / instance.bags[bag].area.max(1);
    demand.min(u32::try_from(room).unwrap_or(u32::MAX))
}
