//! A block: pieces already joined edge to edge into one rectangle, with the waste inside it.
//! Blocks are what the searches build; a [`Layout`] is what they hand out.

use crate::cutting::grid::order::Order;
use crate::cutting::layout::{Axis, Layout, Node, Split};
use crate::cutting::{Kind, Sheet};
use crate::length::Length;

/// A rectangle on the grid that comes apart by straight cuts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Block {
    pub(crate) w: u32,
    pub(crate) h: u32,
    pub(crate) made: Made,
}

/// How a block is made.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Made {
    /// One piece of a size.
    Piece(usize),
    /// Two blocks side by side.
    Beside(Box<Block>, Box<Block>),
    /// The second block above the first.
    Above(Box<Block>, Box<Block>),
}

impl Block {
    pub(crate) fn piece(size: usize, w: u32, h: u32) -> Block {
        Block { w, h, made: Made::Piece(size) }
    }

    pub(crate) fn beside(a: Block, b: Block) -> Block {
        Block { w: a.w + b.w, h: a.h.max(b.h), made: Made::Beside(Box::new(a), Box::new(b)) }
    }

    pub(crate) fn above(a: Block, b: Block) -> Block {
        Block { w: a.w.max(b.w), h: a.h + b.h, made: Made::Above(Box::new(a), Box::new(b)) }
    }

    /// Joins two blocks along `axis`, either of which may be missing.
    pub(crate) fn join(axis: Axis, a: Option<Block>, b: Option<Block>) -> Option<Block> {
        match (a, b) {
            (Some(a), Some(b)) if axis == Axis::Width => Some(Block::beside(a, b)),
            (Some(a), Some(b)) => Some(Block::above(a, b)),
            (a, b) => a.or(b),
        }
    }

    /// How many of each of `sizes` sizes the block holds.
    pub(crate) fn counts(&self, sizes: usize) -> Vec<u32> {
        let mut counts = vec![0; sizes];
        self.visit(&mut |size| counts[size] += 1);
        counts
    }

    /// Calls `see` with the size of every piece.
    pub(crate) fn visit(&self, see: &mut impl FnMut(usize)) {
        match &self.made {
            Made::Piece(size) => see(*size),
            Made::Beside(a, b) | Made::Above(a, b) => {
                a.visit(see);
                b.visit(see);
            }
        }
    }

    /// The same block with every size renamed.
    pub(crate) fn renamed(self, name: &impl Fn(usize) -> usize) -> Block {
        let join = |a: Box<Block>, b: Box<Block>| (Box::new(a.renamed(name)), Box::new(b.renamed(name)));
        let made = match self.made {
            Made::Piece(size) => Made::Piece(name(size)),
            Made::Beside(a, b) => {
                let (a, b) = join(a, b);
                Made::Beside(a, b)
            }
            Made::Above(a, b) => {
                let (a, b) = join(a, b);
                Made::Above(a, b)
            }
        };
        Block { made, ..self }
    }

    /// The block without some pieces: `keep` says of every piece met whether it stays.
    pub(crate) fn keeping(self, keep: &mut impl FnMut(usize) -> bool) -> Option<Block> {
        let Block { w, h, made } = self;
        match made {
            Made::Piece(size) => keep(size).then_some(Block { w, h, made: Made::Piece(size) }),
            Made::Beside(a, b) => Block::join(Axis::Width, a.keeping(keep), b.keeping(keep)),
            Made::Above(a, b) => Block::join(Axis::Height, a.keeping(keep), b.keeping(keep)),
        }
    }
}

/// The layout that cuts `block` (or nothing) out of `sheet`, its leaves naming the caller's kinds.
pub(crate) fn layout(block: Option<&Block>, sheet: Sheet, order: &Order, kinds: &[Kind]) -> Layout {
    let mut namer = Namer::new(order, kinds);
    layout_with(block, sheet, &mut namer)
}

/// As [`layout`], for one of several sheets that share the counts kept by `namer`.
pub(crate) fn layout_with(block: Option<&Block>, sheet: Sheet, namer: &mut Namer) -> Layout {
    let root = match block {
        None => Node::Leftover,
        Some(block) => namer.node(block, sheet.width, sheet.height),
    };
    Layout::new(sheet.width, sheet.height, root, namer.kinds).expect("a block lies inside its sheet")
}

/// Gives out the caller's kinds for the pieces of a size, as many as there are of each.
pub(crate) struct Namer<'a> {
    order: &'a Order,
    kinds: &'a [Kind],
    left: Vec<Vec<(usize, u32)>>,
}

impl<'a> Namer<'a> {
    pub(crate) fn new(order: &'a Order, kinds: &'a [Kind]) -> Namer<'a> {
        Namer { order, kinds, left: order.members.clone() }
    }

    /// Cuts `block` out of a `width` x `height` region. What sticks out beyond the block comes off first, the
    /// bigger strip whole, so that leftovers stay large.
    fn node(&mut self, block: &Block, width: Length, height: Length) -> Node {
        let (w, h) = (self.order.length(block.w), self.order.length(block.h));
        let (over, up) = (width - w, height - h);
        let trim = if over == Length::ZERO && up == Length::ZERO {
            None
        } else if up == Length::ZERO || (over > Length::ZERO && side_strip_first(over, up, width, height)) {
            Some((Axis::Width, w))
        } else {
            Some((Axis::Height, h))
        };
        if let Some((axis, at)) = trim {
            let first = match axis {
                Axis::Width => self.node(block, w, height),
                Axis::Height => self.node(block, width, h),
            };
            return Node::Cut(Box::new(Split { axis, at, first, second: Node::Leftover }));
        }
        match &block.made {
            Made::Piece(size) => self.piece(*size, w, h),
            Made::Beside(a, b) => {
                let at = self.order.length(a.w);
                let (first, second) = (self.node(a, at, height), self.node(b, width - at, height));
                Node::Cut(Box::new(Split { axis: Axis::Width, at, first, second }))
            }
            Made::Above(a, b) => {
                let at = self.order.length(a.h);
                let (first, second) = (self.node(a, width, at), self.node(b, width, height - at));
                Node::Cut(Box::new(Split { axis: Axis::Height, at, first, second }))
            }
        }
    }

    /// The next piece of a size, lying `w` x `h`.
    pub(crate) fn piece(&mut self, size: usize, w: Length, h: Length) -> Node {
        let members = &mut self.left[size];
        let (kind, left) = members.first_mut().expect("no more pieces than were asked for");
        let kind = *kind;
        *left -= 1;
        if *left == 0 {
            members.remove(0);
        }
        let turned = (self.kinds[kind].width, self.kinds[kind].height) != (w, h);
        Node::Piece { kind, turned }
    }
}

/// True when the strip beside the block should come off whole before the strip above it.
fn side_strip_first(over: Length, up: Length, width: Length, height: Length) -> bool {
    let worth = |short: Length, long: Length| {
        let (short, long) = (i128::from(short.min(long).ticks()), i128::from(short.max(long).ticks()));
        short * short * long
    };
    worth(over, height) > worth(up, width)
}
