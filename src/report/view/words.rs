//! Sentences and short phrases. Every length, count and price that a person reads becomes text here.

use std::collections::{BTreeMap, BTreeSet};

use crate::cutting::Axis;
use crate::fabric::{Cut, Price};
use crate::length::{Length, Units, round};
use crate::pattern::BlockId;
use crate::planning::Cause;
use crate::planning::rules::Solver;
use crate::report::set_name::SetName;
use crate::report::situation::Situation;
use crate::report::working::Stroke;
use crate::stash::Lot;

/// `4 1/2 x 2 1/2 in`: across first, then along.
pub(crate) fn size(width: Length, height: Length, units: Units) -> String {
    format!("{} x {}", width.show_bare(units), height.show(units))
}

/// A length of fabric, not of a piece: exact where it lies on a mark that can be read, else the ruler's mark below
/// it and a `+`, because nobody measures 15 193/508 in. Never more than there is.
pub(crate) fn fabric_bare(length: Length, units: Units) -> String {
    if round::down(length, units.finest_mark()) == length {
        length.show_bare(units)
    } else {
        format!("{}+", round::down(length, units.mark()).show_bare(units))
    }
}

/// As [`fabric_bare`], with its unit.
pub(crate) fn fabric(length: Length, units: Units) -> String {
    format!("{} {}", fabric_bare(length, units), units.name())
}

/// A rectangle of fabric, across first, then along, as [`fabric_bare`] tells its sides.
pub(crate) fn fabric_size(width: Length, height: Length, units: Units) -> String {
    format!("{} x {}", fabric_bare(width, units), fabric(height, units))
}

/// `fat quarter, 21 x 18 in`: a cut of fabric as held.
pub(crate) fn held(lot: &Lot, units: Units) -> String {
    format!("{}, {}", lot.cut.entry().name, fabric_size(lot.width, lot.length, units))
}

/// `1 sheet`, `3 sheets`.
pub(crate) fn count(number: usize, one: &str, many: &str) -> String {
    if number == 1 { format!("1 {one}") } else { format!("{number} {many}") }
}

/// With a capital letter first.
pub(crate) fn capital(text: &str) -> String {
    let mut signs = text.chars();
    signs.next().map_or(String::new(), |first| first.to_uppercase().chain(signs).collect())
}

/// Several of which one is enough.
pub(crate) fn either(items: &[String]) -> String {
    match items {
        [most @ .., last] if !most.is_empty() => format!("{} or {last}", most.join(", ")),
        _ => items.concat(),
    }
}

/// So many cuts of fabric in words: `one fat quarter`, `2 half yards`, `3 lengths of yardage`.
pub(crate) fn cuts(count: u32, cut: Cut) -> String {
    let name = &cut.entry().name;
    let of_length = cut == Cut::yardage();
    match (count, of_length) {
        (1, true) => format!("one length of {name}"),
        (1, false) => format!("one {name}"),
        (_, true) => format!("{count} lengths of {name}"),
        (_, false) => format!("{count} {name}s"),
    }
}

