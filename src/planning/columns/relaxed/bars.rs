//! What stands side by side across the width of a sheet (the bar relaxation, after Scheithauer 1999): a bound for yardage
//! too long for a table, and for every shorter length of it in proportion.

use crate::cutting::{Kind, Sheet, gcd};

/// One way for a kind to lie.
struct Way {
    kind: usize,
    /// In units of the grid.
    width: usize,
    /// On all lines together, rounded up.
    worth: i128,
    /// In ticks.
    height: i64,
}

/// Every line across the width crosses pieces that lie side by side. Spread over its height, a piece is worth so much on
/// every line; the best choice side by side, on every line, is more than can be had. With it the pieces of that line, as many
/// of each above each other as the length holds, in thousandths.
pub(crate) fn bars(sheet: Sheet, kinds: &[Kind], values: &[i64]) -> (i128, Vec<i64>) {
    let unit = kinds.iter().flat_map(|k| [k.width, k.height]).map(|l| l.ticks()).fold(0, gcd).max(1);
    let room = usize::try_from(sheet.width.ticks() / unit).unwrap_or(0);
    let mut ways: Vec<Way> = Vec::new();
    for (number, kind) in kinds.iter().enumerate().filter(|&(number, _)| values[number] > 0) {
        let upright = (kind.width, kind.height);
        let turned = kind.turn.then_some((kind.height, kind.width));
        for (width, height) in std::iter::once(upright).chain(turned) {
            if width <= sheet.width && height <= sheet.height {
                let (value, all) = (i128::from(values[number]), i128::from(sheet.height.ticks()));
                let worth = (value * all).div_euclid(i128::from(height.ticks())) + 1;
                let width = usize::try_from(width.ticks() / unit).unwrap_or(usize::MAX);
                ways.push(Way { kind: number, width, worth, height: height.ticks() });
            }
        }
    }
    let mut best: Vec<(i128, Option<&Way>)> = vec![(0, None); room + 1];
    for at in 1..=room {
        best[at] = (best[at - 1].0, None);
        for way in &ways {
            if way.width <= at && best[at - way.width].0 + way.worth > best[at].0 {
                best[at] = (best[at - way.width].0 + way.worth, Some(way));
            }
        }
    }
    let mut counts = vec![0; kinds.len()];
    let mut at = room;
    while at > 0 {
        match best[at].1 {
            None => at -= 1,
            Some(way) => {
                counts[way.kind] += 1000 * sheet.height.ticks() / way.height;
                at -= way.width;
            }
        }
    }
    (best[room].0, counts)
}
