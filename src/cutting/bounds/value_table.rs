//! The value table U: the most that a rectangle is worth when every piece may be cut as often as wanted.
//! An upper bound for any cutting with limited counts, and the pricing problem of column generation.
//!
//! Dynamic programme of Gilmore and Gomory (1966) and Beasley (1985) on the reduced raster of
//! Terno, Lindemann and Scheithauer (1987).

use crate::cutting::grid::block::Block;
use crate::cutting::grid::order::{Order, Size};
use crate::cutting::grid::raster::{Along, Raster, normal_patterns, reduced};
use crate::cutting::{Kind, Sheet};

/// Most points on one axis: keeps the index tables of [`Table`] in tens of megabytes.
const MOST_POINTS: usize = 6_000;
/// Most cells of a table (8 bytes each).
const MOST_CELLS: usize = 8_000_000;
/// Most turns of the inner loop that [`value_bound`] may take before it falls back to value per area.
const MOST_STEPS: u64 = 4_000_000_000;

/// A number that cells are filled with.
trait Cell: Copy + Ord + Default {
    fn plus(self, other: Self) -> Self;
}

impl Cell for i64 {
    fn plus(self, other: i64) -> i64 {
        self + other
    }
}

impl Cell for i32 {
    /// Without a check, which would keep the machine from adding several at a time: see [`Table::narrow`].
    fn plus(self, other: i32) -> i32 {
        self.wrapping_add(other)
    }
}

/// U over a grid of positions, for one sheet and one list of sizes; the values may change from filling to filling.
#[derive(Clone, Debug)]
pub(crate) struct Table {
    pub(crate) xs: Raster,
    pub(crate) ys: Raster,
    /// `less_x[i][j]` = index of the largest point not above `xs[i] - xs[j]`, for all j up to half of `xs[i]`.
    less_x: Vec<Vec<u32>>,
    less_y: Vec<Vec<u32>>,
    /// First cell that holds each way of each size: (x index, y index, size, area), by x index.
    places: Vec<(usize, usize, usize, i64)>,
    cells: Vec<i64>,
}

impl Table {
    /// A table for the reduced raster of a `w` x `h` sheet: exact for the whole sheet. `None` when too large.
    /// The raster needs sums of unlimited copies: with limits, what is seen from the far edge may be missing near it.
    pub(crate) fn reduced(w: u32, h: u32, sizes: &[Size]) -> Option<Table> {
        let xs = normal_patterns(sizes, None, Along::Width, w, h, MOST_POINTS * 4)?;
        let ys = normal_patterns(sizes, None, Along::Height, h, w, MOST_POINTS * 4)?;
        Table::on(reduced(&xs, w), reduced(&ys, h), sizes)
    }

    /// The quicker to fill of the two tables whose whole is an upper bound for at most `counts` pieces of each size.
    pub(crate) fn quicker(w: u32, h: u32, sizes: &[Size], counts: &[u32]) -> Option<Table> {
        let (a, b) = (Table::reduced(w, h, sizes), Table::full(w, h, sizes, Some(counts)));
        a.into_iter().chain(b).min_by_key(Table::steps)
    }

    /// A table for all normal patterns of a `w` x `h` sheet: exact for every smaller rectangle as well.
    pub(crate) fn full(w: u32, h: u32, sizes: &[Size], counts: Option<&[u32]>) -> Option<Table> {
        let xs = normal_patterns(sizes, counts, Along::Width, w, h, MOST_POINTS)?;
        let ys = normal_patterns(sizes, counts, Along::Height, h, w, MOST_POINTS)?;
        Table::on(xs, ys, sizes)
    }

    fn on(xs: Raster, ys: Raster, sizes: &[Size]) -> Option<Table> {
        if xs.len() > MOST_POINTS || ys.len() > MOST_POINTS || xs.len() * ys.len() > MOST_CELLS {
            return None;
        }
        let mut places: Vec<(usize, usize, usize, i64)> = sizes
            .iter()
            .enumerate()
            .flat_map(|(s, size)| size.ways().map(move |way| (s, way)))
            .filter_map(|(s, (w, h))| Some((xs.ceil(w)?, ys.ceil(h)?, s, i64::from(w) * i64::from(h))))
            .collect();
        places.sort_unstable();
        let cells = vec![0; xs.len() * ys.len()];
        Some(Table { less_x: halves(&xs), less_y: halves(&ys), xs, ys, places, cells })
    }

