//! Outcomes and diagnostics -> terminal: verdict first, then the few numbers that matter.

use std::io::{self, Write};
use std::path::Path;

use crate::app::Units;
use crate::app::check::Checked;
use crate::app::folder::FolderError;
use crate::app::summary::{Summary, Verdict};
use crate::cli::Ending;
use crate::diagnostic::{Diagnostic, Place, visible_line};

/// Lines of what is short shown before the rest is only counted.
const MOST_SHORT: usize = 12;

/// Whether the answer reached standard output.
#[must_use]
pub(super) struct Written(bool);

impl Written {
    /// How the program ends: as it would, unless the answer could not be written.
    pub(super) fn then(self, ending: Ending) -> Ending {
        if self.0 { ending } else { Ending::BadInput }
    }
}

/// Writes to standard output.
pub(super) fn out(bytes: &[u8]) -> Written {
    let mut stdout = io::stdout().lock();
    written(stdout.write_all(bytes).and_then(|()| stdout.flush()))
}

/// What came of writing. A reader that has gone away is no trouble: it has seen what it wanted.
pub(super) fn written(done: io::Result<()>) -> Written {
    match done {
        Err(error) if error.kind() != io::ErrorKind::BrokenPipe => {
            err(&format!("the answer could not be written: {error}\n"));
            Written(false)
        }
        _ => Written(true),
    }
}

fn err(text: &str) {
    let _ = io::stderr().lock().write_all(harmless(text).as_bytes());
}

/// Text for reading, with names from files in it.
pub(super) fn text(text: &str) -> Written {
    say(text)
}

fn say(text: &str) -> Written {
    out(harmless(text).as_bytes())
}

/// Names come from files and from arguments, and a terminal obeys control characters: they are made visible, line breaks of
/// our own left alone.
fn harmless(text: &str) -> String {
    let lines: Vec<_> = text.split('\n').map(visible_line).collect();
    lines.join("\n")
}

/// Everything to say about the inputs.
pub(super) fn diagnostics(said: &[Diagnostic]) {
    let seen = |text: &str| visible_line(text).into_owned();
    let text: String = said
        .iter()
        .map(|one| {
            let Place { file, line, field } = &one.place;
            let place = Place { file: seen(file), line: *line, field: field.as_deref().map(seen) };
            let (message, help) = (seen(&one.message), seen(&one.help));
            format!("{}\n", Diagnostic { place, message, help, ..*one })
        })
        .collect();
    err(&text);
}

/// Why nothing was done.
pub(super) fn refused(why: &str, ending: Ending) -> Ending {
    err(&format!("{why}\n"));
    ending
}

/// What a run could not tidy up after itself; the plan is written all the same.
pub(super) fn left_over(left: Option<&FolderError>) {
    if let Some(left) = left {
        err(&format!("the plan is written, but not all that it replaced could be removed: {left}\n"));
    }
}

/// The program's own check refused the plan.
pub(super) fn own_mistake(said: &[String]) -> Ending {
    let mut text = "This is a mistake in cutcloth, not in your files: the plan it made did not pass its own \
                    independent check. Nothing was written.\n"
        .to_owned();
    for one in said {
        text += &format!("  {one}\n");
    }
    err(&text);
    Ending::OwnMistake
}

/// The program broke off: what went wrong, and what to send.
pub(super) fn broke_off(what: &str, command: &str) -> Ending {
    let (version, system, machine) =
        (env!("CARGO_PKG_VERSION"), std::env::consts::OS, std::env::consts::ARCH);
    err(&format!(
        "This is a mistake in cutcloth, not in your files. No plan is left half written.\n  \
         what went wrong: {what}\n\
         Please report it, and send along\n  \
         the command: {command}\n  \
         the files that it reads\n  \
         the version: {version}, {system}, {machine}\n"
    ));
    Ending::OwnMistake
}

/// The verdict and the numbers of a plan.
pub(super) fn summary(summary: &Summary, units: Units, sheet: Option<&Path>) -> Written {
    say(&summary_text(summary, units, sheet))
}

