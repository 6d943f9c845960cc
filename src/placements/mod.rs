//! What the quilter has decided on the design wall: which print goes where, and which block. A plan keeps to it.

use crate::diagnostic::Place;
use crate::pattern::layout;
use crate::spreadsheet::same_name;

mod csv;
mod pins;
mod places;

pub use csv::read;
pub use pins::pins;
pub use places::places;

/// Everything decided; empty when nothing is.
#[derive(Clone, Debug, Default)]
pub struct Placements {
    /// File name as the user gave it.
    pub file: String,
    /// One entry a row, in file order.
    pub rows: Vec<Placement>,
    /// Where block copies go, one entry a row that says it, in file order.
    pub places: Vec<PlacedCopy>,
}

impl Placements {
    /// The print decided for a role over the whole quilt.
    pub fn whole_quilt(&self, role: &str) -> Option<&str> {
        let of = |row: &&Placement| row.block.is_none() && row.label.is_none() && same_name(&row.role, role);
        self.rows.iter().find(of).map(|row| row.print.as_str())
    }
}

/// One decision: the pieces it names come from one print. What is `None` is not narrowed down.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Placement {
    /// Line in the file, from 1.
    pub line: u64,
    /// Kind of block; `None` for the role over the whole quilt.
    pub block: Option<String>,
    /// Copy of the block, from 1.
    pub copy: Option<u32>,
    /// The role.
    pub role: String,
    /// Label of one chart line of the role.
    pub label: Option<String>,
    /// Number among the pieces of that label in a block copy, from 1.
    pub piece: Option<u32>,
    /// The print.
    pub print: String,
}

/// A copy of a block goes to a place of the quilt.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlacedCopy {
    /// Line in the file, from 1.
    pub line: u64,
    /// Kind of block.
    pub block: String,
    /// Copy of the block, from 1.
    pub copy: u32,
    /// The place.
    pub place: layout::Place,
}

impl Placements {
    fn place(&self, line: u64, field: &str) -> Place {
        Place::line(&self.file, line).field(field)
    }
}
