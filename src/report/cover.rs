//! A page for a pattern's cover: what to buy, what is taken for granted, and how every length of it is cut.

use crate::report::situation::Situation;
use crate::report::view::PlanView;
use crate::report::{Job, ReportError, html};

pub use crate::report::view::cover::{Cover, Table};

/// The page as HTML. `job` is the cutting of the fabric bought, planned like fabric that is owned.
///
/// # Errors
/// When the pieces do not add up; then nothing may be printed.
pub fn page(cover: &Cover, job: &Job<'_>) -> Result<String, ReportError> {
    let plan = PlanView::of(&Situation::main(job), String::new())?;
    Ok(html::cover::page(cover, &plan))
}
