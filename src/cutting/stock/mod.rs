//! What pieces are cut from when sheets are counted: kinds of sheet, each at its cost.

pub(crate) mod around;
pub(crate) mod basis;
pub(crate) mod cheapest;
pub(crate) mod columns;
pub(crate) mod cover;
pub(crate) mod exchange;
pub(crate) mod fill;
pub(crate) mod first_sheets;
pub(crate) mod lp;
pub(crate) mod pricing;
pub(crate) mod recut;
pub(crate) mod residues;

/// A kind of sheet to be had in any number.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Stock {
    pub(crate) w: u32,
    pub(crate) h: u32,
    pub(crate) cost: i64,
}
