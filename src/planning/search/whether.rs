//! Whether everything can be served, however much fabric that opens.
//!
//! A verdict needs no prices for fabric. So a plan is looked for by pushing pieces about before any prices are worked out,
//! and prices say only what is scarce: they prove that too much is, or lead to the columns that are missing. Of every
//! print all sheets are opened, as what fits on some of them fits on all.

use crate::planning::columns::bound::{self, Fabric};
use crate::planning::columns::enumerate::{self, Opening};
use crate::planning::columns::lp::{Covered, Goal, cover};
use crate::planning::columns::pool::Column;
use crate::planning::columns::prices::Prices;
use crate::planning::search::choose::{self, MOST_COLUMNS, repeated};
use crate::planning::search::generate::{LOOK_NODES, NODES};
use crate::planning::search::repair::TO_COMPLETE;
use crate::planning::search::{FEW_PASSES, Found, LONG_ROUNDS, RICH, ROUNDS, Refusal, Search};

/// A print with yardage takes several times as long to cut as one of whole sheets, and a verdict asks many that stay open.
const YARDAGE_COUNTS: u64 = 4;

impl Search<'_, '_> {
    /// A complete plan, or a proof that there is none.
    pub(super) fn whether(&mut self) -> Found {
        if self.demands.is_empty() {
            return self.found(Vec::new(), None);
        }
        let rich = self.demands.len() > RICH;
        self.oracle.hurried = rich || self.large();
        self.oracle.yardage_counts = YARDAGE_COUNTS;
        self.one_print();
        if rich && self.best.is_none() {
            self.by_fills(TO_COMPLETE / 20, &mut |_, _| {});
        }
        if self.best.is_none() {
            self.first_plan();
        }
        let refusal = self.decide();
        match refusal {
            Some(_) => self.found(Vec::new(), refusal),
            None => self.ended(),
        }
    }

    /// Ends with the first plan, or with a proof; from what is quickly asked to what takes long.
    fn decide(&mut self) -> Option<Refusal> {
        if self.is_decided() {
            return None;
        }
        self.seed();
        if let Some(refusal) = self.homeless().or_else(|| self.counted()) {
            return Some(refusal);
        }
        self.repair(if self.large() { TO_COMPLETE } else { TO_COMPLETE / 20 });
        if self.is_decided() {
            return None;
        }
        self.list_whole();
        if let Some(refusal) = self.scarce().or_else(|| self.any_choice()) {
            return Some(refusal);
        }
        if self.is_decided() || self.all_listed() {
            return None;
        }
        self.passes(&vec![0; self.demands.len()], FEW_PASSES);
        if !self.is_decided() {
            self.any_choice();
        }
        if !self.is_decided() {
            self.repair(TO_COMPLETE / 6);
        }
        if self.is_decided() || !self.list_rest() {
            return None;
        }
        self.any_choice()
    }

    fn is_decided(&self) -> bool {
        self.best.is_some() || self.oracle.stopped()
    }

    /// Lists the plans of small classes that open all sheets; they contain all the others.
    fn list_whole(&mut self) {
        let effort = if self.large() { (self.effort / 5).min(20) } else { self.effort };
        let all = |class| enumerate::all_opened(self.oracle, class, effort).into_iter().collect();
        self.openings = (0..self.many.len()).map(all).collect();
        self.take_short_lists();
    }

    /// Lists the plans of the classes that are large as well; false when too many are left unlisted for a proof.
    fn list_rest(&mut self) -> bool {
        if self.openings.iter().flatten().any(|opening| opening.plans.is_none()) {
            return false;
        }
        for class in 0..self.many.len() {
            if self.openings[class].is_empty() {
                let plans = enumerate::with_all_sheets(self.oracle, class, self.effort);
                if plans.is_none() {
                    return false;
                }
                let sheets = self.instance().classes[class].sheets.clone();
                self.openings[class] = vec![Opening { sheets, least: 0, plans }];
            }
        }
        true
    }

    /// Column generation for what is scarce. Quick looks at what a print serves best come first: they find the columns as
    /// well. Where these serve everything, if only in fractions of prints, no prices can prove anything.
    fn scarce(&mut self) -> Option<Refusal> {
        let areas: Vec<i64> = self.instance().bags.iter().map(|bag| bag.area).collect();
        let mut master = Prices::new(&self.demands, &self.many, &areas);
        let mut given = 0;
        self.nodes = LOOK_NODES;
        let rounds = |most: u32| most * self.effort.max(1) / 100;
        let (mut left, long) = (rounds(ROUNDS), rounds(LONG_ROUNDS));
        self.begin_pricing();
        while left > 0 {
            left -= 1;
            if self.oracle.stopped() || self.enough_priced() {
                break;
            }
            let news = self.pool.columns()[given..].iter();
            let news: Vec<Column> = news.map(|column| Column { cost: 0, ..column.clone() }).collect();
            given = self.pool.columns().len();
            master.add(&news);
            let prices = master.prices().to_vec();
            if bound::least(self.instance(), &self.known_worth(&prices), &prices) <= 0 {
                break;
            }
            let round = self.price_all(&prices, Fabric::Free);
            if bound::least(self.instance(), &round.most, &prices) > 0 {
                return Some(Refusal::Priced { prices, most: round.most });
            }
            for column in round.columns {
                self.pool.add(column);
            }
            if self.pool.columns().len() == given {
                if self.nodes == NODES {
                    break;
                }
                self.nodes = NODES;
                left = left.min(long);
            }
        }
        None
    }

    /// By class: the most that a known column is worth.
    fn known_worth(&self, prices: &[i64]) -> Vec<i128> {
        let mut most = vec![0; self.many.len()];
        for column in self.pool.columns() {
            most[column.class] = column.worth(prices).max(most[column.class]);
        }
        most
    }

    /// A choice of the plans known that serves everything, whatever it opens; the proof that there is none where all are known.
    fn any_choice(&mut self) -> Option<Refusal> {
        let listed = |opening: &Opening| opening.plans.clone().unwrap_or_default();
        let mut columns: Vec<Column> = self.openings.iter().flatten().flat_map(listed).collect();
        let others = self.pool.columns().iter().filter(|column| !self.is_listed(column.class));
        columns.extend(others.cloned());
        columns.sort();
        columns.dedup_by(|one, other| one.class == other.class && one.bags == other.bags);
        if columns.len() > MOST_COLUMNS * 4 {
            return None;
        }
        let free: Vec<Column> = columns.iter().map(|column| Column { cost: 0, ..column.clone() }).collect();
        let goal = Goal::LeastFabric { below: None };
        let nodes = if self.all_listed() { choose::NODES * 4 } else { choose::NODES };
        match cover(&free, &self.demands, &self.many, &goal, self.budget(nodes)) {
            Covered::None if self.all_listed() => Some(Refusal::Listed { plans: columns }),
            Covered::Found(chosen) => {
                let list = repeated(&columns, &chosen.times);
                if self.serves_all(&list) {
                    self.keep(list);
                }
                None
            }
            Covered::None | Covered::Unknown => None,
        }
    }
}
