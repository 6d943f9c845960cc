//! Yardage cut as people cut it: strips across the whole width, each cross-cut, at most one trim a piece.
//!
//! Gilmore and Gomory (1965): strips of a few heights cover the demand with the least length together. A way of filling a
//! strip is a pattern; `pattern` lists and prices them, `cover` chooses whole numbers of them and bounds every choice.
//! Pieces longer than the fabric is wide go first, lengthwise side by side in a band of their own.

pub(crate) mod cover;
pub(crate) mod pattern;

use crate::cutting::grid::block::Namer;
use crate::cutting::grid::order::{Order, Size};
use crate::cutting::layout::tidy::{Strip, nested};
use crate::cutting::layout::{Axis, Node, Split};
use crate::cutting::strips::cover::cover;
use crate::cutting::strips::pattern::{Pattern, heights, richest};
use crate::cutting::{Kind, Layout, Sheet, Work, tidy};
use crate::length::Length;

/// What may lie in a strip.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Style {
    /// Pieces as high as the strip: a strip is only cross-cut.
    Plain,
    /// Lower ones too, each trimmed once.
    Mixed,
    /// Columns of equal pieces one above the other, too.
    Stacked,
}

impl Style {
    /// From the easiest to cut to the shortest.
    pub const ALL: [Style; 3] = [Style::Plain, Style::Mixed, Style::Stacked];
}

/// Answer to [`in_strips`].
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct InStrips {
    /// A layout of the whole length and the height that it uses, if one was found that fits.
    pub found: Option<(Layout, Length)>,
    /// No cutting in strips of this style uses less; zero where nothing is known.
    pub bound: Length,
}

/// The least length of fabric of `width`, at most `longest`, from which the pieces come in strips. The layout is of the full
/// `width` x `longest` sheet; its first cut is at the height used when that is less.
///
/// # Panics
/// When `counts` has not one count a kind.
pub fn in_strips(
    width: Length,
    longest: Length,
    kinds: &[Kind],
    counts: &[u32],
    style: Style,
    work: &mut Work,
) -> InStrips {
    assert_eq!(kinds.len(), counts.len(), "one count a kind");
    let order = Order::merged(kinds, counts);
    let sheet = Sheet { width, height: longest };
    let (w, h) = order.sheet(sheet);
    let nothing = InStrips { found: None, bound: Length::ZERO };
    if order.sizes.iter().any(|size| size.ways().all(|way| way.0 > w)) {
        return nothing;
    }
    let mut left = order.counts.clone();
    let mut bands = bands(w, &order.sizes, &mut left, style, work);
    let banded = !bands.is_empty();
    let covered = cover(w, &order.sizes, &left, style, work);
    // What lies beside long pieces is chosen greedily, so nothing is known of other choices.
    let bound = if banded { Length::ZERO } else { order.length(covered.bound) };
    let Some(strips) = covered.strips else { return InStrips { bound, ..nothing } };
    bands.extend(strips.into_iter().map(|strip| Band { strip, beside: Vec::new() }));
    let used: u64 = bands.iter().map(|band| u64::from(band.strip.h)).sum();
    if used > u64::from(h) || bands.is_empty() {
        return InStrips { bound, ..nothing };
    }
    let used = order.length(u32::try_from(used).expect("not more than the sheet has"));
    let mut namer = Namer::new(&order, kinds);
    let strips = bands.iter().map(|band| {
        let height = order.length(band.strip.h);
        Strip { size: height, node: band.node(width, height, &order, &mut namer) }
    });
    let part = Layout::new(width, used, nested(strips.collect(), Axis::Height), kinds);
    let part = tidy(&part.expect("strips lie one above the other"));
    InStrips { found: Some((used_first(&part, sheet, kinds), used)), bound }
}

/// A strip across the width and, beside long pieces, what is cut from the rest of it.
struct Band {
    strip: Pattern,
    beside: Vec<Pattern>,
}

