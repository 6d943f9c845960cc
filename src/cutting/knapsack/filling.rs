//! One sheet filled with single pieces and whole sets, of which there are as many as one likes.
//!
//! A set is worth something only whole, so each lies in a box of its own ([`Joined`]). What such a box leaves open, and
//! the rest of the sheet, is filled by value tables (Gilmore and Gomory 1966; around one box, Viswanathan and Bagchi
//! 1993). Quick even for very many sets and sizes; not every way to cut is looked at, so what it finds is good, not best.

use crate::cutting::bounds::outer_table::OuterTable;
use crate::cutting::bounds::value_table::Table;
use crate::cutting::grid::block::{Block, Made, layout};
use crate::cutting::grid::order::{Order, Size};
use crate::cutting::knapsack::joined::{Joined, gaps};
use crate::cutting::{Axis, Kind, Layout, Sheet};
use crate::length::Length;

/// Binary digits that are kept of the dearest set's value.
const DIGITS: u32 = 20;

/// Asked again and again for other values.
pub(crate) struct Filling {
    sheet: Sheet,
    kinds: Vec<Kind>,
    order: Order,
    joined: Vec<Joined>,
    /// What the table of all holds: single pieces first, then boxes of whole sets.
    entries: Vec<Entry>,
    sizes: Vec<Size>,
    singles: usize,
    /// By entry, in units of two to the power of `shift`.
    values: Vec<i64>,
    shift: u32,
    /// What single pieces alone are worth.
    loose: Table,
    /// What single pieces and boxes are worth.
    all: Table,
    /// What can be won around a box.
    outer: Option<OuterTable>,
}

/// One thing that is worth something by itself.
struct Entry {
    set: usize,
    /// A piece, or the pieces of a set joined; leaves name sizes of the order.
    block: Block,
}

/// A sheet, or the lower part of one, filled.
pub(crate) struct Filled {
    pub(crate) layout: Layout,
    /// By set: how many whole ones.
    pub(crate) counts: Vec<u32>,
}

impl Filling {
    /// `sets[s]` says how many of which of `kinds` belong together. `None` when nothing of it can be cut from the
    /// sheet, or the tables were too large.
    pub(crate) fn new(sheet: Sheet, kinds: &[Kind], sets: &[Vec<(usize, u32)>]) -> Option<Filling> {
        let mut wanted = vec![0; kinds.len()];
        sets.iter().flatten().for_each(|&(kind, n)| wanted[kind] += n);
        let order = Order::apart(kinds, &wanted);
        let (w, h) = order.sheet(sheet);
        let mut size_of = vec![usize::MAX; kinds.len()];
        order.members.iter().enumerate().for_each(|(size, members)| size_of[members[0].0] = size);
        let needs = |set: &Vec<(usize, u32)>| set.iter().map(|&(kind, n)| (size_of[kind], n)).collect();
        let needs: Vec<Vec<(usize, u32)>> = sets.iter().map(needs).collect();
        let joined: Vec<Joined> = needs.iter().map(|needs| Joined::of(&order.sizes, needs, (w, h))).collect();
        let (mut entries, mut boxes) = (Vec::new(), Vec::new());
        for (set, (needs, joined)) in needs.iter().zip(&joined).enumerate() {
            if let [(size, 1)] = needs[..] {
                let one = order.sizes[size];
                entries
                    .extend(one.fits(w, h).then(|| Entry { set, block: Block::piece(size, one.w, one.h) }));
            } else {
                let whole = joined.boxes(joined.whole()).iter();
                boxes.extend(whole.map(|block| Entry { set, block: block.clone() }));
            }
        }
        let singles = entries.len();
        let size = |entry: &Entry| match entry.block.made {
            Made::Piece(size) => order.sizes[size],
            _ => Size { w: entry.block.w, h: entry.block.h, turn: false },
        };
        entries.extend(boxes);
        let sizes: Vec<Size> = entries.iter().map(size).collect();
        let grid = Table::full(w, h, &order.sizes, None)?;
        let (all, loose) = (grid.holding(&sizes)?, grid.holding(&sizes[..singles])?);
        let values = vec![0; entries.len()];
        (!entries.is_empty()).then(|| Filling {
            sheet,
            kinds: kinds.to_vec(),
            order,
            joined,
            entries,
            sizes,
            singles,
            values,
            shift: 0,
            loose,
            all,
            outer: None,
        })
    }

