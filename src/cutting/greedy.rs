//! Quick constructive cutting: pieces in some order, each into the free rectangle that suits it best, which is then
//! cut in two. Takes microseconds and answers most questions of fit with a yes.

use crate::cutting::Axis;
use crate::cutting::block::Block;
use crate::cutting::order::Size;

/// Which free rectangle suits a piece best.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Suit {
    /// Least area left in it.
    Area,
    /// Least length left along the shorter gap.
    ShortSide,
}

/// How the rest of a free rectangle is cut in two.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Rest {
    /// So that the largest part stays as large as can be.
    KeepLargest,
    /// The other way.
    SplitLargest,
    /// First cut across the width, always.
    AcrossWidth,
    /// First cut along the length, always.
    AlongLength,
}

/// One way to construct.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Manner {
    pub(crate) suit: Suit,
    pub(crate) rest: Rest,
}

/// All ways to construct that are tried.
pub(crate) const MANNERS: [Manner; 8] = [
    Manner { suit: Suit::Area, rest: Rest::KeepLargest },
    Manner { suit: Suit::ShortSide, rest: Rest::KeepLargest },
    Manner { suit: Suit::Area, rest: Rest::SplitLargest },
    Manner { suit: Suit::ShortSide, rest: Rest::SplitLargest },
    Manner { suit: Suit::Area, rest: Rest::AcrossWidth },
    Manner { suit: Suit::ShortSide, rest: Rest::AcrossWidth },
    Manner { suit: Suit::Area, rest: Rest::AlongLength },
    Manner { suit: Suit::ShortSide, rest: Rest::AlongLength },
];

/// What came of constructing.
pub(crate) struct Packed {
    /// One block a sheet, `None` where nothing was cut.
    pub(crate) blocks: Vec<Option<Block>>,
    /// Sizes of the pieces that found no place.
    pub(crate) missing: Vec<usize>,
}

/// A rectangle of the growing cut trees.
enum Part {
    Free,
    Piece(usize, u32, u32),
    Cut(Axis, usize, usize),
}

struct Region {
    sheet: usize,
    w: u32,
    h: u32,
    part: Part,
}

/// Pieces in `sequence` (sizes, one entry a piece) into `sheets`, the earlier sheets preferred.
pub(crate) fn pack(
    sheets: &[(u32, u32)],
    sizes: &[Size],
    sequence: &[usize],
    allowed: &dyn Fn(usize, usize) -> bool,
    manner: Manner,
) -> Packed {
    let mut regions: Vec<Region> =
        sheets.iter().enumerate().map(|(sheet, &(w, h))| Region { sheet, w, h, part: Part::Free }).collect();
    let mut free: Vec<usize> = Vec::new();
    let mut opened = 0;
    let mut missing = Vec::new();
    for &size in sequence {
        let mut spot = best_spot(&regions, &free, size, sizes[size], allowed, manner.suit);
        while spot.is_none() && opened < sheets.len() {
            free.push(opened);
            opened += 1;
            spot = best_spot(&regions, &free[free.len() - 1..], size, sizes[size], allowed, manner.suit)
                .map(|(_, w, h)| (free.len() - 1, w, h));
        }
        match spot {
            None => missing.push(size),
            Some((at, w, h)) => {
                let region = free.swap_remove(at);
                place(&mut regions, region, size, w, h, manner.rest, &mut free);
            }
        }
    }
    let blocks = (0..sheets.len()).map(|sheet| block(&regions, sheet)).collect();
    Packed { blocks, missing }
}

/// A place for a piece: index into the free regions, and the piece's width and height as it lies.
type Spot = (usize, u32, u32);