impl Band {
    fn node(&self, width: Length, height: Length, order: &Order, namer: &mut Namer) -> Node {
        let mut columns = columns(&self.strip, height, order, namer);
        let room = width - columns.iter().map(|column| column.size).sum();
        let mut strips = Vec::new();
        for pattern in &self.beside {
            let high = order.length(pattern.h);
            let mut columns = self::columns(pattern, high, order, namer);
            fill_up(&mut columns, room);
            strips.push(Strip { size: high, node: nested(columns, Axis::Width) });
        }
        if !strips.is_empty() {
            fill_up(&mut strips, height);
            columns.push(Strip { size: room, node: nested(strips, Axis::Height) });
        }
        fill_up(&mut columns, width);
        nested(columns, Axis::Width)
    }
}

/// The columns of a strip, each cut into its pieces and what is trimmed off above them.
fn columns(strip: &Pattern, height: Length, order: &Order, namer: &mut Namer) -> Vec<Strip> {
    let column = |column: &pattern::Column| {
        let (w, h) = (order.length(column.w), order.length(column.h));
        let piece = |_| Strip { size: h, node: namer.piece(column.size, w, h) };
        let mut pieces: Vec<Strip> = (0..column.pieces).map(piece).collect();
        fill_up(&mut pieces, height);
        Strip { size: w, node: nested(pieces, Axis::Height) }
    };
    strip.columns.iter().map(column).collect()
}

/// What is left of `size` beyond the strips, as one more.
fn fill_up(strips: &mut Vec<Strip>, size: Length) {
    let left = size - strips.iter().map(|strip| strip.size).sum();
    if left > Length::ZERO {
        strips.push(Strip { size: left, node: Node::Leftover });
    }
}

/// Bands as high as the longest piece they hold, for pieces that go in along the length only, with strips beside them.
fn bands(w: u32, sizes: &[Size], left: &mut [u32], style: Style, work: &mut Work) -> Vec<Band> {
    let along =
        |size: &Size| size.ways().filter(|way| way.0 <= w).min_by_key(|way| way.1).filter(|way| way.1 > w);
    let mut long: Vec<(usize, (u32, u32))> =
        sizes.iter().enumerate().filter_map(|(s, size)| Some((s, along(size)?))).collect();
    long.sort_by_key(|&(s, (pw, ph))| (std::cmp::Reverse((ph, pw)), s));
    let mut bands = Vec::new();
    while let Some(&(_, (_, height))) = long.iter().find(|(s, _)| left[*s] > 0) {
        let mut room = w;
        let mut strip = Pattern { h: height, columns: Vec::new() };
        for &(size, (pw, ph)) in &long {
            while left[size] > 0 && pw <= room {
                left[size] -= 1;
                room -= pw;
                strip.columns.push(pattern::Column { size, w: pw, h: ph, pieces: 1 });
            }
        }
        bands.push(Band { strip, beside: beside(room, height, sizes, left, style, work) });
    }
    bands
}

/// Strips into a part `w` wide and `h` high, one after the other, each the one that holds most for its height.
fn beside(w: u32, h: u32, sizes: &[Size], left: &mut [u32], style: Style, work: &mut Work) -> Vec<Pattern> {
    let values: Vec<i64> = sizes.iter().map(|size| i64::try_from(size.area()).unwrap_or(0)).collect();
    let mut room = h;
    let mut all = Vec::new();
    loop {
        let fitting = heights(w, sizes, left).into_iter().filter(|&height| height <= room);
        let strips = fitting.filter_map(|height| richest(w, height, sizes, left, style, &values, work));
        let best = strips.filter(|(value, _)| *value > 0).max_by(|(a, one), (b, other)| {
            (i128::from(*a) * i128::from(other.h), other.h).cmp(&(i128::from(*b) * i128::from(one.h), one.h))
        });
        let Some((_, strip)) = best else { return all };
        for column in &strip.columns {
            left[column.size] -= column.pieces;
        }
        room -= strip.h;
        all.push(strip);
    }
}

/// The layout of the whole sheet whose first cut takes off the used part.
pub(crate) fn used_first(part: &Layout, sheet: Sheet, kinds: &[Kind]) -> Layout {
    if part.height() == sheet.height {
        return part.clone();
    }
    let root = Node::Cut(Box::new(Split {
        axis: Axis::Height,
        at: part.height(),
        first: part.root().clone(),
        second: Node::Leftover,
    }));
    Layout::new(sheet.width, sheet.height, root, kinds).expect("the used part lies inside the sheet")
}
