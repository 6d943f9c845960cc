//! What keeping the up of directional prints costs.

use cutcloth::app::summary::Verdict;
use serde_json::Value;

use crate::{planned, record};

/// Two pieces of 4 x 10 of a print with an up: the scrap is too short for them unless they lie down.
const STASH: &str = "print,cut,count,width,length,directional\n\
    weed,scrap,1,10,8,yes\nweed,fat quarter,1,,,yes\nsand,5-inch square,4,,,no\n";

fn pattern(size: &str, direction: &str) -> String {
    format!(
        "[role.A]\n{direction}\n[role.B]\n[[block]]\nname = \"Pair\"\nmake = 1\n\
         [[block.piece]]\nlabel = \"A1\"\nrole = \"A\"\nsize = \"{size}\"\ncount = 2\n\
         [[block.piece]]\nlabel = \"B1\"\nrole = \"B\"\nsize = \"5\"\ncount = 1\n"
    )
}

/// Square inches by weight, in the record's unit.
fn square_inches(amount: i64) -> Value {
    (amount * 8128 * 8128 * 100).into()
}

#[test]
fn both_figures_are_shown_with_what_is_proved_of_their_difference() {
    let answer = planned(&pattern("4 x 10", ""), STASH, 100);
    assert_eq!(answer.summary.verdict, Verdict::Fits);
    let record = record(&answer);
    let upright = &record["upright"];
    // The scrap of 80 counts half, the 5-inch square of 25 in full: 65, against a fat quarter of 378 by 1.2.
    assert_eq!((&upright["prints"], &upright["opened"]), (&1.into(), &square_inches(65)));
    assert_eq!(upright["opened"], upright["bound"]);
    // The figure is that of a plan of the same stash with no up in it, checked like any other.
    let freed = crate::record(&planned(&pattern("4 x 10", ""), &STASH.replace("yes", "no"), 100));
    assert_eq!(
        (&upright["opened"], &upright["bound"]),
        (&freed["fabric"]["opened"], &freed["fabric"]["bound"])
    );
    assert_eq!(
        upright["text"],
        "1 one-way print is kept upright. This plan opens 454 sq in, the best found with every piece free to turn 65 \
         sq in, by weight: keeping it upright costs 389 sq in, as the search claims."
    );
    assert_eq!(answer.summary.choices, [upright["text"].as_str().expect("a text")]);
    let (_, sheet) = answer.files.iter().find(|(name, _)| name == "sheet.html").expect("a sheet");
    assert!(
        String::from_utf8_lossy(sheet).contains("keeping it upright costs 389 sq in, as the search claims.")
    );
}

#[test]
fn nothing_is_said_where_no_up_matters() {
    let upright = |pattern: &str, stash: &str| record(&planned(pattern, stash, 100))["upright"].clone();
    assert!(upright(&pattern("4 x 10", "direction = \"free\""), STASH).is_null());
    assert!(upright(&pattern("4", ""), STASH).is_null());
    assert!(upright(&pattern("4 x 10", ""), &STASH.replace("yes", "no")).is_null());
    // It does not fit: there is nothing to compare.
    assert!(upright(&pattern("4 x 30", ""), STASH).is_null());
}

#[test]
fn an_up_that_is_kept_for_nothing_is_said_to_cost_nothing() {
    let stash =
        "print,cut,count,width,length,directional\nweed,scrap,1,8,10,yes\nsand,5-inch square,4,,,no\n";
    let text = record(&planned(&pattern("4 x 10", ""), stash, 100))["upright"]["text"].to_string();
    assert!(
        text.contains("1 one-way print is kept upright. That costs no fabric, as the search claims."),
        "{text}"
    );
}

#[test]
fn what_is_open_of_the_whole_plan_is_not_told_as_the_cost_of_two_squares() {
    let file = |name: &str| std::fs::read_to_string(format!("data/tidepool/{name}")).expect("the demo");
    let answer = planned(&file("pattern.toml"), &file("pack.csv"), 10);
    let record = record(&answer);
    let whole = |value: &Value| value.as_i64().expect("a whole number");
    let upright = &record["upright"];
    // Nothing better was found, and the bound leaves more open than all that the one-way prints are cut into.
    let open = whole(&record["fabric"]["opened"]) - whole(&upright["bound"]);
    assert_eq!(upright["opened"], record["fabric"]["opened"]);
    let inch = 8128 * 8128;
    let (cut_into, pieces) = (whole(&upright["cut_into"]), whole(&upright["pieces"]));
    assert!(open > 0 && pieces <= cut_into, "{upright}");
    let spare = (cut_into - pieces + inch - 1) / inch;
    let text = upright["text"].as_str().expect("a text");
    assert!(text.ends_with(&format!("could save at most {spare} sq in while all else stays.")), "{text}");
    assert!(!text.contains("costs at most"), "{text}");
}