/// The best place for a piece.
fn best_spot(
    regions: &[Region],
    free: &[usize],
    size: usize,
    sides: Size,
    allowed: &dyn Fn(usize, usize) -> bool,
    suit: Suit,
) -> Option<Spot> {
    let mut best: Option<((u64, u64), Spot)> = None;
    for (at, &r) in free.iter().enumerate() {
        let region = &regions[r];
        for (w, h) in sides.ways() {
            if w > region.w || h > region.h || !allowed(size, region.sheet) {
                continue;
            }
            let area = u64::from(region.w) * u64::from(region.h);
            let short = u64::from((region.w - w).min(region.h - h));
            let score = match suit {
                Suit::Area => (area, short),
                Suit::ShortSide => (short, area),
            };
            if best.is_none_or(|(least, _)| score < least) {
                best = Some((score, (at, w, h)));
            }
        }
    }
    best.map(|(_, spot)| spot)
}

/// Puts a `w` x `h` piece into the lower left corner of a region and frees the two parts of the rest.
fn place(
    regions: &mut Vec<Region>,
    r: usize,
    size: usize,
    w: u32,
    h: u32,
    rest: Rest,
    free: &mut Vec<usize>,
) {
    let (sheet, rw, rh) = (regions[r].sheet, regions[r].w, regions[r].h);
    let largest =
        |a: (u32, u32), b: (u32, u32)| (u64::from(a.0) * u64::from(a.1)).max(u64::from(b.0) * u64::from(b.1));
    // Cut along the width first: the part above spans the region. Or along the height: the part beside does.
    let above_spans = largest((rw, rh - h), (rw - w, h));
    let beside_spans = largest((rw - w, rh), (w, rh - h));
    let height_first = match rest {
        Rest::KeepLargest => above_spans >= beside_spans,
        Rest::SplitLargest => above_spans < beside_spans,
        Rest::AcrossWidth => true,
        Rest::AlongLength => false,
    };
    let axes = if height_first { [Axis::Height, Axis::Width] } else { [Axis::Width, Axis::Height] };
    let mut here = r;
    for axis in axes {
        let (hw, hh) = (regions[here].w, regions[here].h);
        let (inner, outer) = match axis {
            Axis::Width => ((w, hh), (hw - w, hh)),
            Axis::Height => ((hw, h), (hw, hh - h)),
        };
        if outer.0 == 0 || outer.1 == 0 {
            continue;
        }
        let (a, b) = (regions.len(), regions.len() + 1);
        regions.push(Region { sheet, w: inner.0, h: inner.1, part: Part::Free });
        regions.push(Region { sheet, w: outer.0, h: outer.1, part: Part::Free });
        regions[here].part = Part::Cut(axis, a, b);
        free.push(b);
        here = a;
    }
    regions[here].part = Part::Piece(size, w, h);
}

fn block(regions: &[Region], r: usize) -> Option<Block> {
    match regions[r].part {
        Part::Free => None,
        Part::Piece(size, w, h) => Some(Block::piece(size, w, h)),
        Part::Cut(axis, a, b) => Block::join(axis, block(regions, a), block(regions, b)),
    }
}

/// The orders tried: by area, by long side, by short side, each with the largest first, then by width and by height.
pub(crate) fn sequences(sizes: &[Size], counts: &[u32]) -> Vec<Vec<usize>> {
    let by = |key: &dyn Fn(&Size) -> (u64, u64)| {
        let mut order: Vec<usize> = (0..sizes.len()).collect();
        order.sort_by_key(|&s| (std::cmp::Reverse(key(&sizes[s])), s));
        order.into_iter().flat_map(|s| std::iter::repeat_n(s, counts[s] as usize)).collect::<Vec<usize>>()
    };
    let mut all = vec![
        by(&|s| (s.area(), u64::from(s.w.max(s.h)))),
        by(&|s| (u64::from(s.w.max(s.h)), s.area())),
        by(&|s| (u64::from(s.w.min(s.h)), s.area())),
        by(&|s| (u64::from(s.h), u64::from(s.w))),
        by(&|s| (u64::from(s.w), u64::from(s.h))),
    ];
    all.dedup();
    all
}
