//! How kind a layout is to the person at the mat, as numbers to compare: fewer stages, fewer ruler settings, fewer of them
//! between the ruler's marks, fewer cuts.

use std::collections::BTreeSet;

use crate::cutting::layout::steps::steps;
use crate::cutting::layout::{Axis, Layout, Node};
use crate::length::Units;

/// Effort of cutting a layout; smaller is friendlier, compared from the first number on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Effort {
    /// Changes of direction, the first included.
    pub stages: usize,
    /// Different distances the ruler is set to.
    pub settings: usize,
    /// Those of them between two marks of the ruler.
    pub off_ruler: usize,
    /// Cuts.
    pub cuts: usize,
}

/// The effort of a layout with the ruler of `units`.
pub fn effort(layout: &Layout, units: Units) -> Effort {
    let steps = steps(layout);
    let settings: BTreeSet<_> = steps.iter().map(|step| step.at).collect();
    Effort {
        stages: stages(layout.root(), None),
        settings: settings.len(),
        off_ruler: settings.iter().filter(|at| !at.is_on_mark(units)).count(),
        cuts: steps.len(),
    }
}

fn stages(node: &Node, last: Option<Axis>) -> usize {
    match node {
        Node::Cut(split) => {
            let here = usize::from(last != Some(split.axis));
            let below = |part| stages(part, Some(split.axis));
            here + below(&split.first).max(below(&split.second))
        }
        _ => 0,
    }
}
