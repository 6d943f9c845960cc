//! One sheet filled with single pieces and with sets whose pieces may lie anywhere in it, or in other sheets beside it.
//!
//! Of a few sets at a time the table keeps what their pieces lack to whole sets: an element of a small group, to which
//! every piece adds and a whole set adds nothing (states after Christofides, Mingozzi and Toth 1981). What lacks nothing
//! is whole, for a set of one size surely, for one of several but for freak counts.

use rand::Rng;
use rand::seq::SliceRandom;

use crate::cutting::bounds::value_table::Table;
use crate::cutting::grid::block::{Block, layout};
use crate::cutting::grid::order::Order;
use crate::cutting::{Axis, Kind, Layout, Sheet};

/// What no cell is worth less than, when there is a way to reach it at all.
const NO_WAY: i32 = i32::MIN / 2;
/// A whole sheet is worth at most so much, in the numbers of the cells.
const MOST_WORTH: i128 = 1 << 27;

/// Pieces that belong together: (kind, count).
pub(crate) type Set = Vec<(usize, u32)>;

/// A product of cyclic groups, one for each of a few sets. Elements are numbered from 0, which lacks nothing.
pub(crate) struct Lacks {
    /// The sum of two elements, by both.
    plus: Vec<Vec<usize>>,
    /// What each element lacks to nothing.
    rest: Vec<usize>,
    /// By set, by its needs: what a piece adds. `None` for a set that is left out.
    adds: Vec<Option<Vec<usize>>>,
}

impl Lacks {
    /// For single pieces and some of `sets`, drawn at random, with at most `most` elements.
    pub(crate) fn of_some(sets: &[Set], most: usize, random: &mut impl Rng) -> Lacks {
        let mut drawn: Vec<usize> = (0..sets.len()).filter(|&set| pieces(&sets[set]) > 1).collect();
        drawn.shuffle(random);
        let mut adds: Vec<Option<Vec<usize>>> =
            sets.iter().map(|set| (pieces(set) == 1).then(|| vec![0])).collect();
        let mut orders: Vec<usize> = Vec::new();
        let mut all = 1;
        for set in drawn {
            let order = order(&sets[set]);
            if all * order <= most {
                adds[set] =
                    Some(elements(&sets[set], order, random).into_iter().map(|one| one * all).collect());
                orders.push(order);
                all *= order;
            }
        }
        let sum = |mut a: usize, mut b: usize| {
            let mut digit = 1;
            let mut sum = 0;
            for order in &orders {
                sum += (a + b) % order * digit;
                (a, b, digit) = (a / order, b / order, digit * order);
            }
            sum
        };
        let plus: Vec<Vec<usize>> = (0..all).map(|a| (0..all).map(|b| sum(a, b)).collect()).collect();
        let rest = |sums: &Vec<usize>| sums.iter().position(|&sum| sum == 0).expect("it is a group");
        Lacks { rest: plus.iter().map(rest).collect(), plus, adds }
    }

    /// How many elements there are.
    pub(crate) fn len(&self) -> usize {
        self.plus.len()
    }

    /// The most that two parts of a print are worth together, by what they lack together, with what the first lacks for
    /// that.
    pub(crate) fn join(&self, one: &[Option<i128>], other: &[Option<i128>]) -> Vec<Option<(i128, usize)>> {
        let mut most = vec![None; self.len()];
        for (a, one) in one.iter().enumerate() {
            for (b, other) in other.iter().enumerate() {
                if let (Some(one), Some(other)) = (one, other) {
                    let to = &mut most[self.plus[a][b]];
                    *to = (*to).max(Some((one + other, a)));
                }
            }
        }
        most
    }

    /// What is `all` together with `part`.
    pub(crate) fn rest_of(&self, all: usize, part: usize) -> usize {
        self.plus[all][self.rest[part]]
    }
}

fn pieces(set: &Set) -> u32 {
    set.iter().map(|&(_, n)| n).sum()
}

/// The order of the group for one set: its count where all its pieces are alike, else a prime above it.
fn order(set: &Set) -> usize {
    let all = pieces(set) as usize;
    let prime = |&p: &usize| (2..p).all(|q| p % q != 0);
    if set.len() == 1 { all } else { (all + 1..).find(prime).expect("there is always a larger prime") }
}

/// What a piece of each need adds, so that the whole set adds nothing.
fn elements(set: &Set, order: usize, random: &mut impl Rng) -> Vec<usize> {
    let [first, others @ ..] = &set[..] else { return Vec::new() };
    let others_add: Vec<usize> = others.iter().map(|_| random.random_range(1..order)).collect();
    let sum: usize = others.iter().zip(&others_add).map(|(&(_, n), &adds)| n as usize * adds).sum();
    let follows = |&adds: &usize| (sum + first.1 as usize * adds).is_multiple_of(order);
    let first = if others.is_empty() { 1 } else { (0..order).find(follows).expect("a prime has inverses") };
    std::iter::once(first).chain(others_add).collect()
}

