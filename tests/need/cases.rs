//! Published patterns with their printed amounts, for tests and for the table of `benches/need_table.rs`.
//!
//! `tests/cases/need` has the amounts in `printed.csv` and charts of patterns whose blocks are not known; patterns in
//! the pattern language are in `tests/cases/pattern`.

use std::fs;
use std::path::{Path, PathBuf};

use cutcloth::length::{Direction, Length, Unit, parse};
use cutcloth::need::{Assumptions, Join, Need, Spare, Worked, need};
use cutcloth::pattern::{Pattern, read_chart, read_toml};

/// One fabric of a published pattern.
pub(crate) struct Printed {
    pub(crate) case: String,
    pub(crate) role: String,
    /// Usable width.
    pub(crate) width: Length,
    /// The printed amount, or what the printed strips come to.
    pub(crate) amount: Length,
    /// The strips that the printed cuts make, one depth for each size.
    pub(crate) strips: Length,
    /// Why plain strips take more than is printed; empty where they do not.
    #[allow(dead_code)] // the table does not show it
    pub(crate) why: String,
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases")
}

/// The rows of a list beside the charts.
pub(crate) fn rows(list: &str) -> Vec<csv::StringRecord> {
    let mut rows = csv::Reader::from_path(folder().join("need").join(list)).expect("the list is there");
    rows.records().map(|row| row.expect("a row")).collect()
}

pub(crate) fn length(text: &str, unit: Unit) -> Length {
    parse(text, unit, Direction::Up).expect("a length").length
}

pub(crate) fn printed() -> Vec<Printed> {
    let row = |row: csv::StringRecord| Printed {
        case: row[0].to_owned(),
        role: row[1].to_owned(),
        width: length(&row[2], Unit::Inch),
        amount: length(&row[3], Unit::Yard),
        strips: length(&row[4], Unit::Inch),
        why: row[6].to_owned(),
    };
    rows("printed.csv").into_iter().map(row).collect()
}

/// The pattern of a case, from its chart or its pattern file.
pub(crate) fn pattern(case: &str) -> Pattern {
    let chart = folder().join("need").join(case).with_extension("csv");
    let file = folder().join("pattern").join(case).join("pattern.toml");
    let (pattern, problems) = match fs::read(chart) {
        Ok(bytes) => read_chart("chart.csv", &bytes),
        Err(_) => read_toml("pattern.toml", &fs::read(file).expect("the case has a pattern")),
    };
    assert!(problems.is_empty(), "{case}: {problems:?}");
    pattern
}

/// Nothing added for squaring up, binding joined straight as magazines reckon it; `work` steps of search.
pub(crate) fn as_printed(width: Length, work: u64) -> Assumptions {
    let mut how = Assumptions { width, work, ..Assumptions::default() };
    how.spare = Spare { squaring: Length::ZERO, ..Spare::default() };
    how.finish.join = Join::Straight;
    how.other_widths.clear();
    how
}

/// A fabric by plain strips and at least, with the bound; binding has only strips.
pub(crate) fn amounts(pattern: &Pattern, answer: &Need, role: &str) -> Option<(Worked, Worked, Length)> {
    let named = |id: usize| pattern.roles[id].name == role || pattern.roles[id].title == role;
    match answer.roles.iter().find(|one| named(one.role.0)) {
        Some(one) => Some((one.at.by_strips, one.at.by_least, one.at.bound)),
        None if role == "binding" => {
            let worked = answer.finish.as_ref()?.binding?.worked;
            Some((worked, worked, worked.exact))
        }
        None => None,
    }
}

/// Every row with its amounts; a pattern is worked out once for each width.
pub(crate) fn all(work: u64) -> Vec<(Printed, Worked, Worked, Length)> {
    let mut known: Option<((String, Length), (Pattern, Need))> = None;
    let mut out = Vec::new();
    for row in printed() {
        let key = (row.case.clone(), row.width);
        if known.as_ref().is_none_or(|(other, _)| *other != key) {
            let pattern = pattern(&row.case);
            let answer = need(&pattern, &as_printed(row.width, work)).expect("it can be worked out");
            known = Some((key, (pattern, answer)));
        }
        let (pattern, answer) = &known.as_ref().expect("just worked out").1;
        let (strips, least, bound) =
            amounts(pattern, answer, &row.role).unwrap_or_else(|| panic!("{} has no {}", row.case, row.role));
        out.push((row, strips, least, bound));
    }
    out
}
