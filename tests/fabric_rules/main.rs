//! Rules between fabrics from the pattern file to the checked plan.

mod cases;
mod every_rule;
mod random;
mod upright;
mod warnings;

use cutcloth::app::Given;
use cutcloth::app::Stop;
use cutcloth::app::options::Options;
use cutcloth::app::run::{Answer, Failure, Request, plan};
use serde_json::Value;

/// What is planned from these two files; an answer has passed the independent check.
fn planned(pattern: &str, stash: &str, effort: u32) -> Answer {
    let mut options = Options::default();
    options.rules.effort = effort;
    planned_with(pattern, stash, options)
}

/// The same with these options.
fn planned_with(pattern: &str, stash: &str, options: Options) -> Answer {
    let given = |name: &str, text: &str| Given { name: name.to_owned(), bytes: text.as_bytes().to_vec() };
    let request = Request {
        pattern: given("pattern.toml", pattern),
        stash: given("stash.csv", stash),
        placements: None,
        options,
    };
    match plan(&request, &Stop::never(), &mut |_| {}) {
        Ok(answer) => answer,
        Err(Failure::Inputs(said)) => {
            let said: Vec<String> = said.iter().map(ToString::to_string).collect();
            panic!("{}\n{pattern}\n{stash}", said.join("\n"))
        }
        Err(Failure::Internal(faults)) => panic!("{}\n{pattern}\n{stash}", faults.join("\n")),
    }
}

/// The record among the files of an answer.
fn record(answer: &Answer) -> Value {
    let (_, bytes) = answer.files.iter().find(|(name, _)| name == "plan.json").expect("a record");
    serde_json::from_slice(bytes).expect("it is JSON")
}
