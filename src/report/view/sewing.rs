//! The sewing order of a block, with what must be measured after each step.

use crate::length::Units;
use crate::pattern::unit::Method;
use crate::pattern::{Block, steps};
use crate::report::view::words;

/// What is sewn in one go.
pub(crate) struct StageView {
    /// `4 point: half-square triangles, cut triangles`.
    pub(crate) heading: String,
    /// Each step, with the size its result must have, seams included.
    pub(crate) steps: Vec<(String, Option<String>)>,
}

/// The stages of a block, units first; none when its pattern does not say how anything is sewn.
pub(crate) fn stages(block: &Block, units: Units) -> Vec<StageView> {
    let stages = steps::stages(block).into_iter().map(|stage| StageView {
        heading: heading(&stage),
        steps: stage
            .steps
            .into_iter()
            .map(|step| {
                let size = step.measures.map(|size| words::size(size.width, size.height, units));
                (step.text, size)
            })
            .collect(),
    });
    stages.collect()
}

fn heading(stage: &steps::Stage) -> String {
    let mut text = format!("{} {}", stage.each, stage.name);
    if stage.method != Method::Plain {
        text.push_str(&format!(", {}", stage.method.name()));
        if stage.ways > 1 {
            text.push_str(&format!(" (taken of {} ways)", stage.ways));
        }
    }
    if !stage.pieces.is_empty() {
        text.push_str(&format!(", from {}", words::list(&stage.pieces)));
    }
    if stage.spare > 0 {
        text.push_str(&format!(" ({} left over in the whole quilt)", stage.spare));
    }
    text
}
