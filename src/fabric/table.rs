//! The built-in table of cuts, read once from `data/shapes.csv`, and finding a cut by what people call it.

use std::sync::OnceLock;

use crate::fabric::name::canonical;
use crate::fabric::{Cut, CutEntry, Family, Trued};
use crate::length::{Direction, Length, Unit, parse};

/// What the loader promises; a test reads the table, so a release cannot break it.
const BUILT_IN: &str = "data/shapes.csv is part of the program and well formed";

impl Cut {
    /// Its row of the table.
    pub fn entry(self) -> &'static CutEntry {
        &table()[usize::from(self.0)]
    }

    /// The cut people mean by `text`: its name in the table or a common spelling, whatever the case, hyphens,
    /// plural or inch signs.
    ///
    /// ```
    /// use cutcloth::fabric::Cut;
    /// let square = Cut::find("10\" sq").unwrap();
    /// assert_eq!(square.entry().name, "10-inch square");
    /// assert_eq!(Cut::find("FQ").unwrap().entry().name, "fat quarter");
    /// assert_eq!(Cut::find("half a sheep"), None);
    /// ```
    pub fn find(text: &str) -> Option<Cut> {
        let wanted = canonical(text);
        spellings().iter().find(|(spelling, _)| *spelling == wanted).map(|&(_, cut)| cut)
    }

    /// Odd pieces: the cut of a lot whose sizes are given and whose cut is not.
    pub fn scrap() -> Cut {
        Cut::find("scrap").expect(BUILT_IN)
    }

    /// Fabric by its length.
    pub fn yardage() -> Cut {
        Cut::find("yardage").expect(BUILT_IN)
    }

    /// Every cut of the table, in its order.
    pub fn all() -> impl Iterator<Item = Cut> {
        (0..table().len()).map(|row| Cut(u8::try_from(row).expect(BUILT_IN)))
    }
}

/// Every cut of the table, in its order.
pub fn table() -> &'static [CutEntry] {
    static TABLE: OnceLock<Vec<CutEntry>> = OnceLock::new();
    TABLE.get_or_init(|| {
        let mut rows = csv::Reader::from_reader(include_str!("../../data/shapes.csv").as_bytes());
        rows.records().map(|row| entry(&row.expect(BUILT_IN))).collect()
    })
}

/// Canonical spelling -> cut; the names first, so that a name always means itself.
fn spellings() -> &'static [(String, Cut)] {
    static SPELLINGS: OnceLock<Vec<(String, Cut)>> = OnceLock::new();
    SPELLINGS.get_or_init(|| {
        let names = Cut::all().map(|cut| (canonical(&cut.entry().name), cut));
        let others = Cut::all()
            .flat_map(|cut| cut.entry().spellings.iter().map(move |spelling| (canonical(spelling), cut)));
        names.chain(others).collect()
    })
}

fn entry(row: &csv::StringRecord) -> CutEntry {
    let cell = |index: usize| row.get(index).expect(BUILT_IN).trim();
    CutEntry {
        name: cell(0).to_string(),
        width: nominal(cell(1)),
        length: nominal(cell(2)),
        family: match cell(3) {
            "scrap" => Family::Scrap,
            "precut" => Family::Precut,
            "fat_quarter" => Family::FatQuarter,
            "yardage" => Family::Yardage,
            other => panic!("{BUILT_IN}, but family is {other}"),
        },
        trued: match cell(4) {
            "both" => Trued::Both,
            "width" => Trued::Width,
            "length" => Trued::Length,
            other => panic!("{BUILT_IN}, but trued is {other}"),
        },
        spellings: cell(5).split(';').map(|spelling| spelling.trim().to_lowercase()).collect(),
    }
}

