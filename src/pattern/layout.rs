//! How blocks make the quilt top: rows of blocks, sashing, cornerstones, borders, plain data.

use crate::length::Length;
use crate::pattern::{BlockId, RoleId, Size, Turn};

/// The quilt around the blocks.
#[derive(Clone, Debug, Default)]
pub struct Layout {
    /// Straight or on point.
    pub set: Set,
    /// Rows of blocks, top first. On point these are the rows of blocks standing corner to corner.
    pub rows: Vec<Vec<BlockCell>>,
    /// On point: the rows between, one row and one block fewer each way; empty otherwise.
    pub between: Vec<Vec<BlockCell>>,
    /// On point: the role of the triangles at sides and corners.
    pub setting: Option<RoleId>,
    /// Strips between the blocks.
    pub sashing: Option<Sashing>,
    /// Borders, innermost first.
    pub borders: Vec<Border>,
    /// On point: what the setting squares are cut larger by.
    pub oversize: Length,
    /// Finished size of the quilt as the pattern states it, to be compared with what the layout gives.
    pub finished: Option<Size>,
    /// Line in the file, from 1.
    pub line: u64,
}

/// A place for a block as one sees it before the quilt. On point, the rows of blocks and the rows between them are
/// counted as they follow each other from the top.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Place {
    /// Row from the top, from 1.
    pub row: u32,
    /// Place in that row from the left, from 1.
    pub column: u32,
}

impl Layout {
    /// Every place with the block the pattern puts there, in reading order.
    pub fn places(&self) -> Vec<(Place, BlockCell)> {
        let mut rows: Vec<&Vec<BlockCell>> = Vec::new();
        for (index, row) in self.rows.iter().enumerate() {
            rows.push(row);
            rows.extend(self.between.get(index));
        }
        let places = (1..).zip(rows).flat_map(|(row, cells)| {
            (1..).zip(cells).map(move |(column, &cell)| (Place { row, column }, cell))
        });
        places.collect()
    }
}

/// How the rows of blocks lie.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Set {
    /// Rows run across the quilt.
    #[default]
    Straight,
    /// Blocks stand on a corner.
    OnPoint,
}

/// One place of the quilt: a copy of a block.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BlockCell {
    /// Kind of block.
    pub block: BlockId,
    /// Which copy, from 1, in reading order of the layout.
    pub copy: u32,
    /// How it is turned.
    pub turn: Turn,
}

/// Strips between the blocks, of one finished width.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sashing {
    /// Finished width.
    pub width: Length,
    /// What it is cut from.
    pub role: RoleId,
    /// Squares where sashing crosses; without them the strips between rows run through.
    pub cornerstones: Option<RoleId>,
    /// Whether it also runs round the outside.
    pub around: bool,
    /// Without cornerstones: usable length of the strips the long sashing is joined from; `None` for one piece.
    pub strip: Option<Length>,
    /// How many such strips the designer says; `None` for as many as it takes.
    pub strips: Option<u32>,
    /// How the strips are joined.
    pub join: Join,
}

/// One border.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Border {
    /// Finished width.
    pub width: Length,
    /// What it is cut from.
    pub role: RoleId,
    /// How its strips meet.
    pub corners: Corners,
    /// Usable length of the strips it is joined from; `None` for borders of one piece each.
    pub strip: Option<Length>,
    /// How many such strips the designer says; `None` for as many as it takes.
    pub strips: Option<u32>,
    /// How the strips are joined.
    pub join: Join,
}

/// How the strips of a border meet in the corners.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Corners {
    /// Sides first, then top and bottom over them.
    #[default]
    Butted,
    /// A square of this role in each corner.
    Squares(RoleId),
    /// Every strip reaches the outer edge at both ends and is sewn to its neighbour along the diagonal.
    Mitred {
        /// What each strip is cut longer than the outer edge as sewn.
        extra: Length,
    },
}

/// What a strip of a mitred border is cut longer than it must be, unless said. Authors add 1 in (Quilting Board,
/// "45 degree border math", <http://www.quiltingboard.com/main-f1/45-degree-boarder-math-t109880.html>) to 6 in
/// (Quilting Hub, <https://www.quiltinghub.com/Articles/ArticleID/370>) to the side and two border widths.
pub const MITRE_EXTRA: Length = Length::from_inches(1);

/// How strips are joined end to end.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Join {
    /// Square across: two seam allowances.
    #[default]
    Straight,
    /// Diagonally. The ends lie crossed at a right angle and are sewn corner to corner of the square in which they
    /// overlap, whose side is the strip's width: along either edge the joined strip is one strip width shorter than
    /// the two together.
    Diagonal,
}

impl Join {
    /// What one join takes of the length.
    pub fn loss(self, strip_width: Length, seam: Length) -> Length {
        match self {
            Join::Straight => seam + seam,
            Join::Diagonal => strip_width,
        }
    }
}
