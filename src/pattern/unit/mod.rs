//! Units: the parts of a block that the trade has a name and a way of sewing for.
//!
//! Each kind has a file with what one batch needs, what it makes and what every step must measure. Finished
//! size in, cut pieces and checkpoints out; the formulas themselves are in [`crate::pattern::seam`].

use crate::length::Length;
use crate::pattern::{Cell, PieceLine, RoleId, Shape, Size};

mod error;
mod folded;
mod geese;
mod half_square;
mod patch;
mod quarter_square;
mod recipe;
mod spec;
mod strip_set;
mod triangles;

pub use error::UnitError;
pub use spec::Spec;

/// A unit of a block.
#[derive(Clone, Debug)]
pub struct Unit {
    /// What rows call it; made up from its kind when the pattern gives no name.
    pub name: String,
    /// What it is.
    pub kind: Kind,
    /// Its size in the quilt, without seams; `None` for loose triangles.
    pub finished: Option<Size>,
    /// How many a block copy has.
    pub each: u32,
    /// How many of these lie turned by a quarter, so that width and height change places.
    pub turned: u32,
    /// The ways it may be made, the designer's first choice first; empty only for rows of other units.
    pub ways: Vec<Way>,
    /// What squares are cut larger by, to be trimmed, as the pattern says it.
    pub oversize: Vec<Length>,
    /// Which of `ways` the block's pieces are counted for.
    pub chosen: usize,
    /// Line in the file, from 1.
    pub line: u64,
}

/// The kinds of unit, with the roles they are made of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Kind {
    /// A square, rectangle or strip of one fabric.
    Patch {
        /// Its fabric.
        role: RoleId,
    },
    /// A square of two triangles. As described, the first lies upper left, the second lower right.
    HalfSquare {
        /// The two fabrics.
        roles: [RoleId; 2],
    },
    /// A square of three or four triangles.
    QuarterSquare {
        /// Two fabrics: the first above and below, the second left and right. Three: the first above, the
        /// second left, the third the half square lower right. Four: above, right, below, left.
        roles: Vec<RoleId>,
    },
    /// A rectangle twice as wide as high: a large triangle with its point up between two small ones.
    Geese {
        /// The large triangle.
        goose: RoleId,
        /// The small triangle at the upper left.
        left: RoleId,
        /// The small triangle at the upper right.
        right: RoleId,
    },
    /// A square or rectangle with small triangles folded over some of its corners.
    FoldedCorners {
        /// The square or rectangle.
        base: RoleId,
        /// Which corners, and of what.
        corners: Vec<(Corner, RoleId)>,
        /// Finished short side of the corner triangles.
        side: Length,
    },
    /// A square standing on its corner in a square.
    SquareInSquare {
        /// The inner square.
        centre: RoleId,
        /// The four triangles around it.
        corners: RoleId,
    },
    /// Loose triangles, two from each square.
    TrianglesCutOnce {
        /// Their fabric.
        role: RoleId,
        /// Finished short side.
        side: Length,
    },
    /// Loose triangles, four from each square.
    TrianglesCutTwice {
        /// Their fabric.
        role: RoleId,
        /// Finished long side.
        side: Length,
    },
    /// Strips sewn together lengthwise, then cut across into units.
    StripSet {
        /// Fabric and finished width of each strip, top first.
        strips: Vec<(RoleId, Length)>,
        /// Length of the strips as cut.
        length: Length,
    },
    /// Anything else: its pieces and steps as the designer gives them.
    Free {
        /// What one batch takes and makes.
        recipe: Recipe,
    },
    /// Rows of other units of the block, top row first.
    Rows {
        /// The rows.
        rows: Vec<Vec<Cell>>,
    },
}

/// A corner of a unit as described.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Corner {
    /// Upper left.
    UpperLeft,
    /// Upper right.
    UpperRight,
    /// Lower right.
    LowerRight,
    /// Lower left.
    LowerLeft,
}

/// A way of making a unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Method {
    /// The only way there is for this kind of unit.
    Plain,
    /// Two squares give two units.
    TwoAtATime,
    /// Squares give four units.
    FourAtATime,
    /// Two large squares give eight units.
    EightAtATime,
    /// Triangles are cut first, then sewn.
    CutTriangles,
    /// Squares are sewn corner to corner on a larger patch and folded back.
    FoldedCorners,
}

/// One way of making a unit, worked out for a block.
#[derive(Clone, Debug)]
pub struct Way {
    /// The method.
    pub method: Method,
    /// What one batch takes and makes.
    pub recipe: Recipe,
    /// Units left over when all the block's copies are made.
    pub spare: u32,
    /// What to cut for all copies of the block, labels as in the block's chart.
    pub lines: Vec<PieceLine>,
}

/// One batch of a unit: what to cut, what comes of it, and how.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Recipe {
    /// Units made in one go.
    pub makes: u32,
    /// What to cut for them.
    pub cuts: Vec<CutPiece>,
    /// Sewing steps in order; the last gives the size of the unit before it is joined to others.
    pub steps: Vec<Step>,
}

/// Alike pieces of a recipe.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CutPiece {
    /// Their fabric.
    pub role: RoleId,
    /// Size as cut, seams included.
    pub size: Size,
    /// How many.
    pub count: u32,
    /// What they become.
    pub shape: Shape,
}

/// One sewing step.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// What to do, one sentence.
    pub text: String,
    /// What the result must measure, seams included.
    pub measures: Option<Size>,
}

impl Unit {
    /// The way its pieces are counted for; `None` for rows of other units.
    pub fn way(&self) -> Option<&Way> {
        self.ways.get(self.chosen)
    }
}

impl Method {
    /// Its name in the trade and in pattern files; empty for [`Method::Plain`].
    pub fn name(self) -> &'static str {
        match self {
            Method::Plain => "",
            Method::TwoAtATime => "two at a time",
            Method::FourAtATime => "four at a time",
            Method::EightAtATime => "eight at a time",
            Method::CutTriangles => "cut triangles",
            Method::FoldedCorners => "folded corners",
        }
    }
}

impl Step {
    /// A step without a checkpoint.
    fn new(text: &str) -> Step {
        Step { text: text.to_string(), measures: None }
    }

    /// A step whose result is measured.
    fn measured(text: &str, measures: Size) -> Step {
        Step { text: text.to_string(), measures: Some(measures) }
    }
}

impl CutPiece {
    /// `count` pieces that stay as cut.
    fn plain(role: RoleId, size: Size, count: u32) -> CutPiece {
        CutPiece { role, size, count, shape: Shape::Rectangle }
    }

    /// `count` squares that become triangles.
    fn triangles(role: RoleId, size: Size, count: u32, shape: Shape) -> CutPiece {
        CutPiece { role, size, count, shape }
    }
}
