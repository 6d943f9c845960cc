//! Headings as people write them -> the columns a reader knows.

use csv::StringRecord;

use crate::diagnostic::{Diagnostic, Place};
use crate::length::Unit;

/// A column a reader knows.
#[derive(Clone, Copy, Debug)]
pub struct Column {
    /// Its name in this program.
    pub name: &'static str,
    /// Other headings people give it, in lower case, words parted by one space.
    pub spellings: &'static [&'static str],
}

/// A known column and where it stands.
#[derive(Clone, Debug)]
pub(super) struct Found {
    pub(super) name: &'static str,
    pub(super) index: usize,
    pub(super) unit: Option<Unit>,
}

/// How many of `cells` are headings of different `columns`.
pub(super) fn recognised(cells: &StringRecord, columns: &[Column]) -> usize {
    let mut names: Vec<&str> =
        cells.iter().filter_map(|cell| find(cell, columns)).map(|(name, _)| name).collect();
    names.sort_unstable();
    names.dedup();
    names.len()
}

/// The column `heading` names, and the unit it gives to bare numbers, as in `Width (cm)`.
pub(super) fn find(heading: &str, columns: &[Column]) -> Option<(&'static str, Option<Unit>)> {
    let all = words(heading);
    let named = |words: &[String]| {
        let joined = words.join(" ");
        let same = |column: &&Column| column.name == joined || column.spellings.contains(&joined.as_str());
        columns.iter().find(same).map(|column| column.name)
    };
    if let Some(name) = named(&all) {
        return Some((name, None));
    }
    let (last, before) = all.split_last()?;
    let unit = Unit::find(last)?;
    // "width in cm"
    let before = before.strip_suffix(&["in".to_string()]).unwrap_or(before);
    named(before).map(|name| (name, Some(unit)))
}

/// The one of `columns` that `heading` may be a slip of the pen for. A short word is near to too many others.
pub(super) fn nearest(heading: &str, columns: &[&Column]) -> Option<&'static str> {
    const SHORTEST: usize = 4;
    let mut written = words(heading);
    if written.len() > 1 && written.last().is_some_and(|last| Unit::find(last).is_some()) {
        written.pop();
    }
    let written = written.join(" ");
    let long = written.chars().count();
    let mut close: Option<(usize, &'static str)> = None;
    for column in columns {
        for spelling in std::iter::once(&column.name).chain(column.spellings) {
            let short = long.min(spelling.chars().count());
            let most = if long.max(spelling.chars().count()) < SHORTEST { 0 } else { short / 3 };
            // No word of another length can be nearer than the lengths are.
            if long.abs_diff(spelling.chars().count()) > most {
                continue;
            }
            let steps = strsim::osa_distance(&written, spelling);
            if steps <= most && close.is_none_or(|(best, _)| steps < best) {
                close = Some((steps, column.name));
            }
        }
    }
    close.map(|(_, name)| name)
}

/// That `heading` was taken as the column `name`.
pub(super) fn not_understood(file: &str, line: u64, heading: &str, name: &str) -> Diagnostic {
    let message = format!("the heading \"{heading}\" was not understood; it was taken as \"{name}\"");
    let help =
        format!("call it \"{name}\"; if it is a column of your own, give it a name that is less like it");
    Diagnostic::warning("F118", Place::line(file, line).field(heading), message, &help)
}

/// The words of a heading in lower case, signs dropped; an inch sign in brackets is a word of its own.
pub(super) fn words(heading: &str) -> Vec<String> {
    let signs: String = heading
        .to_lowercase()
        .chars()
        .map(|c| if matches!(c, '"' | '\u{201d}' | '\u{2033}') { "  in ".to_string() } else { c.to_string() })
        .collect();
    signs
        .split(|c: char| !c.is_alphanumeric() && c != '#')
        .filter(|w| !w.is_empty())
        .map(str::to_string)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const COLUMNS: &[Column] = &[
        Column { name: "print", spellings: &["fabric name"] },
        Column { name: "width", spellings: &["w", "width across"] },
    ];

    #[test]
    fn headings_are_found_in_any_case_and_with_units() {
        assert_eq!(find(" PRINT ", COLUMNS), Some(("print", None)));
        assert_eq!(find("Fabric_name:", COLUMNS), Some(("print", None)));
        assert_eq!(find("Width (cm)", COLUMNS), Some(("width", Some(Unit::Centimetre))));
        assert_eq!(find("W [\"]", COLUMNS), Some(("width", Some(Unit::Inch))));
        assert_eq!(find("width in mm", COLUMNS), Some(("width", Some(Unit::Millimetre))));
        assert_eq!(find("width in", COLUMNS), Some(("width", Some(Unit::Inch))));
        assert_eq!(find("printed", COLUMNS), None);
        assert_eq!(find("", COLUMNS), None);
    }

    #[test]
    fn a_slip_of_the_pen_in_a_heading_is_seen_and_a_word_of_ones_own_is_not() {
        let columns: Vec<&Column> = COLUMNS.iter().collect();
        for (heading, meant) in
            [("Prnt", "print"), ("Widht (cm)", "width"), ("fabric-nmae", "print"), ("pirnt", "print")]
        {
            assert_eq!(nearest(heading, &columns), Some(meant), "{heading}");
        }
        for own in ["Maker", "x", "", "wt", "bought at", "paint shop"] {
            assert_eq!(nearest(own, &columns), None, "{own}");
        }
    }
}
