//! What the edits begin with: the demo's files, pieces of them, and the patterns of the other tests.

use std::path::Path;

use cutcloth::app::options::Options;
use cutcloth::app::run::{Answer, Request, plan};
use cutcloth::app::{Given, Stop};
use cutcloth::length::Length;
use cutcloth::pattern::{self, Pattern};
use cutcloth::stash::{self, Stash};
use cutcloth::verifying::{Inputs, Source};

/// Files of one kind, and words that mean something in them.
pub(crate) struct Corpus {
    /// Name and content.
    pub(crate) files: Vec<(String, Vec<u8>)>,
    /// Put in by edits.
    pub(crate) words: &'static [&'static str],
}

/// Numbers and signs that readers of every kind trip over, if they do.
pub(crate) const WILD: &[&str] = &[
    "0",
    "-1",
    "1",
    "9999",
    "10000",
    "4294967295",
    "4294967296",
    "9223372036854775807",
    "-9223372036854775808",
    "1e308",
    "1/0",
    "0/1",
    "2 1/2",
    "2½",
    "999999999999999999999",
    "0.000001",
    "NaN",
    "\u{ff1d}1",
    "\u{202e}",
    "\u{1b}[2J",
    "é",
    "\u{0}",
    "\"",
    "'",
    ",",
    ";",
    "\t",
    "\n",
    "\r",
    "\r\n",
    "{",
    "}",
    "[",
    "]",
    "=",
    "#",
    "\\",
    " ",
    "",
    "null",
    "true",
];

const TABLE: &[&str] = &[
    "print",
    "cut",
    "count",
    "width",
    "length",
    "size",
    "color",
    "value",
    "directional",
    "keep",
    "price",
    "allowance",
    "where",
    "note",
    "fat quarter",
    "10-inch square",
    "yardage",
    "scrap",
    "1 yd",
    "6 cm",
    "40 in",
    "yes",
    "no",
    "#2a9d8f",
    "block",
    "make",
    "label",
    "role",
    "height",
    "total",
    "shape",
    "matching",
    "from",
    "quilt",
    "cut once",
    "cut twice",
    "piece",
    "copy",
    "row",
    "column",
    "Urchin",
    "Limpet",
    "background",
    "urchin",
    "sep=;",
    "Widht",
    "What",
];

const TOML: &[&str] = &[
    "[quilt]",
    "[role.A]",
    "[[block]]",
    "[[block.unit]]",
    "[[block.piece]]",
    "[layout]",
    "[[size]]",
    "name",
    "make",
    "finished",
    "rows",
    "kind",
    "roles",
    "count",
    "method",
    "label",
    "role",
    "size",
    "seam",
    "ruler",
    "unit",
    "matching",
    "from",
    "different",
    "at-most",
    "only",
    "never",
    "direction",
    "border",
    "sashing",
    "letter",
    "\"in\"",
    "\"cm\"",
    "\"half-square triangles\"",
    "\"flying geese\"",
    "\"block\"",
    "\"quilt\"",
    "\"4 in\"",
    "\"2 1/2 x 2 1/2\"",
    "[\"A B\"]",
    "= 3",
    "= []",
    "= {}",
    "\"\"",
    "\"\\u001b\"",
];

const JSON: &[&str] = &[
    "\"sheets\"",
    "\"pieces\"",
    "\"cuts\"",
    "\"verdict\"",
    "\"fits\"",
    "\"impossible\"",
    "\"undecided\"",
    "\"x\"",
    "\"y\"",
    "\"width\"",
    "\"height\"",
    "\"at\"",
    "\"lot\"",
    "\"print\"",
    "\"copy\"",
    "\"weighing\"",
    "\"cases\"",
    "\"alternatives\"",
    "\"relaxed\"",
    "[]",
    "{}",
    "null",
    "-1",
    "1.5",
    "1099511627776",
];

