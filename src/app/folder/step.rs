//! What is done to the file system, one step after the other, so that a run may be killed between any two of them.

use std::fs::{self, File};
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};

use super::error::{FolderError, system};

/// One change to the file system.
#[derive(Clone, Debug)]
pub(super) enum Step {
    /// Makes a folder, if it is not there.
    Make(PathBuf),
    /// Writes a file whole, down to the disk.
    Write { place: PathBuf, bytes: Vec<u8> },
    /// Lets a file of the person's also stand in a second place: the same file where the system can, else a copy.
    Carry { from: PathBuf, to: PathBuf },
    /// Gives a folder the permissions of another.
    Permit { like: PathBuf, folder: PathBuf },
    /// Brings the names in a folder down to the disk.
    Sync(PathBuf),
    /// Two folders change places.
    Exchange { one: PathBuf, other: PathBuf },
    /// Moves a file over another, or a folder to where none is.
    Move { from: PathBuf, to: PathBuf },
    /// Removes a file; one that is gone already is no trouble.
    Remove(PathBuf),
    /// Removes an empty folder; one that is gone already is no trouble.
    RemoveFolder(PathBuf),
}

impl Step {
    /// Does it.
    ///
    /// # Errors
    /// What the system said, and of what.
    pub(super) fn take(&self) -> Result<(), FolderError> {
        let (path, done) = match self {
            Step::Make(folder) => (folder, make(folder)),
            Step::Write { place, bytes } => (place, write(place, bytes)),
            Step::Carry { from, to } => (from, carry(from, to)),
            Step::Permit { like, folder } => (
                folder,
                fs::metadata(like).and_then(|about| fs::set_permissions(folder, about.permissions())),
            ),
            Step::Sync(folder) => (folder, sync(folder)),
            Step::Exchange { one, other } => (other, exchange(one, other)),
            Step::Move { from, to } => (to, fs::rename(from, to)),
            Step::Remove(file) => (file, gone(fs::remove_file(file))),
            Step::RemoveFolder(folder) => (folder, gone(fs::remove_dir(folder))),
        };
        done.map_err(|error| system(path, error))
    }
}

fn make(folder: &Path) -> io::Result<()> {
    match fs::create_dir(folder) {
        Err(error) if error.kind() == io::ErrorKind::AlreadyExists => Ok(()),
        done => done,
    }
}

fn write(place: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut file = File::create(place)?;
    file.write_all(bytes)?;
    file.sync_all()
}

fn carry(from: &Path, to: &Path) -> io::Result<()> {
    if fs::hard_link(from, to).is_ok() {
        return Ok(());
    }
    if !fs::symlink_metadata(from)?.is_file() {
        return Err(io::Error::other("it cannot be kept where the new plan goes"));
    }
    fs::copy(from, to)?;
    File::open(to)?.sync_all()
}

/// Elsewhere than on Unix a folder cannot be opened, and the system sees to it.
fn sync(folder: &Path) -> io::Result<()> {
    if cfg!(unix) { File::open(folder)?.sync_all() } else { Ok(()) }
}

#[cfg(any(target_os = "linux", target_os = "android", target_vendor = "apple"))]
fn exchange(one: &Path, other: &Path) -> io::Result<()> {
    use rustix::fs::{CWD, RenameFlags, renameat_with};
    Ok(renameat_with(CWD, one, CWD, other, RenameFlags::EXCHANGE)?)
}

#[cfg(not(any(target_os = "linux", target_os = "android", target_vendor = "apple")))]
fn exchange(_one: &Path, _other: &Path) -> io::Result<()> {
    Err(io::ErrorKind::Unsupported.into())
}

fn gone(done: io::Result<()>) -> io::Result<()> {
    match done {
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(()),
        done => done,
    }
}
