//! How fabric comes: the cuts of the trade, their nominal sizes and how they count.
//! Shared by the stash (what is held) and the pattern (what a role may come from).

use crate::length::Length;

mod name;
mod table;

pub use table::table;

/// A cut of fabric: an entry of the built-in table `data/shapes.csv`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Cut(pub(crate) u8);

/// The four weights by which opened fabric is counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Family {
    /// Odd pieces; the cheapest to open.
    Scrap,
    /// Squares and strips of a pack or roll.
    Precut,
    /// Fat quarters and fat eighths.
    FatQuarter,
    /// Anything cut across the bolt; counted by the length used.
    Yardage,
}

/// Which measures of a cut lose the squaring-up allowance, each of them once.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Trued {
    /// Width and length.
    Both,
    /// The width only (the ends of a strip).
    Width,
    /// The length only (yardage: the width is usable width already).
    Length,
}

/// One row of the table.
#[derive(Clone, Debug)]
pub struct CutEntry {
    /// Name in the trade, such as `10-inch square`.
    pub name: String,
    /// Nominal width, across the grain; `None` when it must be measured.
    pub width: Option<Length>,
    /// Nominal length, along the grain; `None` when it must be given.
    pub length: Option<Length>,
    /// How it counts when opened.
    pub family: Family,
    /// Which sides are trued.
    pub trued: Trued,
    /// Other spellings people use, lower case.
    pub spellings: Vec<String>,
}

/// Light, medium or dark, relative to the rest.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Value {
    /// Light.
    Light,
    /// Medium.
    Medium,
    /// Dark.
    Dark,
}

/// Money in hundredths of the user's own currency.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Price(pub i64);
