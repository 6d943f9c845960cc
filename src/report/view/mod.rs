//! The outcome as words, tables and drawings: what every format then merely writes down.

pub(crate) mod words;