    /// A table over the same positions for other sizes, whose sides are sums of those before.
    pub(crate) fn holding(&self, sizes: &[Size]) -> Option<Table> {
        Table::on(self.xs.clone(), self.ys.clone(), sizes)
    }

    /// Turns of the inner loop that one filling takes.
    pub(crate) fn steps(&self) -> u64 {
        let (x, y) = (self.xs.len() as u64, self.ys.len() as u64);
        let splits = |less: &[Vec<u32>]| less.iter().map(|l| l.len() as u64).sum::<u64>();
        splits(&self.less_x) * y + splits(&self.less_y) * x + x * y
    }

    /// Fills the table for `values`, one a size, none negative.
    pub(crate) fn fill(&mut self, values: &[i64]) {
        let mut cells = std::mem::take(&mut self.cells);
        match self.narrow(values) {
            // Half as wide numbers are added several at a time.
            Some(narrow) => {
                let mut small = vec![0; cells.len()];
                self.fill_cells(&mut small, &narrow);
                cells.iter_mut().zip(small).for_each(|(cell, value)| *cell = i64::from(value));
            }
            None => self.fill_cells(&mut cells, values),
        }
        self.cells = cells;
    }

    /// The values as narrow numbers, if whatever is cut is worth a narrow number: at most the whole area at the best
    /// value for its area. Sizes without a place count nothing, whatever they are worth.
    fn narrow(&self, values: &[i64]) -> Option<Vec<i32>> {
        let whole = i128::from(self.xs.last()) * i128::from(self.ys.last());
        let fits = |&(_, _, s, area): &(usize, usize, usize, i64)| {
            i128::from(values[s]) * whole / i128::from(area.max(1)) < i128::from(i32::MAX)
        };
        // A size that has a place is worth no more than the whole, so only others are too large for a narrow number.
        let narrow = || values.iter().map(|&v| i32::try_from(v).unwrap_or(0)).collect();
        self.places.iter().all(fits).then(narrow)
    }

    fn fill_cells<T: Cell>(&self, cells: &mut [T], values: &[T]) {
        let ny = self.ys.len();
        let mut next_place = 0;
        // Where the value of the row rises: a cut anywhere else may be moved to the rise before it.
        let mut rises: Vec<usize> = Vec::new();
        for i in 0..self.xs.len() {
            let (before, rest) = cells.split_at_mut(i * ny);
            let row = &mut rest[..ny];
            match i.checked_sub(1) {
                Some(left) => row.copy_from_slice(&before[left * ny..]),
                None => row.fill(T::default()),
            }
            while let Some(&(x, y, size, _)) = self.places.get(next_place).filter(|place| place.0 == i) {
                debug_assert_eq!(x, i);
                row[y] = row[y].max(values[size]);
                next_place += 1;
            }
            for (j, &k) in self.less_x[i].iter().enumerate().skip(1) {
                let k = k as usize;
                let (a, b) = (&before[j * ny..(j + 1) * ny], &before[k * ny..(k + 1) * ny]);
                for ((cell, a), b) in row.iter_mut().zip(a).zip(b) {
                    *cell = (*cell).max(a.plus(*b));
                }
            }
            rises.clear();
            for y in 1..ny {
                let mut best = row[y].max(row[y - 1]);
                let highs = &self.less_y[y];
                for &low in rises.iter().take_while(|&&low| low < highs.len()) {
                    best = best.max(row[low].plus(row[highs[low] as usize]));
                }
                if best > row[y - 1] {
                    rises.push(y);
                }
                row[y] = best;
            }
        }
    }

    /// Value at a pair of raster indices.
    pub(crate) fn cell(&self, i: usize, j: usize) -> i64 {
        self.cells[i * self.ys.len() + j]
    }

    /// The pieces whose smallest cell is this one, as (size, width, height).
    pub(crate) fn placed(&self, i: usize, j: usize, sizes: &[Size]) -> Vec<(usize, u32, u32)> {
        let from = self.places.partition_point(|p| (p.0, p.1) < (i, j));
        let here = self.places[from..].iter().take_while(|p| (p.0, p.1) == (i, j));
        here.filter_map(|&(_, _, s, _)| {
            let lies = |&(w, h): &(u32, u32)| self.xs.ceil(w) == Some(i) && self.ys.ceil(h) == Some(j);
            sizes[s].ways().find(lies).map(|(w, h)| (s, w, h))
        })
        .collect()
    }

    /// The cuts across x index `i`: index of the smaller part and of the rest.
    pub(crate) fn splits_x(&self, i: usize) -> impl Iterator<Item = (usize, usize)> {
        self.less_x[i].iter().enumerate().skip(1).map(|(a, &b)| (a, b as usize))
    }

