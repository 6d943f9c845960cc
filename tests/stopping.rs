//! A search that is stopped: what it has by then is a plan like any other, and it claims no more than was proved.

use std::path::Path;

use cutcloth::app::Stop;
use cutcloth::app::given::Given;
use cutcloth::app::options::Options;
use cutcloth::app::run::{Answer, Request, plan};
use cutcloth::app::summary::Verdict;
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
