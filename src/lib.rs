//! Cutcloth plans the cutting of a patchwork quilt from real fabric.
//!
//! The way of the data, one module a step (each uses only those before it):
//!
//! stash CSV and pattern ([`stash`], [`pattern`], [`placements`]) become located, validated models;
//! the pattern expands to a demand of exact rectangles in sets ([`pattern::demand`]);
//! [`planning`] assigns sets to prints and asks [`cutting`] for layouts and bounds;
//! the outcome is recomputed from the inputs by [`verifying`], which shares nothing with the engine,
//! and turned once into a view that every output format merely prints ([`report`]).
//! [`looks`] says which fabrics meet and look alike, by the formulas of [`color`].
//! [`arranging`] finds a place in the quilt for every block of a plan.
//! [`need`] works out what a pattern needs bought, with no stash in sight.
//! [`app`] holds the use cases, [`cli`] the command line.

pub mod app;
pub mod arranging;
pub mod cli;
pub mod color;
pub mod cutting;
pub mod diagnostic;
pub mod fabric;
pub mod length;
pub mod looks;
pub mod need;
pub mod pattern;
pub mod placements;
pub mod planning;
pub mod report;
pub mod spreadsheet;
pub mod stash;
pub mod verifying;
