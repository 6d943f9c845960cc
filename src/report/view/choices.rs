//! What was chosen besides prints and cuts, in words: how units are made, and what keeping the up of prints costs.

use crate::length::{Direction, Length, Units};
use crate::pattern::{BlockId, Pattern};
use crate::planning::{Fabric, Verdict};
use crate::report::situation::Situation;
use crate::report::view::proof::WITH_THESE_WAYS;

/// A unit that the pattern lets be made in several ways, and the way taken.
pub(crate) struct Made {
    /// Name of its block.
    pub(crate) block: String,
    /// Its name.
    pub(crate) unit: String,
    /// The method.
    pub(crate) method: &'static str,
}

/// Every unit with a choice of ways.
pub(crate) fn made(pattern: &Pattern) -> Vec<Made> {
    let name = |block: BlockId| pattern.blocks[block.0].name.clone();
    let units = pattern.open_units().into_iter().map(|open| Made {
        block: name(open.block),
        unit: pattern.open_unit(open).name.clone(),
        method: pattern.way_of(open).method.name(),
    });
    units.collect()
}

/// How the units with a choice are made, and what is known of the other ways; nothing where there is no choice.
pub(crate) fn methods(here: &Situation<'_>) -> String {
    let made: Vec<String> = made(here.pattern)
        .iter()
        .map(|made| format!("{} of {} {}", made.unit, made.block, made.method))
        .collect();
    if made.is_empty() {
        return String::new();
    }
    let mut text = format!("Of the ways the pattern names, taken: {}.", made.join("; "));
    let Some(methods) = &here.outcome.methods else { return text };
    let all = methods.of.map_or("very many".to_owned(), |of| of.to_string());
    let planned = match methods.every {
        true if methods.of == Some(methods.tried) => format!("All {all} combinations were planned"),
        _ if methods.tried == 1 && !methods.every => return text + " Other ways were not planned for this.",
        true => format!("{} of {all} combinations suit your decisions and were planned", methods.tried),
        false if here.job.settings.stopped.is_some() => {
            format!("{} of {all} combinations were planned before the search was stopped", methods.tried)
        }
        false => format!(
            "{} of {all} combinations were planned, one unit after the other from the designer's first choices",
            methods.tried
        ),
    };
    text += &match here.outcome.verdict {
        Verdict::Fits => format!(" {planned}; of those that fit, this one opens the least fabric found."),
        _ => format!(" {planned}; none was found that fits."),
    };
    text
}

/// What keeping one-way prints upright costs; `None` where none is kept so.
///
/// What is proved of all plans leaves open whatever is open of the plan itself, so it is told only where it settles the
/// question. Otherwise stands what was found, and what turning could save of these prints at most while all else stays:
/// what is cut into, less its pieces.
pub(crate) fn upright(here: &Situation<'_>) -> Option<String> {
    let upright = here.outcome.upright?;
    let units = here.job.settings.units;
    // What is opened for the sake of looks is no cost of the up.
    let kept = Fabric { opened: here.outcome.least_met, ..here.outcome.fabric };
    let plan = if kept.opened == here.outcome.fabric.opened { "This plan" } else { "The least found" };
    let (is, they, them) = match upright.prints {
        1 => ("1 one-way print is", "It is", "it"),
        _ => ("one-way prints are", "They are", "them"),
    };
    let count = if upright.prints == 1 { String::new() } else { format!("{} ", upright.prints) };
    let kept_so = format!("{count}{is} kept upright");
    // The question was put once more for these ways only, whatever is known of others.
    let ways = if here.outcome.methods.is_some() { WITH_THESE_WAYS } else { "" };
    let (least, most) = upright.costs(kept);
    if most == 0 {
        return Some(format!("{kept_so}. That costs no fabric{ways}, as is proved."));
    }
    if upright.freed.opened == kept.opened {
        let spare = upright.cut_into - upright.pieces;
        let saved = match spare {
            0 => "would save nothing".to_owned(),
            _ => format!("could save at most {}", area(spare * 100, units, Direction::Up)),
        };
        return Some(format!(
            "{kept_so}. With every piece free to turn no plan was found that opens less{ways}. {they} cut into {}, and \
             turning the pieces there {saved} while all else stays.",
            area(upright.cut_into * 100, units, Direction::Up),
        ));
    }
    let found = area(kept.opened - upright.freed.opened, units, Direction::Up);
    let sure = match least {
        _ if least == most => ", as is proved".to_owned(),
        0 => " as far as was found".to_owned(),
        _ => format!(" as far as was found, and at least {}", area(least, units, Direction::Down)),
    };
    Some(format!(
        "{kept_so}. {plan} opens {}, the best found with every piece free to turn {}, by weight: keeping {them} upright \
         costs {found}{sure}{ways}.",
        area(kept.opened, units, Direction::Up),
        area(upright.freed.opened, units, Direction::Up),
    ))
}

/// Square ticks in hundredths as whole square inches or centimetres.
fn area(hundredths: i128, units: Units, direction: Direction) -> String {
    let (side, name) = match units {
        Units::Inches => (i128::from(Length::TICKS_PER_INCH), "sq in"),
        Units::Metric => (i128::from(Length::TICKS_PER_TENTH_MM) * 100, "sq cm"),
    };
    let unit = side * side * 100;
    let whole = match direction {
        Direction::Down => hundredths.div_euclid(unit),
        Direction::Up => (hundredths + unit - 1).div_euclid(unit),
    };
    format!("{whole} {name}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn areas_are_whole_and_have_a_direction() {
        let inch = i128::from(Length::TICKS_PER_INCH) * i128::from(Length::TICKS_PER_INCH) * 100;
        assert_eq!(area(inch * 5 / 2, Units::Inches, Direction::Up), "3 sq in");
        assert_eq!(area(inch + 1, Units::Inches, Direction::Up), "2 sq in");
        assert_eq!(area(inch - 1, Units::Inches, Direction::Down), "0 sq in");
    }
}
