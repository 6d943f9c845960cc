//! The cuts of a layout in the order in which they are made at the mat.
//!
//! All cuts of one region in one direction follow each other, each from the fresh edge that the last one left; then the
//! strips are cut on, those with long pieces first, then the largest. Whatever is cut next was whole after the step before.

use crate::cutting::layout::tidy::{holds_long, strips};
use crate::cutting::layout::{Axis, Layout, Node, Rect};
use crate::length::Length;

/// What lies on one side of a cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CutOff {
    /// A finished piece.
    Piece {
        /// As the layout's leaf names it.
        kind: usize,
        /// True when it lies a quarter turn round.
        turned: bool,
    },
    /// Fabric to be cut on.
    Strip,
    /// Nothing more is cut from it.
    Leftover,
}

/// One cut.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// 1 for the first cut of the sheet.
    pub order: usize,
    /// What is being cut, in one piece since the steps before.
    pub region: Rect,
    /// Along which side `at` is measured.
    pub axis: Axis,
    /// Distance of the cut from the region's left (or lower) edge: the ruler setting.
    pub at: Length,
    /// The part between the edge measured from and the cut.
    pub off: (Rect, CutOff),
    /// The part that remains.
    pub rest: (Rect, CutOff),
}

/// The cuts of `layout` in working order.
pub fn steps(layout: &Layout) -> Vec<Step> {
    let mut all = Vec::new();
    cut_region(layout.root(), layout.whole(), layout.width(), &mut all);
    all
}

/// `longest` is what a piece may measure and still lie across the sheet.
fn cut_region(node: &Node, whole: Rect, longest: Length, all: &mut Vec<Step>) {
    let Node::Cut(split) = node else { return };
    let axis = split.axis;
    let side = if axis == Axis::Width { whole.width } else { whole.height };
    let parts = strips(node, axis, side);
    let mut region = whole;
    let mut placed: Vec<(Rect, &Node)> = Vec::new();
    for (i, part) in parts.iter().enumerate() {
        let Some(after) = parts.get(i + 1) else {
            placed.push((region, &part.node));
            break;
        };
        let (off, rest) = region.split(axis, part.size);
        let last = i + 2 == parts.len();
        all.push(Step {
            order: all.len() + 1,
            region,
            axis,
            at: part.size,
            off: (off, what(&part.node)),
            rest: (rest, if last { what(&after.node) } else { CutOff::Strip }),
        });
        placed.push((off, &part.node));
        region = rest;
    }
    placed.sort_by_key(|(rect, node)| {
        let long = holds_long(node, rect.width, rect.height, longest);
        std::cmp::Reverse((long, rect.width.by(rect.height).square_ticks()))
    });
    for (rect, node) in placed {
        cut_region(node, rect, longest, all);
    }
}

fn what(node: &Node) -> CutOff {
    match node {
        Node::Leftover => CutOff::Leftover,
        Node::Piece { kind, turned } => CutOff::Piece { kind: *kind, turned: *turned },
        Node::Cut(_) => CutOff::Strip,
    }
}
