//! The same case through the library, stopped after ten seconds: when the first complete plan is there, and how far
//! from its bound the best one is at the end.

use std::fs;
use std::path::Path;
use std::time::{Duration, Instant};

use cutcloth::length::Length;
use cutcloth::placements::Placements;
use cutcloth::planning::{Rules, Stop, Verdict, plan};
use cutcloth::{pattern, stash};
use serde_json::{Value, json};

use crate::measure::{Case, rounded};

const LIMIT: Duration = Duration::from_secs(10);

/// Seconds to the first plan, and the gap after [`LIMIT`] at the latest; null where there is none.
pub(crate) fn first(case: &Case) -> Result<Value, String> {
    let bytes = |path: &Path| fs::read(path).map_err(|error| format!("{}: {error}", path.display()));
    let (stash, _) = stash::read("stash.csv", &bytes(&case.stash)?, Length::ZERO);
    let (pattern, _) = pattern::read("chart.csv", &bytes(&case.pattern)?);
    let rules = Rules { alternatives: false, conflicts: false, ..Rules::default() };
    let start = Instant::now();
    let mut first = None;
    let outcome =
        plan(&stash, &pattern, &Placements::default(), &rules, &Stop::at(start + LIMIT), &mut |progress| {
            if progress.best.is_some() {
                first.get_or_insert_with(|| start.elapsed().as_secs_f64());
            }
        });
    let fits = outcome.verdict == Verdict::Fits;
    #[allow(clippy::cast_precision_loss)] // a percentage for people
    let gap = || {
        let opened = outcome.fabric.opened as f64;
        (opened - outcome.fabric.bound as f64) / opened * 100.0
    };
    Ok(json!({
        "first_s": first.map(|seconds| rounded(seconds, 1000.0)),
        "gap_percent_at_10_s": fits.then(|| rounded(gap(), 100.0)),
    }))
}
