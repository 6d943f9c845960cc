//! Yardage: strips, segments and the last part, for the least length.

pub(crate) mod last_part;
pub(crate) mod segments;
pub(crate) mod shortest;
pub(crate) mod strips;
