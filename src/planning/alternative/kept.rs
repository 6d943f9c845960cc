//! Fabric the quilter keeps back.

use crate::planning::alternative::Inputs;
use crate::planning::alternative::attempt::{Tried, attempt_short};
use crate::planning::alternative::trim::trimmed;
use crate::stash::LotId;

/// `start` with all kept-back lots released; `None` when nothing is kept back.
pub(super) fn released(inputs: &Inputs<'_>, start: &Tried) -> Option<Tried> {
    let lots = inputs.stash.lots.iter().enumerate();
    let kept: Vec<LotId> = lots.filter(|(_, lot)| lot.keep).map(|(number, _)| LotId(number)).collect();
    let changes = start.with(|changes| changes.released.extend(&kept));
    (!kept.is_empty()).then(|| attempt_short(inputs, changes))
}

/// As few of what `start` releases as still make it fit.
pub(super) fn as_few(inputs: &Inputs<'_>, start: &Tried) -> Option<Tried> {
    Some(trimmed(inputs, start.clone()))
}
