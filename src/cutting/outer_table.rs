//! The outer table O: the most that can still be won outside a block lying in the corner of the sheet.
//! With it, value so far + O bounds everything a block can grow into.
//!
//! Viswanathan and Bagchi (1993), Hifi (1997); filled over all normal patterns, since blocks end on any of them.

use crate::cutting::raster::Raster;
use crate::cutting::value_table::Table;

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
