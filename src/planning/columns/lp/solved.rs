//! What a solver of integer programmes hands back, whichever it is.

/// What it hands back, not yet rounded.
pub(crate) enum Solved {
    /// The values of all variables in order, and whether nothing is better.
    Found { values: Vec<f64>, best: bool },
    /// There is no solution.
    None,
    /// It ended with nothing in hand.
    Unknown,
}
