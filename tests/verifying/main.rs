//! The independent check: right plans pass, and every rule is broken once on purpose.

mod broken;
mod fuzz;
mod looks;
mod measured;
mod places;
mod plans;
mod rules;

use cutcloth::verifying::{Inputs, Rule, Source, belonging, digest, verify};
use serde_json::Value;

/// The codes of the faults found, and how they read.
fn faults(inputs: &Inputs, plan: &Value) -> (Vec<&'static str>, String) {
    let found = verify(inputs, &plan.to_string());
    let mut codes: Vec<&'static str> = found.iter().map(|fault| fault.rule.code()).collect();
    codes.dedup();
    (codes, found.iter().map(|fault| format!("{fault}\n")).collect())
}

#[test]
fn a_right_plan_that_fits_passes() {
    let (inputs, plan) = plans::fitting();
    let (codes, text) = faults(&inputs, &plan);
    assert!(codes.is_empty(), "{text}");
}

#[test]
fn a_right_plan_that_does_not_fit_passes_with_all_five_kinds_of_alternative() {
    let (inputs, plan) = plans::failing();
    let (codes, text) = faults(&inputs, &plan);
    assert!(codes.is_empty(), "{text}");
}

#[test]
fn fields_of_later_versions_are_left_alone() {
    let (inputs, mut plan) = plans::fitting();
    plan["weather"] = "rain".into();
    plan["sheets"][0]["pieces"][0]["thread"] = 50.into();
    let (codes, text) = faults(&inputs, &plan);
    assert!(codes.is_empty(), "{text}");
}

#[test]
fn faults_of_the_plan_and_of_its_alternatives_are_told_together() {
    let (inputs, mut plan) = plans::failing();
    plan["sheets"][0]["used"] = 1.into();
    plan["fabric"]["opened"] = 1.into();
    plan["alternatives"][1]["plan"]["sheets"][1]["copy"] = 9.into();
    plan["alternatives"][2]["cost"]["text"] = "".into();
    let (codes, text) = faults(&inputs, &plan);
    for code in ["V601", "V602", "V204", "V702"] {
        assert!(codes.contains(&code), "{code} is missing:\n{text}");
    }
    assert!(text.contains("alternative 2, sheet 2 (kelp stripe, lot 2, copy 9)"), "{text}");
}

#[test]
fn a_reason_by_area_that_holds_passes() {
    let (mut inputs, mut plan) = plans::failing();
    // One 5-inch square is far too little for any of it.
    plan["reasons"] = serde_json::json!([{"code": "area", "text": "the pieces need more than there is", "proved_again": true, "weighing": null, "cases": []}]);
    plan["alternatives"] = serde_json::json!([]);
    inputs.stash.bytes = "print,cut\npebble,5-inch square\n".into();
    inputs.placements.as_mut().expect("there are some").bytes =
        "block,copy,role,print\nUrchin,3,A,pebble\n".into();
    let (codes, text) = faults(&inputs, &plan);
    assert!(!codes.contains(&"V703"), "{text}");
    assert!(codes.contains(&"V201"), "the sheets themselves are no longer there: {text}");
}

#[test]
fn the_files_beside_a_record_are_those_it_names() {
    let (_, mut plan) = plans::fitting();
    let file = |name: &str, text: &str| Source { name: name.to_owned(), bytes: text.into() };
    let found = [file("sheet.html", "a sheet"), file("cuts.csv", "cuts")];
    let named: Vec<Value> = found
        .iter()
        .map(|file| serde_json::json!({"name": file.name, "sha256": digest(&file.bytes)}))
        .collect();
    plan["files"] = named.clone().into();
    let plan = plan.to_string();
    assert_eq!(belonging(&plan, &found), []);
    for (found, place) in [
        (vec![found[0].clone()], "file cuts.csv"),
        (vec![found[0].clone(), file("cuts.csv", "cut")], "file cuts.csv"),
        (vec![found[0].clone(), found[1].clone(), file("buy.csv", "")], "file buy.csv"),
    ] {
        let faults = belonging(&plan, &found);
        assert_eq!(faults.len(), 1);
        assert_eq!((faults[0].rule, faults[0].place.as_str()), (Rule::Files, place));
    }
    let twice = plan.replacen("\"files\":[", &format!("\"files\":[{},", named[0]), 1);
    assert_eq!(belonging(&twice, &found)[0].message, "it is named twice");
    for broken in ["", "{}", "{\"files\":7}", "{\"files\":[{\"name\":\"sheet.html\"}]}"] {
        assert!(!belonging(broken, &found).is_empty(), "{broken}");
    }
}
