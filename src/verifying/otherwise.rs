//! The pattern as an alternative changes it: in another of its sizes, a unit made by a method it does not name.

use super::fault::{Faults, Rule};
use super::record::{Made, Record, Relaxed};
use crate::pattern::{BlockId, Pattern};

/// `pattern` as the changes of `record` make it. How units are then made is for the record's own list to say; a
/// method that is let in must stand there.
pub(super) fn made(pattern: &Pattern, record: &Record, faults: &mut Faults) -> Pattern {
    let mut made = pattern.clone();
    let mut sizes = 0;
    for change in &record.relaxed {
        if let Relaxed::Size { size } = change {
            sizes += 1;
            match pattern.sizes.iter().position(|held| held.name == *size) {
                Some(index) if index != pattern.size && sizes == 1 => {
                    made = pattern.at_size(index).unwrap_or(made);
                }
                _ => {
                    let message = format!("\"size\": {size} is no other size the pattern comes in");
                    faults.add(Rule::Change, "", message);
                }
            }
        }
    }
    for change in &record.relaxed {
        let Relaxed::Method(new) = change else { continue };
        match with(&made, new) {
            None => {
                let Made { block, unit, method } = new;
                let message = format!(
                    "\"method\": that {unit} of {block} is made \"{method}\" is no change, or cannot be"
                );
                faults.add(Rule::Change, "", message);
            }
            Some(changed) => made = changed,
        }
        let same = |listed: &Made| {
            (&listed.block, &listed.unit, &listed.method) == (&new.block, &new.unit, &new.method)
        };
        if !record.methods.units.iter().any(same) {
            let message = format!("\"method\": {} of {} is not made so", new.unit, new.block);
            faults.add(Rule::Change, "", message);
        }
    }
    made
}

/// The pattern with one unit made by a method that it does not name.
fn with(pattern: &Pattern, new: &Made) -> Option<Pattern> {
    let block = pattern.blocks.iter().position(|held| held.name == new.block)?;
    let unit = pattern.blocks[block].units.iter().position(|held| held.name == new.unit)?;
    let methods = pattern.blocks[block].units[unit].kind.methods();
    let method = methods.iter().find(|method| method.name() == new.method)?;
    pattern.with_method(BlockId(block), unit, *method)
}
