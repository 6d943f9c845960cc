//! Published cutting instances in a neutral format (one JSON object a line), solved with a budget of steps and
//! checked by a replay of its own.
//!
//! The files are not part of this repository: they are looked for in `../shared/instances`, or in the folder named by the
//! environment variable CUTCLOTH_INSTANCES. Where there is none the tests over them say that they were skipped;
//! the replay is tested in any case.

mod format;
mod replay;
mod solve;

use std::collections::BTreeMap;
use std::io::Write as _;
use std::path::PathBuf;

use format::{Instance, Objective};
use solve::{Answer, answer};

/// Solved to the published optimum with at most a quarter of the steps allowed here, so that a small change of the
/// search does not matter. A folder may hold others; those are held to all else.
const SOLVED: &[&str] = &[
    "2st-CHL2",
    "2st-Hchl3s",
    "bp-class02-80-10r",
    "bp-class03-40-8",
    "bp-class04-60-5r",
    "bp-class05-80-7",
    "bp-class09-60-10",
    "cs-A42",
    "cs-A43r",
    "cs-A4r",
    "cs-gcut1d",
    "fit-c3-p3",
    "kp-2s",
    "kp-3s",
    "kp-A2s",
    "kp-CHL1",
    "kp-CHL2s",
    "kp-CW3",
    "kp-HH",
    "kp-gcut11",
    "kp-gcut2",
    "kp-gcut3",
    "kp-gcut4",
    "kp-gcut7",
    "kp-okp1",
    "kp-okp3",
    "kp-wang20",
    "mkp-A12_M2",
    "unc-gcut1",
    "unc-gcut2",
    "unc-gcut6r",
    "unc-gcut9",
];

/// Written past the capture of what tests print, so that it is seen where the test passes.
fn skipped(why: &str) {
    writeln!(std::io::stderr(), "SKIPPED published instances: {why}").expect("stderr can be written");
}

/// The instances found, or `None`, said aloud.
fn instances() -> Option<Vec<Instance>> {
    let folder = std::env::var_os("CUTCLOTH_INSTANCES")
        .map_or_else(|| PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../shared/instances"), PathBuf::from);
    if !folder.is_dir() {
        skipped(&format!(
            "there is no folder {}; name one with published instances in CUTCLOTH_INSTANCES",
            folder.display()
        ));
        return None;
    }
    let entries = std::fs::read_dir(&folder).unwrap_or_else(|e| panic!("{}: {e}", folder.display()));
    let mut files: Vec<PathBuf> = entries.map(|entry| entry.expect("an entry").path()).collect();
    files.retain(|file| file.extension().is_some_and(|ending| ending == "jsonl"));
    files.sort();
    if files.is_empty() {
        skipped(&format!("{} holds no .jsonl file", folder.display()));
        return None;
    }
    Some(files.iter().flat_map(|file| format::read(file)).collect())
}

/// What is wrong with an answer, compared with what is published; empty when nothing is.
fn wrong(instance: &Instance, answer: &Answer) -> Vec<String> {
    let mut wrong = Vec::new();
    let value = match replay::worth(instance, &answer.sheets) {
        Ok(value) => value,
        Err(faults) => return faults,
    };
    let mut ask = |right: bool, what: String| {
        if !right {
            wrong.push(what);
        }
    };
    if let Some(claimed) = answer.value {
        ask(value == Some(claimed), format!("claims {claimed}, and the replay makes {value:?}"));
    }
    // Whatever was reached, and whatever others reached, the bound is on its other side.
    for reached in [answer.value, instance.best_known].into_iter().flatten() {
        let holds = match instance.objective {
            Objective::Most => answer.bound >= reached,
            Objective::Least => answer.bound <= reached,
        };
        ask(holds, format!("bound {} passes {reached}, which was reached", answer.bound));
    }
    if let (Some(best), true, Some(value)) = (instance.best_known, instance.proven, answer.value) {
        let holds = match instance.objective {
            Objective::Most => value <= best,
            Objective::Least => value >= best,
        };
        ask(holds, format!("{value} is better than the proved {best}"));
        ask(value == best || value != answer.bound, format!("{value} called best, and {best} is"));
    }
    if SOLVED.contains(&instance.id.as_str()) {
        let best = instance.best_known;
        ask(
            answer.value == best && answer.value == Some(answer.bound),
            format!("{:?} with bound {}, and {best:?} was to be proved", answer.value, answer.bound),
        );
    }
    wrong
}

#[test]
fn published_instances_are_never_answered_past_their_optimum_and_every_layout_is_replayed() {
    let Some(instances) = instances() else { return };
    let mut wrongs = String::new();
    let mut solved: BTreeMap<&str, (u32, u32)> = BTreeMap::new();
    for instance in &instances {
        let Some((kind, answer)) = answer(instance) else {
            eprintln!("not asked: {} is of a kind the cutting engine has no question for", instance.id);
            continue;
        };
        let tally = solved.entry(kind).or_default();
        tally.1 += 1;
        tally.0 += u32::from(answer.value == Some(answer.bound));
        for what in wrong(instance, &answer) {
            wrongs += &format!("{}: {what}\n", instance.id);
        }
    }
    for (kind, (proved, asked)) in &solved {
        eprintln!("{kind}: {proved} of {asked} proved");
    }
    assert!(wrongs.is_empty(), "\n{wrongs}");
}
