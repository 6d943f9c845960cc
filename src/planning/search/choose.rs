//! The integer master: which of the known columns to use, how often.

use crate::planning::columns::bound::{self, Fabric};
use crate::planning::columns::lp::{Budget, Covered, Goal, cover};
use crate::planning::columns::pool::Column;
use crate::planning::search::Search;

/// Nodes of the integer master; each is an LP of a few milliseconds at most.
pub(super) const NODES: u64 = 4_000;
/// Columns given to the integer master: beyond a few thousand it finds nothing in its nodes.
pub(super) const MOST_COLUMNS: usize = 3_000;
impl Search<'_, '_> {
    /// So many nodes, unless the search is stopped.
    pub(super) fn budget(&self, nodes: u64) -> Budget<'_> {
        Budget { solver: self.instance().solver, nodes, stop: self.oracle.stop() }
    }

    /// The integer master over the columns that could be part of a better plan.
    pub(super) fn choose(&mut self, prices: &[i64]) {
        if self.closed
            || self.oracle.stopped()
            || self.best.as_ref().is_some_and(|(cost, _)| i128::from(*cost) <= self.bound)
        {
            return;
        }
        let (columns, every) = self.candidates(prices);
        let below = self.best.as_ref().map(|(cost, _)| cost - 1);
        match cover(&columns, &self.demands, &self.many, &Goal::LeastFabric { below }, self.budget(NODES)) {
            Covered::Found(chosen) => {
                let list = repeated(&columns, &chosen.times);
                if self.serves_all(&list) {
                    self.keep(list);
                    if chosen.best && every {
                        self.close();
                    }
                }
            }
            Covered::None if every && self.best.is_some() => self.close(),
            Covered::None | Covered::Unknown => {}
        }
    }

    /// Over all plans of all prints nothing better exists; only yardage may still be cut shorter than it was.
    /// The same choice with every plan at its bound says by how much.
    fn close(&mut self) {
        let Some((cost, _)) = self.best else { return };
        self.closed = true;
        let plans = self.openings.iter().flatten();
        let at_least: Vec<Column> = plans
            .flat_map(|opening| {
                let floor = |plan: &Column| Column { cost: opening.least, ..plan.clone() };
                opening.plans.iter().flatten().map(floor)
            })
            .collect();
        let exact = self
            .openings
            .iter()
            .flatten()
            .all(|opening| opening.plans.iter().flatten().all(|plan| plan.cost == opening.least));
        if exact {
            self.bound = i128::from(cost);
            return;
        }
        let goal = Goal::LeastFabric { below: None };
        if let Covered::Found(chosen) = cover(&at_least, &self.demands, &self.many, &goal, self.budget(NODES))
            && chosen.best
        {
            let floor: i64 = repeated(&at_least, &chosen.times).iter().map(|column| column.cost).sum();
            self.bound = self.bound.max(i128::from(floor));
        }
    }

    /// Columns by reduced cost; true when every column that a better plan could use is among them:
    /// one whose reduced cost passes the gap cannot (reduced cost fixing).
    fn candidates(&mut self, prices: &[i64]) -> (Vec<Column>, bool) {
        self.begin_pricing();
        let most = self.price_all(prices, Fabric::Weighted).most;
        let least = bound::least(self.instance(), &most, prices);
        let gap = self.best.as_ref().map(|(cost, _)| i128::from(*cost) - least);
        // Where every plan of a class is listed, what was found on the way adds nothing.
        let mut listed: Vec<Column> =
            self.pool.columns().iter().filter(|column| !self.is_listed(column.class)).cloned().collect();
        let mut every = true;
        for openings in &self.openings {
            every &= !openings.is_empty();
            for opening in openings {
                match &opening.plans {
                    Some(plans) => listed.extend(plans.iter().cloned()),
                    None => every = false,
                }
            }
        }
        listed.sort();
        listed.dedup();
        let mut rated: Vec<(i128, Column)> =
            listed.into_iter().map(|column| (most[column.class] - column.gain(prices), column)).collect();
        if let Some(gap) = gap {
            rated.retain(|(reduced, _)| *reduced < gap);
        }
        rated.sort();
        if rated.len() > MOST_COLUMNS {
            rated.truncate(MOST_COLUMNS);
            every = false;
        }
        (rated.into_iter().map(|(_, column)| column).collect(), every)
    }

    /// The most of the quilt that the known columns serve, with the least fabric for it where it is to be `cheap`.
    pub(super) fn most_placed(&mut self, blocks: &[(u32, Vec<(usize, u32)>)], cheap: bool) -> Vec<Column> {
        let mut columns = self.pool.columns().to_vec();
        columns.sort_by_key(|column| (column.class, column.cost, column.bags.clone()));
        let Covered::Found(most) =
            cover(&columns, &self.demands, &self.many, &Goal::MostPlaced { blocks }, self.budget(NODES))
        else {
            return Vec::new();
        };
        let list = repeated(&columns, &most.times);
        if !cheap {
            return list;
        }
        let mut missing = self.demands.clone();
        for column in &list {
            for &(bag, count) in &column.bags {
                missing[bag] = missing[bag].saturating_sub(count);
            }
        }
        match cover(
            &columns,
            &self.demands,
            &self.many,
            &Goal::LeastFabricShort { missing: &missing },
            self.budget(NODES),
        ) {
            Covered::Found(cheap) => repeated(&columns, &cheap.times),
            Covered::None | Covered::Unknown => list,
        }
    }
}

impl Search<'_, '_> {
    /// How many whole blocks `columns` serve, counted kind by kind, and how many sets.
    pub(super) fn made(&self, blocks: &[(u32, Vec<(usize, u32)>)], columns: &[Column]) -> (u32, u32) {
        let mut served = vec![0; self.demands.len()];
        for &(bag, count) in columns.iter().flat_map(|column| &column.bags) {
            served[bag] = self.demands[bag].min(served[bag] + count);
        }
        let sets = served.iter().sum();
        let mut whole = 0;
        for (copies, needs) in blocks {
            let made = needs.iter().map(|&(bag, each)| served[bag] / each).fold(*copies, u32::min);
            needs.iter().for_each(|&(bag, each)| served[bag] -= made * each);
            whole += made;
        }
        (whole, sets)
    }

    /// The same bags as `partial` serves, from less fabric if that is found.
    pub(super) fn cheaper(&mut self, partial: Vec<Column>) -> Vec<Column> {
        let mut served = vec![0; self.demands.len()];
        let given = self.hand_out(partial.clone());
        given.iter().flatten().flatten().for_each(|&(bag, count)| served[bag] += count);
        let asked = std::mem::replace(&mut self.demands, served);
        self.best = None;
        self.keep(partial.clone());
        self.improve(&mut |_, _| {});
        self.demands = asked;
        self.best.take().map_or(partial, |(_, columns)| columns)
    }
}

pub(super) fn repeated(columns: &[Column], times: &[u32]) -> Vec<Column> {
    columns
        .iter()
        .zip(times)
        .flat_map(|(column, &many)| std::iter::repeat_n(column.clone(), many as usize))
        .collect()
}
