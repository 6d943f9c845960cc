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
use crate::report::{self, Digest, Job, Settings};
use crate::verifying::{self, Claim, Fault, Inputs, Rule, Source};

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
    let settings = Settings { stopped: stop.cause(), ..settings(request, &copies) };
    let (mut files, record) = loop {
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
        let faults = verifying::verify(&copies, &record);
        if faults.is_empty() {
            break (files, record);
        }
        // A proof too long for the check is not handed on as one that can be shown again.
        let doubted: Option<Vec<Claim>> =
            faults.iter().map(|fault| fault.claim.filter(|_| fault.rule == Rule::ProofAgain)).collect();
        let Some(doubted) = doubted else {
            return Err(Failure::Internal(faults.iter().map(Fault::to_string).collect()));
        };
        doubted.into_iter().for_each(|claim| leave_out(claim, &mut planned.outcome));
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
    let summary = Summary::read(&record)
        .ok_or_else(|| Failure::Internal(vec!["the record cannot be summed up".to_owned()]))?;
    Ok(Answer { summary, pattern: planned.pattern, files, said })
}

/// Leaves out a proof; what it proved is then a claim of the search.
fn leave_out(claim: Claim, outcome: &mut Outcome) {
    match claim {
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
        placements_file: copies.placements.as_ref().map(|source| source.name.clone()),
        copies: marked.iter().map(|(name, bytes)| Digest::of(name, bytes)).collect(),
    }
}
