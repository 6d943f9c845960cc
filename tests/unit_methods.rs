//! The way each unit is made, where the pattern names several: from the pattern file to the checked plan.

use cutcloth::app::Given;
use cutcloth::app::Stop;
use cutcloth::app::options::Options;
use cutcloth::app::run::{Answer, Failure, Request, plan};
use cutcloth::app::summary::Verdict;
use cutcloth::length::Length;
use cutcloth::pattern::unit::{Kind, Spec};
use cutcloth::pattern::{BlockId, RoleId, Sewing, Size, read_toml};
use cutcloth::verifying::{Inputs, Source, verify};
use serde_json::{Value, json};

/// A row of half-square triangles of 2 in, each with these methods.
fn pattern(make: u32, units: &[&str], methods: &str) -> String {
    let mut text = format!(
        "[role]\nA = \"print\"\nB = \"ground\"\n[[block]]\nname = \"Row\"\nmake = {make}\nfinished = \"{} x 2 in\"\n\
         rows = [\"{}\"]\n",
        2 * units.len(),
        units.join(" ")
    );
    let mut names: Vec<&str> = units.to_vec();
    names.sort_unstable();
    names.dedup();
    for name in names {
        text += &format!(
            "[[block.unit]]\nname = \"{name}\"\nkind = \"half-square triangles\"\nroles = [\"A\", \"B\"]\n\
             finished = \"2 in\"\nmethod = {methods}\n"
        );
    }
    text
}

fn request(pattern: &str, stash: &str, placements: Option<&str>) -> Request {
    let given = |name: &str, text: &str| Given { name: name.to_owned(), bytes: text.as_bytes().to_vec() };
    Request {
        pattern: given("pattern.toml", pattern),
        stash: given("stash.csv", stash),
        placements: placements.map(|text| given("wall.csv", text)),
        options: Options::default(),
    }
}

fn answer(pattern: &str, stash: &str, placements: Option<&str>) -> Answer {
    match plan(&request(pattern, stash, placements), &Stop::never(), &mut |_| {}) {
        Ok(answer) => answer,
        Err(Failure::Inputs(said)) => panic!("{}", said[0]),
        Err(Failure::Internal(faults)) => panic!("{}", faults.join("\n")),
    }
}

fn file(answer: &Answer, name: &str) -> String {
    let (_, bytes) = answer.files.iter().find(|(other, _)| other == name).expect("it is written");
    String::from_utf8(bytes.clone()).expect("it is text")
}

fn record(answer: &Answer) -> Value {
    serde_json::from_str(&file(answer, "plan.json")).expect("it is JSON")
}

fn methods(record: &Value) -> Vec<String> {
    let units = record["methods"]["units"].as_array().expect("a list");
    units.iter().map(|made| format!("{} {}", made["unit"], made["method"]).replace('"', "")).collect()
}

/// Eight units a block: one square of 5 3/4 in of either fabric, or four of 2 7/8 in.
const EIGHT: [&str; 8] = ["H"; 8];

#[test]
fn the_second_method_is_taken_where_only_that_fits() {
    let text = pattern(1, &EIGHT, "[\"eight at a time\", \"two at a time\"]");
    let answer = answer(&text, "print,cut,count,width,length\nteal,scrap,2,12,3\n", None);
    assert_eq!(answer.summary.verdict, Verdict::Fits);
    let record = record(&answer);
    assert_eq!(methods(&record), ["H two at a time"]);
    assert_eq!(record["methods"]["settled"], true);
    assert_eq!(
        answer.summary.choices,
        [
            "Of the ways the pattern names, taken: H of Row two at a time. All 2 combinations were planned; of those \
          that fit, this one opens the least fabric found."
        ]
    );
    let sheet = file(&answer, "sheet.html");
    assert!(sheet.contains("taken: H of Row two at a time"), "on the first page");
    assert!(sheet.contains("8 H, two at a time (taken of 2 ways)"), "in the sewing order");
}

