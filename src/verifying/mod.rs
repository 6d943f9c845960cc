//! The independent check: a record of a plan (`plan.json`) is recomputed from the copies of its inputs.
//!
//! Nothing of the engine is used or believed: the pattern is counted out once more, every sheet is measured
//! from the stash, every cut is made again, and whether straight cuts can do it is answered from where the
//! pieces lie. Only the readers of the input files are shared. All faults are reported in one go; a file
//! whose form is wrong, however, is told about its form only.
//!
//! That something does not fit is proved again where the record carries weights for it (`weighing`), for every way of
//! making the units (`every_way`). What is not rechecked: that a bound is a bound, and a refusal without weights. Those
//! are claims of the search; the record states what they rest on.

mod alternatives;
mod asked;
mod between;
mod certificate;
mod changes;
mod contrast;
mod counts;
mod cut_up;
mod decided;
mod design_wall;
mod edges;
mod every_way;
mod fault;
mod fields;
mod files;
mod looks;
mod opened;
mod otherwise;
mod preferences;
mod reading;
mod record;
mod replay;
mod sheet;
mod statements;
mod supply;
mod two_prints;
mod wanted;
mod ways;
mod weighing;

pub use fault::{Claim, Fault, Rule};
pub use files::{belonging, digest, files_named};

use crate::diagnostic::Diagnostic;
use crate::length::Length;
use crate::pattern::{self, Pattern};
use crate::placements::{self, Placements};
use crate::stash::{self, Stash};
use changes::Changes;
use fault::Faults;
use record::Record;
use supply::{Origin, Supply};
use wanted::Wanted;
use weighing::Asked;
pub use weighing::Work;

/// One input file, or the copy of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Source {
    /// The name by which the record knows it, such as `inputs/stash.csv`.
    pub name: String,
    /// What is in it.
    pub bytes: Vec<u8>,
}

/// The copies of the inputs that a plan was made from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Inputs {
    /// The stash.
    pub stash: Source,
    /// The pattern: a cutting chart or a pattern file.
    pub pattern: Source,
    /// What the quilter had decided, if anything.
    pub placements: Option<Source>,
}

/// The names of the input files that a record gives.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct InputNames {
    /// Of the stash.
    pub stash: String,
    /// Of the pattern.
    pub pattern: String,
    /// Of the placements, if there were any.
    pub placements: Option<String>,
}

/// Reads from `plan_json` which files it was made from, so that they can be opened. They are names inside
/// the folder `inputs`, whatever a hostile file says: the caller cannot be led elsewhere.
///
/// # Errors
/// The faults that stand in the way.
pub fn input_names(plan_json: &str) -> Result<InputNames, Vec<Fault>> {
    let names = reading::input_names(plan_json)?;
    let mut faults = Faults::of("");
    for name in [Some(&names.stash), Some(&names.pattern), names.placements.as_ref()].into_iter().flatten() {
        let file = name.strip_prefix("inputs/").unwrap_or_default();
        if file.is_empty() || file.starts_with('.') || file.contains(['/', '\\', ':', '\0']) {
            faults.add(Rule::Inputs, "", format!("\"{name}\" is not the name of a file in inputs/"));
        }
    }
    if faults.count() > 0 {
        return Err(faults.into_list());
    }
    Ok(InputNames { stash: names.stash, pattern: names.pattern, placements: names.placements })
}

/// Recomputes the record `plan_json` from `inputs`, alternatives included, with the usual work for its proofs.
///
/// Returns every fault found, in the order of the record; none when the record is right, whatever its
/// verdict. Never panics, whatever the file contains.
pub fn verify(inputs: &Inputs, plan_json: &str) -> Vec<Fault> {
    verify_within(inputs, plan_json, &mut Work::percent(100, &|| false))
}

/// As [`verify()`], with so much work for all proofs of the record together. A proof that this is not enough for is a
/// fault of its own rule, [`Rule::WorkEnded`]: the record may be right all the same.
pub fn verify_within(inputs: &Inputs, plan_json: &str, work: &mut Work<'_>) -> Vec<Fault> {
    let record = match reading::read(plan_json) {
        Ok(record) => record,
        Err(faults) => return faults,
    };
    let question = match Question::read(inputs, &record) {
        Ok(question) => question,
        Err(faults) => return faults,
    };
    let mut faults = Faults::of("");
    if !record.relaxed.is_empty() {
        let message = format!("{} changes are made to what was asked", record.relaxed.len());
        faults.add(Rule::Change, "", message);
    }
    faults.join(question.check(&record, "", work));
    for (index, alternative) in record.alternatives.iter().enumerate() {
        let whose = format!("alternative {}", index + 1);
        alternatives::frame(alternative, &record, &whose, &mut faults);
        faults.join(question.check(&alternative.plan, &whose, work));
    }
    faults.into_list()
}

/// What was asked: the inputs, read.
struct Question {
    stash: Stash,
    pattern: Pattern,
    placements: Placements,
}

