//! The boxes that the pieces of a set, or of a part of it, are joined into edge to edge (after Wang 1983), with the gaps
//! such a box leaves.

use std::collections::BTreeMap;

use crate::cutting::block::{Block, Made};
use crate::cutting::order::Size;

/// Boxes kept for every part of a set: those that waste least.
const MOST_BOXES: usize = 24;
/// A set of more parts than this has no boxes.
const MOST_PARTS: usize = 128;

/// A gap, as (width, height).
type Gap = (u32, u32);

/// The boxes of every part of one set, by the code of the part: its counts as digits of a number of mixed radix. The codes
/// of two parts that make a third add up to that of the third.
pub(crate) struct Joined {
    boxes: Vec<Vec<Block>>,
    /// The digits of every code.
    counts: Vec<Vec<usize>>,
}

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
        let all: Vec<Vec<usize>> = (0..parts).map(counts).collect();
        let within = |part: usize, code: usize| no_more(&all[part], &all[code]);
        let mut boxes: Vec<Vec<Block>> = vec![Vec::new(); parts];
        for code in 1..parts {
            let mut found: BTreeMap<(u64, u32, u32, Vec<Gap>), Block> = BTreeMap::new();
            let mut keep = |block: Block| {
                if block.w <= most.0 && block.h <= most.1 {
                    let mut gaps = gaps(&block, block.w, block.h);
                    gaps.sort_unstable();
                    let area = u64::from(block.w) * u64::from(block.h);
                    found.entry((area, block.w, block.h, gaps)).or_insert(block);
                }
            };
            if let [place] =
                (0..needs.len()).filter(|&place| all[code][place] > 0).collect::<Vec<usize>>()[..]
                && all[code][place] == 1
            {
                let size = needs[place].0;
                sizes[size].ways().for_each(|(w, h)| keep(Block::piece(size, w, h)));
            }
            for part in (1..=code / 2).filter(|&part| within(part, code)) {
                for a in &boxes[part] {
                    for b in &boxes[code - part] {
                        keep(Block::beside(a.clone(), b.clone()));
                        keep(Block::above(a.clone(), b.clone()));
                    }
                }
            }
            boxes[code] = found.into_values().take(MOST_BOXES).collect();
        }
        Joined { boxes, counts: all }
    }

    /// The code of the whole set; 0 where there are no boxes.
    pub(crate) fn whole(&self) -> usize {
        self.boxes.len().saturating_sub(1)
    }

    /// Is one part within another?
    pub(crate) fn within(&self, part: usize, all: usize) -> bool {
        no_more(&self.counts[part], &self.counts[all])
    }

    /// The boxes of a part.
    pub(crate) fn boxes(&self, code: usize) -> &[Block] {
        self.boxes.get(code).map_or(&[], Vec::as_slice)
    }
}

fn no_more(some: &[usize], all: &[usize]) -> bool {
    some.iter().zip(all).all(|(some, all)| some <= all)
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
