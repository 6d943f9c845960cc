//! The first page: the verdict and why, the few numbers that matter, assumptions and cautions.

use std::collections::BTreeSet;

use crate::fabric::{Family, Trued};
use crate::length::{Area, Direction, Length, Units};
use crate::planning::Verdict;
use crate::report::set_name::SetName;
use crate::report::situation::Situation;
use crate::report::view::proof::proof;
use crate::report::view::{choices, preferences, words};
use crate::stash::Lot;

/// The first page.
pub(crate) struct Front {
    /// Name of the quilt.
    pub(crate) title: String,
    /// Mark of the inputs, and the date when one was given.
    pub(crate) revision: String,
    /// The verdict in two or three words.
    pub(crate) verdict: &'static str,
    /// True when every piece is placed.
    pub(crate) fits: bool,
    /// What the verdict rests on.
    pub(crate) proof: String,
    /// Why it does not fit.
    pub(crate) reasons: Vec<String>,
    /// What is short, and why.
    pub(crate) short: Vec<(String, String)>,
    /// The few numbers that matter.
    pub(crate) numbers: String,
    /// What the plan is measured by after its fabric, with what is known of the best.
    pub(crate) preferences: String,
    /// That the search was stopped, if it was; how units are made where the pattern leaves a choice, and what keeping
    /// the up of prints costs.
    pub(crate) choices: Vec<String>,
    /// What the plan takes for granted.
    pub(crate) assumptions: Vec<String>,
}

/// What every print sheet says about blades and heat, in plain words. Common practice of the trade; the closed
/// blade after every cut and the hand kept off the ruler's edge are what safety pages for quilters agree on.
pub(crate) const CAUTIONS: &[&str] = &[
    "Check every size with your own ruler before you cut: the person at the mat has the last word.",
    "Close the blade after every cut, before you lay the cutter down.",
    "Cut away from yourself, and keep the hand that holds the ruler clear of its edge.",
    "An iron burns, and so does fabric fresh from it: stand it up between uses, switch it off when you leave.",
    "Keep cutter, spare blades and iron away from children.",
    "Follow the makers' instructions for cutter, ruler, mat and iron.",
];

impl Front {
    /// The first page of the main plan.
    pub(crate) fn of(here: &Situation<'_>) -> Front {
        let (settings, outcome) = (here.job.settings, here.outcome);
        let fits = outcome.verdict == Verdict::Fits;
        let mut revision = format!("revision {}", settings.revision);
        if let Some(date) = &settings.date {
            revision.push_str(&format!(", {date}"));
        }
        let methods = Some(choices::methods(here)).filter(|text| !text.is_empty());
        let stopped = settings.stopped.map(|cause| words::stopped(words::cause(cause)));
        Front {
            title: here.job.pattern.title(),
            revision,
            verdict: match outcome.verdict {
                Verdict::Fits => "It fits.",
                Verdict::Impossible => "It does not fit.",
                Verdict::Undecided => "Not settled.",
            },
            fits,
            proof: proof(outcome, &here.job.settings.unshown),
            reasons: outcome.reasons.iter().map(|reason| reason.text.clone()).collect(),
            short: outcome
                .plan
                .short
                .iter()
                .map(|short| {
                    let set = here.demand.set(short.set);
                    let name = SetName::of(here.pattern, here.demand, set);
                    (words::set(&name), short.reason.clone())
                })
                .collect(),
            numbers: numbers(here),
            preferences: preferences::preferences(here),
            choices: stopped
                .into_iter()
                .chain(words::solver(here.job.rules.solver.name()))
                .chain(choices::upright(here))
                .chain(methods)
                .collect(),
            assumptions: assumptions(here),
        }
    }
}

/// Pieces placed, sheets opened, fabric used: the few numbers that matter.
pub(crate) fn numbers(here: &Situation<'_>) -> String {
    let units = here.job.settings.units;
    let plan = &here.outcome.plan;
    let placed: usize = plan.sheets.iter().map(|sheet| sheet.layout.pieces().len()).sum();
    let held: u32 = here.stash.lots.iter().map(|lot| lot.count).sum();
    let opened: Area = plan.sheets.iter().map(|sheet| sheet.layout.width().by(sheet.used)).sum();
    let needed: Area = here.demand.pieces.iter().map(|piece| piece.area()).sum();
    format!(
        "{placed} of {} pieces placed, from {} of your {held} pieces of fabric. \
         Fabric cut into: {}; the pieces alone need {}.",
        here.demand.pieces.len(),
        plan.sheets.len(),
        opened.show(units, Direction::Up),
        needed.show(units, Direction::Up),
    )
}

fn assumptions(here: &Situation<'_>) -> Vec<String> {
    let units = here.job.settings.units;
    let opened: Vec<_> = here.outcome.plan.sheets.iter().map(|sheet| here.stash.lot(sheet.lot)).collect();
    let mut lines = vec![
        "Sizes are as cut: seams are included. The first number is across the grain, the second along it."
            .to_owned(),
        format!(
            "Lengths are in {} and exact. Rounding goes the safe way: sizes to cut and \
             fabric to buy up, what fabric gives down. A + after a number means a little more.",
            match units {
                crate::length::Units::Inches => "inches",
                crate::length::Units::Metric => "centimetres",
            }
        ),
    ];
    let widths: BTreeSet<Length> =
        opened.iter().filter(|lot| lot.cut.entry().family == Family::Yardage).map(|lot| lot.width).collect();
    if !widths.is_empty() {
        let widths: Vec<String> = widths.into_iter().map(|width| words::fabric(width, units)).collect();
        lines.push(format!("Usable width of yardage, selvages not counted: {}.", words::list(&widths)));
    }
    lines.push(squaring_up(&opened, units));
    lines.push(format!(
        "At most {} of fabric are cut at once.",
        words::count(usize::try_from(here.job.settings.layers).unwrap_or(1), "layer", "layers")
    ));
    lines.push(format!(
        "A leftover goes back to the stash when its shorter side is at least {}.",
        here.job.rules.useful_side.show(units)
    ));
    lines
}

/// What squaring up takes, in one line: once off the width and once off the length, or off one of them.
fn squaring_up(opened: &[&Lot], units: Units) -> String {
    let most = opened.iter().map(|lot| lot.allowance).max().unwrap_or_default();
    if most == Length::ZERO {
        return "Squaring up: nothing is taken off; fabric is taken to be square and of the size in the stash file."
            .to_owned();
    }
    let has = |trued: Trued| {
        opened.iter().any(|lot| lot.allowance > Length::ZERO && lot.cut.entry().trued == trued)
    };
    let only: Vec<&str> =
        [(Trued::Width, "off the width only of strips"), (Trued::Length, "off the length only of yardage")]
            .into_iter()
            .filter_map(|(trued, text)| has(trued).then_some(text))
            .collect();
    let both =
        if has(Trued::Both) { vec!["once off the width and once off the length of a sheet"] } else { vec![] };
    let all: Vec<String> = both.into_iter().chain(only).map(str::to_owned).collect();
    format!("Squaring up takes at most {} {}; each card says how much.", most.show(units), words::list(&all))
}
