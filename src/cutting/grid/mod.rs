//! What is cut, on a grid of whole numbers: sizes in order, positions worth cutting at, joined blocks.

pub(crate) mod block;
pub(crate) mod counts;
pub(crate) mod order;
pub(crate) mod raster;
