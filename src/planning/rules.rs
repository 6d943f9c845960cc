//! What the user may set about planning.

use std::collections::BTreeMap;

use crate::cutting::Wishes;
use crate::fabric::Family;
use crate::length::{Length, Units};
use crate::stash::LotId;

/// Settings of one run.
#[derive(Clone, Debug)]
pub struct Rules {
    /// What is wished of a plan in which everything is cut.
    pub aim: Aim,
    /// How much more fabric than the least found may be opened for the sake of looks, in percent.
    pub extra_fabric: u32,
    /// What a square inch of opened fabric counts, in hundredths, by family.
    pub weights: Weights,
    /// Lots of which opening a sheet counts so much, whatever is used of it, in place of its weighted area.
    pub costs: BTreeMap<LotId, i64>,
    /// A leftover is useful when its shorter side is at least this.
    pub useful_side: Length,
    /// Whether it is looked for what together does not fit.
    pub conflicts: bool,
    /// Whether alternatives are looked for when it does not fit.
    pub alternatives: bool,
    /// Taken off each trued side of fabric that an alternative would buy, as off any lot that does not say.
    pub allowance: Length,
    /// How lengths are written in reasons, and whose marks the ruler has.
    pub units: Units,
    /// How much searching may be done, as a multiple of the usual amount in hundredths.
    pub effort: u32,
    /// On how many threads the work may be done; the outcome is the same.
    pub threads: usize,
    /// Who solves the integer programme that chooses between plans of prints.
    pub solver: Solver,
    /// How yardage is cut.
    pub cutting: Manner,
}

impl Rules {
    /// What is wished of each layout.
    pub(crate) fn wishes(&self) -> Wishes {
        Wishes { useful_side: self.useful_side, units: self.units }
    }
}

/// How yardage is cut.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Manner {
    /// In strips across the width, where that takes little more length than the shortest cutting known.
    #[default]
    Auto,
    /// In strips wherever they fit at all.
    Strips,
    /// On the least length found, with cuts in any order.
    Nested,
}

impl Manner {
    /// Its name in options and in records.
    pub fn name(self) -> &'static str {
        match self {
            Manner::Auto => "auto",
            Manner::Strips => "strips",
            Manner::Nested => "nested",
        }
    }

    /// The longest length that strips may take of a sheet of length `all` where the shortest known cutting takes `shortest`: at
    /// most 2 in or 2 percent more, whichever is larger. `None` where strips are not wished for.
    ///
    /// Over 65 fabrics of published patterns that limit keeps strips on all but two, for 2033 in of 2026.
    pub(crate) fn longest(self, shortest: Length, all: Length) -> Option<Length> {
        let extra = Length::from_inches(2).max(Length::from_ticks(shortest.ticks() / 50));
        match self {
            Manner::Auto => Some((shortest + extra).min(all)),
            Manner::Strips => Some(all),
            Manner::Nested => None,
        }
    }
}

/// What is wished of a plan in which everything is cut, in order.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Aim {
    /// That fabrics which meet look different, that few copies of a block repeat a print, then little fabric.
    Look,
    /// Little fabric, whichever prints meet.
    #[default]
    Save,
}

impl Aim {
    /// Its name in options and in records.
    pub fn name(self) -> &'static str {
        match self {
            Aim::Look => "look",
            Aim::Save => "save",
        }
    }
}

/// A solver of integer programmes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Solver {
    /// In Rust, always there.
    #[default]
    Microlp,
    /// In C++; stronger on large programmes.
    #[cfg(feature = "highs")]
    Highs,
}

impl Solver {
    /// Its name in options and in records.
    pub fn name(self) -> &'static str {
        match self {
            Solver::Microlp => "microlp",
            #[cfg(feature = "highs")]
            Solver::Highs => "highs",
        }
    }
}

/// Weights by family, in hundredths.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Weights {
    /// Scraps.
    pub scrap: u32,
    /// Squares and strips.
    pub precut: u32,
    /// Fat quarters and eighths.
    pub fat_quarter: u32,
    /// Yardage, by the length used.
    pub yardage: u32,
}

impl Weights {
    /// The weight of one family.
    pub fn of(&self, family: Family) -> u32 {
        match family {
            Family::Scrap => self.scrap,
            Family::Precut => self.precut,
            Family::FatQuarter => self.fat_quarter,
            Family::Yardage => self.yardage,
        }
    }
}

impl Default for Weights {
    fn default() -> Weights {
        Weights { scrap: 50, precut: 100, fat_quarter: 120, yardage: 150 }
    }
}

impl Default for Rules {
    fn default() -> Rules {
        Rules {
            aim: Aim::default(),
            extra_fabric: 5,
            weights: Weights::default(),
            costs: BTreeMap::new(),
            useful_side: Length::from_eighths(20),
            allowance: Length::ZERO,
            conflicts: true,
            alternatives: true,
            units: Units::Inches,
            effort: 100,
            threads: 1,
            solver: Solver::default(),
            cutting: Manner::Nested,
        }
    }
}