fn folder() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn read(name: &str) -> (String, Vec<u8>) {
    let path = folder().join(name);
    let bytes = std::fs::read(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    (path.file_name().expect("a name").to_string_lossy().into_owned(), bytes)
}

/// The first lines of a file of the demo.
fn head(name: &str, lines: usize) -> (String, Vec<u8>) {
    let (name, bytes) = read(name);
    let text = String::from_utf8(bytes).expect("text");
    let text: String = text.split_inclusive('\n').take(lines).collect();
    (name, text.into_bytes())
}

pub(crate) fn stashes() -> Corpus {
    let demo = ["pack.csv", "other-pack.csv", "shelf.csv"].map(|name| read(&format!("data/tidepool/{name}")));
    let files = demo.into_iter().chain([head("data/tidepool/other-pack.csv", 4)]).collect();
    Corpus { files, words: TABLE }
}

pub(crate) fn charts() -> Corpus {
    let files = vec![read("data/tidepool/chart.csv"), head("data/tidepool/chart.csv", 7)];
    Corpus { files, words: TABLE }
}

pub(crate) fn placements() -> Corpus {
    Corpus {
        files: vec![read("data/tidepool/placements.csv"), ("p.csv".to_owned(), PLACES.as_bytes().to_vec())],
        words: TABLE,
    }
}

const PLACES: &str = "block,copy,role,print,label,piece,row,column\nUrchin,1,urchin,kelp frond,,,1,1\nLimpet,2,,,,,1,2\n\
                      ,,background,cream,,,,\nDriftwood,1,plank,wet sand,D1,3,,\nUrchin,9,sky,gone,,,9,9\n";

/// The demo's pattern file and those of the other tests.
pub(crate) fn patterns() -> Corpus {
    let mut files = vec![read("data/tidepool/pattern.toml")];
    let cases = folder().join("tests/cases/pattern");
    let mut names: Vec<_> =
        std::fs::read_dir(cases).expect("a folder").map(|entry| entry.expect("an entry").path()).collect();
    names.sort();
    for case in names {
        if let Ok(bytes) = std::fs::read(case.join("pattern.toml")) {
            files.push(("pattern.toml".to_owned(), bytes));
        }
    }
    assert!(files.len() > 10, "the cases were found");
    Corpus { files, words: TOML }
}

/// What placements are held against.
pub(crate) fn demo() -> Vec<(Stash, Pattern)> {
    let of = |name: &str| {
        let (stash, _) = stash::read("pack.csv", &read("data/tidepool/pack.csv").1, Length::ZERO);
        let (file, bytes) = read(&format!("data/tidepool/{name}"));
        (stash, pattern::read(&file, &bytes).0)
    };
    vec![of("chart.csv"), of("pattern.toml")]
}

/// The inputs of a record, and records: of these inputs, and of others that fail and have alternatives.
pub(crate) fn records() -> (Inputs, Corpus) {
    let two =
        |text: Vec<u8>| String::from_utf8(text).expect("text").replace("Urchin,6", "Urchin,2").into_bytes();
    let chart = two(head("data/tidepool/chart.csv", 4).1);
    let made = |stash: Vec<u8>| {
        let given = |name: &str, bytes: &[u8]| Given { name: name.to_owned(), bytes: bytes.to_vec() };
        let request = Request {
            pattern: given("chart.csv", &chart),
            stash: given("stash.csv", &stash),
            placements: Some(given(
                "placements.csv",
                b"block,copy,role,print\nUrchin,1,urchin,urchin spines\n",
            )),
            options: Options::default(),
        };
        plan(&request, &Stop::never(), &mut |_| {}).unwrap_or_else(|failure| panic!("{failure:?}"))
    };
    let fits = made(head("data/tidepool/pack.csv", 7).1);
    let fails = made(head("data/tidepool/pack.csv", 4).1);
    let file = |answer: &Answer, name: &str| {
        answer.files.iter().find(|(file, _)| file == name).unwrap_or_else(|| panic!("no {name}")).1.clone()
    };
    let source = |name: &str| Source { name: name.to_owned(), bytes: file(&fits, name) };
    let inputs = Inputs {
        stash: source("inputs/stash.csv"),
        pattern: source("inputs/chart.csv"),
        placements: Some(source("inputs/placements.csv")),
    };
    let records = [&fits, &fails].map(|answer| ("plan.json".to_owned(), file(answer, "plan.json")));
    (inputs, Corpus { files: records.into(), words: JSON })
}