#[test]
fn of_two_methods_that_fit_the_one_that_opens_less_is_taken() {
    let text = pattern(1, &EIGHT, "[\"eight at a time\", \"two at a time\"]");
    let scraps = "print,cut,count,width,length\nteal,scrap,2,12,3\nteal,10-inch square,2,,\n";
    let answer_of = |stash| record(&answer(&text, stash, None));
    assert_eq!(methods(&answer_of(scraps)), ["H two at a time"]);
    let squares = "print,cut,count,width,length\nteal,scrap,2,6,6\nteal,scrap,4,4,3\n";
    let plan = answer_of(squares);
    // Either takes the two scraps of 6 in: the designer's first choice stands.
    assert_eq!(methods(&plan), ["H eight at a time"]);
    assert_eq!(plan["fabric"]["opened"], plan["fabric"]["bound"]);
}

#[test]
fn what_a_method_makes_too_many_of_is_on_the_sheet() {
    let text = pattern(1, &["H", "H", "H"], "[\"eight at a time\"]");
    let answer = answer(&text, "print,cut,count\nteal,10-inch square,2\n", None);
    assert_eq!(record(&answer)["methods"], json!({"units": [], "settled": true, "text": "", "refused": []}));
    assert!(file(&answer, "sheet.html").contains("(5 left over in the whole quilt)"));
}

#[test]
fn impossible_is_said_only_when_it_is_proved_for_every_method() {
    let text = pattern(1, &EIGHT, "[\"eight at a time\", \"two at a time\"]");
    let answer = answer(&text, "print,cut,count,width,length\nteal,scrap,7,3,3\n", None);
    assert_eq!(answer.summary.verdict, Verdict::Impossible);
    let record = record(&answer);
    let codes: Vec<&str> =
        record["reasons"].as_array().expect("a list").iter().filter_map(|r| r["code"].as_str()).collect();
    assert_eq!(codes.last(), Some(&"every method"), "{codes:?}");
    // Of the other way the record carries a proof of its own, which the check has made again.
    let refused = record["methods"]["refused"].as_array().expect("a list");
    assert_eq!(refused.len(), 1);
    assert_eq!(refused[0]["units"][0]["method"], "two at a time");
    assert_eq!(answer.summary.shown_again, (2, 2));
    // What would make it fit is planned with these ways only, and claims no more.
    let alternatives = record["alternatives"].as_array().expect("a list");
    assert!(!alternatives.is_empty());
    for alternative in alternatives {
        let plan = &alternative["plan"];
        assert_eq!(plan["methods"]["settled"], false);
        let text = plan["methods"]["text"].as_str().expect("a text");
        assert!(text.ends_with("Other ways were not planned for this."), "{text}");
        assert!(
            plan["proof"].as_str().is_some_and(|said| said.contains("with these ways of making the units"))
        );
    }
}

#[test]
fn many_combinations_are_tried_one_unit_after_the_other_and_not_called_the_best() {
    let three = "[\"eight at a time\", \"four at a time\", \"two at a time\"]";
    let text = pattern(1, &["H", "I", "J"], three);
    // A scrap of 6 in holds one square of any method; one of 3 in holds a square for two at a time, and costs less.
    let answer = answer(&text, "print,cut,count,width,length\nteal,scrap,6,3,3\nrust,scrap,6,6,6\n", None);
    assert_eq!(answer.summary.verdict, Verdict::Fits);
    let record = record(&answer);
    assert_eq!(methods(&record), ["H two at a time", "I two at a time", "J two at a time"]);
    assert_eq!(record["methods"]["settled"], false);
    let said = &answer.summary.choices[0];
    assert!(said.contains("7 of 27 combinations were planned, one unit after the other"), "{said}");
    assert!(
        record["proof"].as_str().is_some_and(|said| said.contains("with these ways of making the units"))
    );
    // None of the seven fits, and the other twenty are not known.
    let none = self::answer(&text, "print,cut,count,width,length\nteal,scrap,5,3,3\n", None);
    assert_eq!(none.summary.verdict, Verdict::Undecided);
}

