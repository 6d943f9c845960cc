//! What fabric and quilts lose in washing: percent of either side, in tenths.

use crate::length::Length;

/// A percentage in tenths, from none to all.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Percent(u32);

impl Percent {
    /// Nothing.
    pub const NONE: Percent = Percent(0);

    /// So many tenths of a percent, at most all.
    pub const fn tenths(count: u32) -> Percent {
        Percent(if count < 1000 { count } else { 1000 })
    }

    /// Whole percent.
    pub const fn whole(percent: u32) -> Percent {
        Percent::tenths(percent.saturating_mul(10))
    }

    /// Reads `5`, `2.5` or `2.5 %`; `None` for anything else, and for more than one decimal.
    ///
    /// ```
    /// use cutcloth::need::Percent;
    /// assert_eq!(Percent::read("2.5 %"), Some(Percent::tenths(25)));
    /// assert_eq!(Percent::read("2.55"), None);
    /// ```
    pub fn read(text: &str) -> Option<Percent> {
        let number = text.trim().trim_end_matches('%').trim();
        let (whole, tenth) = number.split_once('.').unwrap_or((number, "0"));
        let digits = |text: &str| text.bytes().all(|sign| sign.is_ascii_digit());
        if !digits(whole) || !digits(tenth) || tenth.len() != 1 {
            return None;
        }
        let whole: u32 = whole.parse().ok().filter(|whole| *whole <= 100)?;
        let tenths = whole * 10 + tenth.parse::<u32>().ok()?;
        (tenths <= 1000).then_some(Percent(tenths))
    }

    /// Without a sign: `5`, `2.5`.
    pub fn show(self) -> String {
        match self.0 % 10 {
            0 => (self.0 / 10).to_string(),
            tenth => format!("{}.{tenth}", self.0 / 10),
        }
    }

    /// What is left of `length`, down to a tick.
    pub(super) fn left_of(self, length: Length) -> Length {
        Length::from_ticks(length.ticks() * i64::from(1000 - self.0) / 1000)
    }

    /// The least of which `length` is left, up to a tick.
    ///
    /// # Panics
    /// When all is lost: readers allow much less.
    pub(super) fn before(self, length: Length) -> Length {
        let left = i64::from(1000 - self.0);
        assert!(left > 0, "less than all is lost");
        Length::from_ticks((length.ticks() * 1000 + left - 1).div_euclid(left))
    }
}

/// What either side loses.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Lost {
    /// Of the width, across the fabric.
    pub across: Percent,
    /// Of the length, along the fabric.
    pub along: Percent,
}

impl Lost {
    /// The same percentage of either side.
    pub const fn both(percent: Percent) -> Lost {
        Lost { across: percent, along: percent }
    }

    /// In words: `5 %`, or `2.6 % of its width and 2.2 % of its length`.
    pub fn show(self) -> String {
        if self.across == self.along {
            return format!("{} %", self.across.show());
        }
        format!("{} % of its width and {} % of its length", self.across.show(), self.along.show())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_bought_is_the_least_that_leaves_enough() {
        for tenths in [0, 1, 25, 60, 250] {
            let lost = Percent::tenths(tenths);
            for ticks in [1, 999, 8128 * 40, 8128 * 3600 + 7] {
                let wanted = Length::from_ticks(ticks);
                let bought = lost.before(wanted);
                assert!(lost.left_of(bought) >= wanted);
                assert!(lost.left_of(bought - Length::from_ticks(1)) < wanted);
            }
        }
    }

    #[test]
    fn percentages_have_at_most_one_decimal() {
        for (text, tenths) in [("0", 0), ("5", 50), ("2.5%", 25), (" 0.3 % ", 3), ("100", 1000)] {
            assert_eq!(Percent::read(text), Some(Percent::tenths(tenths)), "{text}");
        }
        for text in ["", "%", "-1", "2.", "2.25", "1e1", "100.1", "101", "two", "99999999999"] {
            assert_eq!(Percent::read(text), None, "{text}");
        }
        assert_eq!([Percent::tenths(25).show(), Percent::whole(5).show()], ["2.5", "5"]);
    }
}