/// The most that a sheet is worth, by what all that is cut from it lacks. Built once, filled again and again.
pub(crate) struct SetTable {
    sheet: Sheet,
    /// A kind for every need of every set that the sheet has room for, and whose it is.
    kinds: Vec<Kind>,
    needs: Vec<(usize, usize)>,
    order: Order,
    grid: Table,
    /// By need: what a piece adds, and is worth in units of two to the power of `shift`.
    adds: Vec<usize>,
    values: Vec<i32>,
    shift: u32,
    /// By x index, y index and element.
    cells: Vec<i32>,
    elements: usize,
}

impl SetTable {
    /// For `sets` of `kinds` and the sheet they are cut from. `None` when nothing of it can be cut from the sheet, or the
    /// table were too large.
    pub(crate) fn new(sheet: Sheet, kinds: &[Kind], sets: &[Set]) -> Option<SetTable> {
        // A set that has a piece without a place on the sheet is never whole there: none of it is worth anything.
        let has_room = |set: &Set| set.iter().all(|&(kind, _)| kinds[kind].fits(sheet));
        let needs = |(set, needs): (usize, &Set)| (0..needs.len()).map(move |need| (set, need)).collect();
        let held = sets.iter().enumerate().filter(|&(_, set)| has_room(set));
        let needs: Vec<(usize, usize)> = held.flat_map::<Vec<_>, _>(needs).collect();
        if needs.is_empty() {
            return None;
        }
        let kinds: Vec<Kind> = needs.iter().map(|&(set, need)| kinds[sets[set][need].0]).collect();
        let order = Order::apart(&kinds, &vec![1; kinds.len()]);
        let (w, h) = order.sheet(sheet);
        let grid = Table::reduced(w, h, &order.sizes)?;
        Some(SetTable {
            sheet,
            adds: vec![0; kinds.len()],
            values: vec![0; kinds.len()],
            kinds,
            needs,
            order,
            grid,
            shift: 0,
            cells: Vec::new(),
            elements: 0,
        })
    }

    /// What the leaves of its layouts name: a set and one of its needs.
    pub(crate) fn needs(&self) -> &[(usize, usize)] {
        &self.needs
    }

    /// Turns of the inner loop that one filling takes, for a group of one element; more take their square.
    pub(crate) fn steps(&self) -> u64 {
        self.grid.steps()
    }

    /// Works out what the sheet is worth when the pieces of set `s` are worth `values[s]` each, by its needs, nothing
    /// below 1.
    pub(crate) fn fill(&mut self, lacks: &Lacks, values: &[Vec<i64>]) {
        let adds = |&(set, need): &(usize, usize)| lacks.adds[set].as_ref().map(|adds| adds[need]);
        self.adds = self.needs.iter().map(|need| adds(need).unwrap_or(0)).collect();
        let worth = |of: &(usize, usize)| match adds(of) {
            Some(_) => i128::from(values[of.0][of.1].max(0)),
            None => 0,
        };
        let (w, h) = self.order.sheet(self.sheet);
        let whole = i128::from(w) * i128::from(h);
        let areas = self.order.sizes.iter().map(|size| i128::from(size.area().max(1)));
        let most =
            self.needs.iter().zip(areas).map(|(need, area)| worth(need) * whole / area).max().unwrap_or(0);
        self.shift = (most / MOST_WORTH).checked_ilog2().map_or(0, |digits| digits + 1);
        let scaled =
            |need| i32::try_from(worth(need) >> self.shift).expect("no piece is larger than the sheet");
        self.values = self.needs.iter().map(scaled).collect();
        self.elements = lacks.len();
        let (nx, ny, n) = (self.grid.xs.len(), self.grid.ys.len(), self.elements);
        let mut cells = std::mem::take(&mut self.cells);
        cells.clear();
        cells.resize(nx * ny * n, NO_WAY);
        let mut best = vec![NO_WAY; n];
        for i in 0..nx {
            for j in 0..ny {
                let at = |i: usize, j: usize| (i * ny + j) * n;
                best.fill(NO_WAY);
                best[0] = 0;
                let before = [i.checked_sub(1).map(|i| at(i, j)), j.checked_sub(1).map(|j| at(i, j))];
                for before in before.into_iter().flatten() {
                    best.iter_mut()
                        .zip(&cells[before..before + n])
                        .for_each(|(best, &b)| *best = (*best).max(b));
                }
                for (need, ..) in self.grid.placed(i, j, &self.order.sizes) {
                    if self.values[need] > 0 {
                        let best = &mut best[self.adds[need]];
                        *best = (*best).max(self.values[need]);
                    }
                }
                let across = self.grid.splits_x(i).map(|(a, b)| (at(a, j), at(b, j)));
                let along = self.grid.splits_y(j).map(|(a, b)| (at(i, a), at(i, b)));
                for (a, b) in across.chain(along) {
                    let (one, other) = (&cells[a..a + n], &cells[b..b + n]);
                    for (&one, plus) in one.iter().zip(&lacks.plus).filter(|&(&one, _)| one > NO_WAY / 2) {
                        for (&other, &to) in other.iter().zip(plus) {
                            best[to] = best[to].max(one + other);
                        }
                    }
                }
                cells[at(i, j)..at(i, j) + n].copy_from_slice(&best);
            }
        }
        self.cells = cells;
    }

