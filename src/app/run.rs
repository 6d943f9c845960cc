//! The main job: read, plan, render, check. What comes back was recomputed from the inputs and found right.

use crate::app::check;
use crate::app::folder::RECORD;
use crate::app::given::{Given, Understood, understand};
use crate::app::options::Options;
use crate::app::summary::Summary;
use crate::arranging::{self, Arranged};
use crate::diagnostic::Diagnostic;
use crate::pattern::demand::{Demand, Loosened};
use crate::pattern::{self, Pattern};
use crate::placements;
use crate::planning::{self, Doing, Outcome, Progress, Rules, Stop};
use crate::report::{self, Digest, Job, Settings, Unshown};
use crate::verifying::{self, Claim, Fault, Inputs, Rule, Source, Work};

/// Everything one run is made from.
#[derive(Clone, Debug)]
pub struct Request {
    /// The pattern: a cutting chart or a pattern file.
    pub pattern: Given,
    /// The stash.
    pub stash: Given,
    /// What the quilter has decided, if anything.
    pub placements: Option<Given>,
    /// The options.
    pub options: Options,
}

/// What came of it.
#[derive(Clone, Debug)]
pub struct Answer {
    /// In a few lines.
    pub summary: Summary,
    /// The pattern as planned: in its size, its units made in the ways chosen.
    pub pattern: Pattern,
    /// Every file to write, by name within the output folder, copies of the inputs included.
    pub files: Vec<(String, Vec<u8>)>,
    /// Notes and warnings about the inputs.
    pub said: Vec<Diagnostic>,
}

/// Why there is no answer.
#[derive(Clone, Debug)]
pub enum Failure {
    /// The inputs cannot be used; everything wrong with them, notes included.
    Inputs(Vec<Diagnostic>),
    /// The program found its own plan wrong. That is a mistake in the program, and nothing of it is shown.
    Internal(Vec<String>),
}

/// Plans `request`, telling `progress` now and then how far it has come. After `stop` the answer is what was reached by
/// then; it passes the same check, and says that it was stopped.
///
/// # Errors
/// When the inputs have errors, or when the plan does not pass the independent check.
pub fn plan(
    request: &Request,
    stop: &Stop,
    progress: &mut (dyn FnMut(Progress) + Send),
) -> Result<Answer, Failure> {
    let options = &request.options;
    let mistaken = check::misplaced(&request.pattern, Some(&request.stash));
    if !mistaken.is_empty() {
        return Err(Failure::Inputs(mistaken));
    }
    let placements = request.placements.as_ref();
    let (understood, said) =
        understand(&request.stash, &request.pattern, placements, options.allowance, options.size.as_deref());
    let Some(inputs) = understood else { return Err(Failure::Inputs(said)) };
    // What the run and its planning share is set once, in the options.
    let rules = Rules { allowance: options.allowance, units: options.units, ..options.rules.clone() };
    let mut planned =
        planning::plan_methods(&inputs.stash, &inputs.pattern, &inputs.placements, &rules, stop, progress);
    let demand = Demand::expand(&planned.pattern, &Loosened::default());
    progress(Progress::after(&planned.outcome, Doing::Arranging));
    let arranged = arrange(&inputs, &planned.pattern, &demand, &planned.outcome, stop);
    progress(Progress::after(&planned.outcome, Doing::Checking));
    let copies = copies(request);
    let mut unshown = Unshown::default();
    let stopped = || stop.seen();
    let mut work = Work::percent(options.check_effort, &stopped);
    let mut is_checked = false;
    let (mut files, record) = loop {
        let settings =
            Settings { stopped: stop.cause(), unshown: unshown.clone(), ..settings(request, &copies) };
        let job = Job {
            stash: &inputs.stash,
            pattern: &planned.pattern,
            demand: &demand,
            outcome: &planned.outcome,
            arranged: &arranged,
            rules: &rules,
            settings: &settings,
        };
        let files = report::render(&job).map_err(|error| Failure::Internal(vec![error.to_string()]))?;
        let record = record_of(&files)?;
        let faults = verifying::verify_within(&copies, &record, &mut work);
        let doubts = doubts(&faults, is_checked)?;
        if doubts.is_empty() {
            break (files, record);
        }
        // What the check could not show is said to rest on the search, and nothing of it is looked at twice.
        doubts.into_iter().for_each(|doubt| doubt.note(&mut planned.outcome, &mut unshown));
        (work, is_checked) = (Work::steps(0, &stopped), true);
    };
    let Inputs { stash, pattern, placements } = copies;
    files.extend(
        [Some(stash), Some(pattern), placements].into_iter().flatten().map(|copy| (copy.name, copy.bytes)),
    );
    let written = files.iter().filter(|(name, _)| name != RECORD);
    let written = written.map(|(name, bytes)| Source { name: name.clone(), bytes: bytes.clone() });
    let strange = verifying::belonging(&record, &written.collect::<Vec<Source>>());
    if !strange.is_empty() {
        return Err(Failure::Internal(strange.iter().map(Fault::to_string).collect()));
    }
    let ways = unshown.ways.into_iter().map(Claim::Ways);
    let ended: Vec<Claim> = unshown.reasons.into_iter().map(Claim::Reason).chain(ways).collect();
    let summary = Summary::read(&record, &ended)
        .ok_or_else(|| Failure::Internal(vec!["the record cannot be summed up".to_owned()]))?;
    Ok(Answer { summary, pattern: planned.pattern, files, said })
}

