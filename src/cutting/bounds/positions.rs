//! The value table with limited counts: at every pair of positions the best few cuttings that keep the limits, pruned
//! by the outer table. Quick and strong as a heuristic; exact when nothing promising had to be dropped.
//!
//! After the dynamic programme with filtering of Clautiaux, Sadykov, Vanderbeck and Viaud (2018), a beam per cell.

use crate::cutting::bounds::outer_table::OuterTable;
use crate::cutting::bounds::value_table::Table;
use crate::cutting::grid::block::Block;
use crate::cutting::grid::counts::{Counts, Fields};
use crate::cutting::grid::order::Size;
use crate::cutting::{Axis, Work};

/// What is asked: sizes, limits and worth; prices with their tables, in units of 1 / `scale` of a worth.
pub(crate) struct Question<'a> {
    pub(crate) sizes: &'a [Size],
    pub(crate) limits: &'a [u32],
    pub(crate) worth: &'a [i64],
    pub(crate) prices: &'a [i64],
    pub(crate) table: &'a Table,
    /// Prunes what cannot become better than what is known; without it every cell keeps its best.
    pub(crate) outer: Option<&'a OuterTable>,
    /// Lost by the prices: price inside + outside + base bounds a cutting's worth, scaled.
    pub(crate) base: i64,
    pub(crate) scale: i64,
    /// Cuttings kept at each pair of positions.
    pub(crate) breadth: usize,
    /// Most cuttings kept in all (about 100 bytes each).
    pub(crate) most_entries: usize,
}

/// What was found.
pub(crate) struct Found {
    /// Better than what was known, if any, with its worth.
    pub(crate) best: Option<(Block, i64)>,
    /// True when nothing was dropped for want of room: what is best now, found or known, is proved best.
    pub(crate) exact: bool,
    /// True when work or memory ended before the whole sheet was reached.
    pub(crate) stopped: bool,
}

/// One pass over all positions with `known` the worth to beat.
pub(crate) fn search(ask: &Question, known: i64, work: &mut Work) -> Option<Found> {
    if let Some(fields) = Fields::<2>::new(ask.limits) {
        Some(Pass::new(ask, fields, known).run(work))
    } else if let Some(fields) = Fields::<4>::new(ask.limits) {
        Some(Pass::new(ask, fields, known).run(work))
    } else {
        Fields::<8>::new(ask.limits).map(|fields| Pass::new(ask, fields, known).run(work))
    }
}

/// One pass without pruning: for every height at which a cutting of the full width `pays` (y index, price), the dearest.
pub(crate) fn at_heights(
    ask: &Question,
    pays: impl Fn(usize, i64) -> bool,
    work: &mut Work,
) -> Vec<(usize, i64, Block)> {
    fn pass<const N: usize>(
        ask: &Question,
        fields: Fields<N>,
        pays: impl Fn(usize, i64) -> bool,
        work: &mut Work,
    ) -> Vec<(usize, i64, Block)> {
        let mut pass = Pass::new(ask, fields, i64::MAX);
        pass.fill(work);
        pass.at_heights(pays)
    }
    if let Some(fields) = Fields::<2>::new(ask.limits) {
        pass(ask, fields, pays, work)
    } else if let Some(fields) = Fields::<4>::new(ask.limits) {
        pass(ask, fields, pays, work)
    } else {
        Fields::<8>::new(ask.limits).map_or_else(Vec::new, |fields| pass(ask, fields, pays, work))
    }
}

#[derive(Clone, Copy)]
enum From {
    Piece(u32, u32, u32),
    Join(Axis, u32, u32),
}

#[derive(Clone, Copy)]
struct Entry<const N: usize> {
    price: i64,
    worth: i64,
    counts: Counts<N>,
    from: From,
}

struct Pass<'a, const N: usize> {
    ask: &'a Question<'a>,
    fields: Fields<N>,
    entries: Vec<Entry<N>>,
    /// First entry of every cell, and one past the last.
    cells: Vec<(u32, u32)>,
    best: i64,
    best_id: Option<u32>,
    exact: bool,
}

