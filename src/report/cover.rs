//! A page for a pattern's cover: what to buy, what is taken for granted, and how every length of it is cut.

use crate::report::situation::Situation;
use crate::report::view::PlanView;
use crate::report::{Job, ReportError, html};

/// What the page says before its cutting, already in words.
#[derive(Clone, Debug, Default)]
pub struct Cover {
    /// Name of the quilt.
    pub title: String,
    /// Mark of the inputs, and a date when there is one.
    pub revision: String,
    /// Finished size, and other facts of the quilt, in one line; may be empty.
    pub about: String,
    /// What to buy.
    pub buy: Table,
    /// Every step from what is cut to what is bought.
    pub steps: Table,
    /// Amounts in every size; without rows when there is one.
    pub sizes: Table,
    /// What is taken for granted.
    pub assumptions: Vec<String>,
    /// How the cutting below was chosen.
    pub cutting: String,
}

/// A table of texts.
#[derive(Clone, Debug, Default)]
pub struct Table {
    /// Its headings.
    pub headings: Vec<String>,
    /// Its rows, one cell a heading.
    pub rows: Vec<Vec<String>>,
}

/// The page as HTML. `job` is the cutting of the fabric bought, planned like fabric that is owned.
///
/// # Errors
/// When the pieces do not add up; then nothing may be printed.
pub fn page(cover: &Cover, job: &Job<'_>) -> Result<String, ReportError> {
    let plan = PlanView::of(&Situation::main(job), String::new())?;
    Ok(html::cover::page(cover, &plan))
}
