//! What was chosen besides prints and cuts, in words: how units are made, and what keeping the up of prints costs.

use crate::length::{Direction, Length, Units};
use crate::pattern::{BlockId, Pattern};
use crate::planning::{Outcome, Upright, Verdict};
use crate::report::situation::Situation;
use crate::report::view::proof::WITH_THESE_WAYS;
use crate::report::view::words;

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

/// What keeping the up of directional prints costs; `None` where none is kept.
pub(crate) fn upright(here: &Situation<'_>) -> Option<String> {
    let upright = here.outcome.upright?;
    let (kept, units) = (here.outcome.fabric, here.job.settings.units);
    if upright.freed.opened == kept.opened {
        return Some(format!(
            "The up of {} is kept, and with every piece free to turn no plan was found that opens less{}: {}.",
            words::count(upright.prints, "print", "prints"),
            if here.outcome.methods.is_some() { WITH_THESE_WAYS } else { "" },
            cost(upright, here.outcome, units),
        ));
    }
    Some(format!(
        "The up of {} is kept. This plan opens {}, the best found with every piece free to turn {}, by weight: \
         {}{}.",
        words::count(upright.prints, "print", "prints"),
        area(kept.opened, units, Direction::Up),
        area(upright.freed.opened, units, Direction::Up),
        cost(upright, here.outcome, units),
        // The question was put once more for these ways only, whatever is known of others.
        if here.outcome.methods.is_some() { WITH_THESE_WAYS } else { "" }
    ))
}

fn cost(upright: Upright, outcome: &Outcome, units: Units) -> String {
    let say = |amount, direction| area(amount, units, direction);
    match upright.costs(outcome.fabric) {
        (_, 0) => "keeping it costs nothing, that is proved".to_owned(),
        (least, most) if least == most => {
            format!("keeping it costs {}, that is proved", say(most, Direction::Up))
        }
        (0, most) => format!("keeping it costs at most {}", say(most, Direction::Up)),
        (least, most) => format!(
            "keeping it costs at least {} and at most {}",
            say(least, Direction::Down),
            say(most, Direction::Up)
        ),
    }
}

/// Weighted square ticks in hundredths as square inches or centimetres with one decimal.
fn area(hundredths: i128, units: Units, direction: Direction) -> String {
    let (side, name) = match units {
        Units::Inches => (i128::from(Length::TICKS_PER_INCH), "sq in"),
        Units::Metric => (i128::from(Length::TICKS_PER_TENTH_MM) * 100, "sq cm"),
    };
    // A tenth of a unit, in hundredths of square ticks.
    let tenth = side * side * 10;
    let tenths = match direction {
        Direction::Down => hundredths.div_euclid(tenth),
        _ => (hundredths + tenth - 1).div_euclid(tenth),
    };
    format!("{}.{} {name}", tenths / 10, tenths % 10)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn areas_have_one_decimal_and_a_direction() {
        let inch = i128::from(Length::TICKS_PER_INCH) * i128::from(Length::TICKS_PER_INCH) * 100;
        assert_eq!(area(inch * 5 / 2, Units::Inches, Direction::Up), "2.5 sq in");
        assert_eq!(area(inch + 1, Units::Inches, Direction::Up), "1.1 sq in");
        assert_eq!(area(inch - 1, Units::Inches, Direction::Down), "0.9 sq in");
    }
}
