//! The way each unit is made, where the pattern names several: taken from the record, allowed by the pattern.

use std::collections::BTreeMap;

use itertools::Itertools;

use super::fault::{Faults, Rule};
use super::record::{Made, Methods};
use crate::pattern::{BlockId, Pattern};

/// Block and unit, by their numbers.
type At = (usize, usize);

/// The number of the way in which each unit with a choice is made.
pub(super) type Combination = BTreeMap<At, usize>;

/// A unit that may be made in several ways.
pub(super) struct Choice {
    pub(super) at: At,
    pub(super) ways: usize,
}

/// Every unit of which the quilt has some and the pattern names several ways.
pub(super) fn choices(pattern: &Pattern) -> Vec<Choice> {
    let blocks = pattern.blocks.iter().enumerate();
    let units = blocks.flat_map(|(block, held)| {
        let units = held.units.iter().enumerate().filter(|(_, unit)| unit.ways.len() > 1 && unit.each > 0);
        units.map(move |(unit, described)| Choice { at: (block, unit), ways: described.ways.len() })
    });
    units.collect()
}

/// The pattern with its units made as the record says; `None` when it does not say so rightly.
pub(super) fn taken(pattern: &Pattern, methods: &Methods, faults: &mut Faults) -> Option<Pattern> {
    let before = faults.count();
    let taken = listed(pattern, &methods.units, "", faults);
    let choices = choices(pattern).len();
    if choices == 0 && !methods.settled {
        let message = "the ways of making units are said to be open, and the pattern leaves none open";
        faults.add(Rule::Methods, "", message.to_owned());
    }
    if choices > 0 && methods.text.trim().is_empty() {
        faults.add(Rule::Reason, "", "how the units are made is not put in words".to_owned());
    }
    taken.map(|(pattern, _)| pattern).filter(|_| faults.count() == before)
}

/// The pattern with its units made as `units` says, and the combination that is.
///
/// Every unit with a choice must be listed once, with a way that the pattern names; `None` when one is not.
pub(super) fn listed(
    pattern: &Pattern,
    units: &[Made],
    place: &str,
    faults: &mut Faults,
) -> Option<(Pattern, Combination)> {
    let before = faults.count();
    let mut combination = Combination::new();
    for made in units {
        match find(pattern, made) {
            Err(message) => faults.add(Rule::Methods, place, message),
            Ok((at, _)) if combination.contains_key(&at) => {
                let message = format!("{} of {} is listed twice", made.unit, made.block);
                faults.add(Rule::Methods, place, message);
            }
            Ok((at, way)) => {
                combination.insert(at, way);
            }
        }
    }
    for Choice { at, .. } in choices(pattern).iter().filter(|choice| !combination.contains_key(&choice.at)) {
        let held = &pattern.blocks[at.0];
        let message = format!("it is not said how {} of {} is made", held.units[at.1].name, held.name);
        faults.add(Rule::Methods, place, message);
    }
    let made = made(pattern, &combination)?;
    (faults.count() == before).then_some((made, combination))
}

/// The pattern with its units made so; `None` when there is no such way.
pub(super) fn made(pattern: &Pattern, combination: &Combination) -> Option<Pattern> {
    combination
        .iter()
        .try_fold(pattern.clone(), |made, (&(block, unit), &way)| made.with_way(BlockId(block), unit, way))
}

/// How the units are made, in words.
pub(super) fn say(pattern: &Pattern, combination: &Combination) -> String {
    let each = combination.iter().map(|(&(block, unit), &way)| {
        let block = &pattern.blocks[block];
        let unit = &block.units[unit];
        format!("{} of {} {}", unit.name, block.name, unit.ways[way].method.name())
    });
    each.collect_vec().join("; ")
}

/// Block, unit and way by their names.
fn find(pattern: &Pattern, made: &Made) -> Result<(At, usize), String> {
    let Made { block, unit, method } = made;
    let at = pattern.blocks.iter().position(|held| held.name == *block);
    let at = at.ok_or_else(|| format!("the pattern has no block {block}"))?;
    let units = &pattern.blocks[at].units;
    let found = units.iter().position(|held| held.name == *unit && held.ways.len() > 1);
    let found =
        found.ok_or_else(|| format!("{block} has no unit {unit} that may be made in several ways"))?;
    let way = units[found].ways.iter().position(|way| way.method.name() == method);
    let way =
        way.ok_or_else(|| format!("the pattern does not let {unit} of {block} be made \"{method}\""))?;
    Ok(((at, found), way))
}
