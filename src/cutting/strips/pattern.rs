//! Ways of filling one strip: columns side by side, each of equal pieces.

use crate::cutting::Work;
use crate::cutting::grid::block::Block;
use crate::cutting::grid::order::Size;
use crate::cutting::strips::Style;

/// Equal pieces one above the other, all lying the same way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Column {
    pub(crate) size: usize,
    pub(crate) w: u32,
    pub(crate) h: u32,
    pub(crate) pieces: u32,
}

impl Column {
    fn block(&self) -> Block {
        let one = || Block::piece(self.size, self.w, self.h);
        (1..self.pieces).fold(one(), |below, _| Block::above(below, one()))
    }
}

/// A strip: its height and its columns.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Pattern {
    pub(crate) h: u32,
    pub(crate) columns: Vec<Column>,
}

impl Pattern {
    /// Its pieces, joined; nothing where it holds none.
    pub(crate) fn block(&self) -> Option<Block> {
        self.columns.iter().map(Column::block).reduce(Block::beside)
    }

    /// How many of each of `sizes` sizes it holds.
    pub(crate) fn counts(&self, sizes: usize) -> Vec<u32> {
        let mut counts = vec![0; sizes];
        for column in &self.columns {
            counts[column.size] += column.pieces;
        }
        counts
    }

    /// How many ruler settings the cross-cuts take.
    pub(crate) fn settings(&self) -> usize {
        let mut widths: Vec<(u32, u32)> = self.columns.iter().map(|column| (column.w, column.h)).collect();
        widths.sort_unstable();
        widths.dedup();
        widths.len()
    }
}

/// The heights that strips may have: those of pieces that are left, as they may lie across `w`.
pub(crate) fn heights(w: u32, sizes: &[Size], left: &[u32]) -> Vec<u32> {
    let wanted = sizes.iter().zip(left).filter(|(_, n)| **n > 0);
    let mut heights: Vec<u32> =
        wanted.flat_map(|(size, _)| size.ways().filter(|way| way.0 <= w).map(|way| way.1)).collect();
    heights.sort_unstable_by(|a, b| b.cmp(a));
    heights.dedup();
    heights
}

/// The columns that may stand in a strip `w` wide and `h` high, the widest first.
pub(crate) fn columns(w: u32, h: u32, sizes: &[Size], left: &[u32], style: Style) -> Vec<Column> {
    let mut columns = Vec::new();
    for (size, of) in sizes.iter().enumerate().filter(|(size, _)| left[*size] > 0) {
        for (pw, ph) in of.ways().filter(|way| way.0 <= w && way.1 <= h) {
            let pieces = match style {
                Style::Plain if ph < h => continue,
                Style::Plain | Style::Mixed => 1,
                Style::Stacked => (h / ph).min(left[size]),
            };
            columns.push(Column { size, w: pw, h: ph, pieces });
        }
    }
    columns.sort_by_key(|column| (std::cmp::Reverse((column.w, column.h)), column.size));
    columns
}

/// Every way to fill a strip `w` wide and `h` high to which no column can be added, with at least one piece of its
/// height; `None` where they are more than `most`.
pub(crate) fn every(
    w: u32,
    h: u32,
    sizes: &[Size],
    left: &[u32],
    style: Style,
    most: usize,
    work: &mut Work,
) -> Option<Vec<Pattern>> {
    let columns = columns(w, h, sizes, left, style);
    let left = left.iter().map(|&n| i64::from(n)).collect();
    let mut listing = Listing { h, columns: &columns, left, chosen: Vec::new(), all: Vec::new(), most };
    listing.from(0, w, work).then_some(listing.all)
}

struct Listing<'a> {
    h: u32,
    columns: &'a [Column],
    /// Below zero where the last column holds more than is wanted.
    left: Vec<i64>,
    chosen: Vec<Column>,
    all: Vec<Pattern>,
    most: usize,
}

impl Listing<'_> {
    /// False as soon as there are too many, or the work has ended.
    fn from(&mut self, at: usize, room: u32, work: &mut Work) -> bool {
        work.spend(4 + self.columns.len() as u64);
        if work.left() == 0 {
            return false;
        }
        let Some(&column) = self.columns.get(at) else {
            let more = self.columns.iter().any(|c| c.w <= room && self.left[c.size] > 0);
            if !more && self.chosen.iter().any(|c| c.h == self.h) {
                self.all.push(Pattern { h: self.h, columns: self.chosen.clone() });
            }
            return self.all.len() <= self.most;
        };
        let pieces = i64::from(column.pieces);
        let wanted = u32::try_from((self.left[column.size].max(0) + pieces - 1) / pieces).unwrap_or(u32::MAX);
        for taken in (0..=(room / column.w).min(wanted)).rev() {
            self.left[column.size] -= i64::from(taken) * pieces;
            self.chosen.extend((0..taken).map(|_| column));
            let within = self.from(at + 1, room - taken * column.w, work);
            self.chosen.truncate(self.chosen.len() - taken as usize);
            self.left[column.size] += i64::from(taken) * pieces;
            if !within {
                return false;
            }
        }
        true
    }
}

/// Most positions along the width that a strip is priced at; a finer grid is not.
const MOST_POSITIONS: u32 = 6_000;

/// The strip `w` wide and `h` high whose pieces are worth most, no size taken more often than `left` in one way of lying, and
/// its worth; `None` where nothing goes in, or the grid is too fine. Where a size may lie two ways each counts its own
/// limit, so the worth is never below that of any strip that keeps the limits; the strip itself keeps them.
///
/// A knapsack with limited copies, by doubling (Martello and Toth 1990).
pub(crate) fn richest(
    w: u32,
    h: u32,
    sizes: &[Size],
    left: &[u32],
    style: Style,
    values: &[i64],
    work: &mut Work,
) -> Option<(i64, Pattern)> {
    if w > MOST_POSITIONS {
        return None;
    }
    let room = w as usize;
    let mut worth = vec![0i64; room + 1];
    // For every parcel of columns, at which positions it was taken.
    let mut parcels: Vec<(Column, u32, Vec<bool>)> = Vec::new();
    for column in columns(w, h, sizes, left, style) {
        let value = values[column.size].checked_mul(i64::from(column.pieces))?;
        let mut rest = (w / column.w).min(left[column.size].div_ceil(column.pieces));
        let mut next = 1;
        while rest > 0 && value > 0 {
            let times = next.min(rest);
            rest -= times;
            next *= 2;
            let (width, gain) = ((times * column.w) as usize, value.checked_mul(i64::from(times))?);
            let mut taken = vec![false; room + 1];
            for x in (width..=room).rev() {
                let with = worth[x - width] + gain;
                if with > worth[x] {
                    worth[x] = with;
                    taken[x] = true;
                }
            }
            work.spend(room as u64);
            parcels.push((column, times, taken));
        }
    }
    let mut at = room;
    let mut limits = left.to_vec();
    let mut chosen = Vec::new();
    for (column, times, taken) in parcels.iter().rev() {
        if taken[at] {
            at -= (times * column.w) as usize;
            for _ in 0..*times {
                let pieces = column.pieces.min(limits[column.size]);
                limits[column.size] -= pieces;
                if pieces > 0 {
                    chosen.push(Column { pieces, ..*column });
                }
            }
        }
    }
    chosen.sort_by_key(|column| (std::cmp::Reverse((column.w, column.h)), column.size));
    let high = chosen.iter().map(|column| column.h * column.pieces).max()?;
    Some((worth[room], Pattern { h: high, columns: chosen }))
}
