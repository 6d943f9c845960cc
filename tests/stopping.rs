//! A search that is stopped: what it has by then is a plan like any other, and it claims no more than was proved.

use std::path::Path;

use cutcloth::app::Length;
use cutcloth::app::Stop;
use cutcloth::app::given::{Given, understand};
use cutcloth::app::options::Options;
use cutcloth::app::run::{Answer, Request, plan};
use cutcloth::app::summary::Verdict;
use cutcloth::verifying::{Inputs, Rule, Source, Work, verify_within};
use serde_json::Value;

fn request(stash: &str) -> Request {
    let open = |name: &str| {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("data/tidepool").join(name);
        Given::open(&path).expect("a file of the demo")
    };
    Request { pattern: open("chart.csv"), stash: open(stash), placements: None, options: Options::default() }
}

fn record(answer: &Answer) -> Value {
    let file = answer.files.iter().find(|(name, _)| name == "plan.json").expect("the record");
    serde_json::from_slice(&file.1).expect("JSON")
}

fn sheet(answer: &Answer) -> String {
    let file = answer.files.iter().find(|(name, _)| name == "sheet.html").expect("the sheet");
    String::from_utf8(file.1.clone()).expect("text")
}

const SAID: &str = "The search was stopped by hand before it was done; another run may give another plan.";

#[test]
fn a_stop_before_anything_leaves_it_undecided_and_says_so() {
    let stop = Stop::by_hand();
    stop.raise();
    let answer = plan(&request("pack.csv"), &stop, &mut |_| {}).expect("what can be said");
    assert_eq!(answer.summary.verdict, Verdict::Undecided);
    let reasons = &answer.summary.reasons;
    assert!(reasons[0].starts_with("the search was stopped"), "{reasons:?}");
    assert!(answer.summary.choices.contains(&SAID.to_owned()));
    let record = record(&answer);
    assert_eq!(record["rules"]["stopped"], "hand");
    assert_eq!(record["fabric"]["bound"], 0);
    assert!(record["short"].as_array().is_some_and(|short| !short.is_empty()));
    assert!(sheet(&answer).contains(SAID));
}

#[test]
fn a_stop_before_anything_proves_no_more_than_can_be_counted() {
    // It does not fit, which counting by area shows without a search; nothing else is looked for.
    let stop = Stop::by_hand();
    stop.raise();
    let answer = plan(&request("other-pack.csv"), &stop, &mut |_| {}).expect("what can be said");
    assert_ne!(answer.summary.verdict, Verdict::Fits);
    assert!(answer.summary.choices.contains(&SAID.to_owned()));
    assert!(answer.summary.alternatives.is_empty());
    assert_eq!(record(&answer)["rules"]["stopped"], "hand");
}

#[test]
fn a_stop_after_the_first_complete_plan_keeps_it() {
    let stop = Stop::by_hand();
    let mut first = None;
    // The answer passed the independent check, or it would be a failure.
    let answer = plan(&request("shelf.csv"), &stop, &mut |progress| {
        if let Some(best) = progress.best {
            first = first.or(Some(best));
            stop.raise();
        }
    })
    .expect("a plan that passes the check");
    assert_eq!(answer.summary.verdict, Verdict::Fits);
    let (opened, bound) = answer.summary.opened;
    assert!(0 < bound && bound < opened, "a bound by area and no more: {bound} of {opened}");
    assert!(opened <= i128::from(first.expect("a first plan")), "no worse than what was known at the stop");
    assert_eq!(answer.summary.pieces.0, answer.summary.pieces.1);
    assert_eq!(record(&answer)["rules"]["stopped"], "hand");
    assert!(sheet(&answer).contains(SAID));
}

#[test]
fn a_stop_that_never_came_changes_nothing() {
    let whole = plan(&request("pack.csv"), &Stop::never(), &mut |_| {}).expect("a plan");
    let armed = plan(&request("pack.csv"), &Stop::by_hand(), &mut |_| {}).expect("a plan");
    assert!(whole.files == armed.files, "the same bytes, whether or not a stop might have come");
    assert_eq!(record(&whole)["rules"]["stopped"], Value::Null);
}

/// The pack that does not fit, and its record without alternatives.
fn refused() -> (Inputs, Value, Answer) {
    let mut request = request("other-pack.csv");
    request.options.rules.alternatives = false;
    request.options.rules.conflicts = false;
    let source = |name: &str, given: &Given| Source { name: name.to_owned(), bytes: given.bytes.clone() };
    let inputs = Inputs {
        stash: source("inputs/stash.csv", &request.stash),
        pattern: source("inputs/chart.csv", &request.pattern),
        placements: None,
    };
    let answer = plan(&request, &Stop::never(), &mut |_| {}).expect("an answer");
    (inputs, record(&answer), answer)
}