    /// Turns of the inner loop that one filling takes.
    pub(crate) fn steps(&self) -> u64 {
        self.loose.steps() + self.all.steps()
    }

    /// Works out what is worth most when set `s` is worth `values[s]`, nothing below 1; with `around`, also what can be
    /// won around the parts of a set.
    pub(crate) fn fill(&mut self, values: &[i64], around: bool) {
        // A set without a place on the sheet would take the digits of those that have one.
        let most = self.entries.iter().map(|entry| values[entry.set]).max().unwrap_or(0).max(1);
        // Numbers small enough for the quick way to fill a table; what that rounds off does not matter here.
        self.shift = (most.ilog2() + 1).saturating_sub(DIGITS);
        let value = |entry: &Entry| values[entry.set].max(0) >> self.shift;
        let singles: Vec<i64> = self.entries[..self.singles].iter().map(value).collect();
        self.loose.fill(&singles);
        self.values = singles;
        for entry in &self.entries[self.singles..] {
            let value = value(entry);
            let with_gaps = if value > 0 { value + self.in_gaps(&entry.block) } else { 0 };
            self.values.push(with_gaps);
        }
        self.all.fill(&self.values);
        self.outer = around.then(|| OuterTable::of(&self.all));
    }

    /// What single pieces are worth in the gaps of a box.
    fn in_gaps(&self, block: &Block) -> i64 {
        gaps(block, block.w, block.h).into_iter().map(|(w, h)| self.loose.at(w, h)).sum()
    }

    /// What the lower part of the sheet is worth, for every height at which that may change.
    pub(crate) fn by_height(&self) -> impl Iterator<Item = (Length, i128)> {
        let (across, ys) = (self.all.xs.len() - 1, &self.all.ys.points);
        let worth = move |j| i128::from(self.all.cell(across, j)) << self.shift;
        ys.iter().enumerate().map(move |(j, &y)| (self.order.length(y), worth(j)))
    }

    /// A way to fill the lower `height` of the sheet that is worth what [`Filling::by_height`] says, cut from a sheet of
    /// that height.
    pub(crate) fn best(&self, height: Length) -> Filled {
        let mut counts = vec![0; self.joined.len()];
        let block =
            self.all.block_at(self.all.xs.last(), self.order.floor(height), &self.values, &self.sizes);
        let block = block.and_then(|block| self.opened(block, &mut counts));
        self.filled(block, counts, height)
    }

    /// The parts of a set, but for nothing and the whole: their codes add up to [`Filling::whole`].
    pub(crate) fn whole(&self, set: usize) -> usize {
        self.joined[set].whole()
    }

    /// Is one part of a set within another, so that the rest of it is a part as well?
    pub(crate) fn within(&self, set: usize, part: usize, all: usize) -> bool {
        self.joined[set].within(part, all)
    }

    /// The most that the whole sheet is worth with a part of a set in it, which counts nothing itself; `None` when it does
    /// not fit, or [`Filling::fill`] was not asked for it.
    pub(crate) fn around(&self, set: usize, part: usize) -> Option<i128> {
        let (_, most) = self.best_around(set, part)?;
        Some(i128::from(most) << self.shift)
    }

    fn best_around(&self, set: usize, part: usize) -> Option<(&Block, i64)> {
        let outer = self.outer.as_ref()?;
        let worth = |block| Some((block, self.in_gaps(block) + outer.at(block.w, block.h)?));
        self.joined[set].boxes(part).iter().filter_map(worth).max_by_key(|&(_, worth)| worth)
    }

