//! The other way, where folders cannot change places: file by file, under a mark.
//!
//! The new files are written whole into a folder within, the record last, and then moved out of it one by one. While
//! that folder is there, what stands beside it may be of two plans, and every command says so. A run that was killed
//! before the record stood there has moved nothing, so what it left may go; after that the next run goes on with it.

use std::path::Path;

use super::error::FolderError;
use super::held::{Held, is_record};
use super::step::Step;
use super::{MARK, OWN_FILES, RECORD};

/// The steps that write `files` into `folder`, with the number of those after which the new plan stands there.
pub(super) fn steps(folder: &Path, files: &[(String, Vec<u8>)]) -> (Vec<Step>, usize) {
    let mark = folder.join(MARK);
    let mut steps =
        vec![Step::Make(folder.to_owned()), Step::Make(mark.clone()), Step::Make(mark.join("inputs"))];
    let mut names: Vec<&str> = files.iter().map(|(name, _)| name.as_str()).collect();
    for last in [false, true] {
        let files = files.iter().filter(|(name, _)| (name == RECORD) == last);
        if last {
            steps.extend([Step::Sync(mark.join("inputs")), Step::Sync(mark.clone())]);
        }
        steps.extend(files.map(|(name, bytes)| Step::Write { place: mark.join(name), bytes: bytes.clone() }));
    }
    steps.push(Step::Sync(mark));
    names.sort_by_key(|name| *name == RECORD);
    steps.extend(moves(folder, &names, &names));
    let done = steps.len();
    steps.extend(close(folder));
    (steps, done)
}

/// Moves `names` into their places, the record last; what a plan writes and is not among `all` goes.
fn moves(folder: &Path, names: &[&str], all: &[&str]) -> Vec<Step> {
    let mark = folder.join(MARK);
    let mut steps = vec![Step::Make(folder.join("inputs"))];
    let moved = |name: &&str| Step::Move { from: mark.join(name), to: folder.join(name) };
    let (record, others): (Vec<&str>, Vec<&str>) = names.iter().partition(|name| **name == RECORD);
    steps.extend(others.iter().map(moved));
    let outdated = OWN_FILES.iter().filter(|name| !all.contains(name));
    steps.extend(outdated.map(|name| Step::Remove(folder.join(name))));
    steps.extend([Step::Sync(folder.join("inputs")), Step::Sync(folder.to_owned())]);
    steps.extend(record.iter().map(moved));
    steps
}

fn close(folder: &Path) -> Vec<Step> {
    let mark = folder.join(MARK);
    vec![Step::RemoveFolder(mark.join("inputs")), Step::RemoveFolder(mark), Step::Sync(folder.to_owned())]
}

/// The steps that end what a killed run began in `folder`: go on with it where its record stands, else take it away.
///
/// # Errors
/// When there is something that is not of a plan.
pub(super) fn finish(folder: &Path, listed: &[String]) -> Result<Vec<Step>, FolderError> {
    let mark = folder.join(MARK);
    let Some(held) = Held::look(&mark)? else { return Ok(Vec::new()) };
    if let Some(found) = held.others.first() {
        return Err(FolderError::LeftBehind { folder: mark, found: found.clone() });
    }
    let mut steps = Vec::new();
    if is_record(&mark) {
        let names: Vec<&str> = held.own.iter().map(String::as_str).collect();
        let all: Vec<&str> = listed.iter().map(String::as_str).chain([RECORD]).collect();
        steps.extend(moves(folder, &names, &all));
    } else {
        steps.extend(held.own.iter().map(|name| Step::Remove(mark.join(name))));
    }
    steps.extend(held.unfinished.iter().map(|name| Step::Remove(mark.join(name))));
    steps.extend(close(folder));
    Ok(steps)
}
