//! Taking back every change that turns out needless.

use crate::planning::alternative::Inputs;
use crate::planning::alternative::attempt::{Tried, attempt};

/// Tries that trimming one alternative may take.
const MOST_TRIMS: usize = 24;
/// So few changes are tried one by one at once.
const FEW: usize = 4;

/// The same with as few changes as still fit: halves are taken back first, then smaller shares, then single
/// things. What is needed beside many changes is needed beside fewer, so one round of single things suffices.
pub(super) fn trimmed(inputs: &Inputs<'_>, tried: Tried) -> Tried {
    let mut best = tried;
    let mut singles = best.changes.singles();
    let mut share = if singles.len() > FEW { singles.len().div_ceil(2) } else { 1 };
    let mut trials = 0;
    loop {
        let mut needed = Vec::new();
        for some in singles.chunks(share) {
            if trials < MOST_TRIMS {
                trials += 1;
                let less = attempt(inputs, best.changes.without(some));
                if less.fits() {
                    best = less;
                    continue;
                }
            }
            needed.extend(some.iter().cloned());
        }
        singles = needed;
        if share == 1 || trials >= MOST_TRIMS {
            return best;
        }
        share = share.div_ceil(2);
    }
}
