//! Numbers as people write them, read to exact ratios.

use crate::length::Direction;
use crate::length::parse::{LengthError, Unit};

/// Digits allowed before the decimal mark; 9 keep every product below far inside 128 bits.
const MAX_WHOLE_DIGITS: usize = 9;
/// Digits allowed after the decimal mark; spreadsheets write a third with up to 17.
const MAX_DECIMALS: usize = 17;
/// Digits allowed in a denominator.
const MAX_DENOMINATOR_DIGITS: usize = 6;

/// A ratio of whole numbers, never negative, with a positive denominator.
#[derive(Clone, Copy, Debug)]
pub(super) struct Ratio {
    above: i128,
    below: i128,
}

impl Ratio {
    /// Nothing.
    pub(super) const ZERO: Ratio = Ratio { above: 0, below: 1 };

    /// `self + other * times`, or `None` on overflow.
    pub(super) fn plus_times(self, other: Ratio, times: i64) -> Option<Ratio> {
        let left = self.above.checked_mul(other.below)?;
        let right = other.above.checked_mul(times.into())?.checked_mul(self.below)?;
        Some(Ratio { above: left.checked_add(right)?, below: self.below.checked_mul(other.below)? })
    }

    /// The whole number next to it in `direction`, and whether it was whole already; `None` when too large.
    pub(super) fn whole(self, direction: Direction) -> Option<(i64, bool)> {
        let (below, exact) = (self.above / self.below, self.above % self.below == 0);
        let ticks = if exact || direction == Direction::Down { below } else { below + 1 };
        // A thousand miles of fabric; keeps sums and products of lengths far inside 64 bits.
        (ticks < 1 << 40).then(|| i64::try_from(ticks).ok()).flatten().map(|ticks| (ticks, exact))
    }
}

/// The text with its many signs for one thing made one: spaces, dashes, fraction strokes, inch and foot marks.
pub(super) fn clean(text: &str) -> String {
    let one_sign: String = text
        .chars()
        .map(|c| match c {
            c if c.is_whitespace() => ' ',
            '\u{2044}' | '\u{2215}' => '/',
            '\u{2010}'..='\u{2015}' | '\u{2212}' => '-',
            '\u{201c}'..='\u{201f}' | '\u{2033}' | '\u{2036}' => '"',
            '\u{2018}'..='\u{201b}' | '\u{2032}' | '\u{2035}' | '\u{b4}' | '`' => '\'',
            c => c,
        })
        .collect();
    one_sign.replace("''", "\"")
}

/// Reads a cleaned text from the front.
pub(super) struct Scanner<'t> {
    rest: &'t str,
}

impl<'t> Scanner<'t> {
    /// At the start of `text`.
    pub(super) fn new(text: &'t str) -> Scanner<'t> {
        Scanner { rest: text }
    }

    /// What is not read yet.
    pub(super) fn rest(&self) -> &'t str {
        self.rest
    }

    /// True when nothing is left.
    pub(super) fn is_done(&self) -> bool {
        self.rest.is_empty()
    }

    /// Passes over spaces.
    pub(super) fn skip_spaces(&mut self) {
        self.rest = self.rest.trim_start();
    }

    /// True when a number begins here.
    pub(super) fn starts_number(&self) -> bool {
        self.rest.starts_with(|c: char| c.is_ascii_digit() || c == '.' || vulgar(c).is_some())
    }

    /// Reads a unit's name or sign and a full stop after it, if one is here.
    pub(super) fn unit(&mut self) -> Option<Unit> {
        let end = match self.rest.chars().next()? {
            '"' | '\'' => 1,
            _ => self.rest.find(|c: char| !c.is_alphabetic()).unwrap_or(self.rest.len()),
        };
        let unit = Unit::find(&self.rest[..end])?;
        self.rest = self.rest[end..].strip_prefix('.').unwrap_or(&self.rest[end..]);
        Some(unit)
    }

