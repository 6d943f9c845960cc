//! `verify DIR`: a written plan, recomputed from the copies of its inputs that lie beside it.

use std::path::Path;

use crate::app::folder::RECORD;
use crate::app::given::Given;
use crate::app::summary::Summary;
use crate::diagnostic::Diagnostic;
use crate::verifying::{self, Fault, Inputs, Source};

/// What came of the check of a folder.
#[derive(Clone, Debug)]
pub enum Recheck {
    /// The record is right, whatever its verdict.
    Right(Box<Summary>),
    /// It is not.
    Wrong(Vec<Fault>),
    /// There is nothing to check: a file cannot be read.
    Unreadable(Vec<Diagnostic>),
}

/// Checks the plan in `folder`. Only `plan.json` and the files in `inputs` are read.
pub fn recheck(folder: &Path) -> Recheck {
    let record = match Given::open(&folder.join(RECORD)) {
        Ok(record) => String::from_utf8_lossy(&record.bytes).into_owned(),
        Err(said) => return Recheck::Unreadable(vec![*said]),
    };
    let names = match verifying::input_names(&record) {
        Ok(names) => names,
        Err(faults) => return Recheck::Wrong(faults),
    };
    let mut unreadable = Vec::new();
    let mut open = |name: String| match Given::open(&folder.join(&name)) {
        Ok(given) => Source { name, bytes: given.bytes },
        Err(said) => {
            unreadable.push(*said);
            Source { name, bytes: Vec::new() }
        }
    };
    let inputs = Inputs {
        stash: open(names.stash),
        pattern: open(names.pattern),
        placements: names.placements.map(&mut open),
    };
    if !unreadable.is_empty() {
        return Recheck::Unreadable(unreadable);
    }
    let faults = verifying::verify(&inputs, &record);
    match (faults.is_empty(), Summary::read(&record)) {
        (true, Some(summary)) => Recheck::Right(Box::new(summary)),
        _ => Recheck::Wrong(faults),
    }
}