/// `a`, `a and b`, `a, b and c`.
pub(crate) fn list(items: &[String]) -> String {
    match items {
        [] => String::new(),
        [only] => only.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

/// Whole numbers in rising order as `1 to 4, 7 and 9`.
pub(crate) fn ranges(numbers: &[u32]) -> String {
    let mut runs: Vec<(u32, u32)> = Vec::new();
    for &number in numbers {
        match runs.last_mut() {
            Some((_, end)) if *end + 1 == number => *end = number,
            _ => runs.push((number, number)),
        }
    }
    let texts: Vec<String> = runs
        .into_iter()
        .flat_map(|(start, end)| match end - start {
            0 => vec![start.to_string()],
            1 => vec![start.to_string(), end.to_string()],
            _ => vec![format!("{start} to {end}")],
        })
        .collect();
    list(&texts)
}

/// The block copies some pieces go to: `Urchin 1 to 6 (2 each) and Border`.
pub(crate) fn blocks_of(here: &Situation<'_>, indexes: &[usize]) -> String {
    let mut blocks: BTreeMap<BlockId, BTreeMap<u32, u32>> = BTreeMap::new();
    for &index in indexes {
        let piece = here.piece(index);
        *blocks.entry(piece.block).or_default().entry(piece.copy).or_insert(0) += 1;
    }
    let mut parts = Vec::new();
    for (block, copies) in blocks {
        let block = &here.pattern.blocks[block.0];
        // Copies that get equally many are told together.
        let mut by_count: BTreeMap<u32, Vec<u32>> = BTreeMap::new();
        for (copy, number) in copies {
            by_count.entry(number).or_default().push(copy);
        }
        for (number, copies) in by_count {
            let name = if block.make == 1 {
                block.name.clone()
            } else {
                format!("{} {}", block.name, ranges(&copies))
            };
            parts.push(match (number, copies.len()) {
                (1, _) => name,
                (_, 1) => format!("{name} ({number})"),
                _ => format!("{name} ({number} each)"),
            });
        }
    }
    parts.join("; ")
}

/// The block copies some pieces go to, without counts: `Urchin 1 to 6 and Border`.
pub(crate) fn block_names(here: &Situation<'_>, indexes: &[usize]) -> String {
    let mut blocks: BTreeMap<BlockId, BTreeSet<u32>> = BTreeMap::new();
    for &index in indexes {
        let piece = here.piece(index);
        blocks.entry(piece.block).or_default().insert(piece.copy);
    }
    let names = blocks.into_iter().map(|(block, copies)| {
        let block = &here.pattern.blocks[block.0];
        let copies: Vec<u32> = copies.into_iter().collect();
        if block.make == 1 { block.name.clone() } else { format!("{} {}", block.name, ranges(&copies)) }
    });
    list(&names.collect::<Vec<_>>())
}

/// What comes out of one sheet and where it goes: `4 A1, 2 A2 for Urchin 3; ...`.
pub(crate) fn uses(here: &Situation<'_>, indexes: &[usize]) -> String {
    let mut blocks: BTreeMap<(BlockId, u32), Vec<usize>> = BTreeMap::new();
    for &index in indexes {
        let piece = here.piece(index);
        blocks.entry((piece.block, piece.copy)).or_default().push(index);
    }
    let mut texts: Vec<(String, Vec<String>)> = Vec::new();
    for ((block, copy), pieces) in blocks {
        let what = labels(here, &pieces);
        let name = copy_name(here, block, copy);
        match texts.iter_mut().find(|(known, _)| *known == what) {
            Some((_, names)) => names.push(name),
            None => texts.push((what, vec![name])),
        }
    }
    let parts: Vec<String> = texts
        .into_iter()
        .map(|(what, names)| {
            let each = if names.len() > 1 { " each" } else { "" };
            format!("{what}{each} for {}", list(&names))
        })
        .collect();
    parts.join("; ")
}

/// Some pieces by label: `4 A1, 2 A2`.
pub(crate) fn labels(here: &Situation<'_>, indexes: &[usize]) -> String {
    let mut labels: Vec<(&str, usize)> = Vec::new();
    for &index in indexes {
        let label = here.piece(index).label.as_str();
        match labels.iter_mut().find(|(known, _)| *known == label) {
            Some((_, number)) => *number += 1,
            None => labels.push((label, 1)),
        }
    }
    labels.sort_unstable();
    let parts: Vec<String> = labels.iter().map(|(label, number)| format!("{number} {label}")).collect();
    parts.join(", ")
}

/// `Urchin 3`, or only `Border` where the quilt has one.
pub(crate) fn copy_name(here: &Situation<'_>, block: BlockId, copy: u32) -> String {
    let block = &here.pattern.blocks[block.0];
    if block.make == 1 { block.name.clone() } else { format!("{} {copy}", block.name) }
}

/// Money in the user's own currency, `3.25`.
pub(crate) fn money(price: Price) -> String {
    let sign = if price.0 < 0 { "-" } else { "" };
    let size = price.0.unsigned_abs();
    format!("{sign}{}.{:02}", size / 100, size % 100)
}

/// The same as a number for JSON: the nearest to the two decimals, which prints as them.
pub(crate) fn amount(price: Price) -> f64 {
    money(price).parse().expect("digits with two decimals are a number")
}

/// The side along which a cut is measured, as `plan.json` says it.
pub(crate) fn across(axis: Axis) -> &'static str {
    match axis {
        Axis::Width => "width",
        Axis::Height => "height",
    }
}

/// The edge from which a cut is measured.
pub(crate) fn edge(axis: Axis) -> &'static str {
    match axis {
        Axis::Width => "left edge",
        Axis::Height => "lower edge",
    }
}

/// One cut as a sentence of its own.
pub(crate) fn stroke(stroke: &Stroke, units: Units) -> String {
    let rest = stroke.remains();
    format!(
        "cut {} from the {}; {} remains",
        stroke.at.show(units),
        edge(stroke.axis),
        fabric_size(rest.width, rest.height, units)
    )
}

/// Who stopped the search, in one word.
pub(crate) fn cause(cause: Cause) -> &'static str {
    match cause {
        Cause::Clock => "clock",
        Cause::Hand => "hand",
    }
}

/// What is said of a search that the clock or a hand stopped, by the word of [`cause`].
pub(crate) fn stopped(cause: &str) -> String {
    let who = if cause == "clock" { "by the clock" } else { "by hand" };
    format!("The search was stopped {who} before it was done; another run may give another plan.")
}

/// What is said of the solver of integer programmes, by its name, where it is not the one that is always there.
pub(crate) fn solver(name: &str) -> Option<String> {
    (name != Solver::default().name()).then(|| {
        format!("The integer programmes were solved by {name}; another solver may give another plan.")
    })
}

/// A set as a person names it: `Urchin 3, role A`.
pub(crate) fn set(name: &SetName) -> String {
    let mut text = match (&name.block, name.copy) {
        (Some(block), Some(copy)) => format!("{block} {copy}, fabric {}", name.role),
        _ => format!("fabric {} over the whole quilt", name.role),
    };
    if let Some(label) = &name.label {
        text.push_str(&format!(", piece {label}"));
    }
    if let Some(number) = name.piece {
        text.push_str(&format!(" number {number}"));
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_in_a_row_are_told_as_a_range() {
        assert_eq!(ranges(&[1, 2, 3, 4, 7, 9, 10]), "1 to 4, 7, 9 and 10");
        assert_eq!(ranges(&[5]), "5");
    }

    #[test]
    fn fabric_of_an_odd_length_is_told_by_the_mark_below_it() {
        let metre = Length::from_ticks(10_000 * Length::TICKS_PER_TENTH_MM);
        // A metre is 39.370 in, a little under 39 3/8.
        assert_eq!(fabric(metre, Units::Inches), "39 1/4+ in");
        assert_eq!(fabric(metre, Units::Metric), "100 cm");
        assert_eq!(fabric(Length::from_eighths(79), Units::Inches), "9 7/8 in");
        assert_eq!(fabric(Length::from_ticks(127), Units::Inches), "1/64 in");
    }

    #[test]
    fn money_is_exact_to_the_hundredth() {
        assert_eq!(money(Price(325)), "3.25");
        assert_eq!(money(Price(5)), "0.05");
        assert_eq!(amount(Price(1100)).to_string(), "11");
    }
}
