//! A colour as a person writes it: a code, a name of CSS, a word of the trade.

use std::sync::OnceLock;

use palette::named;

use super::Color;

/// The colour a text stands for: `#rgb`, `#rrggbb`, or words.
///
/// Words are looked up as they are written together ("sea green"), then from the last one back, among the words of
/// the trade (`data/colors.csv`) and the named colours of CSS Color Module Level 4, section 6.1 (W3C). Only words
/// before the first `/`, `&`, `,`, "and", "with" or "on" count, as they name the main colour. `None` when nothing is known.
///
/// ```
/// use cutcloth::color::{Color, find};
/// assert_eq!(find("#fa0"), Some(Color([255, 170, 0])));
/// assert_eq!(find("Sea Green"), Some(Color([46, 139, 87])));
/// assert_eq!(find("navy/white"), Some(Color([0, 0, 128])));
/// assert_eq!(find("grandmother's"), None);
/// ```
pub fn find(text: &str) -> Option<Color> {
    let text = text.trim();
    if let Some(digits) = text.strip_prefix('#') {
        return code(digits);
    }
    by_words(text, of_word)
}

/// True when a colour is written as a code and not in words.
pub fn is_code(text: &str) -> bool {
    text.trim().strip_prefix('#').and_then(code).is_some()
}

/// What `of` knows of the words of the main colour, of all together before the last of them.
pub(super) fn by_words<T>(text: &str, of: impl Fn(&str) -> Option<T>) -> Option<T> {
    let text = text.to_lowercase();
    let main = text.split(['/', '&', ',']).next()?;
    let words: Vec<&str> = main
        .split(|c: char| c == '-' || c.is_whitespace())
        .filter(|word| !word.is_empty())
        .take_while(|word| !["and", "with", "on"].contains(word))
        .collect();
    of(&words.concat()).or_else(|| words.iter().rev().find_map(|word| of(word)))
}

/// One word, in lower case. A word of the trade goes before the name of CSS, which is paler or brighter than fabric.
pub(super) fn of_word(word: &str) -> Option<Color> {
    let ours = trade().iter().find(|known| known.name == word).map(|known| known.color);
    ours.or_else(|| named::from_str(word).map(|rgb| Color([rgb.red, rgb.green, rgb.blue])))
}

/// A word of the trade.
pub(super) struct Word {
    pub(super) name: &'static str,
    pub(super) color: Color,
    /// The plain word of its group.
    pub(super) group: &'static str,
}

/// `data/colors.csv`.
pub(super) fn trade() -> &'static [Word] {
    static WORDS: OnceLock<Vec<Word>> = OnceLock::new();
    WORDS.get_or_init(|| {
        let rows = include_str!("../../data/colors.csv").lines().skip(1);
        let word = |row: &'static str| {
            let mut cells = row.split(',');
            let (name, digits) = (cells.next()?, cells.next()?.strip_prefix('#')?);
            Some(Word { name, color: code(digits)?, group: cells.next()? })
        };
        rows.filter_map(word).collect()
    })
}

/// Three or six hexadecimal digits.
fn code(digits: &str) -> Option<Color> {
    if !digits.bytes().all(|byte| byte.is_ascii_hexdigit()) {
        return None;
    }
    let part = |at: usize| match digits.len() {
        3 => u8::from_str_radix(&digits[at..=at], 16).ok().map(|digit| digit * 17),
        6 => u8::from_str_radix(&digits[2 * at..2 * at + 2], 16).ok(),
        _ => None,
    };
    Some(Color([part(0)?, part(1)?, part(2)?]))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn codes_have_three_or_six_digits() {
        assert_eq!(find(" #2A9d8F "), Some(Color([0x2a, 0x9d, 0x8f])));
        for text in ["#2a9d8", "#12345g", "#", "#ééé", "2a9d8f"] {
            assert_eq!(find(text), None, "{text}");
        }
        assert!(is_code("#abc") && !is_code("grey") && !is_code("#abcd"));
    }

    #[test]
    fn both_spellings_of_grey_and_the_words_of_the_trade_are_known() {
        assert_eq!(find("grey"), find("gray"));
        assert_eq!(find("dark slate grey"), find("darkslategray"));
        assert!(find("cream").is_some_and(|cream| cream.lightness() > 900));
        assert_eq!(find("pale cream"), find("cream"));
        let rows = include_str!("../../data/colors.csv").lines().count() - 1;
        assert_eq!(trade().len(), rows, "every row is read");
    }
}
