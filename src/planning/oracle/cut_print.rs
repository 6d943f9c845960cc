//! A question about cutting and its answer: a list of pieces, and how it is cut from the sheets of one print.

use crate::cutting::{Kind, Layout, Proof};
use crate::fabric::Cut;
use crate::length::Length;
use crate::planning::instance::holding::SheetKind;

/// A question, free of how an instance numbers its sizes.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub(crate) struct Question {
    pub(crate) sheets: Vec<SheetKind>,
    /// Whether all the sheets are opened anyway.
    pub(crate) all: bool,
    /// The budget.
    pub(crate) steps: u64,
    pub(crate) pieces: Vec<Wanted>,
}

/// Pieces alike.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub(crate) struct Wanted {
    pub(crate) kind: Kind,
    /// Cuts of fabric they may come from; any when empty.
    pub(crate) from: Vec<Cut>,
    pub(crate) count: u32,
}

/// One sheet cut: its kind in the class, how it is cut (leaves name sizes), the length used.
#[derive(Clone, Debug)]
pub(crate) struct CutSheet {
    pub(crate) kind: usize,
    pub(crate) layout: Layout,
    pub(crate) used: Length,
}

/// The answer for one list of pieces.
#[derive(Clone, Debug)]
pub(crate) enum Cutting {
    /// They can be cut like this.
    Yes {
        /// Weighted fabric opened.
        cost: i64,
        /// No way of cutting them opens less.
        least: i64,
        /// The opened sheets.
        sheets: Vec<CutSheet>,
    },
    /// Proved: they cannot.
    No(Proof),
    /// The budget ended.
    Unknown,
}

impl Cutting {
    /// The weighted fabric, when it can be cut.
    pub(crate) fn cost(&self) -> Option<i64> {
        match self {
            Cutting::Yes { cost, .. } => Some(*cost),
            _ => None,
        }
    }

    /// How much there is to remember: its sheets and pieces.
    pub(crate) fn weight(&self) -> usize {
        match self {
            Cutting::Yes { sheets, .. } => sheets.iter().map(|sheet| 1 + sheet.layout.pieces().len()).sum(),
            Cutting::No(_) | Cutting::Unknown => 1,
        }
    }

    /// The same in other numbers of sizes: the new number of each.
    pub(crate) fn renamed(&self, sizes: &[usize]) -> Cutting {
        match self {
            Cutting::Yes { cost, least, sheets } => {
                let layout = |sheet: &CutSheet| sheet.layout.renamed(|size| sizes[size]);
                let sheets = sheets.iter().map(|sheet| CutSheet { layout: layout(sheet), ..*sheet });
                Cutting::Yes { cost: *cost, least: *least, sheets: sheets.collect() }
            }
            // Of a proof only its measures are told, not the kinds.
            Cutting::No(proof) => Cutting::No(proof.clone()),
            Cutting::Unknown => Cutting::Unknown,
        }
    }
}

/// The highest edge of any piece.
pub(crate) fn highest(layout: &Layout) -> Length {
    layout.pieces().iter().map(|(_, rect, _)| rect.y + rect.height).max().unwrap_or(Length::ZERO)
}
