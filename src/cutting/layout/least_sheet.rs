//! How small a sheet may be before a layout no longer works on it.

use crate::cutting::Sheet;
use crate::cutting::layout::{Axis, Layout, Node, Rect};
use crate::length::Length;

/// The least sheet on which the cuts of `layout`, in their order, still yield every piece whole: leftovers shrink
/// to nothing, pieces keep their sizes. Both sides are least at once, since the order of the cuts is fixed.
pub fn least_sheet(layout: &Layout) -> Sheet {
    least(layout.root(), layout.whole())
}

fn least(node: &Node, rect: Rect) -> Sheet {
    match node {
        Node::Leftover => Sheet { width: Length::ZERO, height: Length::ZERO },
        Node::Piece { .. } => Sheet { width: rect.width, height: rect.height },
        Node::Cut(split) => {
            let (first, second) = rect.split(split.axis, split.at);
            let (a, b) = (least(&split.first, first), least(&split.second, second));
            match split.axis {
                Axis::Width => Sheet { width: a.width + b.width, height: a.height.max(b.height) },
                Axis::Height => Sheet { width: a.width.max(b.width), height: a.height + b.height },
            }
        }
    }
}
