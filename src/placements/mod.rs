//! What the quilter has decided on the design wall: which print goes where. A plan keeps to it.

use crate::diagnostic::Place;

mod csv;
mod pins;

pub use csv::read;
pub use pins::pins;

/// Everything decided; empty when nothing is.
#[derive(Clone, Debug, Default)]
pub struct Placements {
    /// File name as the user gave it.
    pub file: String,
    /// One entry a row, in file order.
    pub rows: Vec<Placement>,
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

impl Placements {
    fn place(&self, row: &Placement, field: &str) -> Place {
        Place::line(&self.file, row.line).field(field)
    }
}
