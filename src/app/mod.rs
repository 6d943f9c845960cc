//! The use cases: what a person can ask for, whether from a command line or from a page.
//!
//! Nothing here prints or exits. Whatever comes back as an answer has passed the independent check.

pub mod check;
pub mod folder;
pub mod given;
pub mod need;
pub mod options;
pub mod recheck;
pub mod run;
pub mod summary;

mod chart;
mod held;
mod idle;

use crate::diagnostic::{Diagnostic, any_error};
use crate::pattern;

pub use crate::length::{Length, Units};
pub use crate::planning::rules::{Aim, Manner, Solver};
pub use crate::planning::{Doing, Progress, Stop, Weights};
pub use given::Given;

/// The pattern in `file`, in the size named or the main one, as a cutting chart in CSV, with notes and warnings
/// about it.
///
/// # Errors
/// Everything that is wrong with the pattern.
pub fn chart(
    file: &Given,
    size: Option<&str>,
    units: Units,
) -> Result<(Vec<u8>, Vec<Diagnostic>), Vec<Diagnostic>> {
    let (pattern, mut said) = pattern::read(&file.name, &file.bytes);
    let pattern = given::at_size(pattern, &file.name, size, &mut said);
    if any_error(&said) {
        return Err(said);
    }
    said.extend(idle::rules(&pattern, &file.name));
    Ok((chart::chart(&pattern, units), said))
}
