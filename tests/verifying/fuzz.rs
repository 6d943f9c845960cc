//! Thousands of small changes to right plans. Whatever changes the meaning must be found, and nothing may
//! make the check panic.

use cutcloth::verifying::verify;
use rand::rngs::SmallRng;
use rand::seq::IndexedRandom;
use rand::{Rng, SeedableRng};
use serde_json::{Value, json};

use crate::faults;
use crate::plans::{EIGHTH, failing, fitting};

/// One step down into a value.
#[derive(Clone)]
enum Step {
    Field(String),
    Item(usize),
}

/// Every path to a value inside `value`.
fn paths(value: &Value, here: &[Step], found: &mut Vec<Vec<Step>>) {
    let mut go = |step: Step, inner: &Value| {
        let path = [here, &[step]].concat();
        found.push(path.clone());
        paths(inner, &path, found);
    };
    match value {
        Value::Object(fields) => fields.iter().for_each(|(name, inner)| go(Step::Field(name.clone()), inner)),
        Value::Array(items) => {
            items.iter().enumerate().for_each(|(index, inner)| go(Step::Item(index), inner))
        }
        _ => {}
    }
}

fn at<'a>(value: &'a mut Value, path: &[Step]) -> &'a mut Value {
    path.iter().fold(value, |value, step| match step {
        Step::Field(name) => &mut value[name.as_str()],
        Step::Item(index) => &mut value[*index],
    })
}

fn last_field(path: &[Step]) -> &str {
    path.iter()
        .rev()
        .find_map(|step| match step {
            Step::Field(name) => Some(name.as_str()),
            Step::Item(_) => None,
        })
        .unwrap_or_default()
}

/// Fields whose value is a claim, a text for a person, or an option that no check depends on alone.
const FREE: &[&str] = &["bound", "proof", "text", "reason", "code", "bought", "changes", "cost", "reasons"];

fn free(path: &[Step]) -> bool {
    path.iter().any(|step| matches!(step, Step::Field(name) if FREE.contains(&name.as_str())))
}

/// A square may be said to be turned or not: it is the same square.
fn turned_square(path: &[Step], plan: &mut Value) -> bool {
    last_field(path) == "turned" && {
        let owner = at(plan, &path[..path.len() - 1]);
        owner["width"] == owner["height"]
    }
}

/// The plan with lists sorted in which order means nothing.
fn meaning(value: &Value) -> Value {
    let mut value = value.clone();
    sort(&mut value, "");
    value
}

fn sort(value: &mut Value, name: &str) {
    match value {
        Value::Object(fields) => fields.iter_mut().for_each(|(name, inner)| sort(inner, name)),
        Value::Array(items) => {
            items.iter_mut().for_each(|item| sort(item, ""));
            if name != "cuts" {
                items.sort_by_cached_key(Value::to_string);
            }
        }
        _ => {}
    }
}

/// Changes one thing in `plan`; says what, or nothing when the choice did not apply.
fn change(plan: &mut Value, random: &mut SmallRng) -> Option<String> {
    let mut all = Vec::new();
    paths(plan, &[], &mut all);
    let path = all.choose(random)?.clone();
    if free(&path) || turned_square(&path, plan) {
        return None;
    }
    let name = last_field(&path).to_owned();
    let kind = random.random_range(0..4);
    // Options of the run that change no number of these plans: no scrap is opened in the first, and nothing in them is
    // meant to stand out.
    if matches!(
        name.as_str(),
        "useful_side" | "extra_fabric" | "effort" | "scrap" | "contrast" | "difference"
    ) {
        return None;
    }
    match at(plan, &path) {
        Value::Bool(flag) => *flag = !*flag,
        Value::Number(number) => {
            let old = number.as_i64()?;
            let step = if name == "copy" || name == "weights" { 5 } else { EIGHTH };
            let new = if kind % 2 == 0 || old < step { old + step } else { old - step };
            *at(plan, &path) = json!(new);
        }
        Value::String(text) => match kind {
            0 => text.push('x'),
            _ => {
                // Another word from the same plan: another print, block, label or file.
                let mut words = Vec::new();
                for other in all.iter().filter(|other| last_field(other) == name) {
                    if let Value::String(word) = at(plan, other) {
                        words.push(word.clone());
                    }
                }
                *at(plan, &path) = json!(words.choose(random)?);
            }
        },
        Value::Array(items) if !items.is_empty() => {
            let index = random.random_range(0..items.len());
            if kind % 2 == 0 {
                items.remove(index);
            } else {
                let copy = items[index].clone();
                items.push(copy);
            }
        }
        // Two alternatives may trade plans: what tells them apart is only words.
        Value::Object(_) if kind == 0 && name != "plan" => {
            // Swap with another part of the same name: two pieces, two sheets, two sets.
            let others: Vec<&Vec<Step>> = all.iter().filter(|other| last_field(other) == name).collect();
            let other = (*others.choose(random)?).clone();
            let (one, two) = (at(plan, &path).clone(), at(plan, &other).clone());
            if other.len() != path.len() {
                return None;
            }
            *at(plan, &path) = two;
            *at(plan, &other) = one;
        }
        _ => return None,
    }
    Some(format!("{} ({kind})", path_text(&path)))
}

