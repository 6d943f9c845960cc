//! Why pieces do not fit, in numbers a person can check.

use std::fmt;

use crate::length::{Area, Length};

/// The argument that proves that pieces cannot be cut from the sheets given.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Proof {
    /// A piece is longer or wider than every sheet it may come from.
    TooLong {
        /// Index of the kind.
        kind: usize,
    },
    /// The pieces (of the kinds named; all when empty) have more area than the sheets.
    Area {
        /// Kinds that can come only from those sheets; empty when it is all of them.
        kinds: Vec<usize>,
        /// Area of the pieces.
        pieces: Area,
        /// Area of the sheets, each side rounded down to the longest sum of piece sides.
        sheets: Area,
    },
    /// Pieces wider than half the sheet lie one above the other, and together they are too high (or the same
    /// turned round).
    Stacked {
        /// The kinds that cannot lie side by side.
        kinds: Vec<usize>,
        /// Their heights together.
        pieces: Length,
        /// The height of the sheets together.
        sheets: Length,
    },
    /// Sides measured by a rule under which no cutting of the sheets can gain (a pair of dual feasible
    /// functions): the pieces measure more than the sheets.
    DualFeasible {
        /// Measure of the pieces.
        pieces: u64,
        /// Measure of the sheets.
        sheets: u64,
    },
    /// With these values (one a kind), no straight cutting of the sheets is worth as much as the pieces together.
    Values {
        /// Value of one piece of each kind.
        values: Vec<i64>,
        /// The pieces together.
        pieces: i64,
        /// The most that any cutting of the sheets is worth, copies unlimited.
        sheets: i64,
    },
    /// Every way of cutting was tried.
    Exhausted {
        /// How many ways of joining pieces that took.
        steps: u64,
    },
}

impl fmt::Display for Proof {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Proof::TooLong { .. } => write!(f, "a piece is larger than the sheet"),
            Proof::Area { pieces, sheets, .. } => write!(
                f,
                "the pieces need {} sq in, the fabric has {} sq in in whole sums of piece sides",
                square_inches(*pieces),
                square_inches(*sheets)
            ),
            Proof::Stacked { pieces, sheets, .. } => write!(
                f,
                "pieces that cannot lie side by side stack up to {} in, the fabric has {} in",
                inches(*pieces),
                inches(*sheets)
            ),
            Proof::DualFeasible { pieces, sheets } => write!(
                f,
                "counting sides by how many go into the sheet, the pieces measure {pieces} and the fabric {sheets}"
            ),
            Proof::Values { pieces, sheets, .. } => {
                write!(
                    f,
                    "the pieces are worth {pieces} points and no straight cutting of the fabric yields more than {sheets}"
                )
            }
            Proof::Exhausted { .. } => write!(f, "every order of straight cuts was tried"),
        }
    }
}

/// Square inches to two decimals, rounded down; for messages only.
fn square_inches(area: Area) -> String {
    let hundredths = i128::from(area.square_ticks()) * 100 / i128::from(Area::PER_SQUARE_INCH);
    format!("{}.{:02}", hundredths / 100, hundredths % 100)
}

/// Inches to three decimals, rounded down; for messages only.
fn inches(length: Length) -> String {
    let thousandths = i128::from(length.ticks()) * 1000 / i128::from(Length::TICKS_PER_INCH);
    format!("{}.{:03}", thousandths / 1000, thousandths % 1000)
}
