//! Why it does not fit: the numbers that prove it, in weights or in cases, and what together does not fit.

pub(crate) mod cases;
pub(crate) mod conflict;
pub(crate) mod reason;
pub(crate) mod weighing;