    fn cell(&self, i: usize, j: usize, element: usize) -> i32 {
        self.cells[(i * self.grid.ys.len() + j) * self.elements + element]
    }

    /// The most that the whole sheet is worth, by what all that is cut lacks; `None` where there is no such way.
    pub(crate) fn whole(&self) -> Vec<Option<i128>> {
        let (i, j) = (self.grid.xs.len() - 1, self.grid.ys.len() - 1);
        let worth = |element| Some(self.cell(i, j, element)).filter(|&worth| worth > NO_WAY / 2);
        (0..self.elements).map(|element| Some(i128::from(worth(element)?) << self.shift)).collect()
    }

    /// A way to cut that is worth [`SetTable::whole`], and how many pieces it holds by set and need. Leaves name the
    /// needs, in the order of the sets.
    pub(crate) fn best(&self, lacks: &Lacks, element: usize) -> (Layout, Vec<u32>) {
        let block = self.trace(lacks, self.grid.xs.len() - 1, self.grid.ys.len() - 1, element);
        let counts = block.as_ref().map_or(vec![0; self.kinds.len()], |block| block.counts(self.kinds.len()));
        let mut order = self.order.clone();
        order.members.iter_mut().flatten().for_each(|member| member.1 = u32::MAX);
        (layout(block.as_ref(), self.sheet, &order, &self.kinds), counts)
    }

    fn trace(&self, lacks: &Lacks, mut i: usize, mut j: usize, element: usize) -> Option<Block> {
        let value = self.cell(i, j, element);
        if value <= 0 {
            return None;
        }
        while i > 0 && self.cell(i - 1, j, element) == value {
            i -= 1;
        }
        while j > 0 && self.cell(i, j - 1, element) == value {
            j -= 1;
        }
        for (need, w, h) in self.grid.placed(i, j, &self.order.sizes) {
            if self.adds[need] == element && self.values[need] == value {
                return Some(Block::piece(need, w, h));
            }
        }
        let across = self.grid.splits_x(i).map(|(a, b)| (Axis::Width, (a, j), (b, j)));
        let along = self.grid.splits_y(j).map(|(a, b)| (Axis::Height, (i, a), (i, b)));
        for (axis, a, b) in across.chain(along) {
            for one in 0..self.elements {
                let other = lacks.rest_of(element, one);
                if self.cell(a.0, a.1, one) + self.cell(b.0, b.1, other) == value {
                    let (a, b) = (self.trace(lacks, a.0, a.1, one), self.trace(lacks, b.0, b.1, other));
                    return Block::join(axis, a, b);
                }
            }
        }
        unreachable!("every value in the table comes from a piece or from a cut")
    }
}

#[cfg(test)]
mod tests {
    use itertools::iproduct;
    use rand::SeedableRng;
    use rand::rngs::SmallRng;

    use super::*;
    use crate::cutting::{Fit, Work, fit_one};
    use crate::length::Length;

    fn eighths(n: i64) -> Length {
        Length::from_eighths(n)
    }

