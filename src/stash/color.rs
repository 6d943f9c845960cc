//! Colours: `#rrggbb` or a word. Only what is safe and meaningful to print is kept.

use crate::spreadsheet::{Cells, tidy};

/// The colour in column `name`: `#rrggbb` in lower case, or a colour word as written. A code that is none is
/// reported and left open; what group it belongs to is asked only by patterns with a rule about colours.
pub(super) fn read(cells: &mut Cells, name: &str) -> Option<String> {
    let text = cells.text(name);
    if text.is_empty() {
        return None;
    }
    let color = known_form(text);
    if color.is_none() {
        let message =
            format!("\"{text}\" is neither a colour code nor a colour word; the colour was left open");
        cells.warning("S111", name, message, "write a code such as #2a9d8f, or a word");
    }
    color
}

fn known_form(text: &str) -> Option<String> {
    let digits = text.strip_prefix('#').unwrap_or(text).to_lowercase();
    let is_code = digits.chars().all(|c| c.is_ascii_hexdigit());
    match digits.len() {
        6 if is_code => return Some(format!("#{digits}")),
        3 if is_code && text.starts_with('#') => {
            return Some(digits.chars().fold("#".to_string(), |code, c| format!("{code}{c}{c}")));
        }
        _ => {}
    }
    let is_word = text.chars().all(|c| c.is_alphabetic() || " -/&,".contains(c));
    (is_word && text.chars().any(char::is_alphabetic)).then(|| tidy(text))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn codes_and_words_are_kept_and_the_rest_is_not() {
        let of = |text| known_form(text);
        assert_eq!(of("#2A9D8F").as_deref(), Some("#2a9d8f"));
        assert_eq!(of("2a9d8f").as_deref(), Some("#2a9d8f"));
        assert_eq!(of("#fa0").as_deref(), Some("#ffaa00"));
        assert_eq!(of("Sea  Green").as_deref(), Some("Sea Green"));
        assert_eq!(of("blue/white").as_deref(), Some("blue/white"));
        for text in ["#2a9d8", "#12345g", "url(x)", "123", "--"] {
            assert_eq!(of(text), None, "{text}");
        }
    }
}
