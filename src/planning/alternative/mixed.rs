//! Mixed prints in a block copy, where the pattern asks for one print throughout.

use crate::pattern::Matching;
use crate::planning::alternative::Inputs;
use crate::planning::alternative::attempt::{Tried, decided};
use crate::planning::alternative::changes::SetName;
use crate::planning::alternative::widened::widened;

/// Lets the short sets of a block copy come from several prints.
pub(super) fn mixed_prints(inputs: &Inputs<'_>, start: &Tried) -> Option<Tried> {
    widened(inputs, start, |last, changes| {
        let before = changes.mixed.len();
        for id in last.short_sets() {
            let set = last.demand.set(id);
            let (Matching::Block, Some((block, copy))) = (set.matching, set.block) else { continue };
            changes.mixed.insert((block, copy, set.role));
            let name = SetName::of(&last.demand, id);
            changes.freed.extend(decided(inputs).map(|(decided, _)| decided).filter(|set| *set == name));
        }
        changes.mixed.len() > before
    })
}