#[test]
fn the_check_does_no_more_work_than_it_is_allowed_for_all_proofs_of_a_record_together() {
    let (inputs, mut record, answer) = refused();
    assert_eq!((answer.summary.verdict, answer.summary.shown_again), (Verdict::Impossible, (1, 1)));
    assert!(answer.summary.proof.starts_with("Proved: "), "{}", answer.summary.proof);
    let reason =
        record["reasons"].as_array().and_then(|all| all.iter().find(|one| !one["weighing"].is_null()));
    let reason = reason.expect("a reason with weights").clone();
    assert_eq!(reason["proved_again"], true);
    // The least work that is enough for one, to the nearest doubling.
    record["reasons"] = vec![reason.clone()].into();
    let rules = |record: &Value, steps: u64| -> Vec<Rule> {
        let faults = verify_within(&inputs, &record.to_string(), &mut Work::steps(steps, &|| false));
        faults.iter().map(|fault| fault.rule).collect()
    };
    let enough = (0..40).map(|doubled| 1 << doubled).find(|&steps| rules(&record, steps).is_empty());
    let enough = enough.expect("some work is enough");
    assert!(enough > 1, "it takes work");
    assert_eq!(rules(&record, enough / 2), [Rule::WorkEnded]);
    // The same proof five times takes five times the work, and no more is done.
    record["reasons"] = vec![reason; 5].into();
    let many = rules(&record, enough);
    assert!((3..5).contains(&many.len()) && many.iter().all(|rule| *rule == Rule::WorkEnded), "{many:?}");
    assert_eq!(rules(&record, enough * 5), []);
}

#[test]
fn a_stop_reaches_the_check_and_what_it_did_not_prove_is_said_to_rest_on_the_search() {
    let (inputs, record, _) = refused();
    let record = record.to_string();
    let asked = std::cell::Cell::new(0);
    let stop = || {
        asked.set(asked.get() + 1);
        true
    };
    let before = std::time::Instant::now();
    let faults = verify_within(&inputs, &record, &mut Work::steps(u64::MAX, &stop));
    assert!(faults.iter().all(|fault| fault.rule == Rule::WorkEnded), "{faults:?}");
    assert!(before.elapsed().as_secs() < 10, "{:?}", before.elapsed());
    // With next to no work the run says so, and keeps what more work may show.
    let mut request = request("other-pack.csv");
    request.options.rules.alternatives = false;
    request.options.rules.conflicts = false;
    request.options.check_effort = 0;
    let answer = plan(&request, &Stop::never(), &mut |_| {}).expect("an answer");
    assert_eq!((answer.summary.verdict, answer.summary.shown_again), (Verdict::Impossible, (0, 1)));
    assert!(answer.summary.has_more_to_show && !answer.summary.is_proved_again());
    let said = "The independent checker has not proved it again.";
    assert!(
        answer.summary.proof.starts_with("Proved by the search: ") && answer.summary.proof.ends_with(said)
    );
    assert!(sheet(&answer).contains(said));
    let text = self::record(&answer);
    let reasons = text["reasons"].as_array().expect("a list");
    assert!(reasons.iter().all(|reason| reason["proved_again"] == false));
    assert!(reasons.iter().any(|reason| !reason["weighing"].is_null()), "more work may show it");
    let again = verify_within(&inputs, &text.to_string(), &mut Work::percent(100, &|| false));
    assert_eq!(again, []);
}

/// A stash of so many prints, and a pattern whose roles have rules about all of them.
fn many_prints(prints: usize) -> [Given; 2] {
    let given = |name: &str, text: String| Given { name: name.to_owned(), bytes: text.into_bytes() };
    let color = |print: usize| ["blue", "#2a9d8f", "cream", ""][print % 4];
    let rows = (0..prints).map(|print| format!("kelp {print},5-inch square,{}\n", color(print)));
    let role = |name: &str| {
        format!("[role.{name}]\nmatching = \"block\"\nonly = {{ color = [\"blue\", \"green\"] }}\n")
    };
    let piece = |name: &str| {
        format!("[[block.piece]]\nlabel = \"{name}1\"\nrole = \"{name}\"\nsize = \"2 1/2\"\ncount = 1\n")
    };
    let block = "[[block]]\nname = \"Shell\"\nmake = 1\n";
    let pattern = [role("A"), role("B"), block.to_owned(), piece("A"), piece("B")].concat();
    [
        given("stash.csv", format!("print,cut,color\n{}", rows.collect::<String>())),
        given("pattern.toml", pattern),
    ]
}

#[test]
fn rules_of_a_large_stash_are_read_in_step_with_its_size() {
    let best_of_three = |prints: usize| {
        let [stash, pattern] = many_prints(prints);
        let once = || {
            let before = std::time::Instant::now();
            let (understood, said) = understand(&stash, &pattern, None, Length::ZERO, None);
            assert!(understood.is_some(), "{said:?}");
            before.elapsed()
        };
        (0..3).map(|_| once()).min().expect("three")
    };
    let (some, more) = (best_of_three(2_000), best_of_three(16_000));
    // Eight times as many take eight times as long, not sixty-four times.
    assert!(more < some * 30, "{some:?} for 2,000 prints, {more:?} for 16,000");
}
