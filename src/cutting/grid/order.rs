//! The pieces asked for, on a grid of small whole numbers: the greatest common divisor of all sides is one.
//! Every useful cut lies at a sum of piece sides, so a sheet's side may be rounded down to the grid.

use crate::cutting::{Kind, Sheet};
use crate::length::Length;

/// A size of piece on the grid.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) struct Size {
    pub(crate) w: u32,
    pub(crate) h: u32,
    /// Two ways to lie.
    pub(crate) turn: bool,
}

impl Size {
    /// The one or two ways the piece may lie, as (width, height).
    pub(crate) fn ways(self) -> impl Iterator<Item = (u32, u32)> {
        let turned = (self.turn && self.w != self.h).then_some((self.h, self.w));
        std::iter::once((self.w, self.h)).chain(turned)
    }

    /// Has a `w` x `h` rectangle room for one?
    pub(crate) fn fits(self, w: u32, h: u32) -> bool {
        self.ways().any(|(a, b)| a <= w && b <= h)
    }

    pub(crate) fn area(self) -> u64 {
        u64::from(self.w) * u64::from(self.h)
    }
}

/// What is to be cut: sizes with counts, and which of the caller's kinds each size stands for.
#[derive(Clone, Debug)]
pub(crate) struct Order {
    /// Ticks to one grid step.
    pub(crate) unit: i64,
    pub(crate) sizes: Vec<Size>,
    pub(crate) counts: Vec<u32>,
    /// For every size: the caller's kinds of that size and how many of each.
    pub(crate) members: Vec<Vec<(usize, u32)>>,
}

impl Order {
    /// The kinds with a count, those of equal size merged: for questions of fit.
    pub(crate) fn merged(kinds: &[Kind], counts: &[u32]) -> Order {
        Order::build(kinds, counts, |_, _| true)
    }

    /// As [`Order::merged`], but only kinds that are `alike`.
    pub(crate) fn merged_if(kinds: &[Kind], counts: &[u32], alike: impl Fn(usize, usize) -> bool) -> Order {
        Order::build(kinds, counts, alike)
    }

    /// The kinds with a count, one size each: for questions where equal sizes may differ in value.
    pub(crate) fn apart(kinds: &[Kind], counts: &[u32]) -> Order {
        Order::build(kinds, counts, |_, _| false)
    }

    fn build(kinds: &[Kind], counts: &[u32], alike: impl Fn(usize, usize) -> bool) -> Order {
        let wanted: Vec<usize> = (0..kinds.len()).filter(|&k| counts[k] > 0).collect();
        let unit =
            wanted.iter().fold(0, |unit, &k| gcd(gcd(unit, kinds[k].width.ticks()), kinds[k].height.ticks()));
        let mut order =
            Order { unit: unit.max(1), sizes: Vec::new(), counts: Vec::new(), members: Vec::new() };
        for k in wanted {
            let size = order.size(&kinds[k]);
            let same = |at: &usize| order.sizes[*at] == size && alike(order.members[*at][0].0, k);
            match (0..order.sizes.len()).find(same) {
                Some(at) => {
                    order.counts[at] += counts[k];
                    order.members[at].push((k, counts[k]));
                }
                None => {
                    order.sizes.push(size);
                    order.counts.push(counts[k]);
                    order.members.push(vec![(k, counts[k])]);
                }
            }
        }
        order
    }

    fn size(&self, kind: &Kind) -> Size {
        let (w, h) = (self.floor(kind.width), self.floor(kind.height));
        let turn = kind.turn && w != h;
        if turn { Size { w: w.max(h), h: w.min(h), turn } } else { Size { w, h, turn } }
    }

    /// The sizes of which `counts` wants some, and the index each had.
    pub(crate) fn only(&self, counts: &[u32]) -> (Order, Vec<usize>) {
        let kept: Vec<usize> = (0..counts.len()).filter(|&s| counts[s] > 0).collect();
        let order = Order {
            unit: self.unit,
            sizes: kept.iter().map(|&s| self.sizes[s]).collect(),
            counts: kept.iter().map(|&s| counts[s]).collect(),
            members: kept.iter().map(|&s| self.members[s].clone()).collect(),
        };
        (order, kept)
    }

    /// Whole grid steps in `length`.
    pub(crate) fn floor(&self, length: Length) -> u32 {
        u32::try_from((length.ticks() / self.unit).max(0)).expect("no fabric is 2^32 grid steps long")
    }

    /// Both sides of a sheet in whole grid steps.
    pub(crate) fn sheet(&self, sheet: Sheet) -> (u32, u32) {
        (self.floor(sheet.width), self.floor(sheet.height))
    }

    /// `steps` of the grid as a length.
    pub(crate) fn length(&self, steps: u32) -> Length {
        Length::from_ticks(i64::from(steps) * self.unit)
    }

    /// Area of all pieces, in grid squares.
    pub(crate) fn area(&self) -> u64 {
        self.sizes.iter().zip(&self.counts).map(|(s, &n)| s.area() * u64::from(n)).sum()
    }

    /// Number of pieces.
    pub(crate) fn pieces(&self) -> u32 {
        self.counts.iter().sum()
    }
}

/// Greatest common divisor; of 0 and x it is x.
pub(crate) fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a.abs() } else { gcd(b, a % b) }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kind(w: i64, h: i64, turn: bool) -> Kind {
        Kind { width: Length::from_eighths(w), height: Length::from_eighths(h), turn }
    }

    #[test]
    fn equal_sizes_are_merged_and_the_grid_is_as_coarse_as_it_can_be() {
        let order = Order::merged(
            &[kind(4, 6, true), kind(6, 4, true), kind(10, 10, false), kind(1, 1, true)],
            &[1, 2, 3, 0],
        );
        assert_eq!(order.unit, Length::from_eighths(2).ticks());
        assert_eq!(order.sizes, [Size { w: 3, h: 2, turn: true }, Size { w: 5, h: 5, turn: false }]);
        assert_eq!(order.counts, [3, 3]);
        assert_eq!(order.floor(Length::from_eighths(15)), 7);
    }
}
