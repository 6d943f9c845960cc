//! What is preferred after the fabric, in words: few layouts, few ruler settings and stages, useful leftovers, each with
//! what is known of the best.

use crate::planning::{Measures, PreferenceBounds, Verdict};
use crate::report::situation::Situation;
use crate::report::view::proof::WITH_THESE_WAYS;
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
    let Measures { layouts, settings, off_ruler, stages, .. } = measures;
    let fewest = match bounds.layouts {
        Some(fewest) if fewest == layouts => {
            format!(" The search claims that no plan for as little fabric{ways} has fewer layouts.")
        }
        _ => String::new(),
    };
    let marks = match off_ruler {
        0 => "all on the ruler's marks".to_owned(),
        off => format!("{off} of them between the ruler's marks"),
    };
    let turns = match stages {
        0 | 1 => "no change of direction".to_owned(),
        more => format!("at most {}", words::count(more - 1, "change of direction", "changes of direction")),
    };
    format!(
        "{} and {}, {marks}; {turns} on a sheet.{fewest} {}",
        words::count(layouts, "layout", "different layouts"),
        words::count(settings, "ruler setting", "ruler settings"),
        leftovers(measures, bounds, ways)
    )
}

fn leftovers(measures: Measures, bounds: PreferenceBounds, ways: &str) -> String {
    let Measures { leftovers, useful, .. } = measures;
    match (useful, bounds.leftovers) {
        (0, Some(0)) => {
            format!(
                "Nothing useful is left over. The search claims that for as little fabric{ways} nothing can be."
            )
        }
        (0, _) => "Nothing useful is left over.".to_owned(),
        (_, most) => {
            let pieces = words::count(useful, "useful leftover", "useful leftovers");
            let claimed = if most == Some(leftovers) {
                format!(", claimed by the search to be the most there can be for as little fabric{ways}")
            } else {
                String::new()
            };
            format!("{pieces} (yardage not counted){claimed}.")
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const MEASURES: Measures =
        Measures { leftovers: 44, useful: 3, layouts: 4, settings: 9, off_ruler: 0, stages: 2 };

    #[test]
    fn a_figure_is_claimed_to_be_the_best_only_at_its_bound() {
        let text = said(MEASURES, PreferenceBounds { leftovers: Some(44), layouts: Some(4) }, "");
        assert!(
            text.contains("claims that no plan for as little fabric has fewer layouts")
                && text.contains("the most there can be")
        );
        let text = said(MEASURES, PreferenceBounds { leftovers: Some(100), layouts: Some(3) }, "");
        assert!(!text.contains("claim") && !text.contains("the most"), "{text}");
        let text = said(MEASURES, PreferenceBounds::default(), "");
        assert!(
            !text.contains("claim") && text.contains("3 useful leftovers (yardage not counted)."),
            "{text}"
        );
    }

    #[test]
    fn settings_between_marks_are_told() {
        let text = said(Measures { off_ruler: 2, ..MEASURES }, PreferenceBounds::default(), "");
        assert!(text.contains("9 ruler settings, 2 of them between the ruler"), "{text}");
    }
}
