//! Two-stage knapsack: strips across the full width, pieces side by side in each, trimmed to their heights.
//!
//! A dynamic programme with filtering in the manner of [`positions`](crate::cutting::bounds::positions): rows of pieces first,
//! then rows one above the other, the best few cuttings at each width and height, pruned by the same programme
//! without limits at Lagrange prices. Gilmore and Gomory (1965) for the unlimited problem.

use crate::cutting::bounds::lagrange::{self, Prices, Round, SCALE};
use crate::cutting::grid::block::{Block, layout};
use crate::cutting::grid::counts::{Counts, Fields};
use crate::cutting::grid::order::Order;
use crate::cutting::knapsack::{Knapsack, most_pieces};
use crate::cutting::{Kind, Sheet, Work};

/// The most valuable pieces to cut from `sheet` in two stages, first cuts across the width, each piece then trimmed to its
/// height. A piece of kind `k` is worth `values[k]`, and at most `counts[k]` are wanted. Pieces do not turn.
///
/// # Panics
/// When there is not one value and one count a kind.
pub fn two_stage_knapsack(
    sheet: Sheet,
    kinds: &[Kind],
    values: &[i64],
    counts: &[u32],
    work: &mut Work,
) -> Knapsack {
    assert!(kinds.len() == values.len() && kinds.len() == counts.len(), "one value and one count a kind");
    let fixed: Vec<Kind> = kinds.iter().map(|k| Kind { turn: false, ..*k }).collect();
    let wanted: Vec<u32> = (0..kinds.len())
        .map(|k| if values[k] > 0 { most_pieces(sheet, &fixed[k]).min(counts[k]) } else { 0 })
        .collect();
    let order = Order::apart(&fixed, &wanted);
    let worth: Vec<i64> = order.members.iter().map(|m| values[m[0].0]).collect();
    let (w, h) = order.sheet(sheet);
    let rows = Rows::new(w, h, &order);
    let (block, value, bound) = rows.solve(&worth, work);
    Knapsack { layout: layout(block.as_ref(), sheet, &order, &fixed), value, bound }
}

/// The geometry: the sheet, the pieces, and the heights that rows may have.
struct Rows<'a> {
    w: usize,
    h: usize,
    order: &'a Order,
    heights: Vec<usize>,
}

/// The programme without limits at some prices: what a row of each height is worth within each width, and
/// what rows within each height are worth together.
struct Unlimited {
    rows: Vec<Vec<i64>>,
    stacks: Vec<i64>,
}

