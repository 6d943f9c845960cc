//! The steps a shop sells by: amounts are rounded up to one, and told in yards or metres.

use crate::length::{Length, Unit, round};

/// The step an amount is rounded up to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Step {
    /// 1/8 yd, 4 1/2 in: what shops usually cut (common practice, no source).
    EighthYard,
    /// 1/4 yd, 9 in.
    QuarterYard,
    /// 1/3 yd, 12 in: magazines print it (tests/need/values.csv), and shops that cut thirds are few.
    ThirdYard,
    /// 0.1 m.
    TenthMetre,
    /// 0.25 m.
    QuarterMetre,
}

/// A whole number of steps.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Amount {
    /// How long it is.
    pub length: Length,
    /// The step it is a multiple of.
    pub step: Step,
}

impl Step {
    /// Length of one step; whole ticks on both rulers.
    pub const fn length(self) -> Length {
        Length::from_ticks(match self {
            Step::EighthYard => Unit::Yard.ticks() / 8,
            Step::QuarterYard => Unit::Yard.ticks() / 4,
            Step::ThirdYard => Unit::Yard.ticks() / 3,
            Step::TenthMetre => Unit::Metre.ticks() / 10,
            Step::QuarterMetre => Unit::Metre.ticks() / 4,
        })
    }

    /// In words, such as `1/8 yd`.
    pub fn name(self) -> String {
        self.up(self.length()).show()
    }

    /// The least amount that is at least `length`.
    ///
    /// ```
    /// use cutcloth::length::Length;
    /// use cutcloth::need::Step;
    /// assert_eq!(Step::EighthYard.up(Length::from_inches(37)).show(), "1 1/8 yd");
    /// assert_eq!(Step::ThirdYard.up(Length::from_inches(37)).show(), "1 1/3 yd");
    /// assert_eq!(Step::TenthMetre.up(Length::from_inches(37)).show(), "1 m");
    /// assert_eq!(Step::QuarterMetre.up(Length::from_inches(40)).show(), "1.25 m");
    /// ```
    pub fn up(self, length: Length) -> Amount {
        Amount { length: round::up(length, self.length()), step: self }
    }
}

impl Amount {
    /// One step less; `None` when that is nothing.
    pub fn less(self) -> Option<Amount> {
        let length = self.length - self.step.length();
        (length > Length::ZERO).then_some(Amount { length, ..self })
    }

    /// As a shop writes it: `1 1/8 yd`, `0.9 m`.
    pub fn show(self) -> String {
        let steps = self.length.ticks() / self.step.length().ticks();
        match self.step {
            Step::EighthYard => yards(steps, 8),
            Step::QuarterYard => yards(steps, 4),
            Step::ThirdYard => yards(steps, 3),
            Step::TenthMetre => metres(10 * steps),
            Step::QuarterMetre => metres(25 * steps),
        }
    }
}

/// So many parts of a yard, of which `of` are one, in lowest terms.
fn yards(parts: i64, of: i64) -> String {
    let (whole, mut part, mut of) = (parts / of, parts % of, of);
    while part > 0 && part % 2 == 0 && of % 2 == 0 {
        part /= 2;
        of /= 2;
    }
    match (whole, part) {
        (_, 0) => format!("{whole} yd"),
        (0, _) => format!("{part}/{of} yd"),
        _ => format!("{whole} {part}/{of} yd"),
    }
}

fn metres(hundredths: i64) -> String {
    let text = format!("{}.{:02}", hundredths / 100, hundredths % 100);
    format!("{} m", text.trim_end_matches('0').trim_end_matches('.'))
}
