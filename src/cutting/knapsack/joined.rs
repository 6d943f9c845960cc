//! The boxes that the pieces of a set, or of a part of it, are joined into edge to edge (after Wang 1983), with the gaps
//! such a box leaves.

use std::collections::BTreeMap;

use crate::cutting::Axis;
use crate::cutting::grid::block::{Block, Made};
use crate::cutting::grid::order::Size;

/// Boxes kept for every part of a set: those that waste least.
const MOST_BOXES: usize = 16;
/// A set of more parts than this has no boxes.
const MOST_PARTS: usize = 36;

/// A gap, as (width, height).
type Gap = (u32, u32);

/// The boxes of every part of one set, by the code of the part: its counts as digits of a number of mixed radix. The codes
/// of two parts that make a third add up to that of the third.
pub(crate) struct Joined {
    boxes: Vec<Vec<Block>>,
    /// The digits of every code.
    counts: Vec<Vec<usize>>,
}

/// Area, width and height of a box: of those alike the one with the largest gap is kept.
type Sides = (u64, u32, u32);

/// How a box is joined: area of its largest gap, along which side, from which box of which part and which of the rest.
type Join = (u64, Axis, usize, usize, usize);

impl Joined {
    /// Boxes of the parts of `needs`, (size, count) each, that fit into a `most` sheet. None has boxes where the parts are
    /// too many.
    pub(crate) fn of(sizes: &[Size], needs: &[(usize, u32)], most: (u32, u32)) -> Joined {
        let radix = |&(_, n): &(usize, u32)| n as usize + 1;
        let parts = needs.iter().try_fold(1usize, |all, need| all.checked_mul(radix(need)));
        let Some(parts) = parts.filter(|&parts| parts <= MOST_PARTS) else {
            return Joined { boxes: Vec::new(), counts: Vec::new() };
        };
        let counts = |mut code: usize| -> Vec<usize> {
            let digit = |need| {
                let digit = code % radix(need);
                code /= radix(need);
                digit
            };
            needs.iter().map(digit).collect()
        };
        let mut joined = Joined { boxes: vec![Vec::new(); parts], counts: (0..parts).map(counts).collect() };
        for code in 1..parts {
            joined.boxes[code] = match joined.single(code) {
                Some(place) => {
                    let size = needs[place].0;
                    sizes[size].ways().map(|(w, h)| Block::piece(size, w, h)).collect()
                }
                None => joined.join(code, most),
            };
            joined.boxes[code].retain(|block| block.w <= most.0 && block.h <= most.1);
        }
        joined
    }

    /// Which piece a part is, if it is just one.
    fn single(&self, code: usize) -> Option<usize> {
        let counts = &self.counts[code];
        (counts.iter().sum::<usize>() == 1).then(|| counts.iter().position(|&n| n == 1)).flatten()
    }

    /// The boxes of a part from those of its own parts.
    fn join(&self, code: usize, most: (u32, u32)) -> Vec<Block> {
        let mut found: BTreeMap<Sides, Join> = BTreeMap::new();
        for part in (1..=code / 2).filter(|&part| self.within(part, code)) {
            for (i, a) in self.boxes[part].iter().enumerate() {
                for (j, b) in self.boxes[code - part].iter().enumerate() {
                    let beside = (Axis::Width, a.w + b.w, a.h.max(b.h), a.h.min(b.h));
                    let above = (Axis::Height, a.w.max(b.w), a.h + b.h, a.w.min(b.w));
                    for (axis, w, h, less) in [beside, above] {
                        if w > most.0 || h > most.1 {
                            continue;
                        }
                        let (across, along) = match axis {
                            Axis::Width => (h, if a.h < b.h { a.w } else { b.w }),
                            Axis::Height => (w, if a.w < b.w { a.h } else { b.h }),
                        };
                        let gap = u64::from(across - less) * u64::from(along);
                        let sides = (u64::from(w) * u64::from(h), w, h);
                        let join = (gap, axis, part, i, j);
                        found.entry(sides).and_modify(|known| *known = (*known).max(join)).or_insert(join);
                    }
                }
            }
        }
        let made = |(_, axis, part, i, j): Join| {
            let (a, b) = (self.boxes[part][i].clone(), self.boxes[code - part][j].clone());
            if axis == Axis::Width { Block::beside(a, b) } else { Block::above(a, b) }
        };
        found.into_values().take(MOST_BOXES).map(made).collect()
    }

    /// The code of the whole set; 0 where there are no boxes.
    pub(crate) fn whole(&self) -> usize {
        self.boxes.len().saturating_sub(1)
    }

    /// Is one part within another?
    pub(crate) fn within(&self, part: usize, all: usize) -> bool {
        self.counts[part].iter().zip(&self.counts[all]).all(|(some, all)| some <= all)
    }

    /// The boxes of a part.
    pub(crate) fn boxes(&self, code: usize) -> &[Block] {
        self.boxes.get(code).map_or(&[], Vec::as_slice)
    }
}

/// The gaps that `block` leaves in a `w` x `h` box.
pub(crate) fn gaps(block: &Block, w: u32, h: u32) -> Vec<Gap> {
    fn list(block: &Block, w: u32, h: u32, all: &mut Vec<Gap>) {
        if block.w < w {
            all.push((w - block.w, h));
        }
        if block.h < h {
            all.push((block.w, h - block.h));
        }
        match &block.made {
            Made::Piece(_) => {}
            Made::Beside(a, b) => {
                list(a, a.w, block.h, all);
                list(b, b.w, block.h, all);
            }
            Made::Above(a, b) => {
                list(a, block.w, a.h, all);
                list(b, block.w, b.h, all);
            }
        }
    }
    let mut all = Vec::new();
    list(block, w, h, &mut all);
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn three_alike_join_in_rows_and_in_corners_and_gaps_and_pieces_make_up_every_box() {
        let sizes = [Size { w: 5, h: 3, turn: true }];
        let joined = Joined::of(&sizes, &[(0, 3)], (20, 20));
        assert_eq!(joined.whole(), 3);
        let boxes = joined.boxes(3);
        assert!(boxes.iter().any(|b| (b.w, b.h) == (5, 9)));
        assert!(boxes.iter().any(|b| (b.w, b.h) == (8, 6)));
        for block in boxes {
            let open: u32 = gaps(block, block.w, block.h).iter().map(|(w, h)| w * h).sum();
            assert_eq!(open + 3 * 15, block.w * block.h);
        }
        assert!(Joined::of(&sizes, &[(0, 3)], (8, 5)).boxes(3).is_empty());
        assert!(Joined::of(&sizes, &[(0, 200)], (20, 20)).boxes(1).is_empty());
    }
}
