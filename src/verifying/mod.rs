//! To be filled by its own change.
