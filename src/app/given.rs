//! Input files as a person gives them, and everything that is wrong with them at once.

use std::fs::{self, File};
use std::io::Read as _;
use std::path::Path;

use crate::app::{folder, held, idle};
use crate::diagnostic::limits::{FILE_BYTES, RECORD_BYTES, grouped};
use crate::diagnostic::{Diagnostic, Place, any_error};
use crate::length::Length;
use crate::pattern::demand::{Demand, Loosened};
use crate::pattern::{self, Pattern};
use crate::placements::{self, Placements};
use crate::planning;
use crate::stash::{self, Stash};

/// One input file: its name, without folders, and its bytes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Given {
    /// As messages name it.
    pub name: String,
    /// What is in it.
    pub bytes: Vec<u8>,
}

impl Given {
    /// Reads the stash, pattern or placements at `path`.
    ///
    /// # Errors
    /// One diagnostic when it cannot be read, or is larger than any such file.
    pub fn open(path: &Path) -> Result<Given, Box<Diagnostic>> {
        Given::open_up_to(path, FILE_BYTES)
    }

    /// Reads the record of a plan at `path`.
    ///
    /// # Errors
    /// As [`Given::open`].
    pub(super) fn open_record(path: &Path) -> Result<Given, Box<Diagnostic>> {
        Given::open_up_to(path, RECORD_BYTES)
    }

    /// Counts the bytes as they come: a device or a pipe has no size to ask for.
    fn open_up_to(path: &Path, most: u64) -> Result<Given, Box<Diagnostic>> {
        let shown = path.display().to_string();
        let refuse = |message: String, help: &str| {
            Box::new(Diagnostic::error("F100", Place::file(&shown), message, help))
        };
        if let Some(folder) = folder::unfinished(path) {
            let message = format!("a run has not done writing into {}, or was ended", folder.display());
            let help = "it may hold files of two plans: wait for that run, or plan into the folder again";
            return Err(Box::new(Diagnostic::error("F114", Place::file(&shown), message, help)));
        }
        match fs::metadata(path) {
            Ok(about) if about.is_dir() => {
                return Err(refuse("this is a folder, not a file".to_owned(), "name a file in it"));
            }
            Ok(_) => {}
            Err(error) => return Err(refuse(format!("it cannot be read: {error}"), "check the name")),
        }
        let mut bytes = Vec::new();
        File::open(path)
            .and_then(|file| file.take(most + 1).read_to_end(&mut bytes))
            .map_err(|error| refuse(format!("it cannot be read: {error}"), "check that you may read it"))?;
        if bytes.len() as u64 > most {
            let message = format!("the file has more than {} bytes; no more are read", grouped(most));
            return Err(refuse(message, "check that it is the right file"));
        }
        Ok(Given { name: name_of(path), bytes })
    }
}

/// The last part of a path: a message that is the same on every machine has no folders in it.
fn name_of(path: &Path) -> String {
    path.file_name().map_or_else(|| path.display().to_string(), |name| name.to_string_lossy().into_owned())
}

/// Stash, pattern and placements, read and fitting together.
#[derive(Clone, Debug)]
pub struct Understood {
    /// What is on the shelf.
    pub stash: Stash,
    /// What the quilt needs.
    pub pattern: Pattern,
    /// What the quilter has decided.
    pub placements: Placements,
}

/// `pattern`, read from `file`, in the size named; an error in `said` when it does not come in that size.
pub(super) fn at_size(
    pattern: Pattern,
    file: &str,
    size: Option<&str>,
    said: &mut Vec<Diagnostic>,
) -> Pattern {
    let Some(size) = size else { return pattern };
    let found = pattern.find_size(size).and_then(|index| pattern.at_size(index));
    // A pattern that cannot be read has been told about already.
    if found.is_none() && !any_error(said) {
        let names: Vec<&str> = pattern.sizes.iter().map(|size| size.name.as_str()).collect();
        let help = match names.as_slice() {
            [] => "leave --size out: it comes in one size".to_owned(),
            _ => format!("use one of: {}", names.join(", ")),
        };
        let message = format!("the pattern has no size \"{size}\"");
        said.push(Diagnostic::error("T121", Place::file(file), message, &help));
    }
    found.unwrap_or(pattern)
}

/// What is wrong with the placements for this stash and pattern.
pub(super) fn decisions(decided: &Placements, stash: &Stash, pattern: &Pattern) -> Vec<Diagnostic> {
    let demand = Demand::expand(pattern, &Loosened::default());
    let (_, mut said) = placements::pins(decided, stash, pattern, &demand);
    // Pieces that the designer's first choices do not have, another way of making the units may.
    if any_error(&said) && planning::some_ways_suit(decided, stash, pattern) {
        said.retain(|one| !one.is_error());
    }
    said.extend(placements::places(decided, pattern).1);
    said
}

/// Reads all three, in the size named or the main one, going on after the first mistake.
///
/// Returns what was understood, unless something is an error, and every diagnostic of every file; whether
/// placements fit pattern and stash is asked only when those can be read.
pub fn understand(
    stash: &Given,
    pattern: &Given,
    placements: Option<&Given>,
    allowance: Length,
    size: Option<&str>,
) -> (Option<Understood>, Vec<Diagnostic>) {
    let (stash, mut said) = stash::read(&stash.name, &stash.bytes, allowance);
    let (read, more) = pattern::read(&pattern.name, &pattern.bytes);
    said.extend(more);
    let file = pattern.name.clone();
    let pattern = at_size(read, &file, size, &mut said);
    let mut decided = Placements::default();
    if let Some(given) = placements {
        let (read, more) = placements::read(&given.name, &given.bytes);
        decided = read;
        said.extend(more);
    }
    if any_error(&said) {
        return (None, said);
    }
    said.extend(idle::rules(&pattern, &file));
    said.extend(held::rules(&pattern, &file, &stash));
    said.extend(decisions(&decided, &stash, &pattern));
    if any_error(&said) {
        return (None, said);
    }
    (Some(Understood { stash, pattern, placements: decided }), said)
}
