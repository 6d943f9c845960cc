//! The cuts of a card as lines to follow and tick off.

use crate::cutting::{Axis, Layout};
use crate::fabric::Trued;
use crate::length::{Length, Units};
use crate::report::situation::Situation;
use crate::report::view::stacks::Stacks;
use crate::report::view::words;
use crate::report::working::{Gives, Origin, Run, Task};
use crate::stash::Lot;

/// How far the usual long ruler reaches; longer cuts and wider settings are flagged.
pub(crate) const RULER: Length = Length::from_inches(24);

/// Tick boxes beside one line, at most; beyond that one box stands for all.
const MOST_BOXES: usize = 6;

/// Of how many cuts in one run the remaining size is written out one by one.
const MOST_REMAINS: usize = 8;

/// A line of a card.
pub(crate) enum Step {
    /// Squaring up, before the first cut.
    TrueUp {
        /// What to do.
        text: String,
        /// Tick boxes.
        boxes: usize,
    },
    /// Which part of the fabric the next lines cut, from which edge, and what to mind in all of them.
    Part {
        /// The part.
        text: String,
        /// From which edge of it, and whether several may be stacked.
        measure: String,
        /// What to mind, or nothing.
        note: String,
    },
    /// Cuts with one ruler setting.
    Cut(CutLine),
    /// No cut is needed.
    Whole(String),
}

/// Cuts with one ruler setting.
pub(crate) struct CutLine {
    /// Their numbers, as in the drawing.
    pub(crate) numbers: String,
    /// The ruler setting.
    pub(crate) setting: String,
    /// How often, when more than once.
    pub(crate) times: Option<String>,
    /// What the cuts take off.
    pub(crate) gives: String,
    /// What remains after each.
    pub(crate) remains: String,
    /// What to mind.
    pub(crate) notes: Vec<String>,
    /// Tick boxes.
    pub(crate) boxes: usize,
}

/// The lines of a card.
pub(crate) fn steps(
    here: &Situation<'_>,
    lot: &Lot,
    layout: &Layout,
    tasks: &[Task],
    stacks: &Stacks,
) -> Vec<Step> {
    let units = here.job.settings.units;
    let mut lines = Vec::new();
    if lot.allowance > Length::ZERO {
        let boxes = boxes(stacks, 1);
        lines.push(Step::TrueUp { text: true_up(lot, layout, units), boxes });
    }
    if tasks.is_empty() {
        lines.push(Step::Whole(match layout.pieces().first() {
            Some(&(index, _, _)) => {
                format!("No cut: the whole of it is {}.", here.piece(index).label)
            }
            None => "No cut.".to_owned(),
        }));
    }
    for task in tasks {
        lines.push(Step::Part {
            text: part(task, units),
            measure: measure(task, stacks),
            note: long_cuts(task, units),
        });
        for (index, run) in task.runs.iter().enumerate() {
            let last = index + 1 == task.runs.len();
            lines.push(Step::Cut(cut_line(here, task, run, last, stacks)));
        }
    }
    lines
}

/// Boxes for `cuts` cuts: one a cut for a single stack, else one a stack.
fn boxes(stacks: &Stacks, cuts: usize) -> usize {
    let wanted = if stacks.sizes.len() == 1 { cuts } else { stacks.sizes.len() };
    if wanted > MOST_BOXES { 1 } else { wanted }
}

fn true_up(lot: &Lot, layout: &Layout, units: Units) -> String {
    let most = lot.allowance.show(units);
    let trim = match lot.cut.entry().trued {
        Trued::Both => format!(
            "the left and the lower edge straight and square, taking at most {most} off the width and {most} off the length"
        ),
        Trued::Width => format!("the left edge straight and square, taking at most {most} off the width"),
        Trued::Length => {
            format!("the lower edge straight and square to the selvage, taking at most {most} off the length")
        }
    };
    let remain = words::fabric_size(layout.width(), layout.height(), units);
    format!("True up: trim {trim}. {remain} must remain.")
}

fn part(task: &Task, units: Units) -> String {
    let (rect, first) = task.regions[0];
    let size = words::fabric_size(rect.width, rect.height, units);
    if first == Origin::Whole {
        return format!("The whole of it, {size}");
    }
    let from = origins(task);
    match task.regions.len() {
        1 => format!("{}, {size}", capital(&from)),
        number => format!("Each of {number} alike, {size} ({from})"),
    }
}

/// Parts that are cut alike may be stacked as long as the layers stay within the limit.
fn measure(task: &Task, stacks: &Stacks) -> String {
    let number = task.regions.len();
    let layers = stacks.sizes.iter().max().copied().unwrap_or(1) * number;
    let may_stack = number > 1 && layers <= usize::try_from(stacks.layers).unwrap_or(usize::MAX);
    let how = if may_stack { "; they may be stacked" } else { "" };
    format!("measure from the {}{how}", words::edge(task.axis))
}

