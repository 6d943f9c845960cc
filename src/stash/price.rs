//! Prices: exact hundredths of the user's own currency, whatever sign stands beside them.

use crate::fabric::Price;
use crate::spreadsheet::{Cells, Reported};

/// Digits before the decimal mark; no fabric costs a million.
const MAX_DIGITS: usize = 6;

/// The price in column `name`.
pub(super) fn read(cells: &mut Cells, name: &str) -> Result<Option<Price>, Reported> {
    let text = cells.text(name);
    if text.is_empty() {
        return Ok(None);
    }
    match hundredths(text) {
        Some(price) => Ok(Some(Price(price))),
        None => {
            let message = format!("\"{text}\" is not a price");
            let help = "write a number with at most two decimals, e.g. 3.25, or leave it empty";
            Err(cells.error("S106", name, message, help))
        }
    }
}

/// `3`, `3.5`, `3,50`, `$3.25`, `3.25 EUR`, `1,250.00` -> hundredths. A mark with three digits behind it may part
/// thousands or decimals and is refused, unless another mark behind it settles the matter.
fn hundredths(text: &str) -> Option<i64> {
    let is_currency = |c: char| c.is_alphabetic() || c.is_whitespace() || "$\u{a3}\u{20ac}\u{a5}".contains(c);
    let number = text.trim_matches(is_currency);
    let (whole, decimals) = match number.rfind(['.', ',']) {
        Some(mark) => (&number[..mark], &number[mark + 1..]),
        None => (number, ""),
    };
    let has_mark = whole.len() < number.len();
    let whole = match whole.split_once(['.', ',']) {
        Some((thousands, rest))
            if rest.len() == 3 && number.as_bytes()[thousands.len()] != number.as_bytes()[whole.len()] =>
        {
            format!("{thousands}{rest}")
        }
        Some(_) => return None,
        None => whole.to_string(),
    };
    let is_digits = |text: &str| text.bytes().all(|byte| byte.is_ascii_digit());
    let right_length = !whole.is_empty() && whole.len() <= MAX_DIGITS && decimals.len() <= 2;
    if !right_length || !is_digits(&whole) || !is_digits(decimals) || has_mark && decimals.is_empty() {
        return None;
    }
    format!("{whole}{decimals:0<2}").parse().ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn prices_are_exact_hundredths() {
        for (text, price) in [
            ("3", 300),
            ("3.25", 325),
            ("3,5", 350),
            ("$11.00", 1100),
            ("£ 4.99", 499),
            ("3.25 EUR", 325),
            ("0", 0),
            ("1,250.00", 125_000),
            ("1.250,00", 125_000),
            ("€3", 300),
            ("USD 7.10", 710),
        ] {
            assert_eq!(hundredths(text), Some(price), "{text}");
        }
    }

    #[test]
    fn what_may_be_two_prices_is_none() {
        for text in ["3.255", "1,250", "-3", "gift", "", "$", "3.", "1.2.3", "1,250,00", "3 or 4", "12345678"]
        {
            assert_eq!(hundredths(text), None, "{text}");
        }
    }
}
