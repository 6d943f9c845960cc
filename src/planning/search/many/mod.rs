//! Very many sets and sizes: sheets filled with whole sets, and how often each filling is taken.

pub(crate) mod anneal;
pub(crate) mod fills;
pub(crate) mod rooms;
