//! Yardage is cut in strips where that takes little more than the shortest cutting known: half the strokes, and a quarter of
//! the changes of direction, over the fabrics of published patterns.

use crate::cutting::{Kind, Layout, Sheet, Stop, Style, Work, in_strips as cut_in_strips, steps, tidy};
use crate::length::Length;
use crate::planning::oracle::cut_print::{CutSheet, highest};
use crate::planning::plan::Tighter;
use crate::planning::rules::Rules;

/// Steps for one style of strips.
const STEPS: u64 = 100_000_000;

/// The easiest strips from which the pieces of `cut` come on little enough length, with the length they use.
pub(super) fn in_strips(
    sheet: Sheet,
    kinds: &[Kind],
    cut: &CutSheet,
    rules: &Rules,
    stop: &Stop,
) -> Option<(Layout, Length)> {
    let longest = rules.cutting.longest(cut.used, sheet.height)?;
    let mut counts = vec![0; kinds.len()];
    for (size, _, _) in cut.layout.pieces() {
        counts[size] += 1;
    }
    Style::ALL.into_iter().find_map(|style| {
        let mut work = Work::steps(STEPS).unless(stop);
        let (layout, _) = cut_in_strips(sheet.width, sheet.height, kinds, &counts, style, &mut work).found?;
        let used = highest(&layout);
        (used <= longest).then_some((layout, used))
    })
}

/// The cutting that strips are taken instead of.
pub(super) fn tighter(cut: &CutSheet) -> Tighter {
    Tighter { used: cut.used, cuts: steps(&tidy(&cut.layout)).len() }
}
