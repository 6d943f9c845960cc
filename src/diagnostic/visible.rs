//! Text from files as it may be shown: signs that a terminal obeys, or that turn the order of what is read, become signs
//! that are seen.

use std::borrow::Cow;

/// `text` with every control character shown as its picture (escape as `␛`) and every mark of text direction by its number
/// (`[U+202E]`). Line breaks and tabs stay.
///
/// Sources: the Unicode block Control Pictures; the property Bidi_Control of Unicode Standard Annex 9; the two separators
/// of lines and paragraphs, which end a line where nobody sees it.
///
/// ```
/// use cutcloth::diagnostic::visible;
/// assert_eq!(visible("teal\u{1b}[2J"), "teal␛[2J");
/// assert_eq!(visible("sea\u{202e}tod"), "sea[U+202E]tod");
/// ```
pub fn visible(text: &str) -> Cow<'_, str> {
    shown(text, |sign| matches!(sign, '\n' | '\r' | '\t'))
}

/// As [`visible`], line breaks and tabs included: for text that must not begin a line of its own.
///
/// ```
/// use cutcloth::diagnostic::visible_line;
/// assert_eq!(visible_line("dot\nIT FITS"), "dot␊IT FITS");
/// ```
pub fn visible_line(text: &str) -> Cow<'_, str> {
    shown(text, |_| false)
}

fn shown(text: &str, stays: fn(char) -> bool) -> Cow<'_, str> {
    let is_hidden = |sign: char| !stays(sign) && (sign.is_control() || turns(sign));
    if !text.chars().any(is_hidden) {
        return Cow::Borrowed(text);
    }
    let mut shown = String::with_capacity(text.len() + 8);
    for sign in text.chars() {
        let number = u32::from(sign);
        match number {
            _ if !is_hidden(sign) => shown.push(sign),
            0..=0x1f => shown.extend(char::from_u32(0x2400 + number)),
            0x7f => shown.push('\u{2421}'),
            _ => shown.push_str(&format!("[U+{number:04X}]")),
        }
    }
    Cow::Owned(shown)
}

/// True for a mark that turns the direction of text, or ends a line unseen.
fn turns(sign: char) -> bool {
    matches!(sign, '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_of_every_language_stay_as_they_are() {
        for text in ["teal dot", "café ½ 綿 ситец كتان", "a\tb\r\nc", "👩🏽\u{200d}🌾", "non\u{a0}break"]
        {
            assert_eq!(visible(text), text);
        }
    }

    #[test]
    fn no_sign_is_left_that_a_terminal_obeys_or_that_turns_the_text() {
        let all: String = (0..=0x2100).filter_map(char::from_u32).collect();
        let shown = visible_line(&all);
        assert!(!shown.chars().any(|sign| sign.is_control() || turns(sign)));
        for seen in ["\u{2400}\u{2401}", "\u{2421}", "[U+009B]", "[U+061C]", "[U+2029]", "[U+2067]"] {
            assert!(shown.contains(seen), "{seen}");
        }
    }
}
