//! Why nothing was written, as a person is told.

use std::fmt;
use std::io;
use std::path::{Path, PathBuf};

/// Why nothing was written.
#[derive(Debug)]
pub enum FolderError {
    /// The folder holds another person's files.
    NotOurs {
        /// The folder.
        folder: PathBuf,
        /// One of the files.
        found: String,
    },
    /// A file has the name of one that a plan writes, and is not as a plan wrote it.
    Changed {
        /// The folder.
        folder: PathBuf,
        /// The file.
        found: String,
    },
    /// Another run is writing there.
    Busy(PathBuf),
    /// What a killed run left holds something that a plan does not write and that is nowhere else.
    LeftBehind {
        /// What was left.
        folder: PathBuf,
        /// What it holds.
        found: String,
    },
    /// There is a file of that name.
    Exists(PathBuf),
    /// There is no such folder.
    Missing(PathBuf),
    /// The system refused.
    System {
        /// What was touched.
        path: PathBuf,
        /// What it said.
        error: io::Error,
    },
}

impl fmt::Display for FolderError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            FolderError::NotOurs { folder, found } => write!(
                out,
                "{} holds \"{found}\", which is not from an earlier plan; nothing was written\n  \
                 help: name an empty folder, or add --force to write there all the same",
                folder.display()
            ),
            FolderError::Changed { folder, found } => write!(
                out,
                "{} holds \"{found}\", which is not as the plan there wrote it; nothing was written\n  \
                 help: keep it under another name, name another folder, or add --force to replace it",
                folder.display()
            ),
            FolderError::Busy(folder) => write!(
                out,
                "another run is at work on {}; nothing was written\n  \
                 help: wait until it has ended, or name another folder",
                folder.display()
            ),
            FolderError::LeftBehind { folder, found } => write!(
                out,
                "{} was left by a run that was ended, and holds \"{found}\", which is nowhere else\n  \
                 help: move that to where you want it, delete the rest, and run again",
                folder.display()
            ),
            FolderError::Exists(path) => write!(
                out,
                "{} is there already; nothing was written\n  help: choose another name, or add --force to replace it",
                path.display()
            ),
            FolderError::Missing(folder) => write!(
                out,
                "the folder {} does not exist; nothing was written\n  help: make it first, or name another",
                folder.display()
            ),
            FolderError::System { path, error } => write!(out, "{}: {error}", path.display()),
        }
    }
}

impl std::error::Error for FolderError {}

/// What the system said of `path`.
pub(super) fn system(path: &Path, error: io::Error) -> FolderError {
    FolderError::System { path: path.to_owned(), error }
}