impl Question {
    fn read(inputs: &Inputs, record: &Record) -> Result<Question, Vec<Fault>> {
        let mut faults = Faults::of("");
        let named = &record.inputs;
        let given = inputs.placements.as_ref().map(|source| source.name.as_str());
        for (name, found) in [
            (Some(named.stash.as_str()), Some(inputs.stash.name.as_str())),
            (Some(named.pattern.as_str()), Some(inputs.pattern.name.as_str())),
            (named.placements.as_deref(), given),
        ] {
            if name != found {
                let message = format!(
                    "the record names {}, given is {}",
                    name.unwrap_or("none"),
                    found.unwrap_or("none")
                );
                faults.add(Rule::Inputs, "", message);
            }
        }
        let allowance = Length::from_ticks(record.rules.allowance);
        let (stash, said) = stash::read(&inputs.stash.name, &inputs.stash.bytes, allowance);
        pass_on(said, &mut faults);
        let (pattern, said) = pattern::read(&inputs.pattern.name, &inputs.pattern.bytes);
        pass_on(said, &mut faults);
        let pattern = at_size(pattern, named.size.as_deref(), &mut faults);
        let placements = match &inputs.placements {
            None => Placements::default(),
            Some(source) => {
                let (placements, said) = placements::read(&source.name, &source.bytes);
                pass_on(said, &mut faults);
                placements
            }
        };
        if faults.count() > 0 { Err(faults.into_list()) } else { Ok(Question { stash, pattern, placements }) }
    }

    /// Checks one plan, without its alternatives.
    fn check(&self, record: &Record, whose: &str, work: &mut Work<'_>) -> Faults {
        let mut faults = Faults::of(whose);
        let open = otherwise::made(&self.pattern, record, &mut faults);
        let Some(pattern) = &ways::taken(&open, &record.methods, &mut faults) else {
            return faults;
        };
        let changes = Changes::read(&record.relaxed, &self.stash, pattern, &mut faults);
        let wanted = match Wanted::count(pattern, &changes) {
            Ok(wanted) => wanted,
            Err(message) => {
                faults.add(Rule::Inputs, "", message);
                return faults;
            }
        };
        let places: Vec<String> = record.sheets.iter().enumerate().map(place).collect();
        let mut supply = Supply::new(&self.stash, &changes, record.rules.allowance);
        let mut origins: Vec<Origin> = Vec::new();
        let before = faults.count();
        for (sheet, place) in record.sheets.iter().zip(&places) {
            origins.push(supply.origin(sheet, place, &mut faults));
            sheet::check(sheet, place, &mut faults);
        }
        // Of sheets that are wrong in themselves no figure can be worked out.
        if faults.count() == before {
            preferences::check(record, &origins, &mut faults);
        }
        supply.close(&mut faults);
        counts::check(record, &origins, &places, &wanted, pattern, &mut faults);
        between::check(record, &origins, &self.stash, pattern, &changes, &mut faults);
        two_prints::check(record, &changes, &mut faults);
        decided::check(record, &self.placements, &wanted, &changes, &mut faults);
        design_wall::check(record, self, pattern, &changes, &mut faults);
        opened::check(record, &origins, &places, &mut faults);
        opened::upright(record, &origins, pattern, &mut faults);
        statements::check(record, &mut faults);
        certificate::check(record, &wanted, &self.stash, &mut faults);
        let asked = Asked { question: self, pattern, changes: &changes, wanted: &wanted };
        weighing::check(record, &asked, work, &mut faults);
        every_way::check(record, self, &open, &changes, work, &mut faults);
        alternatives::purchases(record, &changes, &origins, &self.stash, &mut faults);
        // Sets that are not as listed have no looks that could be right.
        if faults.count() == 0 {
            looks::check(record, pattern, &self.stash, &changes, &mut faults);
        }
        faults
    }
}

fn place((index, sheet): (usize, &record::Sheet)) -> String {
    let from = sheet.lot.map_or_else(|| "bought".to_owned(), |row| format!("lot {row}"));
    format!("sheet {} ({}, {from}, copy {})", index + 1, sheet.print, sheet.copy)
}

/// The pattern in the size that the record names.
fn at_size(pattern: Pattern, size: Option<&str>, faults: &mut Faults) -> Pattern {
    if size == pattern.size_name() {
        return pattern;
    }
    let index = pattern.sizes.iter().position(|held| Some(held.name.as_str()) == size);
    let found = index.and_then(|index| pattern.at_size(index));
    if found.is_none() {
        let message = match size {
            Some(size) => format!("the record is of the size \"{size}\", which the pattern does not have"),
            None => "the pattern has several sizes, and the record does not say of which it is".to_owned(),
        };
        faults.add(Rule::Inputs, "", message);
    }
    found.unwrap_or(pattern)
}

/// A copy of the inputs that cannot be read cannot be what the plan was made from.
fn pass_on(diagnostics: Vec<Diagnostic>, faults: &mut Faults) {
    for said in diagnostics.into_iter().filter(Diagnostic::is_error) {
        faults.add(Rule::Inputs, "", said.to_string());
    }
}
