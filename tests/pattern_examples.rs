//! Published patterns written in the pattern language: the cuts come out with the counts and sizes as printed.
//!
//! Each folder of `tests/cases/pattern` has the pattern in our own words, its source in the first lines, and the
//! printed cuts, one row for each size of each fabric.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use cutcloth::length::{Direction, Unit, Units, parse};
use cutcloth::pattern::demand::{Demand, Loosened};
use cutcloth::pattern::{Pattern, Shape, read_toml};

/// Role, width and height in ticks, shape -> how many.
type Cuts = BTreeMap<(String, i64, i64, Shape), usize>;

fn case(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases/pattern").join(name)
}

fn pattern(name: &str) -> Pattern {
    let path = case(name).join("pattern.toml");
    let bytes = std::fs::read(&path).expect("the case has a pattern");
    let (pattern, problems) = read_toml("pattern.toml", &bytes);
    let told: Vec<String> = problems.iter().map(ToString::to_string).collect();
    assert!(told.is_empty(), "{name}:\n{}", told.join("\n"));
    pattern
}

fn cuts_of(pattern: &Pattern) -> Cuts {
    let mut cuts = Cuts::new();
    for piece in Demand::expand(pattern, &Loosened::default()).pieces {
        let role = pattern.roles[piece.role.0].name.clone();
        *cuts.entry((role, piece.width.ticks(), piece.height.ticks(), piece.shape)).or_default() += 1;
    }
    cuts
}

fn printed(name: &str) -> Cuts {
    let mut rows = csv::Reader::from_path(case(name).join("cuts.csv")).expect("the case has cuts");
    let mut cuts = Cuts::new();
    for row in rows.records() {
        let row = row.expect("a row");
        let ticks =
            |field: usize| parse(&row[field], Unit::Inch, Direction::Up).expect("a length").length.ticks();
        let shape = match &row[4] {
            "cut once" => Shape::CutOnce,
            "cut twice" => Shape::CutTwice,
            _ => Shape::Rectangle,
        };
        cuts.insert((row[0].to_string(), ticks(1), ticks(2), shape), row[3].parse().expect("a count"));
    }
    cuts
}

#[test]
fn every_pattern_comes_to_its_printed_cuts() {
    let folder = case("");
    let mut names: Vec<String> = std::fs::read_dir(folder)
        .expect("the cases")
        .map(|entry| entry.expect("an entry").file_name().into_string().expect("a name"))
        .collect();
    names.sort();
    assert!(names.len() >= 17, "cases are missing: {names:?}");
    for name in names {
        assert_eq!(cuts_of(&pattern(&name)), printed(&name), "{name}");
    }
}

#[test]
fn throw_from_one_strip_roll() {
    let pattern = pattern("one-strip-roll");
    let contrast = pattern.roles.iter().find(|role| role.name == "C").expect("C");
    assert_eq!(contrast.rules.different.len(), 1, "the contrasting print must be another one");
    let demand = Demand::expand(&pattern, &Loosened::default());
    let prints = demand.sets.iter().filter(|set| pattern.roles[set.role.0].name == "P").count();
    assert_eq!(prints, 80, "one print for each block");
}

#[test]
fn bed_quilt_with_wide_pieced_sashing() {
    let top = pattern("wide-sashing-bed-quilt");
    let finished = cutcloth::pattern::geometry::top(&top).expect("a layout").size;
    assert_eq!(finished.show(Units::Inches), "102 x 102 in");
}

#[test]
fn twenty_four_split_quarter_squares() {
    let pattern = pattern("split-quarter-squares");
    let way = pattern.blocks[0].units[0].way().expect("a way");
    assert_eq!((way.recipe.makes, way.spare), (4, 0));
    let last = way.recipe.steps.last().and_then(|step| step.measures).expect("a checkpoint");
    assert_eq!(last.show(Units::Inches), "8 1/2 x 8 1/2 in");
}
