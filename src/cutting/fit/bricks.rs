//! Bricks: blocks without waste, joined along equal sides only. The builds of Wang (1983) with a waste of nothing.

use std::collections::{HashMap, HashSet};
use std::hash::BuildHasherDefault;

use crate::cutting::grid::block::Block;
use crate::cutting::grid::counts::{Counts, Fields, WordHasher};
use crate::cutting::grid::order::Order;
use crate::cutting::{Axis, Work};

/// How a brick is made.
#[derive(Clone, Copy)]
enum Made {
    Piece(usize),
    Join(Axis, usize, usize),
}

/// A block without waste.
#[derive(Clone, Copy)]
pub(crate) struct Brick<const N: usize> {
    pub(crate) counts: Counts<N>,
    pub(crate) w: u32,
    pub(crate) h: u32,
    made: Made,
}

/// Bricks by one of their sides; looked up, never walked.
type BySide = HashMap<u32, Vec<usize>, BuildHasherDefault<WordHasher>>;

/// The bricks that fit into a sheet, those of fewer pieces first, each multiset of pieces once for each width.
pub(crate) struct Bricks<'a, const N: usize> {
    pub(crate) w: u32,
    pub(crate) h: u32,
    pub(crate) order: &'a Order,
    pub(crate) fields: Fields<N>,
    pub(crate) all: Vec<Brick<N>>,
    /// True when the list holds every brick there is.
    pub(crate) complete: bool,
    /// Joins tried.
    pub(crate) joins: u64,
    /// The bricks of each width, and of each height.
    wide: BySide,
    high: BySide,
    known: HashSet<(Counts<N>, u32), BuildHasherDefault<WordHasher>>,
}

impl<'a, const N: usize> Bricks<'a, N> {
    /// The bricks of `order` within `w` x `h`, about `most` of them at most.
    pub(crate) fn new(
        (w, h): (u32, u32),
        order: &'a Order,
        fields: Fields<N>,
        most: usize,
        work: &mut Work,
    ) -> Bricks<'a, N> {
        let mut bricks = Bricks {
            w,
            h,
            order,
            fields,
            all: Vec::new(),
            complete: false,
            joins: 0,
            wide: BySide::default(),
            high: BySide::default(),
            known: HashSet::default(),
        };
        bricks.complete = bricks.list(most, work);
        bricks
    }

    /// Lists bricks of one piece, two, three and so on; false when work or room ends first.
    fn list(&mut self, most: usize, work: &mut Work) -> bool {
        for (s, size) in self.order.sizes.iter().enumerate() {
            for (w, h) in size.ways() {
                self.add(Brick { counts: self.fields.one(s), w, h, made: Made::Piece(s) });
            }
        }
        // Bricks of n pieces lie from ends[n - 1] to ends[n].
        let mut ends = vec![0, self.all.len()];
        for pieces in 2..=self.order.pieces() as usize {
            for fewer in 1..=pieces / 2 {
                let more = ends[pieces - fewer - 1]..ends[pieces - fewer];
                for a in ends[fewer - 1]..ends[fewer] {
                    let before = self.joins;
                    self.join_with(a, more.start.max(a)..more.end);
                    if !work.spend(5 * (1 + self.joins - before)) || self.all.len() > most {
                        return false;
                    }
                }
            }
            ends.push(self.all.len());
        }
        true
    }

    /// Joins brick `a` with those among `others` that have an equal side.
    fn join_with(&mut self, a: usize, others: std::ops::Range<usize>) {
        let brick = self.all[a];
        for axis in [Axis::Width, Axis::Height] {
            let all = if axis == Axis::Width { self.high(brick.h) } else { self.wide(brick.w) };
            let from = all.partition_point(|&b| b < others.start);
            let to = all.partition_point(|&b| b < others.end);
            let mut new = Vec::new();
            for &b in &all[from..to] {
                let other = &self.all[b];
                let Some(counts) = self.fields.add(brick.counts, other.counts) else { continue };
                let made = Made::Join(axis, a, b);
                let (w, h) = match axis {
                    Axis::Width => (brick.w + other.w, brick.h),
                    Axis::Height => (brick.w, brick.h + other.h),
                };
                new.push(Brick { counts, w, h, made });
            }
            self.joins += (to - from) as u64;
            new.into_iter().for_each(|brick| self.add(brick));
        }
    }

    /// Lists a brick if it fits the sheet and is new; its height follows from its area.
    fn add(&mut self, brick: Brick<N>) {
        if brick.w <= self.w && brick.h <= self.h && self.known.insert((brick.counts, brick.w)) {
            let id = self.all.len();
            self.wide.entry(brick.w).or_default().push(id);
            self.high.entry(brick.h).or_default().push(id);
            self.all.push(brick);
        }
    }

    /// Bricks of this width, in the order of the list.
    pub(crate) fn wide(&self, w: u32) -> &[usize] {
        self.wide.get(&w).map_or(&[], Vec::as_slice)
    }

    /// Bricks of this height, in the order of the list.
    pub(crate) fn high(&self, h: u32) -> &[usize] {
        self.high.get(&h).map_or(&[], Vec::as_slice)
    }

    /// The block that a brick is.
    pub(crate) fn block(&self, id: usize) -> Block {
        let brick = &self.all[id];
        match brick.made {
            Made::Piece(size) => Block::piece(size, brick.w, brick.h),
            Made::Join(Axis::Width, a, b) => Block::beside(self.block(a), self.block(b)),
            Made::Join(Axis::Height, a, b) => Block::above(self.block(a), self.block(b)),
        }
    }
}
