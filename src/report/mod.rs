//! What comes out of a run: the print sheet, the exact record and the spreadsheet files.
//!
//! `view` turns the outcome once into words, tables and drawings; `html`, `svg` and `csv` only write it down,
//! [`json`] writes the exact ticks. [`totals`] stops everything when the pieces do not add up.

use std::fmt;

use crate::arranging::Arranged;
use crate::length::{Length, Units};
use crate::pattern::Pattern;
use crate::pattern::demand::Demand;
use crate::planning::{Cause, Outcome, Rules};
use crate::stash::Stash;

pub mod cover;
mod csv;
pub mod escape;
mod fingerprint;
mod html;
pub mod json;

mod looked;
mod markup;
mod paint;
mod set_name;
mod situation;
mod svg;
mod totals;
mod view;
mod working;

pub use fingerprint::{Digest, fingerprint};
pub use totals::{Total, totals};
pub use view::proof::gap;
pub(crate) use view::words::{solver, stopped};

/// Everything one run has to tell.
#[derive(Clone, Copy, Debug)]
pub struct Job<'a> {
    /// What is on the shelf.
    pub stash: &'a Stash,
    /// What the quilt needs.
    pub pattern: &'a Pattern,
    /// The same as single pieces, as planned.
    pub demand: &'a Demand,
    /// What planning found.
    pub outcome: &'a Outcome,
    /// Where the blocks lie.
    pub arranged: &'a Arranged,
    /// The rules it was planned under.
    pub rules: &'a Rules,
    /// How to tell it.
    pub settings: &'a Settings,
}

/// How a run is told.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Settings {
    /// In which units lengths are shown.
    pub units: Units,
    /// The most layers of fabric to cut at once; at least 1.
    pub layers: u32,
    /// Date for the revision line, as the user wrote it.
    pub date: Option<String>,
    /// Mark of the inputs, from [`fingerprint`].
    pub revision: String,
    /// What squaring up takes off the width and off the length, for lots without an allowance of their own.
    pub allowance: Length,
    /// Path of the stash file within the output folder.
    pub stash_file: String,
    /// Path of the pattern file within the output folder.
    pub pattern_file: String,
    /// Who stopped the search before it was done, if somebody did.
    pub stopped: Option<Cause>,
    /// Path of the placements file within the output folder, when there was one.
    pub placements_file: Option<String>,
    /// The proofs of a refusal that the independent check has not made again.
    pub unshown: Unshown,
    /// The copies of the inputs, as they lie in the output folder.
    pub copies: Vec<Digest>,
}

/// Proofs that the independent check has not made again in the work allowed, by their places.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Unshown {
    /// Among the reasons.
    pub reasons: Vec<usize>,
    /// Among the refused ways of making the units.
    pub ways: Vec<usize>,
}

impl Default for Settings {
    fn default() -> Settings {
        Settings {
            units: Units::default(),
            layers: 4,
            date: None,
            revision: String::new(),
            allowance: Length::ZERO,
            stash_file: "inputs/stash.csv".to_owned(),
            pattern_file: "inputs/chart.csv".to_owned(),
            stopped: None,
            placements_file: None,
            unshown: Unshown::default(),
            copies: Vec::new(),
        }
    }
}

/// Why nothing is printed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ReportError {
    /// The pieces of one chart line do not add up.
    DoesNotClose {
        /// Kind of block.
        block: String,
        /// Label of the piece.
        label: String,
        /// How many the quilt needs.
        need: u32,
        /// How many the plan cuts.
        cut: u32,
        /// How many it reports short.
        short: u32,
    },
    /// A sheet holds a piece that the demand does not have.
    UnknownPiece(usize),
    /// A file could not be composed.
    Write(String),
}

impl fmt::Display for ReportError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            ReportError::DoesNotClose { block, label, need, cut, short } => write!(
                out,
                "nothing is printed: of piece {label} of {block} the quilt needs {need}, \
                 but the plan cuts {cut} and leaves {short} out"
            ),
            ReportError::UnknownPiece(index) => {
                write!(out, "nothing is printed: a sheet holds piece {index}, which the quilt does not have")
            }
            ReportError::Write(what) => write!(out, "nothing is printed: {what}"),
        }
    }
}

impl std::error::Error for ReportError {}

/// Every file of one run but the copies of its inputs, as name and bytes.
///
/// # Errors
/// When the totals by piece do not close; then nothing may be printed.
pub fn render(job: &Job<'_>) -> Result<Vec<(String, Vec<u8>)>, ReportError> {
    let view = view::View::of(job)?;
    let mut files = vec![("sheet.html".to_owned(), html::sheet(&view).into_bytes())];
    files.extend(csv::files(job)?);
    let drawn = view.plan.quilt.as_ref().map(svg::quilt::file);
    let drawn = drawn.or_else(|| view.plan.bars.as_ref().map(svg::quilt::bars_file));
    files.extend(drawn.map(|drawn| ("quilt.svg".to_owned(), drawn.into_bytes())));
    // Last, because it says what is in all others.
    let written = files.iter().map(|(name, bytes)| Digest::of(name, bytes));
    let digests = job.settings.copies.iter().cloned().chain(written).collect();
    files.insert(0, ("plan.json".to_owned(), json::plan_json(job, digests)?.into_bytes()));
    Ok(files)
}
