//! Cutting rectangles from rectangles with straight edge-to-edge cuts. Knows no prints and no blocks.
//!
//! Everything here is integer exact. A search either proves its answer or says that its work budget ended.

use crate::length::Length;

pub mod layout;

pub use layout::{Axis, Layout, Node, Rect, Split};

/// A size of piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Kind {
    /// Across the grain.
    pub width: Length,
    /// Along the grain.
    pub height: Length,
    /// True when a quarter turn is allowed.
    pub turn: bool,
}

/// A rectangle of fabric to cut from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Sheet {
    /// Across the grain.
    pub width: Length,
    /// Along the grain.
    pub height: Length,
}

/// How much searching may still be done, counted in steps, so that answers do not depend on the clock.
#[derive(Clone, Copy, Debug)]
pub struct Work {
    left: u64,
}

impl Work {
    /// A budget of `steps`.
    pub const fn steps(steps: u64) -> Work {
        Work { left: steps }
    }

    /// Takes `steps` from the budget; false when it is spent.
    pub fn spend(&mut self, steps: u64) -> bool {
        self.left = self.left.saturating_sub(steps);
        self.left > 0
    }

    /// Steps left.
    pub fn left(&self) -> u64 {
        self.left
    }
}
