//! Rows written as text: words with spaces between, each a name and perhaps a turn.

use crate::pattern::Turn;

/// A word of a row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Token<T> {
    /// What it names.
    pub(super) what: T,
    /// The word as written.
    pub(super) word: String,
    /// How it is turned.
    pub(super) turn: Turn,
}

/// Splits a row into its words and looks each up; a word that is nothing known is given back.
///
/// A word is looked up whole first; when that is nothing known and it ends in `^`, `>`, `v` or `<`, the last
/// letter is taken for a turn.
pub(super) fn row<T>(text: &str, find: impl Fn(&str) -> Option<T>) -> (Vec<Token<T>>, Vec<String>) {
    let mut tokens = Vec::new();
    let mut unknown = Vec::new();
    for word in text.split_whitespace() {
        if let Some(what) = find(word) {
            tokens.push(Token { what, word: word.to_string(), turn: Turn::Up });
            continue;
        }
        let turned = split_turn(word).and_then(|(name, turn)| find(name).map(|what| (what, name, turn)));
        match turned {
            Some((what, name, turn)) => tokens.push(Token { what, word: name.to_string(), turn }),
            None => unknown.push(word.to_string()),
        }
    }
    (tokens, unknown)
}

fn split_turn(word: &str) -> Option<(&str, Turn)> {
    let turns = [('^', Turn::Up), ('>', Turn::Right), ('v', Turn::Down), ('<', Turn::Left)];
    turns.into_iter().find_map(|(sign, turn)| word.strip_suffix(sign).map(|name| (name, turn)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_word_is_looked_up_whole_before_its_last_letter_is_taken_for_a_turn() {
        let known = |word: &str| ["G", "Gv", "A"].contains(&word).then(|| word.to_string());
        let (tokens, unknown) = row(" G> Gv  A^ Av B ", known);
        let read: Vec<(&str, Turn)> = tokens.iter().map(|token| (token.what.as_str(), token.turn)).collect();
        assert_eq!(read, [("G", Turn::Right), ("Gv", Turn::Up), ("A", Turn::Up), ("A", Turn::Down)]);
        assert_eq!(unknown, ["B"]);
    }
}
