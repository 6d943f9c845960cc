//! Columns: what one print of a class may serve, and the fabric that opens.

use std::collections::BTreeSet;

/// One way to use a print.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Column {
    /// Class of prints.
    pub(crate) class: usize,
    /// (bag, count), ascending.
    pub(crate) bags: Vec<(usize, u32)>,
    /// Weighted fabric opened.
    pub(crate) cost: i64,
}

impl Column {
    /// What the bags it serves are worth at `prices`, less its fabric.
    pub(crate) fn gain(&self, prices: &[i64]) -> i128 {
        self.worth(prices) - i128::from(self.cost)
    }

    /// What the bags it serves are worth at `prices`.
    pub(crate) fn worth(&self, prices: &[i64]) -> i128 {
        self.bags.iter().map(|&(bag, count)| i128::from(prices[bag]) * i128::from(count)).sum()
    }
}

/// Columns without repeats, in the order they were found.
#[derive(Default)]
pub(crate) struct Pool {
    columns: Vec<Column>,
    known: BTreeSet<Column>,
}

impl Pool {
    /// Adds a column; false when it serves nothing or is there already.
    pub(crate) fn add(&mut self, column: Column) -> bool {
        if column.bags.is_empty() || !self.known.insert(column.clone()) {
            return false;
        }
        self.columns.push(column);
        true
    }

    /// All columns.
    pub(crate) fn columns(&self) -> &[Column] {
        &self.columns
    }
}