    /// A way to cut that is worth [`Filling::around`]; the part itself is not counted.
    pub(crate) fn best_with(&self, set: usize, part: usize) -> Option<Filled> {
        let (outer, (block, _)) = (self.outer.as_ref()?, self.best_around(set, part)?);
        let mut counts = vec![0; self.joined.len()];
        let mut block = self.with_gaps(block, block.w, block.h, &mut counts)?;
        for (axis, (w, h)) in outer.grown(&self.all, block.w, block.h) {
            let rest = self.all.block_at(w, h, &self.values, &self.sizes);
            let rest = rest.and_then(|rest| self.opened(rest, &mut counts));
            // Both may be smaller than the table reckons, so they fit together as well.
            block = Block::join(axis, Some(block), rest)?;
        }
        Some(self.filled(Some(block), counts, self.sheet.height))
    }

    fn filled(&self, block: Option<Block>, counts: Vec<u32>, height: Length) -> Filled {
        let mut order = self.order.clone();
        // As many of every size as the block holds.
        order.members.iter_mut().flatten().for_each(|member| member.1 = u32::MAX);
        let layout = layout(block.as_ref(), Sheet { height, ..self.sheet }, &order, &self.kinds);
        Filled { layout, counts }
    }

    /// A block of the tables with every entry replaced by its pieces, and by single pieces in the gaps; all are counted.
    fn opened(&self, block: Block, counts: &mut [u32]) -> Option<Block> {
        let Block { w, h, made } = block;
        match made {
            Made::Piece(number) => {
                let entry = &self.entries[number];
                counts[entry.set] += 1;
                match entry.block.made {
                    Made::Piece(size) => Some(Block::piece(size, w, h)),
                    _ => self.with_gaps(&entry.block, w, h, counts),
                }
            }
            Made::Beside(a, b) => Block::join(Axis::Width, self.opened(*a, counts), self.opened(*b, counts)),
            Made::Above(a, b) => Block::join(Axis::Height, self.opened(*a, counts), self.opened(*b, counts)),
        }
    }

