//! Changing more and more of one kind until it fits.

use crate::planning::alternative::Inputs;
use crate::planning::alternative::attempt::{Tried, attempt_short};
use crate::planning::alternative::changes::Changes;
use crate::planning::alternative::trim::trimmed;

/// Rounds in which more may be changed of the same kind before giving up.
const WIDENINGS: usize = 4;

/// Changes more and more of what comes out short until it fits, then takes back what was needless. `widen` adds to
/// the changes by what the last try left short, and says whether it added anything.
pub(super) fn widened(
    inputs: &Inputs<'_>,
    start: &Tried,
    mut widen: impl FnMut(&Tried, &mut Changes) -> bool,
) -> Option<Tried> {
    let mut last = start.clone();
    for _ in 0..WIDENINGS {
        let mut changes = last.changes.clone();
        if !widen(&last, &mut changes) {
            return None;
        }
        last = attempt_short(inputs, changes);
        if last.fits() {
            return Some(trimmed(inputs, last));
        }
    }
    None
}
