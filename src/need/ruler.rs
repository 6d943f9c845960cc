//! A pattern in one system of measures cut with a ruler of the other.

use crate::length::{Length, Units, round};
use crate::pattern::Pattern;

/// So many whole millimetres.
pub(super) const fn millimetres(count: i64) -> Length {
    Length::from_ticks(count * 10 * Length::TICKS_PER_TENTH_MM)
}

/// `length` up to a mark of the ruler in `units` when it was given in the other system: on its marks, but not on those
/// of the ruler at hand. Lengths of the ruler's own system stay, however fine.
///
/// 3 1/2 in are 8.89 cm and cut as 8.9 cm; 11.2 cm are cut as 4 1/2 in.
pub(super) fn up(length: Length, units: Units) -> Length {
    let foreign = match units {
        Units::Inches => Units::Metric,
        Units::Metric => Units::Inches,
    };
    // Metric sizes may have tenths of a millimetre; of those hardly any lies on a 64th of an inch as well.
    let own = match units {
        Units::Inches => units.finest_mark(),
        Units::Metric => units.mark(),
    };
    let on = |mark: Length| length.ticks() % mark.ticks() == 0;
    if on(foreign.finest_mark()) && !on(own) { round::up(length, units.mark()) } else { length }
}

/// True when some size of `pattern` was given in the other system and goes up to a mark.
pub fn moves(pattern: &Pattern, units: Units) -> bool {
    let sides =
        pattern.blocks.iter().flat_map(|block| &block.pieces).flat_map(|line| [line.width, line.height]);
    sides.into_iter().any(|side| up(side, units) != side)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn metric(tenths_of_mm: i64) -> Length {
        Length::from_ticks(tenths_of_mm * Length::TICKS_PER_TENTH_MM)
    }

    #[test]
    fn inches_go_up_to_a_millimetre_and_millimetres_to_an_eighth() {
        // 3 1/2 in = 88.9 mm, 9 1/2 in = 241.3 mm, 2 1/2 in = 63.5 mm, 5 in = 127 mm; 112 mm = 4.41 in.
        for (eighths, tenths_of_mm) in [(28, 890), (76, 2420), (20, 640), (40, 1270)] {
            assert_eq!(up(Length::from_eighths(eighths), Units::Metric), metric(tenths_of_mm));
        }
        assert_eq!(up(metric(1120), Units::Inches), Length::from_eighths(36));
    }

    #[test]
    fn what_the_ruler_has_stays() {
        for tenths_of_mm in [1120, 1125, 63, 2541] {
            assert_eq!(up(metric(tenths_of_mm), Units::Metric), metric(tenths_of_mm));
        }
        for sixty_fourths in [1, 37, 224] {
            let length = Length::from_ticks(sixty_fourths * Length::TICKS_PER_INCH / 64);
            assert_eq!(up(length, Units::Inches), length);
        }
    }
}
