//! What the quilt needs: blocks, roles and pieces, plain data.

use crate::fabric::Cut;
use crate::length::Length;

pub mod demand;

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
}

/// A letter or name the pattern gives to a fabric.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Role {
    /// As the pattern writes it.
    pub name: String,
    /// Cuts of fabric it may be taken from; empty means any.
    pub from: Vec<Cut>,
}

/// A kind of block.
#[derive(Clone, Debug)]
pub struct Block {
    /// Name.
    pub name: String,
    /// How many copies the quilt has; at least 1.
    pub make: u32,
    /// What one copy is made of, in file order.
    pub pieces: Vec<PieceLine>,
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
