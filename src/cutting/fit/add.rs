//! More pieces into what layouts leave over, without moving anything that lies there: the quickest yes there is.

use crate::cutting::Kind;
use crate::cutting::layout::{Axis, Layout, Node, Split};
use crate::length::Length;

/// A rectangle that was left over, or a part of one.
struct Region {
    layout: usize,
    width: Length,
    height: Length,
    part: Part,
}

enum Part {
    Free,
    Piece(usize, bool),
    Cut(Axis, Length, usize, usize),
}

/// `layouts` with `counts[k]` more pieces of every kind, where `may` lets a kind come from a layout; `None` when some
/// find no place. Leaves name kinds.
pub(crate) fn add(
    layouts: &[&Layout],
    kinds: &[Kind],
    counts: &[u32],
    may: impl Fn(usize, usize) -> bool,
) -> Option<Vec<Layout>> {
    let mut regions: Vec<Region> = Vec::new();
    for (layout, all) in layouts.iter().enumerate() {
        let free = all.leftovers().into_iter();
        regions.extend(free.map(|r| Region { layout, width: r.width, height: r.height, part: Part::Free }));
    }
    let roots = regions.len();
    let mut free: Vec<usize> = (0..roots).collect();
    let mut order: Vec<usize> = (0..counts.len()).filter(|&kind| counts[kind] > 0).collect();
    order.sort_by_key(|&kind| (std::cmp::Reverse(kinds[kind].width.by(kinds[kind].height)), kind));
    for kind in order {
        for _ in 0..counts[kind] {
            place(&mut regions, &mut free, kind, kinds[kind], &may)?;
        }
    }
    let mut next = 0;
    let new = layouts.iter().map(|layout| layout.rearranged(filled(layout.root(), &regions, &mut next)));
    Some(new.collect())
}

/// Puts a piece into the smallest free region that takes it and frees the two parts of the rest.
fn place(
    regions: &mut Vec<Region>,
    free: &mut Vec<usize>,
    kind: usize,
    sides: Kind,
    may: impl Fn(usize, usize) -> bool,
) -> Option<()> {
    let ways = [(sides.width, sides.height, false), (sides.height, sides.width, true)];
    let ways = &ways[..if sides.turn && sides.width != sides.height { 2 } else { 1 }];
    let spots = free.iter().enumerate().flat_map(|(at, &r)| ways.iter().map(move |way| (at, r, way)));
    let fits = spots.filter(|&(_, r, &(w, h, _))| {
        w <= regions[r].width && h <= regions[r].height && may(kind, regions[r].layout)
    });
    let (at, region, &(width, height, turned)) = fits.min_by_key(|&(at, r, &(w, h, _))| {
        let short = (regions[r].width - w).min(regions[r].height - h);
        (regions[r].width.by(regions[r].height), short, at)
    })?;
    free.swap_remove(at);
    let mut here = region;
    // The cut that leaves the larger rectangle whole comes first.
    let (wide, high) = (regions[here].width, regions[here].height);
    let above = wide.by(high - height) >= (wide - width).by(high);
    for axis in if above { [Axis::Height, Axis::Width] } else { [Axis::Width, Axis::Height] } {
        let (layout, w, h) = (regions[here].layout, regions[here].width, regions[here].height);
        let (at, inner, outer) = match axis {
            Axis::Width => (width, (width, h), (w - width, h)),
            Axis::Height => (height, (w, height), (w, h - height)),
        };
        if outer.0 == Length::ZERO || outer.1 == Length::ZERO {
            continue;
        }
        let first = regions.len();
        for (width, height) in [inner, outer] {
            regions.push(Region { layout, width, height, part: Part::Free });
        }
        regions[here].part = Part::Cut(axis, at, first, first + 1);
        free.push(first + 1);
        here = first;
    }
    regions[here].part = Part::Piece(kind, turned);
    Some(())
}

/// The tree with its leftovers, in the order of [`Layout::leftovers`], cut as the regions say.
fn filled(node: &Node, regions: &[Region], next: &mut usize) -> Node {
    match node {
        Node::Leftover => {
            *next += 1;
            cut(regions, *next - 1)
        }
        Node::Piece { .. } => node.clone(),
        Node::Cut(split) => {
            let first = filled(&split.first, regions, next);
            let second = filled(&split.second, regions, next);
            Node::Cut(Box::new(Split { axis: split.axis, at: split.at, first, second }))
        }
    }
}

fn cut(regions: &[Region], at: usize) -> Node {
    match regions[at].part {
        Part::Free => Node::Leftover,
        Part::Piece(kind, turned) => Node::Piece { kind, turned },
        Part::Cut(axis, at, first, second) => {
            let (first, second) = (cut(regions, first), cut(regions, second));
            Node::Cut(Box::new(Split { axis, at, first, second }))
        }
    }
}

/// The layout without `surplus[k]` pieces of every kind, as far as it holds them; what is left out is taken from `surplus`.
pub(crate) fn cut_back(layout: &Layout, surplus: &mut [u32]) -> Layout {
    layout.rearranged(fewer(layout.root(), surplus))
}

fn fewer(node: &Node, surplus: &mut [u32]) -> Node {
    match node {
        Node::Piece { kind, .. } if surplus[*kind] > 0 => {
            surplus[*kind] -= 1;
            Node::Leftover
        }
        Node::Cut(split) => {
            let first = fewer(&split.first, surplus);
            let second = fewer(&split.second, surplus);
            if matches!((&first, &second), (Node::Leftover, Node::Leftover)) {
                return Node::Leftover;
            }
            Node::Cut(Box::new(Split { axis: split.axis, at: split.at, first, second }))
        }
        Node::Leftover | Node::Piece { .. } => node.clone(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pieces_go_into_leftovers_and_the_rest_stays_where_it_is() {
        let inches = Length::from_inches;
        let kinds = [
            Kind { width: inches(6), height: inches(10), turn: false },
            Kind { width: inches(5), height: inches(4), turn: true },
        ];
        let root = Node::Cut(Box::new(Split {
            axis: Axis::Width,
            at: inches(6),
            first: Node::Piece { kind: 0, turned: false },
            second: Node::Leftover,
        }));
        let layout = Layout::new(inches(10), inches(10), root, &kinds).unwrap();
        let more = add(&[&layout], &kinds, &[0, 2], |_, _| true).unwrap();
        let again = Layout::new(inches(10), inches(10), more[0].root().clone(), &kinds).unwrap();
        assert_eq!(again.pieces().len(), 3);
        assert_eq!(again.pieces()[0], layout.pieces()[0]);
        assert!(add(&[&layout], &kinds, &[0, 3], |_, _| true).is_none());
        assert!(add(&[&layout], &kinds, &[0, 1], |_, _| false).is_none());
        let mut surplus = [0, 3];
        let fewer = cut_back(&more[0], &mut surplus);
        assert_eq!((fewer.pieces(), surplus), (layout.pieces(), [0, 1]));
    }
}
