//! One tree for all layouts that are the same but for the order of their strips: strips that hold long pieces first,
//! then wide ones, equal ones together, what is left over last and in one piece.
//!
//! A piece is long when it goes into the sheet along its length only. Nothing can replace it, so what is cut off a
//! part that still holds long pieces always holds some itself: whoever stops or slips after any cut has the long ones.

use std::cmp::Reverse;

use crate::cutting::layout::{Axis, Layout, Node, Split};
use crate::length::Length;

/// A part of a region that straight cuts in one direction cut into strips.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Strip {
    /// Size along the axis.
    pub(crate) size: Length,
    pub(crate) node: Node,
}

/// The strips that all cuts along `axis` at the top of `node` make of a region of `size`, in their order.
pub(crate) fn strips(node: &Node, axis: Axis, size: Length) -> Vec<Strip> {
    match node {
        Node::Cut(split) if split.axis == axis => {
            let mut all = strips(&split.first, axis, split.at);
            all.extend(strips(&split.second, axis, size - split.at));
            all
        }
        other => vec![Strip { size, node: other.clone() }],
    }
}

/// The layout with the strips of every region in one fixed order. The pieces and the waste are the same; leftovers that
/// lay apart between strips of one region become one.
pub fn tidy(layout: &Layout) -> Layout {
    let (width, height) = (layout.width(), layout.height());
    layout.rearranged(tidied(layout.root(), width, height, width))
}

/// `longest` is what a piece may measure and still lie across the sheet.
fn tidied(node: &Node, width: Length, height: Length, longest: Length) -> Node {
    let Node::Cut(split) = node else { return node.clone() };
    let axis = split.axis;
    let side = if axis == Axis::Width { width } else { height };
    let mut left_over = Length::ZERO;
    let mut kept: Vec<Strip> = Vec::new();
    for strip in strips(node, axis, side) {
        let (w, h) = if axis == Axis::Width { (strip.size, height) } else { (width, strip.size) };
        match tidied(&strip.node, w, h, longest) {
            Node::Leftover => left_over += strip.size,
            // Tidying below may have left one cut in this same direction: take its strips too.
            inner => kept.extend(strips(&inner, axis, strip.size)),
        }
    }
    let also: Length = kept.iter().filter(|s| s.node == Node::Leftover).map(|s| s.size).sum();
    left_over += also;
    kept.retain(|s| s.node != Node::Leftover);
    kept.sort_by_cached_key(|strip| {
        let (w, h) = if axis == Axis::Width { (strip.size, height) } else { (width, strip.size) };
        let first = Reverse((holds_long(&strip.node, w, h, longest), strip.size));
        (first, strip.node.clone())
    });
    if left_over > Length::ZERO {
        kept.push(Strip { size: left_over, node: Node::Leftover });
    }
    nested(kept, axis)
}

/// True when a piece in a region of this size is longer than `longest`.
pub(crate) fn holds_long(node: &Node, width: Length, height: Length, longest: Length) -> bool {
    match node {
        Node::Leftover => false,
        Node::Piece { .. } => width > longest || height > longest,
        Node::Cut(split) => {
            let (first, second) = match split.axis {
                Axis::Width => ((split.at, height), (width - split.at, height)),
                Axis::Height => ((width, split.at), (width, height - split.at)),
            };
            holds_long(&split.first, first.0, first.1, longest)
                || holds_long(&split.second, second.0, second.1, longest)
        }
    }
}

/// Strips as nested cuts, each taking the first strip off the rest.
pub(crate) fn nested(strips: Vec<Strip>, axis: Axis) -> Node {
    let mut backwards = strips.into_iter().rev();
    let mut node = backwards.next().map_or(Node::Leftover, |last| last.node);
    for strip in backwards {
        node = Node::Cut(Box::new(Split { axis, at: strip.size, first: strip.node, second: node }));
    }
    node
}
