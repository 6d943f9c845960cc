//! What pieces are cut from when sheets are counted: kinds of sheet, each at its cost.

/// A kind of sheet to be had in any number.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Stock {
    pub(crate) w: u32,
    pub(crate) h: u32,
    pub(crate) cost: i64,
}
