//! The tree of straight cuts of one sheet. The only way to get a [`Layout`] is to cut one up,
//! so it is edge to edge and loses no area by construction.

use crate::cutting::{Kind, Sheet};
use crate::length::Length;

pub(crate) mod least_sheet;
pub(crate) mod steps;
pub(crate) mod tidy;

/// Along which side a cut's position is measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Axis {
    /// Measured along the width, from the left edge: the cut runs along the length.
    Width,
    /// Measured along the height, from the lower edge: the cut runs across the width.
    Height,
}

/// A rectangle on a sheet; the origin is the sheet's lower left corner.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Rect {
    /// Distance from the left edge.
    pub x: Length,
    /// Distance from the lower edge.
    pub y: Length,
    /// Width.
    pub width: Length,
    /// Height.
    pub height: Length,
}

/// What becomes of a region.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Node {
    /// Left over.
    Leftover,
    /// Is exactly one piece.
    Piece {
        /// Index of the piece (or of its kind), as the caller counts.
        kind: usize,
        /// True when the piece lies a quarter turn round.
        turned: bool,
    },
    /// Is cut in two.
    Cut(Box<Split>),
}

/// One straight cut from edge to edge.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Split {
    /// Side along which `at` is measured.
    pub axis: Axis,
    /// Distance from the left (or lower) edge of the region; strictly inside it.
    pub at: Length,
    /// The left (or lower) part.
    pub first: Node,
    /// The rest.
    pub second: Node,
}

/// A sheet and the tree of its cuts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Layout {
    width: Length,
    height: Length,
    root: Node,
}

/// Why a tree is not a layout.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LayoutFault {
    /// A cut does not lie strictly inside its region.
    CutOutside(Rect, Axis, Length),
    /// A leaf does not have the size of its piece, or turns a piece that may not be turned.
    WrongSize(Rect, usize),
    /// A leaf names a piece that is not in the list.
    UnknownPiece(usize),
}

impl Layout {
    /// A layout of a `width` x `height` sheet cut as `root` says.
    ///
    /// # Errors
    /// When a cut is not strictly inside its region, or a leaf is not exactly its piece in `kinds`.
    pub fn new(width: Length, height: Length, root: Node, kinds: &[Kind]) -> Result<Layout, LayoutFault> {
        let whole = Rect { x: Length::ZERO, y: Length::ZERO, width, height };
        check(&root, whole, kinds)?;
        Ok(Layout { width, height, root })
    }

    /// Width of the sheet.
    pub fn width(&self) -> Length {
        self.width
    }

    /// Height of the sheet.
    pub fn height(&self) -> Length {
        self.height
    }

    /// The tree.
    pub fn root(&self) -> &Node {
        &self.root
    }

    /// The whole sheet as a rectangle.
    pub fn whole(&self) -> Rect {
        Rect { x: Length::ZERO, y: Length::ZERO, width: self.width, height: self.height }
    }

    /// Every piece: its index, where it lies, whether it is turned. In the order of the tree.
    pub fn pieces(&self) -> Vec<(usize, Rect, bool)> {
        let mut found = Vec::new();
        walk(&self.root, self.whole(), &mut |node, rect| {
            if let Node::Piece { kind, turned } = node {
                found.push((*kind, rect, *turned));
            }
        });
        found
    }

    /// Every leftover.
    pub fn leftovers(&self) -> Vec<Rect> {
        let mut found = Vec::new();
        walk(&self.root, self.whole(), &mut |node, rect| {
            if matches!(node, Node::Leftover) {
                found.push(rect);
            }
        });
        found
    }

    /// The same sheet cut as `root` says, which only moves parts of this layout about.
    pub(crate) fn rearranged(&self, root: Node) -> Layout {
        Layout { width: self.width, height: self.height, root }
    }

    /// The same cuts with every piece renamed by `name`.
    pub fn renamed(&self, mut name: impl FnMut(usize) -> usize) -> Layout {
        Layout { width: self.width, height: self.height, root: rename(&self.root, &mut name) }
    }
}

/// `layouts`, each across the whole width, one above the other from the lower edge of `sheet`.
pub(crate) fn stacked(sheet: Sheet, layouts: &[&Layout]) -> Layout {
    fn above(height: Length, layouts: &[&Layout]) -> Node {
        match layouts {
            [] => Node::Leftover,
            [last] if last.height == height => last.root.clone(),
            [first, rest @ ..] => Node::Cut(Box::new(Split {
                axis: Axis::Height,
                at: first.height,
                first: first.root.clone(),
                second: above(height - first.height, rest),
            })),
        }
    }
    Layout { width: sheet.width, height: sheet.height, root: above(sheet.height, layouts) }
}

impl Rect {
    /// The two parts of this rectangle on either side of a cut.
    pub fn split(self, axis: Axis, at: Length) -> (Rect, Rect) {
        match axis {
            Axis::Width => {
                (Rect { width: at, ..self }, Rect { x: self.x + at, width: self.width - at, ..self })
            }
            Axis::Height => {
                (Rect { height: at, ..self }, Rect { y: self.y + at, height: self.height - at, ..self })
            }
        }
    }
}

fn check(node: &Node, rect: Rect, kinds: &[Kind]) -> Result<(), LayoutFault> {
    match node {
        Node::Leftover => Ok(()),
        Node::Piece { kind, turned } => {
            let size = kinds.get(*kind).ok_or(LayoutFault::UnknownPiece(*kind))?;
            let (width, height) = if *turned { (size.height, size.width) } else { (size.width, size.height) };
            if (*turned && !size.turn) || width != rect.width || height != rect.height {
                return Err(LayoutFault::WrongSize(rect, *kind));
            }
            Ok(())
        }
        Node::Cut(split) => {
            let side = if split.axis == Axis::Width { rect.width } else { rect.height };
            if split.at <= Length::ZERO || split.at >= side {
                return Err(LayoutFault::CutOutside(rect, split.axis, split.at));
            }
            let (first, second) = rect.split(split.axis, split.at);
            check(&split.first, first, kinds)?;
            check(&split.second, second, kinds)
        }
    }
}

fn walk(node: &Node, rect: Rect, visit: &mut impl FnMut(&Node, Rect)) {
    visit(node, rect);
    if let Node::Cut(split) = node {
        let (first, second) = rect.split(split.axis, split.at);
        walk(&split.first, first, visit);
        walk(&split.second, second, visit);
    }
}

fn rename(node: &Node, name: &mut impl FnMut(usize) -> usize) -> Node {
    match node {
        Node::Leftover => Node::Leftover,
        Node::Piece { kind, turned } => Node::Piece { kind: name(*kind), turned: *turned },
        Node::Cut(split) => Node::Cut(Box::new(Split {
            axis: split.axis,
            at: split.at,
            first: rename(&split.first, name),
            second: rename(&split.second, name),
        })),
    }
}