    /// `block` in a `w` x `h` box, with single pieces in what it leaves open.
    fn with_gaps(&self, block: &Block, w: u32, h: u32, counts: &mut [u32]) -> Option<Block> {
        let gap = |w: u32, h: u32, counts: &mut [u32]| {
            let (values, sizes) = (&self.values[..self.singles], &self.sizes[..self.singles]);
            let single = self.loose.block_at(w, h, values, sizes)?;
            self.opened(single, counts)
        };
        if block.w < w {
            let beside = gap(w - block.w, h, counts);
            return Block::join(Axis::Width, self.with_gaps(block, block.w, h, counts), beside);
        }
        if block.h < h {
            let above = gap(w, h - block.h, counts);
            return Block::join(Axis::Height, self.with_gaps(block, w, block.h, counts), above);
        }
        match &block.made {
            Made::Piece(_) => Some(block.clone()),
            Made::Beside(a, b) => {
                let (a, b) = (self.with_gaps(a, a.w, h, counts), self.with_gaps(b, b.w, h, counts));
                Block::join(Axis::Width, a, b)
            }
            Made::Above(a, b) => {
                let (a, b) = (self.with_gaps(a, w, a.h, counts), self.with_gaps(b, w, b.h, counts));
                Block::join(Axis::Height, a, b)
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use rand::rngs::SmallRng;
    use rand::{Rng, SeedableRng};

    use super::*;
    use crate::cutting::value_bound;

    fn eighths(n: i64) -> Length {
        Length::from_eighths(n)
    }

    #[test]
    fn what_is_cut_is_what_is_counted_and_is_worth_what_is_said() {
        let mut rng = SmallRng::seed_from_u64(11);
        for _ in 0..60 {
            let kinds: Vec<Kind> = (0..5)
                .map(|k| {
                    let (width, height) =
                        (eighths(rng.random_range(4..18)), eighths(rng.random_range(4..18)));
                    Kind { width, height, turn: k % 2 == 0 }
                })
                .collect();
            let sets = [vec![(0, 1)], vec![(1, 1)], vec![(2, 3)], vec![(3, 2), (4, 1)], Vec::new()];
            let values: Vec<i64> = sets.iter().map(|_| rng.random_range(0..200)).collect();
            let sheet = Sheet { width: eighths(40), height: eighths(31) };
            let Some(mut filling) = Filling::new(sheet, &kinds, &sets) else {
                panic!("the tables are small")
            };
            filling.fill(&values, true);
            let worth = |counts: &[u32]| -> i128 {
                counts.iter().zip(&values).map(|(&n, &value)| i128::from(n) * i128::from(value)).sum()
            };
            let agrees = |filled: &Filled, part: &[(usize, u32)]| {
                let mut pieces = vec![0; kinds.len()];
                part.iter().for_each(|&(kind, n)| pieces[kind] += n);
                for (set, &n) in sets.iter().zip(&filled.counts) {
                    set.iter().for_each(|&(kind, each)| pieces[kind] += each * n);
                }
                filled.layout.pieces().iter().for_each(|&(kind, ..)| pieces[kind] -= 1);
                assert!(pieces.iter().all(|&n| n == 0));
            };
            for (height, most) in filling.by_height().step_by(5) {
                let filled = filling.best(height);
                agrees(&filled, &[]);
                assert_eq!(filled.layout.height(), height);
                assert_eq!(worth(&filled.counts), most);
            }
            // One of three pieces of the third set lies in one sheet, two in another.
            for (part, n) in [(1, 1), (2, 2)] {
                if let Some(most) = filling.around(2, part) {
                    let filled = filling.best_with(2, part).expect("it fits");
                    agrees(&filled, &[(2, n)]);
                    assert_eq!(worth(&filled.counts), most);
                }
            }
            // Single pieces alone are filled as well as can be.
            let only: Vec<i64> = values[..2].iter().copied().chain([0, 0, 0]).collect();
            filling.fill(&only, false);
            let best = filling.by_height().last().map(|(_, most)| most);
            assert_eq!(best, Some(i128::from(value_bound(sheet, &kinds, &only))));
        }
    }

    #[test]
    fn a_set_larger_than_the_sheet_takes_no_digits_from_those_that_have_room() {
        let kind = |w, h| Kind { width: eighths(w), height: eighths(h), turn: true };
        let kinds = [kind(320, 96), kind(60, 40), kind(20, 20)];
        let sheet = Sheet { width: eighths(80), height: eighths(80) };
        let sets = [vec![(0, 1)], vec![(0, 2), (2, 1)], vec![(1, 2)], vec![(2, 1)]];
        let filled = |sets: &[Vec<(usize, u32)>], values: &[i64]| {
            let Some(mut filling) = Filling::new(sheet, &kinds, sets) else { panic!("the tables are small") };
            filling.fill(values, false);
            filling.by_height().last().map(|(_, most)| most)
        };
        let most = filled(&sets[2..], &[1001, 51]);
        // Two of 7 1/2 x 5 in and four of 2 1/2 in square.
        assert_eq!(most, Some(1001 + 4 * 51));
        assert_eq!(filled(&sets, &[1 << 50, 1 << 51, 1001, 51]), most);
        assert!(Filling::new(sheet, &kinds, &sets[..2]).is_none());
    }

    #[test]
    fn half_a_set_is_worth_nothing() {
        let kinds = [Kind { width: eighths(60), height: eighths(40), turn: true }];
        let sheet = Sheet { width: eighths(80), height: eighths(80) };
        let fits = |n| {
            let mut filling = Filling::new(sheet, &kinds, &[vec![(0, n)]])?;
            filling.fill(&[100], false);
            filling.by_height().last().map(|(_, most)| most)
        };
        assert_eq!(fits(2), Some(100));
        assert_eq!(fits(3), None);
    }
}
