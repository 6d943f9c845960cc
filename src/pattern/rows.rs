//! Rows of cells: how units make a block and blocks make a quilt, plain data.

use crate::pattern::RoleId;

/// One place in a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cell {
    /// What is sewn there.
    pub part: Part,
    /// How it is turned.
    pub turn: Turn,
}

/// What a cell of a block holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// The unit with this index in [`crate::pattern::Block::units`].
    Unit(usize),
    /// The line with this index in [`crate::pattern::Block::pieces`], and its role.
    Piece(usize, RoleId),
}

/// Quarter turns, clockwise, from the way a unit is described.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Turn {
    /// As described; written `^` or nothing.
    #[default]
    Up,
    /// A quarter turn clockwise: its top points right; written `>`.
    Right,
    /// Upside down; written `v`.
    Down,
    /// A quarter turn the other way: its top points left; written `<`.
    Left,
}

impl Turn {
    /// True when width and height change places.
    pub fn swaps(self) -> bool {
        matches!(self, Turn::Right | Turn::Left)
    }
}
