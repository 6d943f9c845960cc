//! The command line: arguments in, use case called, words and exit code out.

use std::ffi::OsString;
use std::io::{self, IsTerminal as _, Write as _};
use std::path::Path;
use std::process::ExitCode;

use clap::Parser;
use clap::error::ErrorKind;

mod args;
mod caught;
mod need;
mod print;
mod progress;
mod stop;
mod units;

use crate::app::check;
use crate::app::folder;
use crate::app::given::Given;
use crate::app::options::Options;
use crate::app::recheck::{Recheck, recheck};
use crate::app::run::{self, Answer, Failure, Request};
use crate::app::summary::Verdict;
use crate::app::{self, Progress, Stop, Units};
use crate::diagnostic::Diagnostic;
use args::{Arguments, Command, PlanArguments};
use progress::ProgressLine;

/// What the program tells whoever started it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Ending {
    /// It fits, or the work is done.
    Done = 0,
    /// It does not fit, or a record is wrong.
    No = 1,
    /// The input or the command cannot be used.
    BadInput = 2,
    /// Not known within the work allowed.
    Undecided = 3,
    /// The program refused its own plan, or broke off.
    OwnMistake = 4,
}

/// Runs the program on the arguments it was started with.
pub fn run() -> ExitCode {
    let words: Vec<OsString> = std::env::args_os().collect();
    ExitCode::from(caught::caught(&words, || ending(&words)) as u8)
}

fn ending(words: &[OsString]) -> Ending {
    match Arguments::try_parse_from(words) {
        Ok(arguments) => match arguments.command {
            Command::Plan(arguments) => plan(&arguments),
            Command::Check { files, size } => check_files(&files, size.as_deref()),
            Command::Verify { folder } => verify(&folder),
            Command::Chart { pattern, size, units } => chart(&pattern, size.as_deref(), units.into()),
            Command::Need(arguments) => need::need(&arguments),
        },
        Err(error) => usage(&error),
    }
}

fn usage(error: &clap::Error) -> Ending {
    let printed = error.print().and_then(|()| io::stdout().flush());
    match error.kind() {
        ErrorKind::DisplayHelp | ErrorKind::DisplayVersion => print::written(printed).then(Ending::Done),
        _ => Ending::BadInput,
    }
}

fn plan(arguments: &PlanArguments) -> Ending {
    plan_by(arguments, run::plan)
}

/// Plans as `by` does, from the arguments to what is written and said.
fn plan_by(
    arguments: &PlanArguments,
    by: impl FnOnce(&Request, &Stop, &mut (dyn FnMut(Progress) + Send)) -> Result<Answer, Failure>,
) -> Ending {
    let stop = stop::stop(arguments.time);
    let Some(request) = request(arguments) else { return Ending::BadInput };
    let inputs = [Some(&request.pattern), Some(&request.stash), request.placements.as_ref()];
    let inputs: Vec<&[u8]> = inputs.into_iter().flatten().map(|given| given.bytes.as_slice()).collect();
    let claim = arguments.out.as_ref().map(|out| folder::claim(out, arguments.force, &inputs)).transpose();
    let claim = match claim {
        Ok(claim) => claim,
        Err(error) => return print::refused(&error.to_string(), Ending::BadInput),
    };
    let line = ProgressLine::new(io::stderr().is_terminal(), request.options.units);
    let answer = by(&request, &stop, &mut |progress| line.show(progress));
    line.clear();
    let answer = match answer {
        Ok(answer) => answer,
        Err(Failure::Inputs(said)) => {
            print::diagnostics(&said);
            return print::refused("the input cannot be used; nothing was written", Ending::BadInput);
        }
        Err(Failure::Internal(said)) => return print::own_mistake(&said),
    };
    print::diagnostics(&answer.said);
    match claim.map(|claim| claim.write(&answer.files)).transpose() {
        Ok(left) => print::left_over(left.flatten().as_ref()),
        Err(error) => return print::refused(&error.to_string(), Ending::BadInput),
    }
    let sheet = arguments.out.as_ref().map(|out| out.join("sheet.html"));
    let sheet = sheet.filter(|sheet| sheet.exists());
    let written = print::summary(&answer.summary, request.options.units, sheet.as_deref());
    written.then(match answer.summary.verdict {
        Verdict::Fits => Ending::Done,
        Verdict::Impossible => Ending::No,
        Verdict::Undecided => Ending::Undecided,
    })
}

/// Opens every file named, so that all that cannot be opened are told at once.
fn request(arguments: &PlanArguments) -> Option<Request> {
    let named = [Some(&arguments.pattern), Some(&arguments.stash), arguments.placements.as_ref()];
    let mut given = open(named.into_iter().flatten().map(AsRef::as_ref))?.into_iter();
    let mut options = Options {
        allowance: arguments.allowance,
        units: arguments.units.into(),
        layers: arguments.layers,
        size: arguments.size.clone(),
        date: arguments.date.clone(),
        ..Options::default()
    };
    options.rules.weights = arguments.weights;
    options.rules.useful_side = arguments.useful;
    options.rules.effort = arguments.effort;
    options.rules.threads = arguments.threads.map_or_else(processors, usize::from);
    options.rules.aim = arguments.aim;
    options.rules.extra_fabric = arguments.extra_fabric;
    options.rules.solver = arguments.solver;
    options.rules.cutting = arguments.cutting;
    Some(Request { pattern: given.next()?, stash: given.next()?, placements: given.next(), options })
}

/// Threads that are of use where nothing is said: few parts of the work are more than eight.
fn processors() -> usize {
    std::thread::available_parallelism().map_or(1, usize::from).min(8)
}

fn open<'a>(paths: impl Iterator<Item = &'a Path>) -> Option<Vec<Given>> {
    let opened: Vec<Result<Given, Box<Diagnostic>>> = paths.map(Given::open).collect();
    let refused: Vec<Diagnostic> =
        opened.iter().filter_map(|file| file.as_ref().err()).map(|said| said.as_ref().clone()).collect();
    print::diagnostics(&refused);
    if refused.is_empty() { opened.into_iter().collect::<Result<_, _>>().ok() } else { None }
}

fn check_files(paths: &[std::path::PathBuf], size: Option<&str>) -> Ending {
    let mut ending = Ending::Done;
    let mut files = Vec::new();
    for path in paths {
        match Given::open(path) {
            Ok(file) => files.push(file),
            Err(said) => {
                print::diagnostics(&[*said]);
                ending = Ending::BadInput;
            }
        }
    }
    let checked = check::check(&files, size);
    for file in &checked {
        print::diagnostics(&file.said);
    }
    let written = print::checked(&checked);
    written.then(if check::all_right(&checked) { ending } else { Ending::BadInput })
}

fn verify(folder: &Path) -> Ending {
    match recheck(folder) {
        Recheck::Right(summary) => print::right(&summary).then(Ending::Done),
        Recheck::Wrong(faults) => print::wrong(&faults).then(Ending::No),
        Recheck::Unreadable(said) => {
            print::diagnostics(&said);
            Ending::BadInput
        }
    }
}

fn chart(path: &Path, size: Option<&str>, units: Units) -> Ending {
    let Some(file) = open(std::iter::once(path)).and_then(|files| files.into_iter().next()) else {
        return Ending::BadInput;
    };
    match app::chart(&file, size, units) {
        Ok((chart, said)) => {
            print::diagnostics(&said);
            print::out(&chart).then(Ending::Done)
        }
        Err(said) => {
            print::diagnostics(&said);
            Ending::BadInput
        }
    }
}
