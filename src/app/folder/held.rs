//! What an output folder holds, and whose it is.
//!
//! A file is ours when a record that lies there names it with the digest it has. Any other file is the person's: one
//! of a name that a plan writes is in the way, everything else stays where it is.

use std::collections::BTreeSet;
use std::fs;
use std::io;
use std::path::Path;

use super::error::{FolderError, system};
use super::{OWN_FILES, RECORD, UNFINISHED};
use crate::verifying;

/// What file managers leave in a folder that is only looked at; it makes no folder anybody's.
const TRACES: &[&str] = &[".DS_Store", "Thumbs.db", "desktop.ini"];

/// What a folder holds.
#[derive(Debug, Default)]
pub(super) struct Held {
    /// Files of names that a plan writes, the record first.
    pub(super) own: Vec<String>,
    /// Unfinished files of ours, from a run that was killed.
    pub(super) unfinished: Vec<String>,
    /// Everything else, files and folders.
    pub(super) others: Vec<String>,
    /// True when a record of a plan lies there.
    pub(super) has_record: bool,
}

impl Held {
    /// Looks into `folder`; nothing when there is none.
    ///
    /// # Errors
    /// When it cannot be looked into, is a file, or has something that is no file in the place of one of ours.
    pub(super) fn look(folder: &Path) -> Result<Option<Held>, FolderError> {
        let Some(names) = names_in(folder)? else { return Ok(None) };
        let mut held = Held { has_record: is_record(folder), ..Held::default() };
        for name in names {
            if name == "inputs" {
                // A link would lead the copies to somebody else's folder.
                if !is_real_folder(&folder.join(&name)) {
                    return Err(FolderError::NotOurs { folder: folder.to_owned(), found: name });
                }
                let inner = names_in(&folder.join(&name))?.unwrap_or_default();
                inner.into_iter().for_each(|file| held.sort_in(format!("inputs/{file}")));
            } else {
                held.sort_in(name);
            }
        }
        for name in &held.own {
            if is_real_folder(&folder.join(name)) {
                return Err(FolderError::NotOurs { folder: folder.to_owned(), found: name.clone() });
            }
        }
        held.own.sort_by_key(|name| name != RECORD);
        Ok(Some(held))
    }

    fn sort_in(&mut self, name: String) {
        let last = name.rsplit('/').next().unwrap_or_default();
        if OWN_FILES.contains(&name.as_str()) {
            self.own.push(name);
        } else if last.starts_with(UNFINISHED) {
            self.unfinished.push(name);
        } else {
            self.others.push(name);
        }
    }

    /// Refuses what may not be written over without being told to: a folder without a plan that holds something, or a
    /// file of one of our names that no record in `folders` has so and that is not among `kept`.
    ///
    /// # Errors
    /// With the first such file.
    pub(super) fn may_go(
        &self,
        folder: &Path,
        records: &[&Path],
        kept: &BTreeSet<String>,
    ) -> Result<(), FolderError> {
        let known: BTreeSet<(String, String)> = records.iter().flat_map(|folder| listed(folder)).collect();
        if known.is_empty() && !self.has_record {
            let mut found = self.own.iter().chain(&self.others);
            return match found.find(|name| !TRACES.contains(&name.as_str())) {
                Some(found) => Err(FolderError::NotOurs { folder: folder.to_owned(), found: found.clone() }),
                None => Ok(()),
            };
        }
        for name in self.own.iter().filter(|name| *name != RECORD || !self.has_record) {
            let place = folder.join(name);
            let bytes = fs::read(&place).map_err(|error| system(&place, error))?;
            let digest = verifying::digest(&bytes);
            let is_file = fs::symlink_metadata(&place).is_ok_and(|about| about.is_file());
            if !is_file || !(kept.contains(&digest) || known.contains(&(name.clone(), digest))) {
                return Err(FolderError::Changed { folder: folder.to_owned(), found: name.clone() });
            }
        }
        Ok(())
    }
}

/// The files that the record in `folder` names, with their digests.
fn listed(folder: &Path) -> Vec<(String, String)> {
    let record = fs::read_to_string(folder.join(RECORD)).unwrap_or_default();
    verifying::files_named(&record)
}

/// Does a record of a plan lie in `folder`?
pub(super) fn is_record(folder: &Path) -> bool {
    let Ok(bytes) = fs::read(folder.join(RECORD)) else { return false };
    let Ok(value) = serde_json::from_slice::<serde_json::Value>(&bytes) else { return false };
    value.get("format").and_then(serde_json::Value::as_str) == Some("cutcloth-plan")
}

pub(super) fn is_real_folder(path: &Path) -> bool {
    fs::symlink_metadata(path).is_ok_and(|about| about.is_dir())
}

/// The names in a folder, sorted; nothing when there is none.
///
/// # Errors
/// When it cannot be looked into.
pub(super) fn names_in(folder: &Path) -> Result<Option<Vec<String>>, FolderError> {
    let entries = match fs::read_dir(folder) {
        Ok(entries) => entries,
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(None),
        Err(error) => return Err(system(folder, error)),
    };
    let mut names = Vec::new();
    for entry in entries {
        let name = entry.map_err(|error| system(folder, error))?.file_name();
        // A name that is no text cannot be told to anybody, so it is not carried over.
        let name = name.into_string().map_err(|name| FolderError::NotOurs {
            folder: folder.to_owned(),
            found: name.to_string_lossy().into_owned(),
        })?;
        names.push(name);
    }
    names.sort();
    Ok(Some(names))
}