fn path_text(path: &[Step]) -> String {
    path.iter()
        .map(|step| match step {
            Step::Field(name) => format!(".{name}"),
            Step::Item(index) => format!("[{index}]"),
        })
        .collect()
}

#[test]
fn every_change_of_meaning_is_found() {
    let mut random = SmallRng::seed_from_u64(8128);
    let mut found = 0;
    for (inputs, plan) in [fitting(), failing()] {
        let before = meaning(&plan);
        for _ in 0..1000 {
            let mut broken = plan.clone();
            let Some(what) = change(&mut broken, &mut random) else { continue };
            if meaning(&broken) == before {
                continue;
            }
            let (codes, _) = faults(&inputs, &broken);
            assert!(!codes.is_empty(), "not found: {what}");
            found += 1;
        }
    }
    assert!(found > 700, "only {found} changes were tried");
}

#[test]
fn two_changes_do_not_hide_each_other() {
    let mut random = SmallRng::seed_from_u64(64);
    let (inputs, plan) = failing();
    let before = meaning(&plan);
    for _ in 0..400 {
        let mut broken = plan.clone();
        let (Some(one), Some(two)) = (change(&mut broken, &mut random), change(&mut broken, &mut random))
        else {
            continue;
        };
        if meaning(&broken) != before {
            let (codes, _) = faults(&inputs, &broken);
            assert!(!codes.is_empty(), "not found: {one} and {two}");
        }
    }
}

#[test]
fn no_file_makes_the_check_panic() {
    let mut random = SmallRng::seed_from_u64(127);
    let (inputs, plan) = failing();
    let text = plan.to_string();
    let wild =
        ["-1", "9223372036854775807", "1e308", "-9223372036854775808", "null", "[]", "{}", "\"\"", "0"];
    let mut all = Vec::new();
    paths(&plan, &[], &mut all);
    for _ in 0..400 {
        // A value of another kind or of monstrous size anywhere.
        let mut broken = plan.clone();
        for _ in 0..random.random_range(1..4) {
            let path = all.choose(&mut random).expect("there are paths").clone();
            let value = wild.choose(&mut random).expect("there are some");
            set_if_there(&mut broken, &path, serde_json::from_str(value).expect("JSON"));
        }
        let _ = verify(&inputs, &broken.to_string());
        // A byte changed anywhere, or the file cut short.
        let mut bytes = text.clone().into_bytes();
        let index = random.random_range(0..bytes.len());
        bytes[index] = *b"0129-\"{}[],:x".choose(&mut random).expect("there are some");
        let _ = verify(&inputs, &String::from_utf8_lossy(&bytes));
        let _ = verify(&inputs, &text[..index]);
    }
}

fn set_if_there(plan: &mut Value, path: &[Step], new: Value) {
    let mut here = plan;
    for step in path {
        let next = match step {
            Step::Field(name) => here.get_mut(name.as_str()),
            Step::Item(index) => here.get_mut(*index),
        };
        match next {
            Some(inner) => here = inner,
            None => return,
        }
    }
    *here = new;
}
