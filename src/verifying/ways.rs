//! The way each unit is made, where the pattern names several: taken from the record, allowed by the pattern.

use super::fault::{Faults, Rule};
use super::record::{Made, Methods};
use crate::pattern::{BlockId, Pattern};

/// The pattern with its units made as the record says.
///
/// Every unit with a choice must be listed once, with a way that the pattern names; `None` when one is not.
pub(super) fn taken(pattern: &Pattern, methods: &Methods, faults: &mut Faults) -> Option<Pattern> {
    let before = faults.count();
    let mut taken = pattern.clone();
    let mut listed: Vec<(usize, usize)> = Vec::new();
    for made in &methods.units {
        match find(pattern, made) {
            Err(message) => faults.add(Rule::Methods, "", message),
            Ok((block, unit, _)) if listed.contains(&(block, unit)) => {
                let message = format!("{} of {} is listed twice", made.unit, made.block);
                faults.add(Rule::Methods, "", message);
            }
            Ok((block, unit, way)) => {
                listed.push((block, unit));
                if let Some(changed) = taken.with_way(BlockId(block), unit, way) {
                    taken = changed;
                }
            }
        }
    }
    let mut choices = 0;
    for (block, held) in pattern.blocks.iter().enumerate() {
        for (unit, described) in held.units.iter().enumerate() {
            if described.ways.len() < 2 || described.each == 0 {
                continue;
            }
            choices += 1;
            if !listed.contains(&(block, unit)) {
                let message = format!("it is not said how {} of {} is made", described.name, held.name);
                faults.add(Rule::Methods, "", message);
            }
        }
    }
    if choices == 0 && !methods.settled {
        let message = "the ways of making units are said to be open, and the pattern leaves none open";
        faults.add(Rule::Methods, "", message.to_owned());
    }
    if choices > 0 && methods.text.trim().is_empty() {
        faults.add(Rule::Reason, "", "how the units are made is not put in words".to_owned());
    }
    (faults.count() == before).then_some(taken)
}

/// Block, unit and way by their names.
fn find(pattern: &Pattern, made: &Made) -> Result<(usize, usize, usize), String> {
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
    Ok((at, found, way))
}
