//! Lengths and areas as text: fractions of the inch ruler, or metric decimals. What is shown is exact:
//! reading it back gives the same length.

use crate::length::{Area, Direction, Length};

/// In which system lengths are shown.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Units {
    /// Inches and fractions: eighths where they do, finer marks where they must.
    #[default]
    Inches,
    /// Centimetres with as many decimals as the length has.
    Metric,
}

impl Units {
    /// The marks of the usual ruler: 1/8 in, or 1 mm.
    pub const fn mark(self) -> Length {
        match self {
            Units::Inches => Length::from_eighths(1),
            Units::Metric => Length::from_ticks(10 * Length::TICKS_PER_TENTH_MM),
        }
    }

    /// The finest marks that anyone reads: 1/64 in, or 0.1 mm.
    pub const fn finest_mark(self) -> Length {
        match self {
            Units::Inches => Length::from_ticks(Length::TICKS_PER_INCH / 64),
            Units::Metric => Length::from_ticks(Length::TICKS_PER_TENTH_MM),
        }
    }

    /// How the unit is written: `in` or `cm`.
    pub const fn name(self) -> &'static str {
        match self {
            Units::Inches => "in",
            Units::Metric => "cm",
        }
    }
}

impl Length {
    /// As text with its unit, such as `2 1/2 in` or `6.35 cm`; exact.
    ///
    /// ```
    /// use cutcloth::length::{Length, Units};
    /// let strip = Length::from_eighths(20);
    /// assert_eq!(strip.show(Units::Inches), "2 1/2 in");
    /// assert_eq!(strip.show(Units::Metric), "6.35 cm");
    /// ```
    pub fn show(self, units: Units) -> String {
        format!("{} {}", self.show_bare(units), units.name())
    }

    /// As [`Length::show`], without the unit: for tables whose heading names it.
    pub fn show_bare(self, units: Units) -> String {
        let sign = if self.ticks() < 0 { "-" } else { "" };
        let ticks = self.ticks().unsigned_abs();
        let text = match units {
            Units::Inches => mixed_number(ticks, Length::TICKS_PER_INCH.unsigned_abs()),
            Units::Metric => decimal(ticks, 100 * Length::TICKS_PER_TENTH_MM.unsigned_abs()),
        };
        format!("{sign}{text}")
    }

    /// True when it lies on one of the usual ruler's marks, so that a person can set it.
    pub fn is_on_mark(self, units: Units) -> bool {
        self.ticks() % units.mark().ticks() == 0
    }
}

impl Area {
    /// As text in square inches or square centimetres, such as `480 sq in`, rounded in `direction` to a hundredth.
    ///
    /// What is held is shown rounded down and what is needed rounded up, so that a shown shortage is never
    /// larger than the true one by more than the last digit.
    pub fn show(self, units: Units, direction: Direction) -> String {
        let side: i128 = match units {
            Units::Inches => Length::TICKS_PER_INCH.into(),
            Units::Metric => (100 * Length::TICKS_PER_TENTH_MM).into(),
        };
        let scaled = i128::from(self.square_ticks()) * 100;
        let per_unit = side * side;
        let hundredths = match direction {
            Direction::Down => scaled.div_euclid(per_unit),
            Direction::Up => -(-scaled).div_euclid(per_unit),
        };
        let sign = if hundredths < 0 { "-" } else { "" };
        let size = hundredths.unsigned_abs();
        let mut text = format!("{sign}{}", size / 100);
        match size % 100 {
            0 => {}
            rest if rest % 10 == 0 => text.push_str(&format!(".{}", rest / 10)),
            rest => text.push_str(&format!(".{rest:02}")),
        }
        format!("{text} sq {}", units.name())
    }
}

/// `parts` of a unit of `whole` parts, as `2`, `1/2` or `2 1/2`, in lowest terms.
fn mixed_number(parts: u64, whole: u64) -> String {
    let (units, rest) = (parts / whole, parts % whole);
    if rest == 0 {
        return units.to_string();
    }
    let common = greatest_common_divisor(rest, whole);
    let fraction = format!("{}/{}", rest / common, whole / common);
    if units == 0 { fraction } else { format!("{units} {fraction}") }
}

/// `parts` of a unit of `whole` parts, as a decimal. Ends, because 3200 ticks to the centimetre are 2^7 x 5^2.
fn decimal(parts: u64, whole: u64) -> String {
    let mut text = (parts / whole).to_string();
    let mut rest = parts % whole;
    if rest > 0 {
        text.push('.');
    }
    while rest > 0 {
        rest *= 10;
        text.push_str(&(rest / whole).to_string());
        rest %= whole;
    }
    text
}

fn greatest_common_divisor(a: u64, b: u64) -> u64 {
    if b == 0 { a } else { greatest_common_divisor(b, a % b) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn inches_are_shown_in_the_coarsest_fraction_that_is_exact() {
        let of = |ticks| Length::from_ticks(ticks).show(Units::Inches);
        assert_eq!(of(0), "0 in");
        assert_eq!(of(8128), "1 in");
        assert_eq!(of(8128 * 9 + 7112), "9 7/8 in");
        assert_eq!(of(508 * 3), "3/16 in");
        assert_eq!(of(254 * 3), "3/32 in");
        assert_eq!(of(127 * 3), "3/64 in");
        assert_eq!(of(-8128), "-1 in");
        // 6 cm lies on no mark of an inch ruler: shown as the exact fraction.
        assert_eq!(of(19_200), "2 46/127 in");
    }

    #[test]
    fn metric_is_shown_in_centimetres_with_no_more_decimals_than_needed() {
        let of = |ticks| Length::from_ticks(ticks).show(Units::Metric);
        assert_eq!(of(3200 * 50), "50 cm");
        assert_eq!(of(320 * 63), "6.3 cm");
        assert_eq!(of(127), "0.0396875 cm");
        assert_eq!(of(-320), "-0.1 cm");
    }

    #[test]
    fn an_area_is_rounded_the_way_it_is_told() {
        let inch = Length::from_inches(1);
        assert_eq!(inch.by(Length::from_inches(480)).show(Units::Inches, Direction::Down), "480 sq in");
        let little_more = inch.by(inch) + Area::from_square_ticks(1);
        assert_eq!(little_more.show(Units::Inches, Direction::Down), "1 sq in");
        assert_eq!(little_more.show(Units::Inches, Direction::Up), "1.01 sq in");
        assert_eq!(inch.by(Length::from_eighths(4)).show(Units::Inches, Direction::Up), "0.5 sq in");
        assert_eq!(inch.by(inch).show(Units::Metric, Direction::Down), "6.45 sq cm");
    }
}