#[test]
fn decisions_are_kept_where_units_are_tried_one_after_the_other() {
    let three = "[\"eight at a time\", \"four at a time\", \"two at a time\"]";
    let text = pattern(1, &["H", "I", "J"], three);
    let stash = "print,cut,count\nteal,10-inch square,4\nrust,10-inch square,4\n";
    // A2 and A3 are the squares of the second and the third method: both must be made, in whichever units.
    let wall = "block,copy,role,print,label\nRow,1,A,rust,A2\nRow,1,A,teal,A3\n";
    let plan = record(&answer(&text, stash, Some(wall)));
    let made = methods(&plan).join(", ");
    assert!(made.contains("four at a time") && made.contains("two at a time"), "{made}");
    let print_of = |label: &str| {
        let sets = plan["sets"].as_array().expect("a list").iter();
        let of: Vec<&str> =
            sets.filter(|set| set["label"] == label).filter_map(|set| set["print"].as_str()).collect();
        assert!(!of.is_empty(), "{label} is cut");
        of
    };
    assert!(print_of("A2").iter().all(|print| *print == "rust"));
    assert!(print_of("A3").iter().all(|print| *print == "teal"));
}

#[test]
fn a_decision_about_a_piece_holds_whichever_way_is_taken() {
    let text = pattern(1, &EIGHT, "[\"eight at a time\", \"two at a time\"]");
    let stash = "print,cut,count,width,length\nteal,scrap,2,12,3\nrust,10-inch square,2,,\n";
    let free = record(&answer(&text, stash, None));
    assert_eq!(methods(&free), ["H two at a time"]);
    let labels: Vec<&str> =
        free["totals"].as_array().expect("a list").iter().filter_map(|t| t["label"].as_str()).collect();
    assert_eq!(labels, ["A2", "B2"], "the labels of the designer's first choice are left to it");
    // The first choice is named by its label, so the second has nothing the decision could mean.
    let wall = "block,copy,role,print,label\nRow,1,A,rust,A1\n";
    assert_eq!(methods(&record(&answer(&text, stash, Some(wall)))), ["H eight at a time"]);
    // And the other way round, though the first choice has no such piece.
    let wall = "block,copy,role,print,label\nRow,1,A,rust,A2\n";
    let decided = answer(&text, stash, Some(wall));
    assert_eq!(methods(&record(&decided)), ["H two at a time"]);
    assert!(decided.summary.choices[0].contains("1 of 2 combinations suit your decisions"));
    // What a plan writes down can be decided again.
    let written = file(&answer(&text, stash, None), "placements.csv");
    assert_eq!(methods(&record(&answer(&text, stash, Some(&written)))), ["H two at a time"]);
    let wrong = request(&text, stash, Some("block,copy,role,print,label\nRow,1,A,rust,A3\n"));
    assert!(matches!(plan(&wrong, &Stop::never(), &mut |_| {}), Err(Failure::Inputs(_))));
}

#[test]
fn ways_that_the_decisions_do_not_suit_need_no_proof() {
    let text = pattern(1, &EIGHT, "[\"eight at a time\", \"two at a time\"]");
    let stash = "print,cut,count,width,length\nteal,scrap,7,3,3\n";
    // A2 is the square of the second way only.
    let wall = "block,copy,role,print,label\nRow,1,A,teal,A2\n";
    let answer = answer(&text, stash, Some(wall));
    assert_eq!(answer.summary.shown_again, (1, 1));
    let plan = record(&answer);
    assert_eq!(methods(&plan), ["H two at a time"]);
    let source = |name: &str, text: &str| Source { name: name.to_owned(), bytes: text.as_bytes().to_vec() };
    let inputs = |wall: Option<&str>| Inputs {
        stash: source("inputs/stash.csv", stash),
        pattern: source("inputs/pattern.toml", &text),
        placements: wall.map(|wall| source("inputs/placements.csv", wall)),
    };
    assert!(verify(&inputs(Some(wall)), &plan.to_string()).is_empty());
    // Without that decision the first way is open.
    let mut free = plan;
    free["inputs"]["placements"] = Value::Null;
    free["alternatives"] = json!([]);
    let faults = verify(&inputs(None), &free.to_string());
    assert_eq!(faults.len(), 1, "{faults:?}");
    assert_eq!(faults[0].rule.code(), "V705");
    assert!(faults[0].message.contains("H of Row eight at a time is another way"), "{}", faults[0]);
}