impl<'a> Rows<'a> {
    fn new(w: u32, h: u32, order: &'a Order) -> Rows<'a> {
        let mut heights: Vec<usize> = order.sizes.iter().map(|s| s.h as usize).collect();
        heights.sort_unstable();
        heights.dedup();
        Rows { w: w as usize, h: h as usize, order, heights }
    }

    fn solve(&self, worth: &[i64], work: &mut Work) -> (Option<Block>, i64, i64) {
        if self.order.sizes.is_empty() {
            return (None, 0, 0);
        }
        let steps = ((self.w + self.h) * self.heights.len() * self.order.sizes.len()) as u64;
        let mut best = (None, 0);
        let plain = Prices::plain(worth);
        self.pass(worth, &plain, &self.unlimited(&plain.prices), FIRST_BREADTH, &mut best, work);
        let prices = lagrange::lower(&self.order.counts, worth, |prices| {
            if !work.spend(steps) {
                return None;
            }
            let table = self.unlimited(prices);
            let taken = self.taken(&table, prices);
            Some(Round { whole: table.stacks[self.h], taken, known: best.1 })
        });
        let mut bound = prices.bound;
        let table = self.unlimited(&prices.prices);
        let mut breadth = FIRST_BREADTH;
        while best.1 < bound && work.left() > 0 && breadth <= MOST_BREADTH {
            if self.pass(worth, &prices, &table, breadth, &mut best, work) {
                bound = best.1;
            }
            breadth *= 4;
        }
        (best.0, best.1, bound)
    }

    /// One pass; takes what is better than `best` and answers whether that is proved best now.
    fn pass(
        &self,
        worth: &[i64],
        prices: &Prices,
        table: &Unlimited,
        breadth: usize,
        best: &mut (Option<Block>, i64),
        work: &mut Work,
    ) -> bool {
        let found = match Fields::<2>::new(&self.order.counts) {
            Some(fields) => Pass::new(self, fields, worth, prices, table, breadth, best.1).run(work),
            None => match Fields::<8>::new(&self.order.counts) {
                Some(fields) => Pass::new(self, fields, worth, prices, table, breadth, best.1).run(work),
                None => return false,
            },
        };
        if let Some((block, value)) = found.best {
            *best = (Some(block), value);
        }
        found.exact
    }

    /// Pieces that may stand in a row of the given height.
    fn standing(&self, row: usize) -> impl Iterator<Item = usize> {
        let height = self.heights[row];
        (0..self.order.sizes.len()).filter(move |&s| self.order.sizes[s].h as usize <= height)
    }

    fn unlimited(&self, prices: &[i64]) -> Unlimited {
        let mut rows = Vec::new();
        for row in 0..self.heights.len() {
            let mut best = vec![0; self.w + 1];
            for x in 1..=self.w {
                best[x] = best[x - 1];
                for s in self.standing(row) {
                    let wide = self.order.sizes[s].w as usize;
                    if wide <= x {
                        best[x] = best[x].max(best[x - wide] + prices[s]);
                    }
                }
            }
            rows.push(best);
        }
        let mut stacks = vec![0; self.h + 1];
        for y in 1..=self.h {
            stacks[y] = stacks[y - 1];
            for (row, &height) in self.heights.iter().enumerate() {
                if height <= y {
                    stacks[y] = stacks[y].max(stacks[y - height] + rows[row][self.w]);
                }
            }
        }
        Unlimited { rows, stacks }
    }

    /// How many pieces of each size a best cutting without limits takes.
    fn taken(&self, table: &Unlimited, prices: &[i64]) -> Vec<u32> {
        let mut taken = vec![0; prices.len()];
        let mut y = self.h;
        while y > 0 && table.stacks[y] > 0 {
            if table.stacks[y] == table.stacks[y - 1] {
                y -= 1;
                continue;
            }
            let fits = |&row: &usize| {
                let height = self.heights[row];
                height <= y && table.stacks[y] == table.stacks[y - height] + table.rows[row][self.w]
            };
            let row = (0..self.heights.len()).find(fits).expect("a stack ends in a row");
            y -= self.heights[row];
            let best = &table.rows[row];
            let mut x = self.w;
            while x > 0 && best[x] > 0 {
                if best[x] == best[x - 1] {
                    x -= 1;
                    continue;
                }
                let last = |&s: &usize| {
                    let wide = self.order.sizes[s].w as usize;
                    wide <= x && best[x] == best[x - wide] + prices[s]
                };
                let s = self.standing(row).find(last).expect("a row ends in a piece");
                x -= self.order.sizes[s].w as usize;
                taken[s] += 1;
            }
        }
        taken
    }
}

/// Cuttings kept in one list at first, and at most.
const FIRST_BREADTH: usize = 4;
const MOST_BREADTH: usize = 1 << 16;
/// Most cuttings kept in all.
const MOST_ENTRIES: usize = 4_000_000;

#[derive(Clone, Copy)]
struct Entry<const N: usize> {
    price: i64,
    worth: i64,
    counts: Counts<N>,
    /// The entry this one adds to, and the piece or row that it adds.
    before: u32,
    added: u32,
}

struct Found {
    best: Option<(Block, i64)>,
    exact: bool,
}

struct Pass<'a, const N: usize> {
    rows: &'a Rows<'a>,
    fields: Fields<N>,
    worth: &'a [i64],
    prices: &'a Prices,
    table: &'a Unlimited,
    breadth: usize,
    best: i64,
    exact: bool,
    entries: Vec<Entry<N>>,
}

