//! The measures of a record made by hand, and records in which each of them is wrong.

use std::collections::{BTreeMap, BTreeSet};

use cutcloth::verifying::Rule;
use serde_json::{Value, json};

use crate::broken::{Case, case};
use crate::faults;
use crate::plans::{EIGHTH, failing, fitting};

fn number(value: &Value) -> i64 {
    value.as_i64().expect("a number")
}

/// Puts in how often prints come; that nothing which meets counts, as all is meant to blend.
fn variety(plan: &mut Value) {
    use std::collections::{BTreeMap, BTreeSet};
    let mut prints: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    let mut copies: BTreeMap<String, u64> = BTreeMap::new();
    let mut pieces: BTreeMap<String, u64> = BTreeMap::new();
    for set in plan["sets"].as_array().expect("a list") {
        let blocks = prints.entry(set["print"].to_string()).or_default();
        if set["block"].is_null() {
            continue;
        }
        blocks.insert(format!("{} {}", set["block"], set["copy"]));
        let same = format!("{} {} {}", set["block"], set["role"], set["print"]);
        if set["label"].is_null() {
            *copies.entry(same).or_default() += 1;
        } else {
            *pieces.entry(format!("{same} {}", set["copy"])).or_default() += 1;
        }
    }
    let pairs =
        |counts: &BTreeMap<String, u64>| counts.values().map(|count| count * (count - 1) / 2).sum::<u64>();
    plan["looks"] = json!({
        "by": "seam", "all": 0, "same": 0, "blends": 0, "alike": 0, "not_known": 0,
        "copies_alike": pairs(&copies), "pieces_alike": pairs(&pieces), "prints": prints.len(),
        "largest_repeat": prints.values().map(BTreeSet::len).max().unwrap_or(0), "clashes": [], "text": [],
    });
}

/// Puts in the measures of the sheets as they are.
pub(crate) fn measure(plan: &mut Value) {
    variety(plan);
    let sheets = plan["sheets"].as_array().expect("a list");
    let mut layouts: BTreeMap<String, &Value> = BTreeMap::new();
    let mut worth = 0;
    for sheet in sheets {
        let cut = |cut: &Value| {
            ["x", "y", "width", "height", "across", "at"].map(|name| cut[name].to_string()).join(" ")
        };
        let cuts: BTreeSet<String> = sheet["cuts"].as_array().expect("a list").iter().map(cut).collect();
        layouts.insert(format!("{} x {}: {cuts:?}", sheet["width"], sheet["height"]), sheet);
        if sheet["cut"] != json!("yardage") {
            worth += sheet["leftovers"].as_array().expect("a list").iter().map(worth_of).sum::<i128>();
        }
    }
    let settings = |sheet: &Value| -> BTreeSet<i64> {
        sheet["cuts"].as_array().expect("a list").iter().map(|cut| number(&cut["at"])).collect()
    };
    let all: Vec<i64> = layouts.values().flat_map(|sheet| settings(sheet)).collect();
    plan["preferences"] = json!({
        "leftovers": {"reached": worth / 8128, "bound": null, "claimed": false},
        "layouts": {"reached": layouts.len(), "bound": null, "claimed": false},
        "settings": all.len(), "off_ruler": all.iter().filter(|&at| at % EIGHTH != 0).count(),
        "stages": layouts.values().map(|sheet| stages(sheet)).max().unwrap_or(0),
        "ruler_mark": EIGHTH, "text": "in words",
    });
}

fn worth_of(rect: &Value) -> i128 {
    let (width, height) = (number(&rect["width"]), number(&rect["height"]));
    let shorter = width.min(height);
    if shorter < 20 * EIGHTH { 0 } else { i128::from(width) * i128::from(height) * i128::from(shorter) }
}

/// Counted from the smallest parts outwards: a cut that lies in a larger region cut in the other direction comes after it.
fn stages(sheet: &Value) -> usize {
    let cuts = sheet["cuts"].as_array().expect("a list");
    let inside = |one: &Value, other: &Value| {
        let ends =
            |cut: &Value, at: &str, size: &str| (number(&cut[at]), number(&cut[at]) + number(&cut[size]));
        [("x", "width"), ("y", "height")].iter().all(|(at, size)| {
            let ((a, b), (c, d)) = (ends(one, at, size), ends(other, at, size));
            c <= a && b <= d
        })
    };
    let mut depth: Vec<usize> = Vec::new();
    for cut in cuts {
        let mut around = cuts[..depth.len()].iter().zip(&depth).filter(|(earlier, _)| inside(cut, earlier));
        let last = around
            .next_back()
            .map(|(earlier, &depth)| depth + usize::from(earlier["across"] != cut["across"]));
        depth.push(last.unwrap_or(1));
    }
    depth.into_iter().max().unwrap_or(0)
}

pub(crate) fn cases() -> Vec<Case> {
    vec![
        case(Rule::Preferences, "a layout too many", fitting, |_, p| {
            p["preferences"]["layouts"]["reached"] = json!(4);
        }),
        case(Rule::Preferences, "a setting left out", fitting, |_, p| {
            p["preferences"]["settings"] = json!(number(&p["preferences"]["settings"]) - 1);
        }),
        case(Rule::Preferences, "a stage left out", fitting, |_, p| {
            p["preferences"]["stages"] = json!(number(&p["preferences"]["stages"]) - 1);
        }),
        case(Rule::Preferences, "a setting off the ruler made up", fitting, |_, p| {
            p["preferences"]["off_ruler"] = json!(1);
        }),
        case(Rule::Preferences, "leftovers worth more than they are", fitting, |_, p| {
            p["preferences"]["leftovers"]["reached"] =
                json!(number(&p["preferences"]["leftovers"]["reached"]) + 1);
        }),
        case(Rule::Preferences, "marks of no ruler", fitting, |_, p| {
            p["preferences"]["ruler_mark"] = json!(1000)
        }),
        case(Rule::Preferences, "marks of the other ruler", fitting, |_, p| {
            p["preferences"]["ruler_mark"] = json!(320)
        }),
        case(Rule::PreferenceBound, "fewer layouts than can be", fitting, |_, p| {
            p["preferences"]["layouts"]["bound"] = json!(4);
        }),
        case(Rule::PreferenceBound, "more left over than can be", fitting, |_, p| {
            p["preferences"]["leftovers"]["bound"] = json!(0);
        }),
        case(Rule::PreferenceBound, "claimed without a bound", fitting, |_, p| {
            p["preferences"]["layouts"]["claimed"] = json!(true);
        }),
        case(Rule::PreferenceBound, "at the bound and not claimed", fitting, |_, p| {
            p["preferences"]["layouts"]["bound"] = json!(3);
        }),
        case(Rule::PreferenceBound, "a bound for a plan that is not complete", failing, |_, p| {
            p["preferences"]["layouts"]["bound"] = json!(1);
        }),
        case(Rule::Reason, "measures without words", fitting, |_, p| p["preferences"]["text"] = json!(" ")),
    ]
}

#[test]
fn right_bounds_pass() {
    let (inputs, mut plan) = fitting();
    let reached = number(&plan["preferences"]["leftovers"]["reached"]);
    plan["preferences"]["leftovers"]["bound"] = json!(reached + 1);
    plan["preferences"]["layouts"] = json!({"reached": 3, "bound": 3, "claimed": true});
    let (codes, text) = faults(&inputs, &plan);
    assert!(codes.is_empty(), "{text}");
}