fn summary_text(summary: &Summary, units: Units, sheet: Option<&Path>) -> String {
    let mut text = format!("{}\n{}\n", verdict(summary.verdict), summary.proof);
    for reason in
        summary.reasons.iter().filter(|reason| !summary.proof.contains(reason.trim_end_matches('.')))
    {
        text += &format!("  {reason}\n");
    }
    text.push('\n');
    let (cut, need) = summary.pieces;
    text += &row("pieces", &if cut == need { format!("{need}") } else { format!("{cut} of {need}") });
    let layouts = match summary.layouts {
        0 => String::new(),
        1 => " in 1 layout".to_owned(),
        several => format!(" in {several} different layouts"),
    };
    text += &row("sheets cut", &format!("{}{layouts}", summary.sheets));
    text += &row("fabric cut into", &summary.fabric(units));
    let (kept, side) = summary.kept;
    text += &row("leftovers kept", &format!("{kept} (shorter side {} or more)", side.show(units)));
    if !summary.looks.is_empty() {
        text += &format!("\n{}\n", summary.looks.join(" "));
    }
    let said = [&summary.preferences].into_iter().filter(|said| !said.is_empty());
    for choice in said.chain(&summary.choices) {
        text += &format!("\n{choice}\n");
    }
    if !summary.short.is_empty() {
        text += "\nShort:\n";
        for short in summary.short.iter().take(MOST_SHORT) {
            text += &format!("  {short}\n");
        }
        if let Some(more) = summary.short.len().checked_sub(MOST_SHORT).filter(|&more| more > 0) {
            text += &format!("  and {more} more\n");
        }
    }
    if !summary.alternatives.is_empty() {
        text += "\nWhat would make it fit, least change first:\n";
        for (index, way) in summary.alternatives.iter().enumerate() {
            text += &format!("  {}. {} ({})\n", index + 1, way.changes.join("; "), way.cost);
        }
    }
    if let Some(sheet) = sheet {
        text += &format!("\nThe print sheet: {}\n", sheet.display());
    }
    text
}

fn verdict(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Fits => "IT FITS",
        Verdict::Impossible => "IT DOES NOT FIT",
        Verdict::Undecided => "UNDECIDED",
    }
}

fn row(name: &str, value: &str) -> String {
    format!("  {name:<16}{value}\n")
}

fn count(number: usize, one: &str) -> String {
    format!("{number} {one}{}", if number == 1 { "" } else { "s" })
}

/// What the files checked hold.
pub(super) fn checked(checked: &[Checked]) -> Written {
    let text: String = checked
        .iter()
        .map(|file| {
            let errors = file.said.iter().filter(|one| one.is_error()).count();
            let ending = if errors == 0 {
                "nothing wrong".to_owned()
            } else {
                format!("{} to mend", count(errors, "mistake"))
            };
            format!("{}: {}; {ending}\n", file.name, file.holds)
        })
        .collect();
    say(&text)
}

/// A record that is right.
pub(super) fn right(summary: &Summary) -> Written {
    let mut text =
        "The record is right: pattern, sheets, cuts and counts were recomputed from the inputs.\n".to_owned();
    text += &format!("  its verdict     {}\n", verdict(summary.verdict).to_lowercase());
    if summary.verdict == Verdict::Impossible {
        let proof = match summary.shown_again {
            (1, 1) => "was made again, without the search".to_owned(),
            (0, _) => "rests on the search; this check cannot make it again".to_owned(),
            (shown, all) if shown == all => {
                format!(
                    "was made again for each of the {all} ways of making the units that had to be refused, without the search"
                )
            }
            (shown, all) => format!(
                "was made again for {shown} of the {all} ways of making the units that had to be refused; for the others it rests on the search"
            ),
        };
        text += &format!("  the proof       {proof}\n");
        if summary.has_more_to_show {
            text +=
                "                  the work allowed was not enough; --effort 400 allows four times as much\n";
        }
    }
    if !summary.alternatives.is_empty() {
        text += &format!("  alternatives    {}, each recomputed as well\n", summary.alternatives.len());
    }
    say(&text)
}

/// What is wrong with a record.
pub(super) fn wrong(faults: &[impl std::fmt::Display]) -> Written {
    let mut text = format!("The record is wrong: {} found.\n", count(faults.len(), "fault"));
    for fault in faults {
        text += &format!("  {}\n", visible_line(&fault.to_string()));
    }
    say(&text)
}