fn nominal(cell: &str) -> Option<Length> {
    (!cell.is_empty()).then(|| parse(cell, Unit::Inch, Direction::Down).expect(BUILT_IN).length)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(text: &str) -> &'static str {
        Cut::find(text).map_or("none", |cut| cut.entry().name.as_str())
    }

    #[test]
    fn nominal_sizes_are_across_the_grain_by_along_it() {
        let size = |name: &str| {
            let entry = Cut::find(name).unwrap().entry();
            (entry.width, entry.length)
        };
        let inches = |n| Some(Length::from_inches(n));
        assert_eq!(size("10-inch square"), (inches(10), inches(10)));
        assert_eq!(size("5-inch square"), (inches(5), inches(5)));
        assert_eq!(size("2 1/2-inch strip"), (inches(40), Some(Length::from_eighths(20))));
        assert_eq!(size("fat quarter"), (inches(21), inches(18)));
        assert_eq!(size("fat eighth"), (inches(21), inches(9)));
        assert_eq!(size("long quarter"), (inches(40), inches(9)));
        assert_eq!(size("half yard"), (inches(40), inches(18)));
        assert_eq!(size("one yard"), (inches(40), inches(36)));
        let metric = (Some(Length::from_ticks(55 * 3200)), Some(Length::from_ticks(50 * 3200)));
        assert_eq!(size("metric fat quarter"), metric);
        assert_eq!(size("yardage"), (inches(40), None));
        assert_eq!(size("scrap"), (None, None));
    }

    #[test]
    fn families_and_trued_sides_follow_the_way_the_fabric_comes() {
        let of = |name: &str| {
            let entry = Cut::find(name).unwrap().entry();
            (entry.family, entry.trued)
        };
        assert_eq!(of("scrap"), (Family::Scrap, Trued::Both));
        assert_eq!(of("5-inch square"), (Family::Precut, Trued::Both));
        assert_eq!(of("2 1/2-inch strip"), (Family::Precut, Trued::Width));
        assert_eq!(of("fat eighth"), (Family::FatQuarter, Trued::Both));
        assert_eq!(of("half yard"), (Family::Yardage, Trued::Length));
    }

    #[test]
    fn cuts_are_found_by_common_spellings() {
        for text in [
            "10-inch square",
            "10 in square",
            "10\" sq",
            "10″ squares",
            "10in sq.",
            "ten inch square",
            "10 x 10",
            "10\" x 10\"",
            "10 Inch Squares",
            "10”sq",
            "10-in-square",
            "precut 10 inch square",
            "10 in. square",
            "10 inch",
        ] {
            assert_eq!(found(text), "10-inch square", "{text}");
        }
        for text in [
            "2.5\" strip",
            "2½\" strip",
            "WOF strip",
            "2 1/2 in strips",
            "2-1/2\" WOF strip",
            "2½-inch strip",
            "2.5 in x WOF",
        ] {
            assert_eq!(found(text), "2 1/2-inch strip", "{text}");
        }
        for text in [
            "FQ",
            "fat quarter",
            "Fat-Quarter",
            "fat qtr",
            "fat quarters",
            "F.Q.",
            "FQs",
            "fat ¼",
            "fat quarter (US)",
        ] {
            assert_eq!(found(text), "fat quarter", "{text}");
        }
        for text in
            ["metric fat quarter", "FQ (metric)", "metric FQ", "50 x 55 cm", "50x55cm", "fat quarter, metric"]
        {
            assert_eq!(found(text), "metric fat quarter", "{text}");
        }
        for text in ["1/2 yd", "half yard", "½ yard", "half-yard", "0.5 yd", "Half yd cut"] {
            assert_eq!(found(text), "half yard", "{text}");
        }
        assert_eq!(found("5\" square"), "5-inch square");
        assert_eq!(found("five inch sq"), "5-inch square");
        assert_eq!(found("2.5\" square"), "2 1/2-inch square");
        assert_eq!(found("two and a half inch square"), "2 1/2-inch square");
        assert_eq!(found("F8"), "fat eighth");
        assert_eq!(found("fat 8th"), "fat eighth");
        assert_eq!(found("fat ⅛"), "fat eighth");
        assert_eq!(found("long quarter yard"), "long quarter");
        assert_eq!(found("1/4 yard"), "quarter yard");
        assert_eq!(found("one yard"), "one yard");
        assert_eq!(found("1 yd"), "one yard");
        assert_eq!(found("Yardage"), "yardage");
        assert_eq!(found("Scraps"), "scrap");
        assert_eq!(found("off-cut"), "scrap");
        for text in ["", "-", "half a sheep", "7 in square", "2 yd", "10.5 in square"] {
            assert_eq!(found(text), "none", "{text}");
        }
    }

    #[test]
    fn no_spelling_means_two_cuts() {
        let all = spellings();
        for (text, cut) in all {
            let other = all.iter().find(|(spelling, other)| spelling == text && other != cut);
            assert!(other.is_none(), "\"{text}\" means {} and {other:?}", cut.entry().name);
            assert!(!text.is_empty(), "{}", cut.entry().name);
        }
        assert_eq!(Cut::all().count(), table().len());
    }
}
