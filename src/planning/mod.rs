//! Which set from which print, which piece from which sheet, and why not.

pub mod plan;
pub mod rules;

pub use plan::{Alternative, Change, Fabric, Outcome, Plan, Reason, SheetPlan, Short, Verdict};
pub use rules::Rules;
