//! Shape functions over sub-multisets: for every multiset of the pieces, the smallest rectangles it can be cut from.
//! Exact, and the quickest search when pieces are few or sizes repeat.
//!
//! After Otten (1983) and Stockmeyer (1983) on slicing floor plans, run over all sub-multisets.

use crate::cutting::grid::block::Block;
use crate::cutting::grid::order::Size;
use crate::cutting::{Axis, Work};

/// Most multisets to keep shapes for.
pub(crate) const MOST_MULTISETS: u64 = 20_000;

/// A minimal rectangle for a multiset and how it is cut.
#[derive(Clone, Copy, Debug)]
struct Shape {
    w: u32,
    h: u32,
    from: From,
}

#[derive(Clone, Copy, Debug)]
enum From {
    Piece(u32),
    /// Axis, code of the first part, index of its shape, index of the second part's shape.
    Join(Axis, u32, u32, u32),
}

/// Minimal rectangles of every multiset, by its code: counts as digits of a number of mixed radix.
pub(crate) struct Shapes {
    /// Radix weight of each size.
    weights: Vec<usize>,
    limits: Vec<u32>,
    shapes: Vec<Vec<Shape>>,
}

/// Number of multisets within `counts`, or `None` when there are more than [`MOST_MULTISETS`].
pub(crate) fn multisets(counts: &[u32]) -> Option<u64> {
    counts
        .iter()
        .try_fold(1u64, |product, &n| product.checked_mul(u64::from(n) + 1).filter(|&p| p <= MOST_MULTISETS))
}

impl Shapes {
    /// Shapes of all multisets of `sizes` within `counts`, that fit one of `sheets` and waste at most `slack`
    /// grid squares inside. `None` when there are too many or the work ends.
    pub(crate) fn of(
        sizes: &[Size],
        counts: &[u32],
        sheets: &[(u32, u32)],
        slack: u64,
        work: &mut Work,
    ) -> Option<Shapes> {
        multisets(counts)?;
        let mut weights = Vec::new();
        let mut total = 1;
        for &n in counts {
            weights.push(total);
            total *= n as usize + 1;
        }
        let mut all = Shapes { weights, limits: counts.to_vec(), shapes: vec![Vec::new(); total] };
        for (s, size) in sizes.iter().enumerate() {
            let list = &mut all.shapes[all.weights[s]];
            for (w, h) in size.ways() {
                if sheets.iter().any(|&(sw, sh)| w <= sw && h <= sh) {
                    list.push(Shape { w, h, from: From::Piece(u32::try_from(s).expect("few sizes")) });
                }
            }
        }
        let mut digits = vec![0; counts.len()];
        for code in 1..total {
            all.next(&mut digits);
            let area: u64 = sizes.iter().zip(&digits).map(|(s, &n)| s.area() * u64::from(n)).sum();
            if !all.join_up(code, &digits, area + slack, sheets, work) {
                return None;
            }
        }
        Some(all)
    }

    /// Counts up by one in mixed radix.
    fn next(&self, digits: &mut [u32]) {
        for (digit, &limit) in digits.iter_mut().zip(&self.limits) {
            if *digit < limit {
                *digit += 1;
                return;
            }
            *digit = 0;
        }
    }

    /// Finds the shapes of `code` from every way to part it in two.
    fn join_up(
        &mut self,
        code: usize,
        digits: &[u32],
        most_area: u64,
        sheets: &[(u32, u32)],
        work: &mut Work,
    ) -> bool {
        let mut list = std::mem::take(&mut self.shapes[code]);
        let mut part = vec![0; digits.len()];
        let mut first = 0;
        let mut steps = 0;
        loop {
            // Next part within `digits`; its code never passes the rest's, so that every parting is met once.
            let mut at = 0;
            while at < part.len() && part[at] == digits[at] {
                first -= self.weights[at] * part[at] as usize;
                part[at] = 0;
                at += 1;
            }
            if at == part.len() {
                break;
            }
            part[at] += 1;
            first += self.weights[at];
            if 2 * first > code {
                // Codes of parts only grow in this order.
                break;
            }
            steps += 1;
            self.join(first, code - first, most_area, sheets, &mut list, &mut steps);
        }
        self.shapes[code] = list;
        work.spend(steps * 4)
    }

    fn join(
        &self,
        first: usize,
        second: usize,
        most_area: u64,
        sheets: &[(u32, u32)],
        list: &mut Vec<Shape>,
        steps: &mut u64,
    ) {
        for (i, a) in self.shapes[first].iter().enumerate() {
            for (j, b) in self.shapes[second].iter().enumerate() {
                *steps += 1;
                for (axis, w, h) in
                    [(Axis::Width, a.w + b.w, a.h.max(b.h)), (Axis::Height, a.w.max(b.w), a.h + b.h)]
                {
                    if u64::from(w) * u64::from(h) > most_area
                        || !sheets.iter().any(|&(sw, sh)| w <= sw && h <= sh)
                    {
                        continue;
                    }
                    if list.iter().any(|s| s.w <= w && s.h <= h) {
                        continue;
                    }
                    list.retain(|s| s.w < w || s.h < h);
                    let index = |n: usize| u32::try_from(n).expect("few shapes");
                    list.push(Shape { w, h, from: From::Join(axis, index(first), index(i), index(j)) });
                }
            }
        }
    }

    /// The counts a code stands for.
    pub(crate) fn counts(&self, code: usize) -> Vec<u32> {
        let mut rest = code;
        self.limits
            .iter()
            .map(|&limit| {
                let digit = rest % (limit as usize + 1);
                rest /= limit as usize + 1;
                u32::try_from(digit).expect("a digit is at most its limit")
            })
            .collect()
    }

    /// Number of codes.
    pub(crate) fn len(&self) -> usize {
        self.shapes.len()
    }

    /// True when the multiset comes out of a `w` x `h` sheet.
    pub(crate) fn fits(&self, code: usize, w: u32, h: u32) -> bool {
        code == 0 || self.shapes[code].iter().any(|s| s.w <= w && s.h <= h)
    }

    /// All minimal blocks of a multiset that fit a `w` x `h` sheet.
    pub(crate) fn blocks(&self, code: usize, w: u32, h: u32) -> Vec<Block> {
        (0..self.shapes[code].len())
            .filter(|&i| self.shapes[code][i].w <= w && self.shapes[code][i].h <= h)
            .map(|i| self.block(code, i))
            .collect()
    }

    fn block(&self, code: usize, index: usize) -> Block {
        let shape = self.shapes[code][index];
        match shape.from {
            From::Piece(size) => Block::piece(size as usize, shape.w, shape.h),
            From::Join(axis, first, i, j) => {
                let first = first as usize;
                let (a, b) = (self.block(first, i as usize), self.block(code - first, j as usize));
                if axis == Axis::Width { Block::beside(a, b) } else { Block::above(a, b) }
            }
        }
    }
}
