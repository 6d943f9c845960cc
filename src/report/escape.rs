//! The single place where text becomes safe for HTML, XML, a CSS string or a CSV cell. Nothing else escapes.
//!
//! What cannot be seen is made visible when a file is read; here that is done once more, for text that comes from elsewhere.

use crate::diagnostic::visible;
use crate::spreadsheet::FORMULA_SIGNS;

/// Text for the inside of an HTML or XML element, or of a double-quoted attribute.
///
/// Control characters other than tab and line breaks are not allowed in XML and are made visible, as are marks of text
/// direction.
///
/// ```
/// assert_eq!(cutcloth::report::escape::markup("<b>&\"'"), "&lt;b&gt;&amp;&quot;&#39;");
/// ```
pub fn markup(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for letter in visible(text).chars() {
        match letter {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            '\'' => safe.push_str("&#39;"),
            '\u{fffe}' | '\u{ffff}' => safe.push(' '),
            _ => safe.push(letter),
        }
    }
    safe
}

/// Text for the inside of a double-quoted CSS string within a style element.
///
/// Everything but plain letters, digits, spaces and a few marks is written as a hexadecimal escape, so that
/// neither the string nor the style element can be ended by it. Source: CSS Syntax Level 3, "Consume an escaped
/// code point".
pub fn css_string(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for letter in text.chars() {
        if letter.is_ascii_alphanumeric() || matches!(letter, ' ' | '.' | ',' | '-' | ':') {
            safe.push(letter);
        } else if letter.is_control() {
            safe.push(' ');
        } else {
            safe.push_str(&format!("\\{:x} ", u32::from(letter)));
        }
    }
    safe
}

/// A text cell of a CSV file as spreadsheets may open it.
///
/// A cell that begins with `=`, `+`, `-`, `@`, one of these in full width, a tab or a carriage return may be run as a
/// formula; an apostrophe before it makes it plain text. A plain number keeps its sign: it is no formula, and must stay a
/// number. Control characters and marks of text direction are made visible.
/// Quoting (RFC 4180) is left to the CSV writer. Source: OWASP, "CSV Injection".
///
/// ```
/// use cutcloth::report::escape::cell;
/// assert_eq!(cell("=1+1"), "'=1+1");
/// assert_eq!(cell("-3.5"), "-3.5");
/// assert_eq!(cell("teal dot"), "teal dot");
/// ```
pub fn cell(text: &str) -> String {
    let text = &*visible(text);
    let number = text.strip_prefix(['-', '+']).is_some_and(|rest| {
        rest.starts_with(|first: char| first.is_ascii_digit())
            && rest.chars().all(|c| c.is_ascii_digit() || c == '.')
    });
    match text.chars().next() {
        Some(first) if (FORMULA_SIGNS.contains(&first) || matches!(first, '\t' | '\r')) && !number => {
            format!("'{text}")
        }
        _ => text.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_style_element_cannot_be_ended_by_a_title() {
        assert_eq!(css_string("a</style>\""), "a\\3c \\2f style\\3e \\22 ");
    }

    #[test]
    fn control_characters_never_reach_the_markup() {
        assert_eq!(markup("a\u{0}b\u{1b}c\nd\u{202e}"), "a\u{2400}b\u{241b}c\nd[U+202E]");
    }

    #[test]
    fn formulas_are_disarmed_but_words_and_lengths_stay_as_they_are() {
        for harmful in ["=HYPERLINK(1)", "+A1", "-A1", "@SUM(1)", "-2+3", "＝1+1", "＋1", "－4", "＠a"] {
            assert!(cell(harmful).starts_with('\''), "{harmful}");
        }
        for harmless in ["2 1/2 in", "rust leaf", "", "-4", "+4.25"] {
            assert_eq!(cell(harmless), harmless);
        }
    }
}
