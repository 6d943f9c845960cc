//! Diagnostics while a file is read: the first of each kind one by one, the rest counted.

use std::collections::BTreeMap;

use super::limits::{ALIKE, grouped};
use super::{Diagnostic, Place, Severity};

/// What is wrong with an input so far. A file that is wrong all through fills neither memory nor screen: of each code
/// and severity the first [`ALIKE`] are kept, and the number of the others.
#[derive(Clone, Debug, Default)]
pub struct Gathered {
    list: Vec<Diagnostic>,
    counts: BTreeMap<(&'static str, Severity), usize>,
}

impl Gathered {
    /// Adds one, or counts it.
    pub fn push(&mut self, one: Diagnostic) {
        let count = self.counts.entry((one.code, one.severity)).or_insert(0);
        *count += 1;
        if *count <= ALIKE {
            self.list.push(one);
        }
    }

    /// True when another error of this code would only be counted, so that nothing need be worked out to word it.
    pub fn is_full(&self, code: &'static str) -> bool {
        self.counts.get(&(code, Severity::Error)).is_some_and(|&count| count >= ALIKE)
    }

    /// How many errors so far, those that are only counted among them.
    pub fn errors(&self) -> usize {
        self.counts
            .iter()
            .filter(|((_, severity), _)| *severity == Severity::Error)
            .map(|(_, count)| count)
            .sum()
    }

    /// All of them in the order they were found, each kind followed by how many more there were of it.
    pub fn into_list(self) -> Vec<Diagnostic> {
        let Gathered { mut list, counts } = self;
        for ((code, severity), count) in counts {
            let same = |one: &Diagnostic| (one.code, one.severity) == (code, severity);
            let Some(last) = list.iter().rposition(same).filter(|_| count > ALIKE) else { continue };
            let more = grouped(u64::try_from(count - ALIKE).unwrap_or(u64::MAX));
            let place = Place::file(&list[last].place.file);
            let message = format!("and {more} more like it");
            let help = "mend those above first: one cause may be behind them all".to_owned();
            list.insert(last + 1, Diagnostic { code, severity, place, message, help });
        }
        list
    }

    /// As [`Gathered::into_list`], what concerns the whole file first, then by line; `heading` and the lines above it count
    /// as the whole file.
    pub fn in_file_order(mut self, heading: u64) -> Vec<Diagnostic> {
        self.list.sort_by_key(|one| one.place.line.filter(|&line| line > heading));
        self.into_list()
    }
}

impl Extend<Diagnostic> for Gathered {
    fn extend<I: IntoIterator<Item = Diagnostic>>(&mut self, more: I) {
        more.into_iter().for_each(|one| self.push(one));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_of_a_kind_are_told_and_the_others_counted() {
        let mut said = Gathered::default();
        for line in (1..=8_631).rev() {
            said.push(Diagnostic::error("F205", Place::line("a.csv", line), "below one".to_owned(), "mend"));
        }
        said.push(Diagnostic::note("F205", Place::line("a.csv", 1), "another severity".to_owned(), ""));
        assert!(said.is_full("F205") && !said.is_full("F204"));
        assert_eq!(said.errors(), 8_631);
        let list = said.in_file_order(1);
        assert_eq!(list.len(), ALIKE + 2);
        assert_eq!(list[0].message, "another severity");
        assert_eq!(list[ALIKE + 1].message, "and 8,431 more like it");
        assert!(list[ALIKE + 1].is_error());
    }
}