#[test]
fn the_check_catches_a_way_that_was_not_taken_or_is_not_named() {
    let text = pattern(1, &EIGHT, "[\"eight at a time\", \"two at a time\"]");
    let stash = "print,cut,count,width,length\nteal,scrap,2,12,3\n";
    let plan = record(&answer(&text, stash, None));
    let source = |name: &str, text: &str| Source { name: name.to_owned(), bytes: text.as_bytes().to_vec() };
    let inputs = Inputs {
        stash: source("inputs/stash.csv", stash),
        pattern: source("inputs/pattern.toml", &text),
        placements: None,
    };
    let codes = |change: fn(&mut Value)| {
        let mut changed = plan.clone();
        change(&mut changed);
        let mut codes: Vec<&str> =
            verify(&inputs, &changed.to_string()).iter().map(|fault| fault.rule.code()).collect();
        codes.sort_unstable();
        codes.dedup();
        codes
    };
    assert_eq!(codes(|_| {}), [""; 0]);
    assert_eq!(codes(|p| p["methods"]["units"][0]["method"] = json!("four at a time")), ["V105"]);
    assert_eq!(codes(|p| p["methods"]["units"][0]["unit"] = json!("I")), ["V105"]);
    assert_eq!(codes(|p| p["methods"]["units"] = json!([])), ["V105"]);
    // Named, but not what was cut: the pieces are not those of that way.
    let wrong = codes(|p| p["methods"]["units"][0]["method"] = json!("eight at a time"));
    assert!(wrong.contains(&"V303") && wrong.contains(&"V502"), "{wrong:?}");
}

#[test]
fn every_way_sews_to_the_same_size() {
    let size =
        |width, height| Size { width: Length::from_inches(width), height: Length::from_inches(height) };
    let (a, b, c) = (RoleId(0), RoleId(1), RoleId(2));
    let kinds = [
        (Kind::HalfSquare { roles: [a, b] }, size(4, 4)),
        (Kind::QuarterSquare { roles: vec![a, b] }, size(4, 4)),
        (Kind::QuarterSquare { roles: vec![a, b, c] }, size(4, 4)),
        (Kind::Geese { goose: a, left: b, right: b }, size(4, 2)),
        (Kind::SquareInSquare { centre: a, corners: b }, size(4, 4)),
    ];
    for (kind, finished) in kinds {
        let sewn: Vec<Option<Size>> = kind
            .methods()
            .iter()
            .map(|&method| {
                let spec = Spec { finished, method, oversize: &[], sewing: Sewing::default() };
                kind.recipe(&spec).expect("it can be made").steps.last().and_then(|step| step.measures)
            })
            .collect();
        assert!(sewn.len() > 1 && sewn[0].is_some(), "{kind:?}");
        assert!(sewn.iter().all(|size| *size == sewn[0]), "{kind:?}: {sewn:?}");
    }
}

#[test]
fn another_way_leaves_the_rows_of_the_block_as_they_are() {
    let text = pattern(3, &["H", "I"], "[\"eight at a time\", \"two at a time\"]");
    let (pattern, problems) = read_toml("pattern.toml", text.as_bytes());
    assert!(problems.is_empty());
    let open = pattern.open_units();
    assert_eq!(
        open.iter().map(|unit| (unit.block, unit.unit, unit.ways)).collect::<Vec<_>>(),
        [(BlockId(0), 0, 2), (BlockId(0), 1, 2)]
    );
    let other = pattern.with_ways(&open, &[1, 0]).expect("there are two");
    let (before, after) = (&pattern.blocks[0], &other.blocks[0]);
    assert_eq!((&before.rows, before.finished), (&after.rows, after.finished));
    assert_eq!(other.way_of(open[0]).method.name(), "two at a time");
    assert_eq!(other.way_of(open[1]).method.name(), "eight at a time");
    assert!(pattern.with_ways(&open, &[2, 0]).is_none());
}