impl<'a, const N: usize> Pass<'a, N> {
    fn new(
        rows: &'a Rows<'a>,
        fields: Fields<N>,
        worth: &'a [i64],
        prices: &'a Prices,
        table: &'a Unlimited,
        breadth: usize,
        best: i64,
    ) -> Pass<'a, N> {
        let nothing = Entry { price: 0, worth: 0, counts: Counts([0; N]), before: 0, added: 0 };
        Pass { rows, fields, worth, prices, table, breadth, best, exact: true, entries: vec![nothing] }
    }

    /// Price that a cutting must reach together with the most that can still be added.
    fn need(&self) -> i64 {
        (self.best + 1) * SCALE - self.prices.base
    }

    fn run(mut self, work: &mut Work) -> Found {
        let mut finished: Vec<Vec<u32>> = Vec::new();
        for row in 0..self.rows.heights.len() {
            let Some(list) = self.row(row, work) else { return Found { best: None, exact: false } };
            finished.push(list);
        }
        let h = self.rows.h;
        let mut stacks: Vec<Vec<u32>> = vec![Vec::new(); h + 1];
        stacks[0].push(0);
        let mut best_id = None;
        // Higher rows first; any number of rows of one height follow each other.
        for row in (0..self.rows.heights.len()).rev() {
            let height = self.rows.heights[row];
            for y in height..=h {
                let mut list = std::mem::take(&mut stacks[y]);
                for &below in &stacks[y - height] {
                    for &id in &finished[row] {
                        let (a, b) = (self.entries[below as usize], self.entries[id as usize]);
                        let price = a.price + b.price;
                        work.spend(4);
                        if price + self.table.stacks[h - y] < self.need() {
                            break;
                        }
                        let Some(counts) = self.fields.add(a.counts, b.counts) else { continue };
                        let entry =
                            Entry { price, worth: a.worth + b.worth, counts, before: below, added: id };
                        self.insert(&mut list, entry);
                    }
                }
                for &id in &list {
                    if self.entries[id as usize].worth > self.best {
                        self.best = self.entries[id as usize].worth;
                        best_id = Some(id);
                    }
                }
                stacks[y] = list;
                if work.left() == 0 || self.entries.len() > MOST_ENTRIES {
                    self.exact = false;
                    return self.found(best_id);
                }
            }
        }
        self.found(best_id)
    }

    fn found(&self, best_id: Option<u32>) -> Found {
        let best = best_id.map(|id| (self.stack_block(id), self.best));
        Found { best, exact: self.exact }
    }

    /// The best few rows of one height, dearest first: pieces size by size, so that no row is met in two orders.
    fn row(&mut self, row: usize, work: &mut Work) -> Option<Vec<u32>> {
        let (w, h) = (self.rows.w, self.rows.h);
        let above = self.table.stacks[h.saturating_sub(self.rows.heights[row])];
        let mut lists: Vec<Vec<u32>> = vec![Vec::new(); w + 1];
        lists[0].push(0);
        let standing: Vec<usize> = self.rows.standing(row).collect();
        for s in standing {
            let wide = self.rows.order.sizes[s].w as usize;
            let one = self.fields.one(s);
            for x in wide..=w {
                let mut list = std::mem::take(&mut lists[x]);
                for &before in &lists[x - wide] {
                    let a = self.entries[before as usize];
                    let price = a.price + self.prices.prices[s];
                    work.spend(4);
                    if price + self.table.rows[row][w - x] + above < self.need() {
                        break;
                    }
                    let Some(counts) = self.fields.add(a.counts, one) else { continue };
                    let added = u32::try_from(s).expect("few sizes");
                    let entry = Entry { price, worth: a.worth + self.worth[s], counts, before, added };
                    self.insert(&mut list, entry);
                }
                lists[x] = list;
                if work.left() == 0 || self.entries.len() > MOST_ENTRIES {
                    return None;
                }
            }
        }
        let mut all: Vec<u32> = lists.into_iter().skip(1).flatten().collect();
        all.sort_by_key(|&id| (std::cmp::Reverse(self.entries[id as usize].price), id));
        all.retain(|&id| self.entries[id as usize].price + above >= self.need());
        Some(all)
    }

    /// Puts an entry into a list by price, unless the same counts are there or the list is full of better ones.
    fn insert(&mut self, list: &mut Vec<u32>, entry: Entry<N>) {
        let at = list.partition_point(|&id| self.entries[id as usize].price > entry.price);
        let equal = |id: &&u32| self.entries[**id as usize].price == entry.price;
        if list[at..].iter().take_while(equal).any(|&id| self.entries[id as usize].counts == entry.counts) {
            return;
        }
        if list.len() >= self.breadth {
            self.exact = false;
            if at >= list.len() {
                return;
            }
            list.pop();
        }
        let id = u32::try_from(self.entries.len()).expect("entries are limited");
        self.entries.push(entry);
        list.insert(at, id);
    }

    fn stack_block(&self, id: u32) -> Block {
        let entry = &self.entries[id as usize];
        let row = self.row_block(entry.added);
        if entry.before == 0 { row } else { Block::above(self.stack_block(entry.before), row) }
    }

    fn row_block(&self, id: u32) -> Block {
        let entry = &self.entries[id as usize];
        let size = &self.rows.order.sizes[entry.added as usize];
        let piece = Block::piece(entry.added as usize, size.w, size.h);
        if entry.before == 0 { piece } else { Block::beside(self.row_block(entry.before), piece) }
    }
}
