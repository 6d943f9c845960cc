//! Reading files only to say what is wrong with them: a stash, a pattern or placements, known by its headings.

use crate::app::given::{Given, at_size, decisions};
use crate::app::idle;
use crate::diagnostic::{Diagnostic, Place, any_error};
use crate::length::Length;
use crate::pattern::{self, Pattern};
use crate::placements::{self, Placements};
use crate::stash::{self, Stash};

/// What a file turned out to be.
#[derive(Clone, Debug)]
pub enum Kind {
    /// A stash.
    Stash(Stash),
    /// A cutting chart or pattern file.
    Pattern(Box<Pattern>),
    /// Placements.
    Placements(Placements),
    /// None of these.
    Unknown,
}

/// One file, looked at.
#[derive(Clone, Debug)]
pub struct Checked {
    /// Its name.
    pub name: String,
    /// What it is and holds, in one line.
    pub holds: String,
    /// Everything to say about it.
    pub said: Vec<Diagnostic>,
}

/// A reader's code for a compulsory column that is not there: by it the kind of a file is told.
const MISSING_COLUMN: &str = "F109";

/// Looks at every file, at patterns in the size named or the main one; with a stash, a pattern and placements, one
/// each, also at whether they go together.
pub fn check(files: &[Given], size: Option<&str>) -> Vec<Checked> {
    let mut kinds = Vec::new();
    let mut checked = Vec::new();
    for file in files {
        let (mut kind, mut said) = recognise(file);
        if let Kind::Pattern(pattern) = kind {
            let pattern = at_size(*pattern, &file.name, size, &mut said);
            if !any_error(&said) {
                said.extend(idle::rules(&pattern, &file.name));
            }
            kind = Kind::Pattern(Box::new(pattern));
        }
        checked.push(Checked { name: file.name.clone(), holds: holds(&kind), said });
        kinds.push(kind);
    }
    if let Some((index, said)) = together(&kinds, &checked) {
        checked[index].said.extend(said);
    }
    checked
}

/// True when nothing checked has an error.
pub fn all_right(checked: &[Checked]) -> bool {
    checked.iter().all(|file| !any_error(&file.said))
}

/// What to say of files given in each other's place: a stash as a pattern, a pattern as a stash.
pub(crate) fn misplaced(pattern: &Given, stash: Option<&Given>) -> Vec<Diagnostic> {
    let not_a_pattern = mistaken(pattern, "a stash", "a pattern", |kind| matches!(kind, Kind::Stash(_)));
    let not_a_stash = stash
        .and_then(|stash| mistaken(stash, "a pattern", "a stash", |kind| matches!(kind, Kind::Pattern(_))));
    not_a_pattern.into_iter().chain(not_a_stash).collect()
}

fn mistaken(file: &Given, is: &str, wanted: &str, so: fn(&Kind) -> bool) -> Option<Diagnostic> {
    so(&recognise(file).0).then(|| {
        let message = format!("this looks like {is}, and {wanted} is asked for here");
        Diagnostic::error("F113", Place::file(&file.name), message, "give each file in its own place")
    })
}

fn recognise(file: &Given) -> (Kind, Vec<Diagnostic>) {
    let toml = pattern::is_toml(&file.name, &file.bytes);
    let missing = |said: &[Diagnostic]| said.iter().filter(|one| one.code == MISSING_COLUMN).count();
    // The kind with the most columns of its own comes first: a chart could also be read as a poor stash.
    let mut readings: Vec<(Kind, Vec<Diagnostic>)> = Vec::new();
    if !toml {
        let (placements, said) = placements::read(&file.name, &file.bytes);
        readings.push((Kind::Placements(placements), said));
    }
    let (pattern, said) = pattern::read(&file.name, &file.bytes);
    readings.push((Kind::Pattern(Box::new(pattern)), said));
    if !toml {
        let (stash, said) = stash::read(&file.name, &file.bytes, Length::ZERO);
        readings.push((Kind::Stash(stash), said));
    }
    // What no reader could get at (no text, no rows) is told once, by whichever reader.
    let at = readings.iter().position(|(_, said)| missing(said) == 0);
    if let Some(at) = at {
        return readings.swap_remove(at);
    }
    let help = "a stash has at least print and cut, a cutting chart block, role, width, height and count, \
                placements block, copy, role and print";
    let message = "the headings are those of no file known here".to_owned();
    (Kind::Unknown, vec![Diagnostic::error("F113", Place::file(&file.name), message, help)])
}

fn holds(kind: &Kind) -> String {
    match kind {
        Kind::Stash(stash) => {
            format!("a stash: {}, {}", many(stash.lots.len(), "lot"), many(stash.prints.len(), "print"))
        }
        Kind::Pattern(pattern) => {
            let blocks = pattern.blocks.iter().map(|block| usize::try_from(block.make).unwrap_or(usize::MAX));
            let lines = pattern.blocks.iter().map(|block| block.pieces.len()).sum();
            let size = pattern.size_name().filter(|_| pattern.sizes.len() > 1);
            let others = pattern.sizes.iter().map(|size| size.name.as_str());
            let others: Vec<&str> = others.filter(|name| Some(*name) != size).collect();
            let of =
                size.map_or(String::new(), |size| format!(", size {size} (also in {})", others.join(", ")));
            format!(
                "a pattern{of}: {} of {}, {}, {} to cut",
                many(blocks.fold(0, usize::saturating_add), "block"),
                many(pattern.blocks.len(), "kind"),
                many(pattern.roles.len(), "fabric role"),
                many(lines, "size")
            )
        }
        Kind::Placements(_) => "placements".to_owned(),
        Kind::Unknown => "not a file known here".to_owned(),
    }
}

fn many(number: usize, one: &str) -> String {
    format!("{number} {one}{}", if number == 1 { "" } else { "s" })
}

/// What is wrong between the files, and the index of the placements among them.
fn together(kinds: &[Kind], checked: &[Checked]) -> Option<(usize, Vec<Diagnostic>)> {
    if !all_right(checked) || kinds.len() != 3 {
        return None;
    }
    let stash = kinds.iter().find_map(|kind| match kind {
        Kind::Stash(stash) => Some(stash),
        _ => None,
    })?;
    let pattern = kinds.iter().find_map(|kind| match kind {
        Kind::Pattern(pattern) => Some(pattern.as_ref()),
        _ => None,
    })?;
    let (index, decided) = kinds.iter().enumerate().find_map(|(index, kind)| match kind {
        Kind::Placements(decided) => Some((index, decided)),
        _ => None,
    })?;
    Some((index, decisions(decided, stash, pattern)))
}