    /// The cuts across y index `j`: index of the smaller part and of the rest.
    pub(crate) fn splits_y(&self, j: usize) -> impl Iterator<Item = (usize, usize)> {
        self.less_y[j].iter().enumerate().skip(1).map(|(a, &b)| (a, b as usize))
    }

    /// Value of the whole sheet.
    pub(crate) fn whole(&self) -> i64 {
        *self.cells.last().expect("0 is always a point")
    }

    /// Value of a `w` x `h` rectangle, rounded down to the raster: exact for the whole sheet, and for smaller ones
    /// when the table is full.
    pub(crate) fn at(&self, w: u32, h: u32) -> i64 {
        self.cell(self.xs.floor(w), self.ys.floor(h))
    }

    /// A block worth [`Table::at`] of a rectangle.
    pub(crate) fn block_at(&self, w: u32, h: u32, values: &[i64], sizes: &[Size]) -> Option<Block> {
        self.trace(self.xs.floor(w), self.ys.floor(h), values, sizes)
    }

    /// A block worth [`Table::whole`], or `None` when nothing is worth cutting. `values` as filled.
    pub(crate) fn block(&self, values: &[i64], sizes: &[Size]) -> Option<Block> {
        self.trace(self.xs.len() - 1, self.ys.len() - 1, values, sizes)
    }

    fn trace(&self, mut i: usize, mut j: usize, values: &[i64], sizes: &[Size]) -> Option<Block> {
        let value = self.cell(i, j);
        if value == 0 {
            return None;
        }
        // Smallest rectangle with this value first, so that waste is left at the edges.
        while i > 0 && self.cell(i - 1, j) == value {
            i -= 1;
        }
        while j > 0 && self.cell(i, j - 1) == value {
            j -= 1;
        }
        for (s, size) in sizes.iter().enumerate() {
            if values[s] == value {
                for (w, h) in size.ways() {
                    if w <= self.xs.points[i] && h <= self.ys.points[j] {
                        return Some(Block::piece(s, w, h));
                    }
                }
            }
        }
        for (a, &b) in self.less_x[i].iter().enumerate().skip(1) {
            let b = b as usize;
            if self.cell(a, j) + self.cell(b, j) == value {
                let (a, b) = (self.trace(a, j, values, sizes), self.trace(b, j, values, sizes));
                return Block::join(crate::cutting::Axis::Width, a, b);
            }
        }
        for (a, &b) in self.less_y[j].iter().enumerate().skip(1) {
            let b = b as usize;
            if self.cell(i, a) + self.cell(i, b) == value {
                let (a, b) = (self.trace(i, a, values, sizes), self.trace(i, b, values, sizes));
                return Block::join(crate::cutting::Axis::Height, a, b);
            }
        }
        unreachable!("every value in the table comes from a piece or from a cut")
    }
}

/// For every point the partners of the cuts up to its half.
fn halves(raster: &Raster) -> Vec<Vec<u32>> {
    let points = &raster.points;
    points
        .iter()
        .map(|&x| {
            points
                .iter()
                .take_while(|&&p| p <= x / 2)
                .map(|&p| u32::try_from(raster.floor(x - p)).expect("a raster has few points"))
                .collect()
        })
        .collect()
}

/// Value bounds of one sheet for changing values: built once, asked often.
#[derive(Clone, Debug)]
pub struct ValueTable {
    order: Order,
    /// Width and height on the grid.
    sheet: (u32, u32),
    table: Option<Table>,
    kinds: usize,
}

impl ValueTable {
    /// A table for cutting any number of `kinds` from `sheet`.
    pub fn new(sheet: Sheet, kinds: &[Kind]) -> ValueTable {
        let order = Order::apart(kinds, &vec![1; kinds.len()]);
        let (w, h) = order.sheet(sheet);
        let table = Table::reduced(w, h, &order.sizes).filter(|t| t.steps() <= MOST_STEPS);
        ValueTable { sheet: (w, h), order, table, kinds: kinds.len() }
    }

    /// The most that any straight cutting of the sheet is worth, when a piece of kind `k` is worth `values[k]`.
    /// Negative values count as nothing. Exact unless the table is too large, else an upper bound by value per area.
    ///
    /// # Panics
    /// When `values` has not one value a kind.
    pub fn bound(&mut self, values: &[i64]) -> i64 {
        assert_eq!(values.len(), self.kinds, "one value a kind");
        let values: Vec<i64> = values.iter().map(|v| (*v).max(0)).collect();
        match &mut self.table {
            Some(table) => {
                table.fill(&values);
                table.whole()
            }
            None => by_density(self.sheet, &self.order.sizes, &values),
        }
    }