    /// Reads a whole number, decimal, fraction or mixed number.
    pub(super) fn quantity(&mut self) -> Result<Ratio, LengthError> {
        if let Some(fraction) = self.fraction()? {
            return Ok(fraction);
        }
        if self.rest.starts_with('-') {
            return Err(LengthError::Negative);
        }
        let whole = self.digits();
        if let Some(mark @ ('.' | ',')) = self.rest.chars().next() {
            let after = &self.rest[1..];
            if after.starts_with(|c: char| c.is_ascii_digit()) {
                self.rest = after;
                return self.decimal(whole, mark);
            }
        }
        if whole.is_empty() {
            let found = self.rest.split_whitespace().next().unwrap_or_default().to_string();
            return Err(LengthError::NoNumber { found });
        }
        if whole.len() > MAX_WHOLE_DIGITS {
            return Err(LengthError::TooLong);
        }
        let whole = Ratio { above: number(whole), below: 1 };
        let before = self.rest;
        self.skip_joint();
        match self.fraction()? {
            Some(part) if part.above < part.below => whole.plus_times(part, 1).ok_or(LengthError::TooFine),
            Some(_) => {
                let written = before[..before.len() - self.rest.len()].trim();
                Err(LengthError::Fraction { found: written.to_string() })
            }
            None => {
                self.rest = before;
                Ok(whole)
            }
        }
    }

    /// Passes over what people put between the whole number and its fraction: space, dash, plus, `&`, `and`.
    fn skip_joint(&mut self) {
        self.skip_spaces();
        for joint in ["-", "+", "&", "and "] {
            if let Some(rest) = self.rest.strip_prefix(joint) {
                self.rest = rest;
                self.skip_spaces();
                return;
            }
        }
    }

    /// Reads `1/2` or `½` if one is here; otherwise stays where it is.
    fn fraction(&mut self) -> Result<Option<Ratio>, LengthError> {
        if let Some((sign, (above, below))) = self.rest.chars().next().and_then(|c| Some((c, vulgar(c)?))) {
            self.rest = &self.rest[sign.len_utf8()..];
            return Ok(Some(Ratio { above, below }));
        }
        let before = self.rest;
        let above = self.digits();
        let stroke = self.rest.trim_start().strip_prefix('/').map(str::trim_start);
        let Some(rest) = stroke.filter(|_| !above.is_empty()) else {
            self.rest = before;
            return Ok(None);
        };
        self.rest = rest;
        let below = self.digits();
        let written = || before[..before.len() - self.rest.len()].trim().to_string();
        if above.len() > MAX_WHOLE_DIGITS || below.len() > MAX_DENOMINATOR_DIGITS {
            return Err(LengthError::TooFine);
        }
        if below.is_empty() || number(below) == 0 {
            return Err(LengthError::Fraction { found: written() });
        }
        Ok(Some(Ratio { above: number(above), below: number(below) }))
    }

    /// Reads the digits after a decimal mark. A comma with three digits behind it may part thousands, unless a
    /// lone zero stands before it.
    fn decimal(&mut self, whole: &str, mark: char) -> Result<Ratio, LengthError> {
        let decimals = self.digits();
        if mark == ',' && decimals.len() == 3 && !matches!(whole, "" | "0") {
            return Err(LengthError::Comma {
                decimal: format!("{whole}.{decimals}"),
                thousands: format!("{whole}{decimals}"),
            });
        }
        if whole.len() > MAX_WHOLE_DIGITS {
            return Err(LengthError::TooLong);
        }
        if decimals.len() > MAX_DECIMALS {
            return Err(LengthError::TooFine);
        }
        let below = decimals.bytes().fold(1i128, |power, _| power * 10);
        Ok(Ratio { above: number(whole) * below + number(decimals), below })
    }

    fn digits(&mut self) -> &'t str {
        let end = self.rest.find(|c: char| !c.is_ascii_digit()).unwrap_or(self.rest.len());
        let (digits, rest) = self.rest.split_at(end);
        self.rest = rest;
        digits
    }
}

/// The number of a string of at most 17 digits; nothing is zero.
fn number(digits: &str) -> i128 {
    digits.bytes().fold(0, |value, digit| value * 10 + i128::from(digit - b'0'))
}

/// Fractions that have a sign of their own (Unicode blocks Latin-1 Supplement and Number Forms).
fn vulgar(sign: char) -> Option<(i128, i128)> {
    Some(match sign {
        '½' => (1, 2),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅕' => (1, 5),
        '⅖' => (2, 5),
        '⅗' => (3, 5),
        '⅘' => (4, 5),
        '⅙' => (1, 6),
        '⅚' => (5, 6),
        '⅐' => (1, 7),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        '⅑' => (1, 9),
        '⅒' => (1, 10),
        _ => return None,
    })
}
