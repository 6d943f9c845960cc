//! Headings as people write them -> the columns a reader knows.

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
pub(super) fn recognised(cells: &[String], columns: &[Column]) -> usize {
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
}
