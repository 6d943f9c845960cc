//! The output folder: whose it is, and writing into it without harm.
//!
//! A folder is one thing: at any time, whatever kills the run, it holds the old plan whole or the new one whole
//! (`beside`), or says that it does not (`inside`). A person's files are never lost: what is not ours stays, and a file
//! of ours that was changed is only replaced when the person insists. Two runs do not write into one folder at once.

use std::collections::BTreeSet;
use std::env;
use std::fs;
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};

use tempfile::Builder;

mod beside;
mod error;
mod held;
mod inside;
mod lock;
mod step;

pub use error::FolderError;

use crate::verifying;
use error::system;
use held::Held;
use lock::Lock;
use step::Step;

/// Every file a plan may write, with the folder `inputs` for copies.
pub const OWN_FILES: &[&str] = &[
    "inputs/stash.csv",
    "inputs/chart.csv",
    "inputs/pattern.toml",
    "inputs/placements.csv",
    "sheet.html",
    "cuts.csv",
    "placements.csv",
    "leftovers.csv",
    "buy.csv",
    "quilt.svg",
    RECORD,
];

/// The record of a plan; it marks a folder as ours.
pub const RECORD: &str = "plan.json";

/// A folder of this name lies in an output folder while files are moved into it one by one.
pub const MARK: &str = ".cutcloth-unfinished";

/// Beginning of the names of unfinished files, which a killed run may leave.
const UNFINISHED: &str = ".cutcloth-unfinished";

/// An output folder that this run alone may write into.
#[derive(Debug)]
pub struct Claim {
    folder: PathBuf,
    force: bool,
    lock: Option<Lock>,
}

/// Claims `folder` for writing, before any work is done for it. Files of ours that were changed are no hindrance where
/// what they hold is among `kept`, the inputs of the run, since those are copied into the new folder.
///
/// # Errors
/// When another run has claimed it, or as [`Claim::write`].
pub fn claim(folder: &Path, force: bool, kept: &[&[u8]]) -> Result<Claim, FolderError> {
    let mut claim = Claim { folder: real(folder), force, lock: None };
    claim.lock()?;
    claim.look(kept)?;
    Ok(claim)
}

impl Claim {
    /// Writes `files`, given by name within the folder and content; all of them or none.
    ///
    /// Files of an earlier plan that this one does not have are removed; everything that is not ours stays. Returns
    /// what stands in the way of tidying up after it, if anything does; the plan is there all the same.
    ///
    /// # Errors
    /// When the folder holds what may not be replaced and is not `force`d, or the system refuses.
    pub fn write(mut self, files: &[(String, Vec<u8>)]) -> Result<Option<FolderError>, FolderError> {
        if let Some(parent) = self.folder.parent() {
            fs::create_dir_all(parent).map_err(|error| system(parent, error))?;
            // What did not exist before can be told from a link only now.
            self.folder = real(&self.folder);
        }
        self.lock()?;
        self.recover()?;
        let kept: Vec<&[u8]> = files.iter().map(|(_, bytes)| bytes.as_slice()).collect();
        let held = self.look(&kept)?;
        if let Some(beside) = self.beside() {
            let (steps, done) = beside::steps(&self.folder, &beside, held.as_ref(), files)?;
            match run(&steps, done) {
                Ok(left) => return Ok(left),
                Err(FolderError::System { error, .. }) if held.is_some() && cannot_exchange(&error) => {
                    all(&beside::clear(&self.folder, &beside)?)?;
                }
                Err(error) => {
                    // What cannot be taken away now, the next run takes away.
                    let _ = beside::clear(&self.folder, &beside).and_then(|steps| all(&steps));
                    return Err(error);
                }
            }
        }
        let (steps, done) = inside::steps(&self.folder, files);
        run(&steps, done)
    }

    /// Ends what a killed run began, or takes it away.
    fn recover(&self) -> Result<(), FolderError> {
        if let Some(beside) = self.beside() {
            all(&beside::clear(&self.folder, &beside)?)?;
        }
        let record = fs::read_to_string(self.folder.join(MARK).join(RECORD)).unwrap_or_default();
        let listed: Vec<String> = verifying::files_named(&record).into_iter().map(|(name, _)| name).collect();
        if !listed.is_empty() {
            self.look(&[])?;
        }
        all(&inside::finish(&self.folder, &listed)?)
    }