/// A word about cuts that the usual ruler does not reach; nothing where it does.
fn long_cuts(task: &Task, units: Units) -> String {
    let strokes = task.runs.iter().flat_map(|run| &run.strokes);
    let length = strokes.map(|stroke| stroke.length()).max().unwrap_or(Length::ZERO);
    if length > RULER {
        format!("Long cut, {}: fold the fabric or use a long ruler.", words::fabric(length, units))
    } else {
        String::new()
    }
}

/// Where the parts of a task come from: `the strips from cuts 1 to 3 and what is left after cut 3`.
fn origins(task: &Task) -> String {
    let cut_off: Vec<u32> = task
        .regions
        .iter()
        .filter_map(|&(_, origin)| if let Origin::CutOff(number) = origin { Some(number) } else { None })
        .collect();
    let rests: Vec<u32> = task
        .regions
        .iter()
        .filter_map(|&(_, origin)| if let Origin::RestAfter(number) = origin { Some(number) } else { None })
        .collect();
    let mut parts = Vec::new();
    match cut_off.len() {
        0 => {}
        1 => parts.push(format!("the strip from cut {}", cut_off[0])),
        _ => parts.push(format!("the strips from cuts {}", words::ranges(&cut_off))),
    }
    match rests.len() {
        0 => {}
        1 => parts.push(format!("what is left after cut {}", rests[0])),
        _ => parts.push(format!("what is left after cuts {}", words::ranges(&rests))),
    }
    parts.join(", and ")
}

fn cut_line(here: &Situation<'_>, task: &Task, run: &Run, last: bool, stacks: &Stacks) -> CutLine {
    let units = here.job.settings.units;
    let numbers: Vec<u32> = run.strokes.iter().map(|stroke| stroke.number).collect();
    let regions = task.regions.len();
    let times = usize::try_from(run.times).expect("a sheet has few cuts");
    let taken = times * regions;
    CutLine {
        numbers: words::ranges(&numbers),
        setting: run.setting.show(units),
        times: match (times, regions) {
            (1, _) => None,
            (_, 1) => Some(format!("{times} times")),
            _ => Some(format!("{times} times each")),
        },
        gives: gives(here, run.gives, taken),
        remains: remains(here, task, run, last),
        notes: notes(run, units),
        boxes: boxes(stacks, taken),
    }
}

fn gives(here: &Situation<'_>, what: Gives, number: usize) -> String {
    match what {
        Gives::Piece(index) => {
            let label = &here.piece(index).label;
            if number == 1 { label.clone() } else { format!("{number} {label}") }
        }
        Gives::Strip => words::count(number, "strip", "strips"),
        Gives::Leftover => "left over".to_owned(),
    }
}

fn remains(here: &Situation<'_>, task: &Task, run: &Run, last: bool) -> String {
    let units = here.job.settings.units;
    let side = match task.axis {
        Axis::Width => "across",
        Axis::Height => "long",
    };
    let shown: Vec<String> = match run.remains.as_slice() {
        all if all.len() <= MOST_REMAINS => all.iter().map(|&left| words::fabric_bare(left, units)).collect(),
        [first, second, third, .., end] => {
            let mut few: Vec<String> =
                [first, second, third].iter().map(|&&left| words::fabric_bare(left, units)).collect();
            few.push(format!("... {}", words::fabric_bare(*end, units)));
            few
        }
        _ => Vec::new(),
    };
    let mut text = format!("{} {} {side}", shown.join(", "), units.name());
    if last {
        let each = task.regions.len() > 1;
        let which = match (run.times, each) {
            (1, false) => ",",
            (1, true) => ", each",
            (_, false) => "; the last is",
            (_, true) => "; the last of each is",
        };
        let what = match task.rest_is {
            Gives::Piece(index) if run.times == 1 && !each => {
                format!("which is {}", here.piece(index).label)
            }
            Gives::Piece(index) => here.piece(index).label.clone(),
            Gives::Strip if task.rest_as_last => "another strip".to_owned(),
            Gives::Strip => "a strip".to_owned(),
            Gives::Leftover => "left over".to_owned(),
        };
        text.push_str(&format!("{which} {what}"));
    }
    text
}

fn notes(run: &Run, units: Units) -> Vec<String> {
    let mut notes = Vec::new();
    if run.setting > RULER {
        notes.push("Wider than the usual ruler: measure at both ends and mark the line first.".to_owned());
    }
    if !run.setting.is_on_mark(units) {
        notes.push(format!("Between the {} marks: measure twice.", units.mark().show(units)));
    }
    notes
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}
