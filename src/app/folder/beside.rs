//! The usual way: the new folder is written whole beside the old one, and the two change places in one step.
//!
//! What is not ours stands in both folders before that, as the same files, so that nothing of it is missing at any
//! time and the folder that is left over may go.

use std::fs;
use std::path::{Path, PathBuf};

use super::error::{FolderError, system};
use super::held::{Held, is_real_folder, names_in};
use super::step::Step;

/// The steps that write `files` to `beside` and put that in the place of `folder`, which holds `held` or does not
/// exist; with the number of those after which the new folder stands there.
///
/// # Errors
/// When what is to be carried over cannot be looked into.
pub(super) fn steps(
    folder: &Path,
    beside: &Path,
    held: Option<&Held>,
    files: &[(String, Vec<u8>)],
) -> Result<(Vec<Step>, usize), FolderError> {
    let inputs = beside.join("inputs");
    let mut steps = vec![Step::Make(beside.to_owned()), Step::Make(inputs.clone())];
    steps.extend(
        files.iter().map(|(name, bytes)| Step::Write { place: beside.join(name), bytes: bytes.clone() }),
    );
    let mut after = Vec::new();
    if let Some(held) = held {
        for name in &held.others {
            carried(folder, beside, Path::new(name), &mut steps, &mut after)?;
        }
        let ours = held.own.iter().chain(&held.unfinished);
        after.extend(ours.map(|name| Step::Remove(beside.join(name))));
        steps.push(Step::Permit { like: folder.to_owned(), folder: beside.to_owned() });
    }
    steps.extend([Step::Sync(inputs.clone()), Step::Sync(beside.to_owned())]);
    steps.push(match held {
        Some(_) => Step::Exchange { one: beside.to_owned(), other: folder.to_owned() },
        None => Step::Move { from: beside.to_owned(), to: folder.to_owned() },
    });
    let done = steps.len();
    if let Some(parent) = folder.parent() {
        steps.push(Step::Sync(parent.to_owned()));
    }
    steps.extend(after);
    if held.is_some() {
        steps.extend([Step::RemoveFolder(inputs), Step::RemoveFolder(beside.to_owned())]);
    }
    Ok((steps, done))
}

/// Steps that let `name` of `folder` stand in `beside` as well, and those that take away what is then left over.
fn carried(
    folder: &Path,
    beside: &Path,
    name: &Path,
    before: &mut Vec<Step>,
    after: &mut Vec<Step>,
) -> Result<(), FolderError> {
    let (from, to) = (folder.join(name), beside.join(name));
    if !is_real_folder(&from) {
        before.push(Step::Carry { from, to: to.clone() });
        after.push(Step::Remove(to));
        return Ok(());
    }
    before.push(Step::Make(to.clone()));
    for inner in names_in(&from)?.unwrap_or_default() {
        carried(folder, beside, &name.join(inner), before, after)?;
    }
    before.push(Step::Permit { like: from, folder: to.clone() });
    after.push(Step::RemoveFolder(to));
    Ok(())
}

/// The steps that remove what a killed run left at `beside`: our files, and those of the person's that `folder` has
/// as well.
///
/// # Errors
/// When there is something that is nowhere else.
pub(super) fn clear(folder: &Path, beside: &Path) -> Result<Vec<Step>, FolderError> {
    let Some(held) = Held::look(beside)? else { return Ok(Vec::new()) };
    let ours = held.own.iter().chain(&held.unfinished);
    let mut steps: Vec<Step> = ours.map(|name| Step::Remove(beside.join(name))).collect();
    for name in &held.others {
        twice(folder, beside, Path::new(name), &mut steps)?;
    }
    steps.extend([Step::RemoveFolder(beside.join("inputs")), Step::RemoveFolder(beside.to_owned())]);
    Ok(steps)
}

fn twice(folder: &Path, beside: &Path, name: &Path, steps: &mut Vec<Step>) -> Result<(), FolderError> {
    let (kept, left) = (folder.join(name), beside.join(name));
    if is_real_folder(&left) {
        for inner in names_in(&left)?.unwrap_or_default() {
            twice(folder, beside, &name.join(inner), steps)?;
        }
        steps.push(Step::RemoveFolder(left));
        return Ok(());
    }
    if !same(&kept, &left).map_err(|error| system(&left, error))? {
        let found = name.display().to_string();
        return Err(FolderError::LeftBehind { folder: beside.to_owned(), found });
    }
    steps.push(Step::Remove(left));
    Ok(())
}

/// Is it one file, or do two files hold the same?
fn same(one: &PathBuf, other: &PathBuf) -> std::io::Result<bool> {
    #[cfg(unix)]
    {
        use std::os::unix::fs::MetadataExt as _;
        let of = |path| fs::symlink_metadata(path).map(|about| (about.dev(), about.ino())).ok();
        if of(one).is_some_and(|here| Some(here) == of(other)) {
            return Ok(true);
        }
    }
    let are_files =
        [one, other].iter().all(|path| fs::symlink_metadata(path).is_ok_and(|about| about.is_file()));
    Ok(are_files && fs::read(one)? == fs::read(other)?)
}
