//! From exact inches to what is bought: spare, squaring up, the shop's step, each added for itself and shown.

use crate::length::{Length, Units};
use crate::need::{Amount, Percent, Step, ruler};

/// What is added to the exact length.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spare {
    /// For squaring up the ends, once a fabric. A truing takes 1/4 in to 2 in (shop practice, no single source);
    /// 1 in is taken unless said otherwise.
    pub squaring: Length,
    /// Percent of the exact length. Marsha McCloskey, "How to figure yardage for a quilt", takes 6 for shrinkage
    /// (running inches x 1.06), <https://featheredstar.wordpress.com/category/faqs/>; 0 unless said otherwise.
    pub percent: u32,
    /// One whole strip more when the deepest is deeper than this: a house rule of designers for cuts over 8 in.
    pub strip_over: Option<Length>,
    /// Percent of its length that the fabric loses when it is washed before cutting; below 100.
    pub shrinkage: Percent,
}

impl Default for Spare {
    fn default() -> Spare {
        Spare::usual(Units::Inches)
    }
}

/// An amount with the way it came about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Worked {
    /// What is cut.
    pub exact: Length,
    /// The spare percentage, up to a tick.
    pub percent: Length,
    /// The spare strip, when there is one.
    pub strip: Length,
    /// Squaring up.
    pub squaring: Length,
    /// What washing takes, so that the rest is left.
    pub shrinkage: Length,
    /// What must be bought at least.
    pub total: Length,
    /// Rounded up to the shop's step.
    pub amount: Amount,
}

impl Worked {
    /// What is bought beyond what is needed, spare counted as needed.
    pub fn over(&self) -> Length {
        self.amount.length - self.total
    }
}

impl Spare {
    /// What is taken when nothing is said; 2.5 cm with metric units.
    pub(super) fn usual(units: Units) -> Spare {
        let squaring = match units {
            Units::Inches => Length::from_inches(1),
            Units::Metric => ruler::millimetres(25),
        };
        Spare { squaring, percent: 0, strip_over: None, shrinkage: Percent::NONE }
    }

    /// `exact` inches of strips, the deepest of which is `deepest`, worked out to an amount.
    pub fn work_out(&self, exact: Length, deepest: Length, step: Step) -> Worked {
        let ticks = exact.ticks() * i64::from(self.percent);
        let percent = Length::from_ticks(ticks.div_euclid(100) + i64::from(ticks % 100 > 0));
        let strip = if self.strip_over.is_some_and(|limit| deepest > limit) { deepest } else { Length::ZERO };
        let washed = exact + percent + strip + self.squaring;
        let total = self.shrinkage.before(washed);
        Worked {
            exact,
            percent,
            strip,
            squaring: self.squaring,
            shrinkage: total - washed,
            total,
            amount: step.up(total),
        }
    }

    /// `exact` with everything added, not rounded.
    pub fn total(&self, exact: Length, deepest: Length) -> Length {
        self.work_out(exact, deepest, Step::EighthYard).total
    }
}
