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
            format!(" (no plan for as little fabric{ways} has fewer, that is proved)")
        }
        Some(fewest) if fewest > 1 => format!(" (at least {fewest} are needed for as little fabric{ways})"),
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
    let found = if bounds == PreferenceBounds::default() { "" } else { ": the fewest found" };
    format!(
        "Cut in {}{fewest}, with {}, {marks}, and {turns} on a sheet{found}. {}",
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
                match leftovers * 100 / most.max(1) {
                    0 => "less than 1 percent of the most not ruled out".to_owned(),
                    part => format!("{part} percent of the most not ruled out"),
                }
            };
            let pieces = words::count(useful, "useful leftover", "useful leftovers");
            let are = if useful == 1 { "is" } else { "are" };
            format!("The {pieces}, yardage not counted, {are} worth {known}.")
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
        assert!(text.contains("at least 3 are needed") && text.contains("worth 44 percent"), "{text}");
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
        assert!(text.contains("9 ruler settings, 2 of them between the ruler"), "{text}");
    }
}