    /// Every choice of whole sets asked of the search for fit, which shares nothing with the table but its grid.
    #[test]
    fn one_sheet_is_worth_what_the_best_whole_sets_that_fit_are_worth() {
        let mut random = SmallRng::seed_from_u64(3);
        let mut with_sets = 0;
        for _ in 0..40 {
            let mut side = || eighths(random.random_range(3..9));
            let kinds: Vec<Kind> =
                (0..3).map(|k| Kind { width: side(), height: side(), turn: k % 2 == 0 }).collect();
            let sets = [vec![(0, 2)], vec![(1, 3)], vec![(2, 1)]];
            let values =
                [random.random_range(10..40), random.random_range(10..40), random.random_range(1..12)];
            let sheet = Sheet { width: eighths(14), height: eighths(11) };
            let Some(mut table) = SetTable::new(sheet, &kinds, &sets) else { panic!("it is small") };
            let lacks = Lacks::of_some(&sets, 6, &mut random);
            assert_eq!(lacks.plus.len(), 6);
            table.fill(&lacks, &values.map(|value| vec![value]));
            let (layout, counts) = table.best(&lacks, 0);
            let worth =
                |counts: &[u32]| -> i64 { counts.iter().zip(values).map(|(&n, v)| i64::from(n) * v).sum() };
            assert_eq!(table.whole()[0], Some(i128::from(worth(&counts))));
            assert_eq!((counts[0] % 2, counts[1] % 3), (0, 0));
            assert_eq!(layout.pieces().len(), counts.iter().sum::<u32>() as usize);
            let mut best = 0;
            // No piece is smaller than 3 by 3, so 17 fit at most.
            for (a, b, c) in iproduct!(0..=8, 0..=5, 0..=17) {
                let counts = [2 * a, 3 * b, c];
                let fits = || fit_one(sheet, &kinds, &counts, &mut Work::steps(1_000_000));
                if worth(&counts) > best && matches!(fits(), Fit::Yes(_)) {
                    best = worth(&counts);
                }
            }
            assert_eq!(worth(&counts), best);
            with_sets += u32::from(counts[0] + counts[1] > 0);
        }
        assert!(with_sets > 10, "{with_sets}");
    }

    #[test]
    fn a_set_too_large_for_one_sheet_is_divided_over_three() {
        let kinds = [Kind { width: eighths(60), height: eighths(80), turn: false }];
        let sets = [vec![(0, 3)]];
        let sheet = Sheet { width: eighths(80), height: eighths(80) };
        let lacks = Lacks::of_some(&sets, 3, &mut SmallRng::seed_from_u64(0));
        let Some(mut table) = SetTable::new(sheet, &kinds, &sets) else { panic!("it is small") };
        table.fill(&lacks, &[vec![100]]);
        let one = table.whole();
        assert_eq!(one[0], Some(0));
        let only = |ways: Vec<Option<(i128, usize)>>| -> Vec<Option<i128>> {
            ways.into_iter().map(|way| Some(way?.0)).collect()
        };
        let two = only(lacks.join(&one, &one));
        assert_eq!(two[0], Some(0));
        assert_eq!(only(lacks.join(&two, &one))[0], Some(300));
    }

    #[test]
    fn sets_with_a_piece_larger_than_the_sheet_are_worth_nothing_there() {
        let kind = |w, h| Kind { width: eighths(w), height: eighths(h), turn: true };
        // 40 x 12 in has 32 times the area of the sheet, and a price to match.
        let kinds = [kind(320, 96), kind(12, 12), kind(10, 16)];
        let sets = [vec![(0, 2)], vec![(0, 1), (1, 2)], vec![(1, 2)], vec![(2, 3)]];
        let sheet = Sheet { width: eighths(24), height: eighths(40) };
        let area = |kind: usize| kinds[kind].width.by(kinds[kind].height).square_ticks();
        let values = |set: &Set| set.iter().map(|&(kind, _)| area(kind) * 200).collect();
        let values: Vec<Vec<i64>> = sets.iter().map(values).collect();
        let filled = |sets: &[Set], values: &[Vec<i64>]| {
            let Some(mut table) = SetTable::new(sheet, &kinds, sets) else { panic!("it is small") };
            let lacks = Lacks::of_some(sets, 36, &mut SmallRng::seed_from_u64(4));
            table.fill(&lacks, values);
            let (layout, _) = table.best(&lacks, 0);
            (table.whole()[0], layout.pieces().len())
        };
        let without = filled(&sets[2..], &values[2..]);
        assert!(without.1 > 2);
        assert_eq!(filled(&sets, &values), without);
        assert!(SetTable::new(sheet, &kinds, &sets[..2]).is_none());
    }

    #[test]
    fn a_set_of_several_sizes_adds_nothing_as_a_whole() {
        let sets = [vec![(0, 2), (1, 1), (2, 4)], vec![(3, 1), (4, 1)]];
        let mut random = SmallRng::seed_from_u64(1);
        for _ in 0..50 {
            let lacks = Lacks::of_some(&sets, 40, &mut random);
            for (set, adds) in sets.iter().zip(&lacks.adds) {
                let Some(adds) = adds else { panic!("both have room") };
                let pieces = set.iter().zip(adds).flat_map(|(&(_, n), &adds)| (0..n).map(move |_| adds));
                assert_eq!(pieces.fold(0, |sum, adds| lacks.plus[sum][adds]), 0);
                assert!(adds.iter().any(|&adds| adds != 0));
            }
        }
    }
}