    /// Turns of the inner loop that one bound takes; 0 where there is no table.
    pub fn steps(&self) -> u64 {
        self.table.as_ref().map_or(0, Table::steps)
    }

    /// How many pieces of each kind the cutting holds that the last bound was worth; `None` without a table.
    pub fn counts(&self, values: &[i64]) -> Option<Vec<u32>> {
        let mut counts = vec![0; self.kinds];
        let values: Vec<i64> = values.iter().map(|v| (*v).max(0)).collect();
        if let Some(block) = self.table.as_ref()?.block(&values, &self.order.sizes) {
            for (kind, count) in counts.iter_mut().zip(block.counts(self.kinds)) {
                *kind = count;
            }
        }
        Some(counts)
    }
}

/// Area of a `w` x `h` sheet times the best value per area of the sizes that have a place on it, rounded down (a sum of
/// whole values is whole).
pub(crate) fn by_density((w, h): (u32, u32), sizes: &[Size], values: &[i64]) -> i64 {
    let area = i128::from(w) * i128::from(h);
    let placed = values.iter().zip(sizes).filter(|(_, size)| size.fits(w, h));
    let each = placed.map(|(&value, size)| i128::from(value) * area / i128::from(size.area().max(1)));
    i64::try_from(each.max().unwrap_or(0)).unwrap_or(i64::MAX)
}

/// The most that any straight cutting of `sheet` is worth with unlimited copies of every kind: see [`ValueTable`],
/// which is quicker when the same sheet and kinds are asked about again.
pub fn value_bound(sheet: Sheet, kinds: &[Kind], values: &[i64]) -> i64 {
    ValueTable::new(sheet, kinds).bound(values)
}

#[cfg(test)]
mod tests {
    use rand::rngs::SmallRng;
    use rand::{Rng, SeedableRng};

    use super::*;

    /// What has no place on the sheet makes neither its numbers wide nor its bound weak.
    #[test]
    fn sizes_larger_than_the_sheet_count_nothing_whatever_they_are_worth() {
        let size = |w, h| Size { w, h, turn: true };
        let sizes = [size(90, 3), size(7, 5), size(4, 4)];
        let values = [i64::MAX / 4, 36, 15];
        let Some(mut table) = Table::full(40, 30, &sizes, None) else { panic!("it is small") };
        assert!(table.narrow(&values).is_some());
        table.fill(&values);
        let with = (table.whole(), table.block(&values, &sizes).map(|block| block.counts(3)));
        table.fill(&[0, 36, 15]);
        assert_eq!(with, (table.whole(), table.block(&[0, 36, 15], &sizes).map(|block| block.counts(3))));
        let (_, counts) = with;
        assert!(counts.is_some_and(|counts| counts[0] == 0 && counts[1] > 0));
        assert_eq!(by_density((40, 30), &sizes, &values), 36 * 40 * 30 / 35);
        assert_eq!(by_density((40, 30), &sizes[..1], &values), 0);
    }

    #[test]
    fn narrow_and_wide_numbers_fill_alike_and_cuts_at_every_point_gain_nothing() {
        let mut rng = SmallRng::seed_from_u64(8);
        for _ in 0..50 {
            let mut side = || rng.random_range(3..=14);
            let sizes: Vec<Size> = (0..5).map(|s| Size { w: side(), h: side(), turn: s % 2 == 0 }).collect();
            let values: Vec<i64> = sizes.iter().map(|_| rng.random_range(0..50)).collect();
            let Some(mut table) = Table::full(40, 30, &sizes, None) else { panic!("it is small") };
            table.fill(&values);
            let narrow = table.cells.clone();
            table.fill(&values.iter().map(|v| v << 40).collect::<Vec<i64>>());
            assert!(table.cells.iter().zip(&narrow).all(|(wide, n)| *wide == n << 40));
            for i in 0..table.xs.len() {
                for j in 0..table.ys.len() {
                    let split = |(a, b): (usize, usize)| table.cell(i, a) + table.cell(i, b);
                    assert!(table.splits_y(j).map(split).all(|sum| sum <= table.cell(i, j)));
                    let split = |(a, b): (usize, usize)| table.cell(a, j) + table.cell(b, j);
                    assert!(table.splits_x(i).map(split).all(|sum| sum <= table.cell(i, j)));
                }
            }
        }
    }
}
