//! Strips across the full width: the way yardage is cut. Each strip has the height of its highest piece; lower pieces
//! stand in columns of equal ones.
//!
//! Gilmore and Gomory (1965) for the stages; the sequence of strips by value correction (Mukhacheva et al. 2000).

use std::iter::successors;

use rand::rngs::SmallRng;
use rand::{Rng, SeedableRng};

use crate::cutting::Work;
use crate::cutting::grid::block::Block;
use crate::cutting::grid::order::Size;

/// Most positions along the width that a strip is planned with; finer widths are rounded up to it.
const MOST_POSITIONS: u32 = 2_048;

/// A strip: its height and its columns, each so many pieces of a size, all lying the same way.
#[derive(Clone, Debug)]
struct Strip {
    h: u32,
    columns: Vec<Column>,
}

#[derive(Clone, Copy, Debug)]
struct Column {
    size: usize,
    w: u32,
    h: u32,
    pieces: u32,
}

impl Column {
    fn block(&self) -> Block {
        let one = || Block::piece(self.size, self.w, self.h);
        (1..self.pieces).fold(one(), |below, _| Block::above(below, one()))
    }
}

impl Strip {
    fn block(&self) -> Option<Block> {
        self.columns.iter().map(Column::block).reduce(Block::beside)
    }
}

/// A cutting of all pieces in strips of width `w`, of the least height found, one block a strip; `None` when a piece is too
/// wide. The first of `rounds` takes plain areas as values, the others varied ones.
pub(crate) fn stacked_strips(
    w: u32,
    sizes: &[Size],
    counts: &[u32],
    rounds: u64,
    work: &mut Work,
) -> Option<Vec<Block>> {
    let mut rng = SmallRng::seed_from_u64(1);
    let mut best: Option<Vec<Strip>> = None;
    let height = |strips: &[Strip]| strips.iter().map(|s| u64::from(s.h)).sum::<u64>();
    for round in 0..rounds {
        let values: Vec<u64> = sizes
            .iter()
            .map(|s| s.area() * if round == 0 { 64 } else { rng.random_range(48..=80) })
            .collect();
        let strips = sequence(w, sizes, counts, &values, work)?;
        if best.as_ref().is_none_or(|known| height(&strips) < height(known)) {
            best = Some(strips);
        }
        if work.left() == 0 {
            break;
        }
    }
    Some(best?.iter().filter_map(Strip::block).collect())
}

/// Strips one after the other, each the one of greatest value per height.
fn sequence(w: u32, sizes: &[Size], counts: &[u32], values: &[u64], work: &mut Work) -> Option<Vec<Strip>> {
    let mut left = counts.to_vec();
    let mut strips = Vec::new();
    while left.iter().any(|&n| n > 0) {
        let mut heights: Vec<u32> = (0..sizes.len())
            .filter(|&s| left[s] > 0)
            .flat_map(|s| sizes[s].ways().filter(|way| way.0 <= w).map(|way| way.1))
            .collect();
        heights.sort_unstable();
        heights.dedup();
        let best = heights
            .iter()
            .map(|&h| best_strip(w, h, sizes, &left, values, work))
            .max_by(|(a, x), (b, y)| (a * u64::from(y.h)).cmp(&(b * u64::from(x.h))))?
            .1;
        if best.columns.is_empty() {
            return None;
        }
        // The same strip again as often as pieces last.
        let mut needs = vec![0; sizes.len()];
        for column in &best.columns {
            needs[column.size] += column.pieces;
        }
        while needs.iter().zip(&left).all(|(n, l)| n <= l) {
            for (l, n) in left.iter_mut().zip(&needs) {
                *l -= n;
            }
            strips.push(best.clone());
        }
    }
    Some(strips)
}

/// The strip of height `h` of greatest value: a bounded knapsack of columns along the width.
fn best_strip(w: u32, h: u32, sizes: &[Size], left: &[u32], values: &[u64], work: &mut Work) -> (u64, Strip) {
    let step = w.div_ceil(MOST_POSITIONS).max(1);
    let room = (w / step) as usize;
    let mut best = vec![0u64; room + 1];
    // Columns chosen so far, each with the one before it; for each position the last of those that end there.
    let mut columns: Vec<(Column, Option<usize>)> = Vec::new();
    let mut chosen: Vec<Option<usize>> = vec![None; room + 1];
    for (s, size) in sizes.iter().enumerate() {
        let mut taken = vec![0u32; room + 1];
        for (pw, ph) in size.ways() {
            if pw > w || ph > h || left[s] == 0 {
                continue;
            }
            let width = pw.div_ceil(step) as usize;
            for x in width..=room {
                let used = taken[x - width];
                let pieces = (h / ph).min(left[s] - used.min(left[s]));
                let value = best[x - width] + values[s] * u64::from(pieces);
                if pieces > 0 && value > best[x] {
                    best[x] = value;
                    taken[x] = used + pieces;
                    columns.push((Column { size: s, w: pw, h: ph, pieces }, chosen[x - width]));
                    chosen[x] = Some(columns.len() - 1);
                }
            }
            work.spend(room as u64 * 4);
        }
    }
    let at = (0..=room).rev().max_by_key(|&x| best[x]).unwrap_or(0);
    let mut columns: Vec<Column> =
        successors(chosen[at], |&last| columns[last].1).map(|last| columns[last].0).collect();
    columns.reverse(); // as they were chosen
    let h = columns.iter().map(|c| c.h * c.pieces).max().unwrap_or(h);
    (best[at], Strip { h, columns })
}
