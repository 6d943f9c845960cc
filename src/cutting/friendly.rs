//! How kind a layout is to the person at the mat, as numbers to compare: fewer stages, fewer ruler settings, fewer cuts.

use crate::cutting::layout::{Axis, Layout, Node};
use crate::cutting::steps::steps;

/// Effort of cutting a layout; smaller is friendlier, compared from the first number on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Effort {
    /// Changes of direction, the first included.
    pub(crate) stages: usize,
    /// Different distances the ruler is set to.
    pub(crate) settings: usize,
    /// Cuts.
    pub(crate) cuts: usize,
}

/// The effort of a layout.
pub(crate) fn effort(layout: &Layout) -> Effort {
    let steps = steps(layout);
    let mut settings: Vec<_> = steps.iter().map(|s| s.at).collect();
    settings.sort_unstable();
    settings.dedup();
    Effort { stages: stages(layout.root(), None), settings: settings.len(), cuts: steps.len() }
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
