//! From files to a checked record: what a person would hand in, and what is offered for it.

use cutcloth::app::Given;
use cutcloth::app::Stop;
use cutcloth::app::options::Options;
use cutcloth::app::run::{Failure, Request, plan};
use cutcloth::verifying::{Inputs, Rule, Source, verify};
use serde_json::Value;

/// A run: the copies of its files, and its record, which passed the check.
pub(crate) struct Run {
    inputs: Inputs,
    pub(crate) record: Value,
}

/// Plans files given as text; the pattern is a chart, or in TOML when its first line is a table.
pub(crate) fn run(pattern: &str, stash: &str, placements: &str) -> Run {
    let given = |name: &str, text: &str| Given { name: name.to_owned(), bytes: text.to_owned().into_bytes() };
    let request = Request {
        pattern: given(if pattern.starts_with('[') { "quilt.toml" } else { "quilt.csv" }, pattern),
        stash: given("stash.csv", stash),
        placements: (!placements.is_empty()).then(|| given("wall.csv", placements)),
        options: Options::default(),
    };
    let answer = match plan(&request, &Stop::never(), &mut |_| {}) {
        Ok(answer) => answer,
        Err(Failure::Inputs(said)) => panic!("{said:?}"),
        Err(Failure::Internal(said)) => panic!("{said:#?}"),
    };
    let file =
        |name: &str| answer.files.iter().find(|(known, _)| known == name).map(|(_, bytes)| bytes.clone());
    let record = String::from_utf8(file("plan.json").expect("a record")).expect("text");
    let record: Value = serde_json::from_str(&record).expect("JSON");
    let source = |field: &str| {
        let name = record["inputs"][field].as_str()?.to_owned();
        let bytes = file(&name)?;
        Some(Source { name, bytes })
    };
    let inputs = Inputs {
        stash: source("stash").expect("a copy"),
        pattern: source("pattern").expect("a copy"),
        placements: source("placements"),
    };
    Run { inputs, record }
}

impl Run {
    /// The alternative that makes changes of exactly these kinds.
    pub(crate) fn offer(&self, kinds: &[&str]) -> usize {
        let offered = self.offers();
        let found = offered.iter().position(|offer| offer == kinds);
        found.unwrap_or_else(|| panic!("{kinds:?} is not offered, but {offered:?}"))
    }

    /// The kinds of change of each alternative.
    pub(crate) fn offers(&self) -> Vec<Vec<&str>> {
        self.record["alternatives"]
            .as_array()
            .expect("a list")
            .iter()
            .map(|offer| {
                let relaxed = offer["plan"]["rules"]["relaxed"].as_array().expect("a list");
                relaxed.iter().map(|change| change["kind"].as_str().expect("text")).collect()
            })
            .collect()
    }

    /// The sentences of an alternative.
    pub(crate) fn says(&self, offer: usize) -> String {
        let changes = self.record["alternatives"][offer]["changes"].as_array().expect("a list");
        changes.iter().map(|change| change.as_str().expect("text")).collect::<Vec<_>>().join("; ")
    }

    /// The faults found when the record is changed.
    pub(crate) fn faults(&self, change: impl FnOnce(&mut Value)) -> Vec<Rule> {
        let mut record = self.record.clone();
        change(&mut record);
        let mut rules: Vec<Rule> =
            verify(&self.inputs, &record.to_string()).into_iter().map(|fault| fault.rule).collect();
        rules.dedup();
        rules
    }
}

/// 17 blocks that each take a strip of the background across the fabric, 4 1/2 in deep: 76 1/2 in, 2 1/8 yd.
/// 7/8 yd is 31 1/2 in and gives 7 of them, 1 3/8 yd is 49 1/2 in and gives 11.
const BACKGROUND: &str = "block,make,label,role,width,height,count,matching\n\
                          Kelp,17,K1,background,40,4 1/2,1,quilt\n";
const TWO_LENGTHS: &str =
    "print,cut,count,width,length\nsand,yardage,1,40,7/8 yd\nfoam,yardage,1,40,1 3/8 yd\n";

#[test]
fn a_background_that_no_length_holds_is_split_by_whole_blocks() {
    let run = run(BACKGROUND, TWO_LENGTHS, "");
    assert_eq!(run.record["verdict"], "impossible");
    let offer = run.offer(&["two prints"]);
    let plan = &run.record["alternatives"][offer]["plan"];
    assert_eq!(plan["verdict"], "fits");
    let blocks_of = |print: &str| -> usize {
        plan["sets"].as_array().expect("a list").iter().filter(|set| set["print"] == print).count()
    };
    let (sand, foam) = (blocks_of("sand"), blocks_of("foam"));
    assert_eq!(sand + foam, 17);
    assert!(sand <= 7 && foam <= 11, "{sand} and {foam}");
    let says = run.says(offer);
    assert!(says.contains("sand in Kelp ") && says.contains("foam in Kelp "), "{says}");
    assert!(run.faults(|_| {}).is_empty());
}

#[test]
fn a_split_that_is_no_split_of_two_by_whole_blocks_is_caught() {
    let run = run(BACKGROUND, TWO_LENGTHS, "");
    let offer = run.offer(&["two prints"]);
    let broken =
        |change: fn(&mut Value)| run.faults(|record| change(&mut record["alternatives"][offer]["plan"]));
    // Without leave the sets are not those of the pattern.
    assert!(broken(|plan| plan["rules"]["relaxed"] = Value::Array(Vec::new())).contains(&Rule::SetList));
    let role = broken(|plan| plan["rules"]["relaxed"][0]["role"] = "kelp".into());
    assert!(role.contains(&Rule::Change), "{role:?}");
    let three = broken(|plan| {
        plan["rules"]["relaxed"][0]["prints"] = serde_json::json!(["sand", "foam", "pebble"]);
    });
    assert!(three.contains(&Rule::Change), "{three:?}");
    // A third print in place of one of the two.
    let other = broken(|plan| plan["rules"]["relaxed"][0]["prints"] = serde_json::json!(["sand", "pebble"]));
    assert!(other.contains(&Rule::Matching) && other.contains(&Rule::Change), "{other:?}");
}

#[test]
fn two_prints_are_not_taken_from_outside_the_list_of_the_pattern() {
    let chart = |rule: &str| {
        format!(
            "[quilt]\nname = \"Kelp\"\n\n[role.B]\nname = \"background\"\nmatching = \"quilt\"\n{rule}\n\n\
             [[block]]\nname = \"Kelp\"\nmake = 17\n\n[[block.piece]]\nlabel = \"K\"\nrole = \"B\"\n\
             size = \"40 x 4 1/2\"\ncount = 1\n"
        )
    };
    let stash = format!("{TWO_LENGTHS}pebble,yardage,1,40,1/8 yd\n");
    let offers = |rule: &str, kinds: &[&str]| {
        let run = run(&chart(rule), &stash, "");
        assert_eq!(run.record["verdict"], "impossible", "{rule}");
        run.offers().iter().any(|offer| offer == kinds)
    };
    assert!(offers("", &["two prints"]));
    assert!(offers("only = { print = [\"sand\", \"foam\"] }", &["two prints"]));
    for rule in ["only = { print = [\"sand\", \"pebble\"] }", "never = { print = [\"foam\"] }"] {
        assert!(!offers(rule, &["two prints"]), "{rule}");
    }
}