    /// What the folder holds, unless that may not be written over.
    fn look(&self, kept: &[&[u8]]) -> Result<Option<Held>, FolderError> {
        let Some(held) = Held::look(&self.folder)? else { return Ok(None) };
        if !self.force {
            let kept: BTreeSet<String> = kept.iter().map(|bytes| verifying::digest(bytes)).collect();
            held.may_go(&self.folder, &[&self.folder, &self.folder.join(MARK)], &kept)?;
        }
        Ok(Some(held))
    }

    /// Takes the lock, if it is not taken: beside the folder, or in it where that cannot be written to. Until there is
    /// such a place, and where the system knows no locks, there is none.
    fn lock(&mut self) -> Result<(), FolderError> {
        if self.lock.is_some() {
            return Ok(());
        }
        let places = self.hidden("lock").into_iter().chain([self.folder.join(".cutcloth-unfinished-lock")]);
        for place in places {
            match Lock::take(&place) {
                Ok(Some(lock)) => {
                    self.lock = Some(lock);
                    break;
                }
                Ok(None) => return Err(FolderError::Busy(self.folder.clone())),
                Err(_) => {}
            }
        }
        Ok(())
    }

    /// Where the new folder is written, unless that cannot take the place of this one: a shell that stands in it would
    /// be left in a folder that is gone.
    fn beside(&self) -> Option<PathBuf> {
        let here = env::current_dir().and_then(fs::canonicalize);
        let is_stood_in = here.is_ok_and(|here| here.starts_with(&self.folder));
        let is_locked_beside = self.lock.as_ref().is_some_and(|lock| !lock.is_in(&self.folder));
        if is_stood_in || !is_locked_beside { None } else { self.hidden("unfinished") }
    }

    fn hidden(&self, what: &str) -> Option<PathBuf> {
        let name = self.folder.file_name()?.to_string_lossy();
        Some(self.folder.parent()?.join(format!(".{name}.cutcloth-{what}")))
    }
}

/// The folder itself, not a link to it, by its whole path as far as that exists.
fn real(folder: &Path) -> PathBuf {
    if let Ok(whole) = fs::canonicalize(folder) {
        return whole;
    }
    let whole = std::path::absolute(folder).unwrap_or_else(|_| folder.to_owned());
    match (whole.parent().map(fs::canonicalize), whole.file_name()) {
        (Some(Ok(parent)), Some(name)) => parent.join(name),
        _ => whole,
    }
}

/// Takes every step.
fn all(steps: &[Step]) -> Result<(), FolderError> {
    steps.iter().try_for_each(Step::take)
}

/// Takes every step; what fails after the first `done` is told, and no error.
fn run(steps: &[Step], done: usize) -> Result<Option<FolderError>, FolderError> {
    all(&steps[..done])?;
    Ok(all(&steps[done..]).err())
}

/// Is it that the system cannot exchange folders there, as across a mount?
fn cannot_exchange(error: &io::Error) -> bool {
    use io::ErrorKind::{CrossesDevices, InvalidInput, PermissionDenied, ResourceBusy, Unsupported};
    matches!(error.kind(), CrossesDevices | InvalidInput | PermissionDenied | ResourceBusy | Unsupported)
}

/// Does `file` lie in an output folder into which files are being moved, or were when a run was ended? The folder.
pub fn unfinished(file: &Path) -> Option<&Path> {
    let folder = file.parent()?;
    let outer = folder.parent().filter(|_| folder.ends_with("inputs"));
    [Some(folder), outer].into_iter().flatten().find(|folder| folder.join(MARK).is_dir())
}

/// Writes one file whole, or not at all. What is there already stays, unless `force`d.
///
/// # Errors
/// When there is such a file already, or the system refuses.
pub fn write_file(place: &Path, content: &[u8], force: bool) -> Result<(), FolderError> {
    let folder = place.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    if !folder.is_dir() {
        return Err(FolderError::Missing(folder.to_owned()));
    }
    let whole = compose(folder, content).map_err(|error| system(place, error))?;
    if force {
        return whole.persist(place).map(drop).map_err(|error| system(place, error.error));
    }
    whole.persist_noclobber(place).map(drop).map_err(|error| match error.error.kind() {
        io::ErrorKind::AlreadyExists => FolderError::Exists(place.to_owned()),
        _ => system(place, error.error),
    })
}

fn compose(folder: &Path, content: &[u8]) -> io::Result<tempfile::NamedTempFile> {
    let mut builder = Builder::new();
    builder.prefix(UNFINISHED);
    // Like any file the person makes, not only for the person's own eyes: the usual mask applies.
    #[cfg(unix)]
    builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
    let mut file = builder.tempfile_in(folder)?;
    file.write_all(content)?;
    Ok(file)
}

#[cfg(test)]
mod tests;
