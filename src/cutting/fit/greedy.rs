//! Quick constructive cutting: pieces in some order, each into the free rectangle that suits it best, which is then
//! cut in two. Takes microseconds and answers most questions of fit with a yes.

use crate::cutting::Axis;
use crate::cutting::grid::block::{Block, Made};
use crate::cutting::grid::order::Size;

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

/// The pieces in `sequence` (sizes, one entry a piece) cut from `sheets`, the earlier sheets preferred: one block a
/// sheet, `None` where nothing was cut. Nothing when a piece finds no place.
pub(crate) fn pack(
    sheets: &[(u32, u32)],
    sizes: &[Size],
    sequence: &[usize],
    allowed: &dyn Fn(usize, usize) -> bool,
    manner: Manner,
) -> Option<Vec<Option<Block>>> {
    let mut regions = whole(sheets);
    let mut free = Vec::new();
    let pieces = Pieces { sizes, sequence, allowed, manner };
    insert(&mut regions, &mut free, sheets.len(), &pieces, &mut |_| false)
        .then(|| (0..sheets.len()).map(|sheet| block(&regions, sheet)).collect())
}

/// As many of the pieces as find a place on one sheet; built only when they are worth more than `least`, what is
/// worth how much being told by size.
pub(crate) fn pack_some(
    sheet: (u32, u32),
    sizes: &[Size],
    sequence: &[usize],
    manner: Manner,
    worth: &[i64],
    least: i64,
) -> Option<Block> {
    let mut regions = whole(&[sheet]);
    let mut free = Vec::new();
    let pieces = Pieces { sizes, sequence, allowed: &|_, _| true, manner };
    let mut value: i64 = sequence.iter().map(|&size| worth[size]).sum();
    let mut missing = |size: usize| {
        value -= worth[size];
        value > least // what is to come may still be placed
    };
    insert(&mut regions, &mut free, 1, &pieces, &mut missing).then(|| block(&regions, 0)).flatten()
}

fn whole(sheets: &[(u32, u32)]) -> Vec<Region> {
    sheets.iter().enumerate().map(|(sheet, &(w, h))| Region { sheet, w, h, part: Part::Free }).collect()
}

/// A place for a piece: index into the free regions, and the piece's width and height as it lies.
type Spot = (usize, u32, u32);

/// As [`pack`] for one `w` x `h` sheet from which `block` is already cut: more pieces go into what it leaves.
pub(crate) fn refill(
    block: Option<&Block>,
    (w, h): (u32, u32),
    sizes: &[Size],
    sequence: &[usize],
    manner: Manner,
) -> Option<Block> {
    let mut regions = whole(&[(w, h)]);
    let mut free = Vec::new();
    match block {
        Some(block) => plant(&mut regions, 0, block, &mut free),
        None => free.push(0),
    }
    let pieces = Pieces { sizes, sequence, allowed: &|_, _| true, manner };
    insert(&mut regions, &mut free, 0, &pieces, &mut |_| true);
    self::block(&regions, 0)
}

/// Cuts a region as `block` says; what the block leaves becomes free.
fn plant(regions: &mut Vec<Region>, r: usize, block: &Block, free: &mut Vec<usize>) {
    let (rw, rh) = (regions[r].w, regions[r].h);
    let beside_spans = u64::from(rw - block.w) * u64::from(rh);
    let above_spans = u64::from(rw) * u64::from(rh - block.h);
    let axes =
        if above_spans >= beside_spans { [Axis::Height, Axis::Width] } else { [Axis::Width, Axis::Height] };
    let mut here = r;
    for axis in axes {
        let at = if axis == Axis::Width { block.w } else { block.h };
        if let Some((inner, outer)) = cut(regions, here, axis, at) {
            free.push(outer);
            here = inner;
        }
    }
    let (axis, a, b) = match &block.made {
        Made::Piece(size) => {
            regions[here].part = Part::Piece(*size, block.w, block.h);
            return;
        }
        Made::Beside(a, b) => (Axis::Width, a, b),
        Made::Above(a, b) => (Axis::Height, a, b),
    };
    let at = if axis == Axis::Width { a.w } else { a.h };
    let (first, second) = cut(regions, here, axis, at).expect("both parts of a block have a size");
    plant(regions, first, a, free);
    plant(regions, second, b, free);
}

/// Cuts a region in two at `at` along `axis`; `None` when that would leave nothing on the far side.
fn cut(regions: &mut Vec<Region>, r: usize, axis: Axis, at: u32) -> Option<(usize, usize)> {
    let (sheet, w, h) = (regions[r].sheet, regions[r].w, regions[r].h);
    let (inner, outer) = match axis {
        Axis::Width => ((at, h), (w - at, h)),
        Axis::Height => ((w, at), (w, h - at)),
    };
    if outer.0 == 0 || outer.1 == 0 {
        return None;
    }
    let (a, b) = (regions.len(), regions.len() + 1);
    regions.push(Region { sheet, w: inner.0, h: inner.1, part: Part::Free });
    regions.push(Region { sheet, w: outer.0, h: outer.1, part: Part::Free });
    regions[r].part = Part::Cut(axis, a, b);
    Some((a, b))
}

/// Pieces to cut one after the other.
struct Pieces<'a> {
    sizes: &'a [Size],
    /// Sizes, one entry a piece.
    sequence: &'a [usize],
    /// Which size may come from which sheet.
    allowed: &'a dyn Fn(usize, usize) -> bool,
    manner: Manner,
}

/// Puts the pieces into free regions, opening further ones of the first `sheets` when none will do; a piece that finds no
/// place is told to `missing`, which says whether to go on. False when it said not to.
fn insert(
    regions: &mut Vec<Region>,
    free: &mut Vec<usize>,
    sheets: usize,
    pieces: &Pieces<'_>,
    missing: &mut dyn FnMut(usize) -> bool,
) -> bool {
    let Pieces { sizes, sequence, allowed, manner } = *pieces;
    let mut opened = 0;
    for &size in sequence {
        let mut spot = best_spot(regions, free, size, sizes[size], allowed, manner.suit);
        while spot.is_none() && opened < sheets {
            free.push(opened);
            opened += 1;
            spot = best_spot(regions, &free[free.len() - 1..], size, sizes[size], allowed, manner.suit)
                .map(|(_, w, h)| (free.len() - 1, w, h));
        }
        match spot {
            None if missing(size) => {}
            None => return false,
            Some((at, w, h)) => {
                let region = free.swap_remove(at);
                place(regions, region, size, (w, h), manner.rest, free);
            }
        }
    }
    true
}

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
    (w, h): (u32, u32),
    rest: Rest,
    free: &mut Vec<usize>,
) {
    let (rw, rh) = (regions[r].w, regions[r].h);
    let largest =
        |a: (u32, u32), b: (u32, u32)| (u64::from(a.0) * u64::from(a.1)).max(u64::from(b.0) * u64::from(b.1));
    // Cut along the height first: the part above spans the region. Or along the width: the part beside does.
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
        let at = if axis == Axis::Width { w } else { h };
        if let Some((inner, outer)) = cut(regions, here, axis, at) {
            free.push(outer);
            here = inner;
        }
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
