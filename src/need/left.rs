//! What a stash leaves of a pattern, for the width at hand: strips still to be joined are as long as the fabric that
//! is bought is wide, whatever the pattern's author had.

use crate::pattern::{Count, Pattern, PieceLine, geometry};

/// `rest`, which is left of `planned`, with the strips of `there` in place of those of `planned`; `there` is the same
/// pattern with its joined strips worked out for another width. Strips of which the stash serves some stay as planned.
pub(super) fn at_width(rest: &Pattern, planned: &Pattern, there: &Pattern) -> Pattern {
    let mut changed = rest.clone();
    let (Some(before), Some(after)) = (geometry::top(planned), geometry::top(there)) else { return changed };
    for line in before.lines.iter().filter(|line| all_left(rest, line)) {
        let same = |other: &&PieceLine| (&other.label, other.role) == (&line.label, line.role);
        let Some(new) = after.lines.iter().find(same) else { continue };
        let mut waiting = Some(new.count);
        for block in &mut changed.blocks {
            block.pieces.retain_mut(|piece| {
                if !alike(piece, line) {
                    return true;
                }
                (piece.width, piece.height) = (new.width, new.height);
                // Strips told apart by what they match are one line again.
                waiting.take().is_some_and(|count| {
                    piece.count = count;
                    true
                })
            });
        }
    }
    changed
}

/// True when the stash serves nothing of `line`.
pub(super) fn all_left(rest: &Pattern, line: &PieceLine) -> bool {
    let of = |count: Count, make: u32| match count {
        Count::PerCopy(count) => u64::from(count) * u64::from(make),
        Count::Total(count) => u64::from(count),
    };
    let left = rest.blocks.iter().flat_map(|block| {
        let lines = block.pieces.iter().filter(|piece| alike(piece, line));
        lines.map(|piece| of(piece.count, block.make))
    });
    left.sum::<u64>() == of(line.count, 1)
}

fn alike(one: &PieceLine, other: &PieceLine) -> bool {
    let of = |line: &PieceLine| (line.role, line.width, line.height);
    one.label == other.label && of(one) == of(other)
}