impl<'a, const N: usize> Pass<'a, N> {
    fn new(ask: &'a Question<'a>, fields: Fields<N>, known: i64) -> Pass<'a, N> {
        let cells = vec![(0, 0); ask.table.xs.len() * ask.table.ys.len()];
        Pass { ask, fields, entries: Vec::new(), cells, best: known, best_id: None, exact: true }
    }

    fn run(mut self, work: &mut Work) -> Found {
        let stopped = self.fill(work);
        let best = self.best_id.map(|id| (self.block(id), self.best));
        Found { best, exact: self.exact && !stopped, stopped }
    }

    /// The dearest cutting of the full width at every height at which it is dearer than one row lower: y index, price, block.
    fn at_heights(&self, pays: impl Fn(usize, i64) -> bool) -> Vec<(usize, i64, Block)> {
        let ny = self.ask.table.ys.len();
        let last = self.cells.len() - ny;
        let mut all = Vec::new();
        let mut lower = 0;
        for j in 1..ny {
            let (start, end) = self.cells[last + j];
            if start == end {
                continue;
            }
            let price = self.entries[start as usize].price;
            if price > lower && pays(j, price) {
                all.push((j, price, self.block(start)));
            }
            lower = lower.max(price);
        }
        all
    }

    /// Goes over all positions; true when work or memory ended before the last.
    fn fill(&mut self, work: &mut Work) -> bool {
        let (nx, ny) = (self.ask.table.xs.len(), self.ask.table.ys.len());
        let mut stopped = false;
        let mut list = Vec::new();
        'positions: for i in 0..nx {
            for j in 0..ny {
                list.clear();
                let steps = self.cell(i, j, &mut list);
                let start = u32::try_from(self.entries.len()).expect("entries are limited");
                self.entries.extend_from_slice(&list);
                let end = u32::try_from(self.entries.len()).expect("entries are limited");
                self.cells[i * ny + j] = (start, end);
                for id in start..end {
                    let worth = self.entries[id as usize].worth;
                    if worth > self.best {
                        self.best = worth;
                        self.best_id = Some(id);
                    }
                }
                if !work.spend(steps) || self.entries.len() > self.ask.most_entries {
                    stopped = true;
                    break 'positions;
                }
            }
        }
        stopped
    }

    /// Fills the list of one cell; the steps that took.
    fn cell(&mut self, i: usize, j: usize, list: &mut Vec<Entry<N>>) -> u64 {
        let table = self.ask.table;
        let ny = table.ys.len();
        // Below this price a cutting here cannot grow into a better one.
        let least = match self.ask.outer {
            Some(outer) => (self.best + 1) * self.ask.scale - self.ask.base - outer.cell(i, j),
            None => 1,
        };
        if table.cell(i, j) < least {
            return 1;
        }
        let mut steps = 2;
        for before in
            [i.checked_sub(1).map(|i| (i, j)), j.checked_sub(1).map(|j| (i, j))].into_iter().flatten()
        {
            let (start, end) = self.cells[before.0 * ny + before.1];
            for id in start..end {
                let entry = self.entries[id as usize];
                self.offer(list, entry, least);
                steps += 1;
            }
        }
        for (s, w, h) in table.placed(i, j, self.ask.sizes) {
            let (price, worth) = (self.ask.prices[s], self.ask.worth[s]);
            let from = From::Piece(u32::try_from(s).expect("few sizes"), w, h);
            self.offer(list, Entry { price, worth, counts: self.fields.one(s), from }, least);
        }
        for (a, b) in table.splits_x(i) {
            steps += self.join(Axis::Width, self.cells[a * ny + j], self.cells[b * ny + j], list, least);
        }
        for (a, b) in table.splits_y(j) {
            steps += self.join(Axis::Height, self.cells[i * ny + a], self.cells[i * ny + b], list, least);
        }
        steps
    }

    /// Joins the cuttings of two cells.
    fn join(
        &mut self,
        axis: Axis,
        a: (u32, u32),
        b: (u32, u32),
        list: &mut Vec<Entry<N>>,
        least: i64,
    ) -> u64 {
        let mut steps = 1;
        for x in a.0..a.1 {
            let first = self.entries[x as usize];
            for y in b.0..b.1 {
                let second = &self.entries[y as usize];
                let price = first.price + second.price;
                steps += 1;
                if price < least {
                    break;
                }
                if list.len() >= self.ask.breadth && price <= list[list.len() - 1].price {
                    // Full, and this is no better than the last kept; it would be dropped.
                    self.exact = false;
                    break;
                }
                if let Some(counts) = self.fields.add(first.counts, second.counts) {
                    let worth = first.worth + second.worth;
                    let entry = Entry { price, worth, counts, from: From::Join(axis, x, y) };
                    self.offer(list, entry, least);
                    steps += 4;
                }
            }
        }
        steps
    }

    /// Keeps an entry in its place by price, unless it is hopeless, known, or the list is full of better ones.
    fn offer(&mut self, list: &mut Vec<Entry<N>>, entry: Entry<N>, least: i64) {
        if entry.price < least {
            return;
        }
        let at = list.partition_point(|e| e.price > entry.price);
        // Equal counts have equal prices: look among those only.
        if list[at..].iter().take_while(|e| e.price == entry.price).any(|e| e.counts == entry.counts) {
            return;
        }
        if list.len() >= self.ask.breadth {
            self.exact = false;
            if at >= list.len() {
                return;
            }
            list.pop();
        }
        list.insert(at, entry);
    }

    fn block(&self, id: u32) -> Block {
        match self.entries[id as usize].from {
            From::Piece(size, w, h) => Block::piece(size as usize, w, h),
            From::Join(Axis::Width, a, b) => Block::beside(self.block(a), self.block(b)),
            From::Join(Axis::Height, a, b) => Block::above(self.block(a), self.block(b)),
        }
    }
}
