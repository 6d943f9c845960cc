//! Files in, record out: every record written passes the check of its own, alternatives included, and says what a
//! record of the same rows in another order says.

use std::fmt::Write as _;

use cutcloth::app::options::Options;
use cutcloth::app::run::{Answer, Request, plan};
use cutcloth::app::summary::Verdict;
use cutcloth::app::{Given, Stop};
use cutcloth::verifying::{Inputs, Source, verify};
use rand::rngs::SmallRng;
use rand::seq::{IndexedRandom, SliceRandom};
use rand::{Rng, SeedableRng};
use serde_json::Value;

use crate::times;

/// A stash file by its rows, and a pattern file by its blocks.
struct Files {
    rows: Vec<String>,
    roles: String,
    blocks: Vec<String>,
}

fn files(random: &mut SmallRng) -> Files {
    let mut rows = Vec::new();
    for print in 0..random.random_range(2..=4) {
        let up = if random.random_range(0..4) == 0 { "yes" } else { "no" };
        for _ in 0..*[1, 1, 2].choose(random).expect("three") {
            let cut = [
                "10-inch square,1,,",
                "5-inch square,3,,",
                "scrap,1,7,12",
                "fat quarter,1,,",
                "yardage,1,,12",
            ]
            .choose(random)
            .expect("five");
            let keep = if random.random_range(0..5) == 0 { "yes" } else { "" };
            rows.push(format!("kelp {print},{cut},{up},{keep}"));
        }
    }
    let mut roles = String::new();
    for (role, different) in [("A", ""), ("B", "different = [\"A\"]\n"), ("C", "at-most = 2\n")] {
        let matching = ["piece", "block", "block", "quilt"].choose(random).expect("four");
        let rule = if random.random_range(0..2) == 0 { different } else { "" };
        writeln!(roles, "[role.{role}]\nmatching = \"{matching}\"\n{rule}").expect("text");
    }
    let block = |number: usize, random: &mut SmallRng| {
        let mut text =
            format!("[[block]]\nname = \"Urchin {number}\"\nmake = {}\n", random.random_range(1..=4));
        for role in ["A", "B", "C"] {
            let size = ["2 1/2", "4 1/2 x 2 1/2", "3 x 6", "5", "9 1/2 x 4"].choose(random).expect("five");
            let count = random.random_range(1..=3);
            writeln!(
                text,
                "[[block.piece]]\nlabel = \"{role}1\"\nrole = \"{role}\"\nsize = \"{size}\"\ncount = {count}"
            )
            .expect("text");
        }
        text
    };
    let blocks = (0..random.random_range(1..=2)).map(|number| block(number, random)).collect();
    Files { rows, roles, blocks }
}

impl Files {
    fn stash(&self) -> String {
        format!("print,cut,count,width,length,directional,keep\n{}\n", self.rows.join("\n"))
    }

    fn pattern(&self) -> String {
        format!("{}{}", self.roles, self.blocks.concat())
    }

    /// Planned with alternatives.
    fn planned(&self) -> Answer {
        let given = |name: &str, text: String| Given { name: name.to_owned(), bytes: text.into_bytes() };
        let mut options = Options::default();
        options.rules.effort = 10;
        let request = Request {
            pattern: given("pattern.toml", self.pattern()),
            stash: given("stash.csv", self.stash()),
            placements: None,
            options,
        };
        plan(&request, &Stop::never(), &mut |_| {})
            .unwrap_or_else(|why| panic!("{why:?}\n{}\n{}", self.stash(), self.pattern()))
    }
}

fn file<'a>(answer: &'a Answer, name: &str) -> &'a [u8] {
    let found = answer.files.iter().find(|(known, _)| known == name);
    &found.unwrap_or_else(|| panic!("{name} is written")).1
}

/// Reads the record as written and checks it against the copies of the inputs as written.
fn checked(answer: &Answer) -> Value {
    let copy = |name: &str| Source { name: name.to_owned(), bytes: file(answer, name).to_vec() };
    let inputs =
        Inputs { stash: copy("inputs/stash.csv"), pattern: copy("inputs/pattern.toml"), placements: None };
    let text = String::from_utf8(file(answer, "plan.json").to_vec()).expect("text");
    let faults = verify(&inputs, &text);
    assert!(faults.is_empty(), "{faults:?}");
    serde_json::from_str(&text).expect("JSON")
}

/// What is opened and the bound, as the record has them.
fn fabric(record: &Value) -> (i128, i128) {
    let figure = |name: &str| record["fabric"][name].as_i64().map(i128::from).expect("a whole number");
    (figure("opened"), figure("bound"))
}

#[test]
fn every_record_and_each_of_its_alternatives_passes_the_check() {
    let mut random = SmallRng::seed_from_u64(0x5EA_0010);
    let (mut fits, mut not, mut alternatives) = (0, 0, 0);
    for _ in 0..50 * times() {
        let answer = files(&mut random).planned();
        let record = checked(&answer);
        let offered = record["alternatives"].as_array().expect("a list");
        match answer.summary.verdict {
            Verdict::Fits => {
                assert!(offered.is_empty(), "it fits as it is");
                fits += 1;
            }
            Verdict::Impossible | Verdict::Undecided => not += 1,
        }
        for alternative in offered {
            assert_eq!(alternative["plan"]["verdict"], "fits");
            assert!(!alternative["changes"].as_array().expect("a list").is_empty());
            alternatives += 1;
        }
    }
    eprintln!("{fits} fit, {not} do not, {alternatives} alternatives");
    assert!(
        fits > 12 && not > 12 && alternatives > 30,
        "{fits} fit, {not} do not, {alternatives} alternatives"
    );
}

#[test]
fn the_order_of_rows_and_blocks_changes_no_verdict_and_no_bound_passes_the_other_plan() {
    let mut random = SmallRng::seed_from_u64(0x5EA_0011);
    let mut both = 0;
    for _ in 0..25 * times() {
        let mut files = files(&mut random);
        let before = files.planned();
        files.rows.shuffle(&mut random);
        files.blocks.shuffle(&mut random);
        let after = files.planned();
        let verdicts = [before.summary.verdict, after.summary.verdict];
        let decided = verdicts.iter().all(|verdict| *verdict != Verdict::Undecided);
        assert!(!decided || verdicts[0] == verdicts[1], "{}\n{}", files.stash(), files.pattern());
        if verdicts == [Verdict::Fits; 2] {
            let (one, other) = (fabric(&checked(&before)), fabric(&checked(&after)));
            assert!(one.1 <= other.0 && other.1 <= one.0, "{one:?}, {other:?}\n{}", files.stash());
            both += 1;
        }
    }
    assert!(both > 5, "only {both} were compared");
}
