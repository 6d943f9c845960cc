//! A quilt that no weights refute at once: half of one plan and half of another would serve it. So the record divides the
//! refusal into cases, and the check refutes each.

use cutcloth::app::options::Options;
use cutcloth::app::summary::Verdict;
use cutcloth::verifying::{Inputs, Source, verify};
use serde_json::{Value, json};

use crate::{planned_with, record};

const STASH: &str = "print,cut,count\ncoral,10-inch square,1\nkelp,10-inch square,1\nmist,10-inch square,1\n\
                     sand,10-inch square,1\n";

/// Whichever prints the first two roles take of their two, one of the other four is left with none.
fn pattern() -> String {
    let roles = [
        ("A", ["coral", "kelp"]),
        ("B", ["mist", "sand"]),
        ("C", ["coral", "mist"]),
        ("D", ["coral", "sand"]),
        ("E", ["kelp", "mist"]),
        ("F", ["kelp", "sand"]),
    ];
    let mut text = String::new();
    for (role, prints) in roles {
        text += &format!("[role.{role}]\nmatching = \"block\"\nonly = {{ print = {prints:?} }}\n");
        if !["A", "B"].contains(&role) {
            text += "different = [\"A\", \"B\"]\n";
        }
    }
    text += "[[block]]\nname = \"Reef\"\nmake = 1\n";
    for (role, _) in roles {
        text +=
            &format!("[[block.piece]]\nlabel = \"{role}1\"\nrole = \"{role}\"\nsize = \"4\"\ncount = 1\n");
    }
    text
}

/// The inputs, and the record without alternatives.
fn refused() -> (Inputs, Value) {
    let mut options = Options::default();
    (options.rules.alternatives, options.rules.conflicts) = (false, false);
    let answer = planned_with(&pattern(), STASH, options);
    assert_eq!((answer.summary.verdict, answer.summary.shown_again), (Verdict::Impossible, (1, 1)));
    let source = |name: &str, text: &str| Source { name: name.to_owned(), bytes: text.as_bytes().to_vec() };
    let inputs = Inputs {
        stash: source("inputs/stash.csv", STASH),
        pattern: source("inputs/pattern.toml", &pattern()),
        placements: None,
    };
    (inputs, record(&answer))
}

#[test]
fn where_no_weights_refute_all_of_it_each_case_is_refuted() {
    let (inputs, record) = refused();
    assert_eq!(verify(&inputs, &record.to_string()), []);
    let reason = &record["reasons"][0];
    assert_eq!((&reason["code"], &reason["weighing"]), (&json!("every plan tried"), &Value::Null));
    let cases = reason["cases"].as_array().expect("a list");
    let splits = cases.iter().filter(|case| case["weighing"].is_null()).count();
    assert!(splits > 0 && cases.len() == 2 * splits + 1, "{cases:?}");
}

/// A way to break the cases, and the rule that finds it out.
type Break = (&'static str, fn(&mut Vec<Value>), &'static str);

/// Divides by these sheets of the print by which the first split divides.
fn by_sheets(cases: &mut [Value], numbers: Value) {
    let split = &mut cases[0]["split"];
    let inches = json!(10 * 8128);
    split["sheets"] = json!([{"print": split["prints"][0], "cut": "10-inch square", "width": inches,
                              "height": inches, "numbers": numbers}]);
    split["prints"] = json!([]);
}

#[test]
fn a_case_that_is_missing_or_does_not_hold_is_found_out() {
    let (inputs, record) = refused();
    let broken: [Break; 13] = [
        ("a case is missing", |cases| drop(cases.pop()), "V703"),
        ("a case is there twice", |cases| cases.push(cases[1].clone()), "V703"),
        ("the cases stand for each other", |cases| cases.swap(1, 2), "V704"),
        ("a split of more than there is", |cases| cases[0]["split"]["most"] = json!(1), "V703"),
        ("a split by no prints", |cases| cases[0]["split"]["prints"] = json!([]), "V704"),
        (
            "a split by a print that is not there",
            |cases| cases[0]["split"]["prints"] = json!(["fog"]),
            "V703",
        ),
        (
            "a split of a set that is not there",
            |cases| cases[0]["split"]["sets"][0]["copies"] = json!([2]),
            "V703",
        ),
        ("a split of a set twice", |cases| cases[0]["split"]["sets"][0]["copies"] = json!([1, 1]), "V703"),
        ("no price for a split", |cases| cases[1]["prices"] = json!([]), "V703"),
        ("a split by a sheet that is not there", |cases| by_sheets(cases, json!([2])), "V703"),
        ("a split by a sheet that does not stand for itself", |cases| by_sheets(cases, json!([1])), "V704"),
        ("less served than can be", |cases| cases[1]["weighing"]["most"] = json!(1), "V704"),
        ("a case divided and refuted", |cases| cases[1]["split"] = cases[0]["split"].clone(), "V703"),
    ];
    for (name, change, code) in broken {
        let mut changed = record.clone();
        change(changed["reasons"][0]["cases"].as_array_mut().expect("a list"));
        let faults = verify(&inputs, &changed.to_string());
        assert_eq!(faults.len(), 1, "{name}: {faults:?}");
        assert_eq!(faults[0].rule.code(), code, "{name}: {}", faults[0]);
        assert_eq!(faults[0].place, "reason 1", "{name}");
    }
}