/// A proof that the check could not make again.
struct Doubt {
    claim: Claim,
    /// True when only the work ended; else it cannot be made again from what the record has of it.
    work_ended: bool,
}

/// What the check could not show. Once all proofs have been looked at, that there is no more work for them says nothing.
///
/// # Errors
/// When it found anything else wrong.
fn doubts(faults: &[Fault], is_checked: bool) -> Result<Vec<Doubt>, Failure> {
    let mut found = Vec::new();
    for fault in faults {
        let work_ended = fault.rule == Rule::WorkEnded;
        match fault.claim {
            Some(_) if work_ended && is_checked => {}
            Some(claim) if work_ended || fault.rule == Rule::ProofAgain => {
                found.push(Doubt { claim, work_ended });
            }
            _ => return Err(Failure::Internal(faults.iter().map(Fault::to_string).collect())),
        }
    }
    Ok(found)
}

impl Doubt {
    /// What it proved is then a claim of the search; what more work may show stays in the record.
    fn note(self, outcome: &mut Outcome, unshown: &mut Unshown) {
        match self.claim {
            Claim::Reason(index) if self.work_ended => unshown.reasons.push(index),
            Claim::Ways(index) if self.work_ended => unshown.ways.push(index),
            Claim::Reason(index) => {
                let reason = &mut outcome.reasons[index];
                (reason.weighing, reason.cases) = (None, Vec::new());
            }
            Claim::Ways(index) => {
                let Some(methods) = &mut outcome.methods else { return };
                let refused = &mut methods.refused[index];
                (refused.weighing, refused.cases) = (None, Vec::new());
            }
        }
    }
}

/// Where the blocks lie, in the plan and in each alternative; what the quilter has placed stays there.
fn arrange(
    inputs: &Understood,
    pattern: &Pattern,
    demand: &Demand,
    outcome: &Outcome,
    stop: &Stop,
) -> Arranged {
    let arrange = |pattern, stash, demand, outcome: &Outcome| {
        let (decided, _) = placements::places(&inputs.placements, pattern);
        arranging::arrange(pattern, stash, demand, &outcome.plan.prints, &decided, &|| stop.seen())
    };
    let alternatives = outcome.alternatives.iter();
    Arranged {
        plan: arrange(pattern, &inputs.stash, demand, outcome),
        alternatives: alternatives
            .map(|other| arrange(&other.pattern, &other.stash, &other.demand, &other.outcome))
            .collect(),
    }
}

fn record_of(files: &[(String, Vec<u8>)]) -> Result<String, Failure> {
    let bytes = files.iter().find(|(name, _)| name == RECORD).map(|(_, bytes)| bytes.clone());
    bytes
        .and_then(|bytes| String::from_utf8(bytes).ok())
        .ok_or_else(|| Failure::Internal(vec!["no record of the plan was composed".to_owned()]))
}

/// The inputs, byte for byte, under the names they get in the output folder.
fn copies(request: &Request) -> Inputs {
    let copy = |name: &str, given: &Given| Source { name: name.to_owned(), bytes: given.bytes.clone() };
    let name = if pattern::is_toml(&request.pattern.name, &request.pattern.bytes) {
        "inputs/pattern.toml"
    } else {
        "inputs/chart.csv"
    };
    Inputs {
        stash: copy("inputs/stash.csv", &request.stash),
        pattern: copy(name, &request.pattern),
        placements: request.placements.as_ref().map(|given| copy("inputs/placements.csv", given)),
    }
}

fn settings(request: &Request, copies: &Inputs) -> Settings {
    let options = &request.options;
    let mut marked: Vec<(&str, &[u8])> =
        vec![(&copies.stash.name, &copies.stash.bytes), (&copies.pattern.name, &copies.pattern.bytes)];
    if let Some(placements) = &copies.placements {
        marked.push((&placements.name, &placements.bytes));
    }
    Settings {
        units: options.units,
        layers: options.layers,
        date: options.date.clone(),
        revision: report::fingerprint(&marked),
        allowance: options.allowance,
        stash_file: copies.stash.name.clone(),
        pattern_file: copies.pattern.name.clone(),
        stopped: None,
        unshown: Unshown::default(),
        placements_file: copies.placements.as_ref().map(|source| source.name.clone()),
        copies: marked.iter().map(|(name, bytes)| Digest::of(name, bytes)).collect(),
    }
}
