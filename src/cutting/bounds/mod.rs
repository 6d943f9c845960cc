//! What no cutting of a sheet can pass: tables of values, measures, prices on counts.

pub(crate) mod dual_feasible;
pub(crate) mod lagrange;
pub(crate) mod measure;
pub(crate) mod outer_table;
pub(crate) mod positions;
pub(crate) mod proof;
pub(crate) mod value_table;
