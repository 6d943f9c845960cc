//! A mistake of the program itself, on whatever thread: it ends in a sentence and what to send, never in a stack trace.
//!
//! Threads hand what broke them to whoever waits for them (`planning/side_by_side.rs`, `planning/columns/lp.rs`), so all of
//! it comes up here. On the way files that are only half written are removed.

use std::ffi::OsString;
use std::panic::{self, AssertUnwindSafe, PanicHookInfo};
use std::sync::{Arc, Mutex, PoisonError};

use crate::cli::{Ending, print};

/// Does `work`; where it breaks, says so. `words` are the arguments that the program was started with.
pub(super) fn caught(words: &[OsString], work: impl FnOnce() -> Ending) -> Ending {
    // The first thing that broke is what to tell of; others may follow from it.
    let broke: Arc<Mutex<Option<String>>> = Arc::default();
    let first = Arc::clone(&broke);
    panic::set_hook(Box::new(move |panicked| {
        first.lock().unwrap_or_else(PoisonError::into_inner).get_or_insert_with(|| what(panicked));
    }));
    // Nothing that the work was at is looked at afterwards.
    panic::catch_unwind(AssertUnwindSafe(work)).unwrap_or_else(|_| {
        let broke = broke.lock().unwrap_or_else(PoisonError::into_inner).take().unwrap_or_default();
        print::broke_off(&broke, &started(words))
    })
}

/// What went wrong, and where in the program.
fn what(panicked: &PanicHookInfo<'_>) -> String {
    let payload = panicked.payload();
    let text = payload.downcast_ref::<&str>().copied();
    let text = text.or_else(|| payload.downcast_ref::<String>().map(String::as_str)).unwrap_or("no words");
    let place = panicked.location().map(|at| format!(" ({}, line {})", at.file(), at.line()));
    text.to_owned() + &place.unwrap_or_default()
}

/// The command as it was typed, but for the folder of the program.
fn started(words: &[OsString]) -> String {
    let shown = words.iter().skip(1).map(|word| {
        let word = word.to_string_lossy();
        if word.is_empty() || word.contains(char::is_whitespace) {
            format!("\"{word}\"")
        } else {
            word.into_owned()
        }
    });
    std::iter::once("cutcloth".to_owned()).chain(shown).collect::<Vec<String>>().join(" ")
}

#[cfg(test)]
mod tests {
    use std::path::{Path, PathBuf};
    use std::process::Command;
    use std::{env, fs, process, thread};

    use clap::Parser as _;

    use super::*;
    use crate::cli::args::{self, Arguments};
    use crate::cli::plan_by;

    /// Where the program of [`a_run_that_breaks`] finds its files.
    const FOLDER: &str = "CUTCLOTH_TEST_BREAKS_IN";

    /// The command line as it is, with a planning that breaks on a thread of its own. It ends the process, so it is a
    /// process of its own: started by the test below, and nothing where somebody else starts it.
    #[test]
    fn a_run_that_breaks() {
        let Some(folder) = env::var_os(FOLDER).map(PathBuf::from) else { return };
        let words = ["cutcloth", "plan", "chart.csv", "--stash", "my stash.csv", "--out", "plan"];
        let words = words.map(OsString::from);
        env::set_current_dir(folder).expect("the folder is there");
        let ending = caught(&words, || {
            let args::Command::Plan(arguments) = Arguments::parse_from(&words).command else {
                return Ending::Done;
            };
            plan_by(&arguments, |_, _, _| {
                thread::scope(|scope| {
                    let broken = scope.spawn(|| panic!("more shells than the sea has"));
                    broken.join().unwrap_or_else(|panicked| panic::resume_unwind(panicked))
                })
            })
        });
        process::exit(ending as i32);
    }

    fn run_in(folder: &Path) -> process::Output {
        fs::write(
            folder.join("chart.csv"),
            "block,make,label,role,width,height,count\nUrchin,1,A,ring,2,2,1\n",
        )
        .and_then(|()| fs::write(folder.join("my stash.csv"), "print,cut\nkelp,fat quarter\n"))
        .expect("it can be written");
        let tests = env::current_exe().expect("the tests know where they are");
        let mut child = Command::new(tests);
        child.args(["--exact", "cli::caught::tests::a_run_that_breaks", "--nocapture"]);
        child.env(FOLDER, folder).env("RUST_BACKTRACE", "full").output().expect("it can be started")
    }

    #[test]
    fn a_mistake_on_any_thread_ends_in_a_sentence_and_what_to_send_and_writes_nothing() {
        let folder = tempfile::tempdir().expect("a folder");
        let ended = run_in(folder.path());
        assert_eq!(ended.status.code(), Some(4));
        let version = env!("CARGO_PKG_VERSION");
        let said = String::from_utf8_lossy(&ended.stderr);
        let expected = "This is a mistake in cutcloth, not in your files. No plan is left half written.\n  \
                        what went wrong: more shells than the sea has (src/cli/caught.rs, line ";
        assert!(said.contains(expected), "{said}");
        for part in [
            "Please report it, and send along",
            "the command: cutcloth plan chart.csv --stash \"my stash.csv\" --out plan\n",
            "the files that it reads",
            &format!("the version: {version}"),
        ] {
            assert!(said.contains(part), "{said}");
        }
        assert!(!said.contains("backtrace") && !said.contains("panicked at"), "{said}");
        assert_eq!(
            fs::read_dir(folder.path()).map(Iterator::count).ok(),
            Some(2),
            "only what was there before"
        );
    }

    /// With what stood in the folder before.
    #[test]
    fn an_earlier_plan_stays_as_it_is() {
        let folder = tempfile::tempdir().expect("a folder");
        let plan = folder.path().join("plan");
        fs::create_dir(&plan).expect("a folder in it");
        let record = "{\"format\": \"cutcloth-plan\"}";
        fs::write(plan.join("plan.json"), record).expect("it can be written");
        assert_eq!(run_in(folder.path()).status.code(), Some(4));
        assert_eq!(fs::read_to_string(plan.join("plan.json")).ok().as_deref(), Some(record));
        assert_eq!(fs::read_dir(&plan).map(Iterator::count).ok(), Some(1));
    }
}
