//! What is preferred after the fabric, in words: few layouts, few ruler settings and stages, useful leftovers, each with
//! what is known of the best.

use crate::planning::{Measures, PreferenceBounds, Verdict};
use crate::report::situation::Situation;
use crate::report::view::choices::WITH_THESE_WAYS;
use crate::report::view::words;

/// The measures of the plan as one paragraph; nothing where no sheet is opened.
pub(crate) fn preferences(here: &Situation<'_>) -> String {
    if here.outcome.plan.sheets.is_empty() {
        return String::new();
    }
    let bounds = match here.outcome.verdict {
        Verdict::Fits => here.outcome.preferences,
        Verdict::Impossible | Verdict::Undecided => PreferenceBounds::default(),
    };
    // The bounds were worked out for the units as they are made, whatever is known of other ways.
    let ways = if here.outcome.methods.is_some() { WITH_THESE_WAYS } else { "" };
    said(here.measures(), bounds, ways)
}

fn said(measures: Measures, bounds: PreferenceBounds, ways: &str) -> String {
    let Measures { layouts, settings, stages, .. } = measures;
    let layouts_said = match bounds.layouts {
        Some(fewest) if fewest == layouts => {
            format!("; no plan for as little fabric{ways} has fewer, that is proved")
        }
        Some(fewest) if fewest > 1 => {
            format!("; fewer than {fewest} are ruled out for as little fabric{ways}")
        }
        _ => String::new(),
    };
    let marks = match (settings, measures.off_ruler) {
        (_, 0) => "all on marks of the ruler".to_owned(),
        (_, off) => format!("{off} of them between marks of the ruler"),
    };
    let turns = match stages {
        0 | 1 => "the direction of cutting never changes".to_owned(),
        2 => "the direction of cutting changes once on a sheet".to_owned(),
        more => format!("the direction of cutting changes at most {} times on a sheet", more - 1),
    };
    let found = if bounds == PreferenceBounds::default() { "" } else { ", the fewest found" };
    format!(
        "The sheets are cut in {}{layouts_said}. In all that takes {}, {marks}, and {turns}{found}. {}",
        words::count(layouts, "layout", "different layouts"),
        words::count(settings, "ruler setting", "ruler settings"),
        leftovers(measures, bounds, ways)
    )
}

fn leftovers(measures: Measures, bounds: PreferenceBounds, ways: &str) -> String {
    let Measures { leftovers, useful, .. } = measures;
    match (useful, bounds.leftovers) {
        (0, Some(0)) => {
            format!("Nothing useful is left over; for as little fabric{ways} nothing can be, that is proved.")
        }
        (0, _) => "Nothing useful is left over.".to_owned(),
        (_, None) => {
            let pieces = words::count(useful, "useful piece is", "useful pieces are");
            format!("{pieces} left over, yardage not counted.")
        }
        (_, Some(most)) => {
            let known = if leftovers == most {
                format!("the most there can be for as little fabric{ways}, that is proved")
            } else {
                format!(
                    "{} percent of the most that is not ruled out for as little fabric{ways}",
                    leftovers * 100 / most.max(1)
                )
            };
            format!(
                "The {} worth {known}.",
                words::count(
                    useful,
                    "useful leftover (yardage not counted) is",
                    "useful leftovers (yardage not counted) are"
                )
            )
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const MEASURES: Measures =
        Measures { leftovers: 44, useful: 3, layouts: 4, settings: 9, off_ruler: 0, stages: 2 };

    #[test]
    fn a_figure_is_called_proved_only_at_its_bound() {
        let text = said(MEASURES, PreferenceBounds { leftovers: Some(44), layouts: Some(4) }, "");
        assert!(
            text.contains("has fewer, that is proved") && text.contains("can be for as little fabric, that")
        );
        let text = said(MEASURES, PreferenceBounds { leftovers: Some(100), layouts: Some(3) }, "");
        assert!(!text.contains("proved"), "{text}");
        assert!(text.contains("fewer than 3 are ruled out") && text.contains("worth 44 percent"), "{text}");
        let text = said(MEASURES, PreferenceBounds::default(), "");
        assert!(
            !text.contains("proved")
                && !text.contains("ruled out")
                && text.contains("3 useful pieces are left over, ")
        );
    }

    #[test]
    fn settings_between_marks_are_told() {
        let text = said(Measures { off_ruler: 2, ..MEASURES }, PreferenceBounds::default(), "");
        assert!(text.contains("9 ruler settings, 2 of them between marks"), "{text}");
    }
}
