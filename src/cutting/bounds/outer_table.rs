//! The outer table O: the most that can still be won outside a block lying in the corner of the sheet.
//! With it, value so far + O bounds everything a block can grow into.
//!
//! Viswanathan and Bagchi (1993), Hifi (1997); filled over all normal patterns, since blocks end on any of them.

use crate::cutting::Axis;
use crate::cutting::bounds::value_table::Table;
use crate::cutting::grid::raster::Raster;

/// O for every pair of positions of a full [`Table`].
#[derive(Clone, Debug)]
pub(crate) struct OuterTable {
    cells: Vec<i64>,
    xs: Raster,
    ys: Raster,
}

impl OuterTable {
    /// Steps that [`OuterTable::of`] takes.
    pub(crate) fn steps(table: &Table) -> u64 {
        let (x, y) = (table.xs.len() as u64, table.ys.len() as u64);
        x * y * (x + y) / 2
    }

    /// The outer table that belongs to a filled full table.
    pub(crate) fn of(table: &Table) -> OuterTable {
        let (nx, ny) = (table.xs.len(), table.ys.len());
        let mut cells = vec![0; nx * ny];
        let gaps_x = gaps(&table.xs.points, |d| table.xs.floor(d));
        let gaps_y = gaps(&table.ys.points, |d| table.ys.floor(d));
        for i in (0..nx).rev() {
            // Outside to the right: the block grows to x', what is cut off beside it has the block's height.
            let (upto, beyond) = cells.split_at_mut((i + 1) * ny);
            let row = &mut upto[i * ny..];
            if i + 1 < nx {
                row.copy_from_slice(&beyond[..ny]);
            }
            for (k, &gap) in gaps_x[i].iter().enumerate() {
                let gap = gap as usize;
                let outer = &beyond[k * ny..(k + 1) * ny];
                for (j, (cell, o)) in row.iter_mut().zip(outer).enumerate() {
                    *cell = (*cell).max(o + table.cell(gap, j));
                }
            }
            for j in (0..ny).rev() {
                let mut best = row[j];
                if j + 1 < ny {
                    best = best.max(row[j + 1]);
                }
                for (k, &gap) in gaps_y[j].iter().enumerate() {
                    best = best.max(row[j + 1 + k] + table.cell(i, gap as usize));
                }
                row[j] = best;
            }
        }
        OuterTable { cells, xs: table.xs.clone(), ys: table.ys.clone() }
    }

    /// O at a pair of raster indices.
    pub(crate) fn cell(&self, i: usize, j: usize) -> i64 {
        self.cells[i * self.ys.len() + j]
    }

    /// What is cut off beside and above a `w` x `h` block, one after the other, to win what [`OuterTable::at`] says: along
    /// which side the block grows, and the size of what is cut off. `table` as it was when this one was filled.
    pub(crate) fn grown(&self, table: &Table, w: u32, h: u32) -> Vec<(Axis, (u32, u32))> {
        let (mut i, mut j) = (self.xs.floor(w), self.ys.floor(h));
        let mut parts = Vec::new();
        while self.cell(i, j) > 0 {
            let left = self.cell(i, j);
            if i + 1 < self.xs.len() && self.cell(i + 1, j) == left {
                i += 1;
                continue;
            }
            if j + 1 < self.ys.len() && self.cell(i, j + 1) == left {
                j += 1;
                continue;
            }
            let beside = (i + 1..self.xs.len()).find_map(|next| {
                let gap = table.xs.floor(self.xs.points[next] - self.xs.points[i]);
                (self.cell(next, j) + table.cell(gap, j) == left).then_some((next, gap))
            });
            if let Some((next, gap)) = beside {
                parts.push((Axis::Width, (table.xs.points[gap], self.ys.points[j])));
                i = next;
                continue;
            }
            let above = (j + 1..self.ys.len()).find_map(|next| {
                let gap = table.ys.floor(self.ys.points[next] - self.ys.points[j]);
                (self.cell(i, next) + table.cell(i, gap) == left).then_some((next, gap))
            });
            let (next, gap) = above.expect("every value in the table comes from a cut");
            parts.push((Axis::Height, (self.xs.points[i], table.ys.points[gap])));
            j = next;
        }
        parts
    }

    /// O of a `w` x `h` block; `None` when it does not fit into the sheet.
    pub(crate) fn at(&self, w: u32, h: u32) -> Option<i64> {
        if w > self.xs.last() || h > self.ys.last() {
            return None;
        }
        Some(self.cells[self.xs.floor(w) * self.ys.len() + self.ys.floor(h)])
    }
}

/// For every point, the rounded-down distances to each later one.
fn gaps(points: &[u32], floor: impl Fn(u32) -> usize) -> Vec<Vec<u32>> {
    (0..points.len())
        .map(|i| {
            let gap =
                |&later: &u32| u32::try_from(floor(later - points[i])).expect("a raster has few points");
            points[i + 1..].iter().map(gap).collect()
        })
        .collect()
}
