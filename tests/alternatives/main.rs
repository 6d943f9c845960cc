//! Alternatives: each kind from plan to check, how they are chosen, and why it did not fit.

#[path = "../table/mod.rs"]
mod table;

mod choice;
mod conflict;
mod jobs;
mod remade;
mod rules;
