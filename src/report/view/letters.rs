//! Two letters for each print, to stand in drawings where its name does not fit.

use std::collections::{BTreeMap, BTreeSet};

use crate::report::situation::Situation;
use crate::stash::PrintId;

/// The letters of every print a plan uses.
pub(crate) struct Letters(BTreeMap<PrintId, String>);

impl Letters {
    /// Letters made from the names, so that they are easily kept in mind; no two prints have the same.
    pub(crate) fn of(here: &Situation<'_>) -> Letters {
        let used: BTreeSet<PrintId> = here.outcome.plan.prints.iter().copied().flatten().collect();
        let names: Vec<&str> = used.iter().map(|&print| here.stash.print(print).name.as_str()).collect();
        Letters(used.iter().copied().zip(made(&names)).collect())
    }

    /// Those of one print.
    pub(crate) fn print(&self, print: PrintId) -> &str {
        self.0.get(&print).map_or("", String::as_str)
    }
}

/// The first letters of two words, or of one word its first two; where these are taken, the first with another
/// letter of the name, then with a number.
fn made(names: &[&str]) -> Vec<String> {
    let mut taken: BTreeSet<String> = BTreeSet::new();
    let mut all = Vec::new();
    for name in names {
        let words: Vec<Vec<char>> = name
            .split(|sign: char| !sign.is_alphanumeric())
            .filter(|word| !word.is_empty())
            .map(|word| word.chars().collect())
            .collect();
        let first = words.first().map_or('P', |word| word[0]);
        let heads = words.iter().skip(1).map(|word| word[0]);
        let others = words.iter().flatten().skip(1).copied();
        let wanted = heads.chain(others).map(|second| {
            let lower: String = second.to_lowercase().collect();
            format!("{}{lower}", first.to_uppercase())
        });
        let numbered = (1_u32..).map(|number| format!("{}{number}", first.to_uppercase()));
        let letters = wanted.chain(numbered).find(|letters| !taken.contains(letters)).unwrap_or_default();
        taken.insert(letters.clone());
        all.push(letters);
    }
    all
}

#[cfg(test)]
mod tests {
    use super::made;

    #[test]
    fn letters_come_from_the_name_and_no_two_prints_share_them() {
        let names =
            ["urchin spines", "sea mist", "sand", "sea moss", "star mark", "ss", "s s", "", "Über blau"];
        assert_eq!(made(&names), ["Us", "Sm", "Sa", "Se", "St", "Ss", "S1", "P1", "Üb"]);
    }
}
