//! What the quilt needs: blocks, roles and pieces, plain data.
//!
//! A cutting chart fills only roles, blocks and their pieces. A pattern in TOML also says how the pieces
//! are sewn: units, rows of units, and the quilt around the blocks.

use crate::diagnostic::Diagnostic;
use crate::fabric::Cut;
use crate::length::{Length, Units};

pub mod assembly;
mod chart;
pub mod demand;
mod expand;
mod file;
pub mod geometry;
pub mod layout;
pub mod patchwork;
pub mod rows;
pub mod rules;
pub mod seam;
pub mod setting;
mod size;
pub mod steps;
pub mod unit;
pub mod ways;

pub use chart::read_chart;
pub use file::read_toml;
pub use layout::{BlockCell, Layout};
pub use rows::{Cell, Part, Turn};
pub use rules::RoleRules;
pub use seam::Sewing;
pub use size::QuiltSize;
pub use unit::Unit;

/// True for a pattern in TOML: its name ends in `.toml`. A name that ends in `.csv` is a cutting chart's; any
/// other is told by its first line, which in TOML is a comment, a table or a key with `=`.
pub fn is_toml(file_name: &str, bytes: &[u8]) -> bool {
    let name = file_name.to_lowercase();
    name.ends_with(".toml") || (!name.ends_with(".csv") && looks_like_toml(bytes))
}

/// Reads a pattern in TOML, or else as a cutting chart; [`is_toml`] tells which.
pub fn read(file_name: &str, bytes: &[u8]) -> (Pattern, Vec<Diagnostic>) {
    if is_toml(file_name, bytes) { read_toml(file_name, bytes) } else { read_chart(file_name, bytes) }
}

fn looks_like_toml(bytes: &[u8]) -> bool {
    let first =
        bytes.split(|&byte| byte == b'\n').find(|line| line.iter().any(|byte| !byte.is_ascii_whitespace()));
    let first = first.unwrap_or_default().trim_ascii();
    matches!(first.first(), Some(b'[' | b'#')) || first.contains(&b'=')
}

/// Index of a role in [`Pattern::roles`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct RoleId(pub usize);

/// Index of a block kind in [`Pattern::blocks`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct BlockId(pub usize);

/// A quilt pattern.
#[derive(Clone, Debug, Default)]
pub struct Pattern {
    /// Name of the quilt; the file's stem when the file gives none.
    pub name: String,
    /// Fabric roles, in order of first appearance.
    pub roles: Vec<Role>,
    /// Kinds of block, in order of first appearance.
    pub blocks: Vec<Block>,
    /// The seam and the ruler it is computed for; `None` for a chart, which says cut sizes only.
    pub sewing: Option<Sewing>,
    /// How the blocks are set together; `None` when the pattern does not say.
    pub layout: Option<Layout>,
    /// The sizes it comes in, the main one first; empty when there is one only, without a name.
    pub sizes: Vec<QuiltSize>,
    /// Which of them `blocks` and `layout` are.
    pub size: usize,
    /// All its fabrics are meant to blend, as in a quilt tone on tone.
    pub blends: bool,
}

/// Width and height of something flat. Whether seams are included is said where it is used.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Size {
    /// From left to right.
    pub width: Length,
    /// From bottom to top.
    pub height: Length,
}

impl Size {
    /// Equal width and height.
    pub const fn square(side: Length) -> Size {
        Size { width: side, height: side }
    }

    /// The same, turned by a quarter when `turn` is one.
    pub fn turned(self, turn: Turn) -> Size {
        if turn.swaps() { Size { width: self.height, height: self.width } } else { self }
    }

    /// As text in the given units, such as `4 1/2 x 2 1/2 in`.
    pub fn show(self, units: Units) -> String {
        format!("{} x {}", self.width.show_bare(units), self.height.show(units))
    }
}

/// A letter or name the pattern gives to a fabric.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Role {
    /// As the pattern writes it.
    pub name: String,
    /// What the designer calls it in words, such as `urchin print`; empty when not said.
    pub title: String,
    /// Cuts of fabric it may be taken from; empty means any.
    pub from: Vec<Cut>,
    /// Which prints may take it, and beside which others.
    pub rules: RoleRules,
    /// What the pattern says of how it looks beside others.
    pub looks: RoleLooks,
}

/// What a pattern says of how a fabric looks beside others.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct RoleLooks {
    /// The only roles it meets; `None` where that is left to the seams.
    pub meets: Option<Vec<RoleId>>,
    /// It is meant to blend with what it meets.
    pub blends: bool,
}

/// A kind of block.
#[derive(Clone, Debug, Default)]
pub struct Block {
    /// Name.
    pub name: String,
    /// How many copies the quilt has; at least 1.
    pub make: u32,
    /// What one copy is made of, in file order.
    pub pieces: Vec<PieceLine>,
    /// The first so many of `pieces` are given by the pattern itself; the rest come of its units.
    pub given: usize,
    /// Two seam allowances: what a given piece loses each way when it is sewn in; zero for a chart.
    pub seams: Length,
    /// Its size in the quilt, without seams; `None` when the pattern does not say.
    pub finished: Option<Size>,
    /// Its units, in file order; their pieces are counted in `pieces` already.
    pub units: Vec<Unit>,
    /// How it is put together, top row first; empty when the pattern does not say.
    pub rows: Vec<Vec<Cell>>,
}

/// How many of a piece are needed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Count {
    /// In each copy of the block.
    PerCopy(u32),
    /// Over all copies; spread evenly, the first copies getting one more when it does not divide.
    Total(u32),
}

/// What a rectangle becomes after cutting.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Shape {
    /// Stays as cut.
    Rectangle,
    /// A square then cut once corner to corner: two triangles.
    CutOnce,
    /// A square then cut on both diagonals: four triangles.
    CutTwice,
}

/// Which pieces must come from one print.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Matching {
    /// No rule: each piece may come from any print.
    Piece,
    /// A role's pieces in one block copy come from one print.
    Block,
    /// A role's pieces over the whole quilt come from one print.
    Quilt,
}

/// One line of a cutting chart.
#[derive(Clone, Debug)]
pub struct PieceLine {
    /// Label on the sheet and the bag, such as `A3`.
    pub label: String,
    /// The role it is cut from.
    pub role: RoleId,
    /// Size across the grain, as cut, seams included.
    pub width: Length,
    /// Size along the grain, as cut, seams included.
    pub height: Length,
    /// How many.
    pub count: Count,
    /// What it becomes.
    pub shape: Shape,
    /// The matching rule.
    pub matching: Matching,
    /// Line in the file, from 1.
    pub line: u64,
}
