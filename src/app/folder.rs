//! The output folder: whose it is, and writing into it without harm.
//!
//! A person's files are never overwritten: only a folder that does not exist, is empty, or holds an earlier
//! plan of ours and nothing else is written into, unless the person insists. Each file is whole or not there
//! at all, and `plan.json` comes last: where it stands, everything it speaks of stands too.

use std::fmt;
use std::fs;
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};

use tempfile::Builder;

/// Every file a plan may write, with the folder `inputs` for copies. An own folder holds nothing else.
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

/// What file managers leave in a folder that is only looked at; it is nobody's work.
const TRACES: &[&str] = &[".DS_Store", "Thumbs.db", "desktop.ini"];

/// Beginning of the names of unfinished files, which a killed run may leave.
const UNFINISHED: &str = ".cutcloth-unfinished-";

/// Whose a folder is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Owner {
    /// It does not exist yet, or is empty.
    Nobody,
    /// It holds a plan of ours and nothing else.
    Us,
    /// It holds something else, the first of which is named.
    Someone(String),
}

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

/// Finds out whose `folder` is.
///
/// # Errors
/// When it cannot be looked into, or is a file.
pub fn owner(folder: &Path) -> Result<Owner, FolderError> {
    let names = match names_in(folder) {
        Ok(names) => names,
        Err(FolderError::System { error, .. }) if error.kind() == io::ErrorKind::NotFound => {
            return Ok(Owner::Nobody);
        }
        Err(error) => return Err(error),
    };
    if names.is_empty() {
        return Ok(Owner::Nobody);
    }
    for name in &names {
        if name == "inputs" {
            // A link would lead the copies to somebody else's folder.
            let real = fs::symlink_metadata(folder.join(name)).is_ok_and(|what| what.is_dir());
            if !real {
                return Ok(Owner::Someone(name.clone()));
            }
            let inner = names_in(&folder.join(name))?.into_iter().map(|file| format!("inputs/{file}"));
            if let Some(found) = inner.into_iter().find(|file| !known(file)) {
                return Ok(Owner::Someone(found));
            }
        } else if !known(name) {
            return Ok(Owner::Someone(name.clone()));
        }
    }
    if is_record(&folder.join(RECORD)) {
        return Ok(Owner::Us);
    }
    // Nothing but unfinished files is what a run leaves that was killed before its first whole one.
    match names.into_iter().find(|name| name != "inputs" && !name.starts_with(UNFINISHED)) {
        Some(found) => Ok(Owner::Someone(found)),
        None if names_in(&folder.join("inputs")).is_ok_and(|inner| !inner.is_empty()) => {
            Ok(Owner::Someone("inputs".to_owned()))
        }
        None => Ok(Owner::Nobody),
    }
}

/// Refuses a folder that `write` would refuse, before any work is done for it.
///
/// # Errors
/// As [`write()`].
pub fn may_write(folder: &Path, force: bool) -> Result<(), FolderError> {
    match owner(folder)? {
        Owner::Someone(found) if !force => Err(FolderError::NotOurs { folder: folder.to_owned(), found }),
        Owner::Someone(_) | Owner::Nobody | Owner::Us => Ok(()),
    }
}

/// Writes `files`, given by name within `folder` and content.
///
/// First every file is written whole beside its place, then all are moved there, the record last. In a folder
/// of ours, files of the earlier plan that this one does not have are removed.
///
/// # Errors
/// When the folder is somebody else's and not `force`d, or the system refuses.
pub fn write(folder: &Path, files: &[(String, Vec<u8>)], force: bool) -> Result<(), FolderError> {
    may_write(folder, force)?;
    let ours = owner(folder)? == Owner::Us;
    let inputs = folder.join("inputs");
    fs::create_dir_all(&inputs).map_err(|error| system(&inputs, error))?;
    if fs::symlink_metadata(&inputs).is_ok_and(|what| what.is_symlink()) {
        return Err(FolderError::NotOurs { folder: folder.to_owned(), found: "inputs".to_owned() });
    }
    let mut ready = Vec::new();
    for (name, content) in files {
        let place = folder.join(name);
        let beside = if name.starts_with("inputs/") { inputs.as_path() } else { folder };
        let whole = compose(beside, content).map_err(|error| system(&place, error))?;
        ready.push((name.as_str(), place, whole));
    }
    ready.sort_by_key(|(name, ..)| *name == RECORD);
    if ours {
        for name in OWN_FILES.iter().filter(|name| !files.iter().any(|(file, _)| file == *name)) {
            remove(&folder.join(name))?;
        }
    }
    for (_, place, whole) in ready {
        whole.persist(&place).map_err(|error| system(&place, error.error))?;
    }
    Ok(())
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

fn remove(path: &Path) -> Result<(), FolderError> {
    match fs::remove_file(path) {
        Err(error) if error.kind() != io::ErrorKind::NotFound => Err(system(path, error)),
        _ => Ok(()),
    }
}

fn known(name: &str) -> bool {
    OWN_FILES.contains(&name) || name.rsplit('/').next().is_some_and(|file| file.starts_with(UNFINISHED))
}

fn names_in(folder: &Path) -> Result<Vec<String>, FolderError> {
    let mut names = Vec::new();
    for entry in fs::read_dir(folder).map_err(|error| system(folder, error))? {
        let entry = entry.map_err(|error| system(folder, error))?;
        let name = entry.file_name().to_string_lossy().into_owned();
        if !TRACES.contains(&name.as_str()) {
            names.push(name);
        }
    }
    names.sort();
    Ok(names)
}

fn is_record(path: &Path) -> bool {
    let Ok(bytes) = fs::read(path) else { return false };
    let Ok(value) = serde_json::from_slice::<serde_json::Value>(&bytes) else { return false };
    value.get("format").and_then(serde_json::Value::as_str) == Some("cutcloth-plan")
}

fn system(path: &Path, error: io::Error) -> FolderError {
    FolderError::System { path: path.to_owned(), error }
}
