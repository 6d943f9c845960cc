//! What a search has found and ends with.

use crate::planning::columns::pool::Column;
use crate::planning::search::{Refusal, Search};

/// What each print is to serve: by class, by holder, (bag, count).
pub(crate) type Assignment = Vec<Vec<Vec<(usize, u32)>>>;

/// What the search ends with.
#[derive(Clone)]
pub(crate) struct Found {
    /// The best plan reached.
    pub(crate) assignment: Assignment,
    /// True when it serves everything.
    pub(crate) complete: bool,
    /// Weighted fabric it opens.
    pub(crate) cost: i64,
    /// No complete plan opens less weighted fabric.
    pub(crate) bound: i128,
    /// The proof that no complete plan exists.
    pub(crate) refusal: Option<Refusal>,
}

impl Search<'_, '_> {
    pub(super) fn keep(&mut self, columns: Vec<Column>) {
        let cost = columns.iter().map(|column| column.cost).sum();
        if self.best.as_ref().is_none_or(|(least, _)| cost < *least) {
            self.best = Some((cost, columns));
        }
    }

    pub(super) fn keep_part(&mut self, columns: Vec<Column>) {
        let bags = columns.iter().flat_map(|column| &column.bags);
        let area = bags.map(|&(bag, n)| i128::from(self.instance().bags[bag].area) * i128::from(n)).sum();
        if area > self.fullest.0 {
            self.fullest = (area, columns);
        }
    }

    pub(super) fn serves_all(&self, columns: &[Column]) -> bool {
        let mut left: Vec<i64> = self.demands.iter().map(|&n| i64::from(n)).collect();
        let mut free: Vec<i64> = self.many.iter().map(|&n| i64::from(n)).collect();
        for column in columns {
            free[column.class] -= 1;
            for &(bag, count) in &column.bags {
                left[bag] -= i64::from(count);
            }
        }
        left.iter().all(|&n| n <= 0) && free.iter().all(|&n| n >= 0)
    }

    /// What there is when the search is stopped: the best complete plan, else the fullest. Every piece covers its own
    /// area, which bounds the fabric where no round of prices was finished.
    pub(super) fn ended(&mut self) -> Found {
        self.bound = self.bound.max(self.instance().area_at_least_weight());
        let columns = self.best.as_ref().map_or(&self.fullest.1, |(_, columns)| columns).clone();
        self.found(columns, None)
    }

    pub(super) fn found(&mut self, columns: Vec<Column>, refusal: Option<Refusal>) -> Found {
        let complete = self.serves_all(&columns);
        let cost = columns.iter().map(|column| column.cost).sum();
        Found { cost, assignment: self.hand_out(columns), complete, bound: self.bound, refusal }
    }

    /// Columns to holders, cut back to what is needed; equal columns next to each other.
    pub(super) fn hand_out(&mut self, columns: Vec<Column>) -> Assignment {
        let instance = self.instance();
        let mut assignment: Assignment =
            instance.classes.iter().map(|class| vec![Vec::new(); class.holders.len()]).collect();
        let mut next = vec![0; instance.classes.len()];
        let mut left = self.demands.clone();
        for column in columns {
            let mut bags = Vec::new();
            for &(bag, count) in &column.bags {
                let taken = count.min(left[bag]);
                left[bag] -= taken;
                if taken > 0 {
                    bags.push((bag, taken));
                }
            }
            if !bags.is_empty() {
                if bags != column.bags {
                    self.oracle.learn_less(column.class, &bags);
                }
                assignment[column.class][next[column.class]] = bags;
                next[column.class] += 1;
            }
        }
        assignment
    }
}
