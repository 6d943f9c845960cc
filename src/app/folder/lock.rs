//! A lock against two runs that write into one folder: a file beside it, held until the run ends.
//!
//! The system lets go of it when a run is killed; the file is then left, and the next run takes it and removes it.

use std::fs::{self, File, OpenOptions, TryLockError};
use std::io;
use std::path::{Path, PathBuf};

/// Held until it is dropped.
#[derive(Debug)]
pub(super) struct Lock {
    place: PathBuf,
    _file: File,
}

impl Lock {
    /// Takes the lock at `place`; nothing when another run holds it.
    ///
    /// # Errors
    /// When the system lets no file be made there, or knows no locks.
    pub(super) fn take(place: &Path) -> io::Result<Option<Lock>> {
        loop {
            let file = OpenOptions::new().create(true).truncate(false).write(true).open(place)?;
            match file.try_lock() {
                Ok(()) if is_at(&file, place) => {
                    return Ok(Some(Lock { place: place.to_owned(), _file: file }));
                }
                // The run that held it took its file away between the two steps.
                Ok(()) => {}
                Err(TryLockError::WouldBlock) => return Ok(None),
                Err(TryLockError::Error(error)) => return Err(error),
            }
        }
    }
}

impl Lock {
    /// Does it lie in `folder`?
    pub(super) fn is_in(&self, folder: &Path) -> bool {
        self.place.parent() == Some(folder)
    }
}

impl Drop for Lock {
    fn drop(&mut self) {
        // While it is locked, so that no other run holds a file that is no longer there without seeing it.
        if cfg!(unix) {
            let _ = fs::remove_file(&self.place);
        }
    }
}

#[cfg(unix)]
fn is_at(file: &File, place: &Path) -> bool {
    use std::os::unix::fs::MetadataExt as _;
    let of = |about: io::Result<fs::Metadata>| about.map(|about| (about.dev(), about.ino())).ok();
    of(file.metadata()) == of(fs::metadata(place))
}

/// Elsewhere the file stays, so it is always the one that was opened.
#[cfg(not(unix))]
fn is_at(_file: &File, _place: &Path) -> bool {
    true
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_lock_is_held_once_and_leaves_nothing() {
        let shop = tempfile::TempDir::new().expect("a folder");
        let place = shop.path().join("lock");
        let first = Lock::take(&place).expect("a lock").expect("free");
        assert!(Lock::take(&place).expect("an answer").is_none());
        drop(first);
        assert!(!cfg!(unix) || !place.exists());
        assert!(Lock::take(&place).expect("a lock").is_some());
    }

    #[test]
    fn what_a_killed_run_left_is_free() {
        let shop = tempfile::TempDir::new().expect("a folder");
        let place = shop.path().join("lock");
        fs::write(&place, "").expect("a file");
        assert!(Lock::take(&place).expect("a lock").is_some());
    }
}
