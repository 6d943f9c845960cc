//! `verify DIR`: a written plan, recomputed from the copies of its inputs that lie beside it.

use std::fs;
use std::path::Path;

use crate::app::folder::{OWN_FILES, RECORD};
use crate::app::given::Given;
use crate::app::summary::Summary;
use crate::diagnostic::Diagnostic;
use crate::planning::Stop;
use crate::verifying::{self, Claim, Fault, Inputs, Rule, Source, Work};

/// What came of the check of a folder.
#[derive(Clone, Debug)]
pub enum Recheck {
    /// The record is right, whatever its verdict; the summary says what could not be proved again.
    Right(Box<Summary>),
    /// It is not.
    Wrong(Vec<Fault>),
    /// There is nothing to check: a file cannot be read.
    Unreadable(Vec<Diagnostic>),
}

/// The files of a plan that lie in `folder`, but for the record.
fn files_in(folder: &Path) -> Vec<Source> {
    let names = OWN_FILES.iter().filter(|name| **name != RECORD);
    let read = |name: &&str| {
        let bytes = fs::read(folder.join(name)).ok()?;
        Some(Source { name: (*name).to_owned(), bytes })
    };
    names.filter_map(read).collect()
}

/// Checks the plan in `folder`, with `effort` percent of the usual work for its proofs, which `stop` ends: the record, from the
/// copies of its inputs, and that the files beside it are its own.
pub fn recheck(folder: &Path, effort: u32, stop: &Stop) -> Recheck {
    let stopped = || stop.seen();
    let mut work = Work::percent(effort, &stopped);
    let open = || Given::open_record(&folder.join(RECORD));
    let record = match open() {
        Ok(record) => record,
        Err(said) => return Recheck::Unreadable(vec![*said]),
    };
    let found = files_of(folder, &record);
    // Another run may have put a new plan there meanwhile; then it is that one that is looked at.
    match open() {
        Ok(now) if now.bytes != record.bytes => judged(&now, files_of(folder, &now), &mut work),
        _ => judged(&record, found, &mut work),
    }
}

/// What lies beside a record.
struct Beside {
    /// Every file of the plan but the record.
    files: Vec<Source>,
    inputs: Result<Inputs, Recheck>,
}

fn files_of(folder: &Path, record: &Given) -> Beside {
    let names = match verifying::input_names(&String::from_utf8_lossy(&record.bytes)) {
        Ok(names) => names,
        Err(faults) => return Beside { files: Vec::new(), inputs: Err(Recheck::Wrong(faults)) },
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
    let inputs = if unreadable.is_empty() { Ok(inputs) } else { Err(Recheck::Unreadable(unreadable)) };
    Beside { files: files_in(folder), inputs }
}

fn judged(record: &Given, beside: Beside, work: &mut Work<'_>) -> Recheck {
    let record = String::from_utf8_lossy(&record.bytes);
    let inputs = match beside.inputs {
        Ok(inputs) => inputs,
        Err(not) => return not,
    };
    let mut faults = verifying::belonging(&record, &beside.files);
    faults.extend(verifying::verify_within(&inputs, &record, work));
    let (ended, faults): (Vec<Fault>, Vec<Fault>) =
        faults.into_iter().partition(|fault| fault.rule == Rule::WorkEnded);
    let ended: Vec<Claim> = ended.into_iter().filter_map(|fault| fault.claim).collect();
    match (faults.is_empty(), Summary::read(&record, &ended)) {
        (true, Some(summary)) => Recheck::Right(Box::new(summary)),
        _ => Recheck::Wrong(faults),
    }
}
