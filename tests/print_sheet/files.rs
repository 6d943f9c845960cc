//! The files for other programs: exact, re-readable, the same every time.

use cutcloth::length::Length;
use cutcloth::pattern::demand::SetId;
use cutcloth::{placements, stash};
use serde_json::Value;

use crate::tidepool::{e, tidepool};

fn record() -> Value {
    serde_json::from_str(&tidepool().file("plan.json")).expect("plan.json is JSON")
}

fn number(value: &Value) -> i64 {
    value.as_i64().expect("a whole number")
}

#[test]
fn the_same_run_gives_the_same_bytes() {
    assert_eq!(tidepool().files(), tidepool().files());
}

#[test]
fn every_field_of_the_record_is_present() {
    let record = record();
    let fields: Vec<&String> = record.as_object().expect("an object").keys().collect();
    for field in [
        "format",
        "version",
        "ticks_per_inch",
        "verdict",
        "proof",
        "reasons",
        "inputs",
        "rules",
        "fabric",
        "totals",
        "sets",
        "sheets",
        "short",
        "purchases",
        "alternatives",
    ] {
        assert!(fields.iter().any(|known| *known == field), "{field}");
    }
    assert_eq!(record["format"], "cutcloth-plan");
    assert_eq!(number(&record["ticks_per_inch"]), Length::TICKS_PER_INCH);
    assert_eq!(record["rules"]["relaxed"], Value::Array(Vec::new()));
}

/// A rectangle of the record as (x, y, width, height).
fn rect(value: &Value) -> (i64, i64, i64, i64) {
    (number(&value["x"]), number(&value["y"]), number(&value["width"]), number(&value["height"]))
}

#[test]
fn replaying_the_cuts_in_order_gives_exactly_the_pieces_and_the_leftovers() {
    for sheet in record()["sheets"].as_array().expect("sheets") {
        let mut parts = vec![(0, 0, number(&sheet["width"]), number(&sheet["height"]))];
        for (cut, order) in sheet["cuts"].as_array().expect("cuts").iter().zip(1..) {
            assert_eq!(number(&cut["order"]), order);
            let region = rect(cut);
            let found =
                parts.iter().position(|part| *part == region).expect("the region is whole when it is cut");
            parts.swap_remove(found);
            let (x, y, width, height) = region;
            let at = number(&cut["at"]);
            if cut["across"] == "width" {
                assert!(0 < at && at < width);
                parts.extend([(x, y, at, height), (x + at, y, width - at, height)]);
            } else {
                assert!(0 < at && at < height);
                parts.extend([(x, y, width, at), (x, y + at, width, height - at)]);
            }
        }
        let listed =
            ["pieces", "leftovers"].into_iter().flat_map(|list| sheet[list].as_array().expect("a list"));
        let mut expected: Vec<_> = listed.map(rect).collect();
        parts.sort_unstable();
        expected.sort_unstable();
        assert_eq!(parts, expected);
    }
}

#[test]
fn the_totals_of_the_record_close() {
    let mut pieces = 0;
    for total in record()["totals"].as_array().expect("totals") {
        assert_eq!(number(&total["need"]), number(&total["cut"]) + number(&total["short"]));
        pieces += number(&total["need"]);
    }
    assert_eq!(pieces, 6 * 7 + 4 * 2 + 2);
}

#[test]
fn leftovers_read_back_as_a_stash_of_the_same_fabric() {
    let quilt = tidepool();
    let text = quilt.file("leftovers.csv");
    let (stash, faults) = stash::read("leftovers.csv", text.as_bytes(), Length::ZERO);
    assert!(!cutcloth::diagnostic::any_error(&faults), "{faults:?}");
    // Six squares leave 4 1/2 x 5 1/2 and 3 x 10; what is under 2 1/2 in on one side is not kept.
    let of = |name: &str| {
        let print = stash.prints.iter().position(|print| print.name == name).expect("the print is kept");
        stash.lots.iter().filter(move |lot| lot.print.0 == print).collect::<Vec<_>>()
    };
    let sizes: Vec<_> = of("kelp").iter().map(|lot| (lot.width, lot.length, lot.count)).collect();
    assert_eq!(sizes, [(e(36), e(44), 1), (e(24), e(80), 1)]);
    let gull = of("gull");
    assert!(gull.iter().all(|lot| lot.directional && lot.place == "shelf B2"));
    assert_eq!(
        gull.iter().map(|lot| (lot.width, lot.length, lot.count)).collect::<Vec<_>>(),
        [(e(22), e(68), 2)]
    );
    assert!(of("foam").iter().any(|lot| (lot.width, lot.length) == (e(296), e(608))));
}

#[test]
fn columns_of_the_quilters_own_are_passed_on_with_the_leftovers() {
    let mut quilt = tidepool();
    quilt.stash.other_columns = vec!["maker".to_owned(), "washed".to_owned()];
    for lot in &mut quilt.stash.lots {
        lot.other = vec![format!("mill {}", lot.print.0), "yes".to_owned()];
    }
    let text = quilt.file("leftovers.csv");
    let (stash, _) = stash::read("leftovers.csv", text.as_bytes(), Length::ZERO);
    assert_eq!(stash.other_columns, ["maker", "washed"]);
    for lot in &stash.lots {
        let name = &stash.print(lot.print).name;
        let print = quilt.stash.prints.iter().position(|print| print.name == *name).expect("a known print");
        assert_eq!(lot.other, [format!("mill {print}"), "yes".to_owned()]);
    }
}

#[test]
fn placements_read_back_as_the_plan_they_were_written_from() {
    let quilt = tidepool();
    let text = quilt.file("placements.csv");
    let (placed, faults) = placements::read("placements.csv", text.as_bytes());
    assert!(!cutcloth::diagnostic::any_error(&faults), "{faults:?}");
    let (pins, faults) = placements::pins(&placed, &quilt.stash, &quilt.pattern, &quilt.demand);
    assert!(!cutcloth::diagnostic::any_error(&faults), "{faults:?}");
    for (index, print) in quilt.outcome.plan.prints.iter().enumerate() {
        assert_eq!(pins[index], *print, "{:?}", quilt.demand.set(SetId(index)));
    }
}

#[test]
fn nothing_is_bought_when_everything_fits() {
    let files = tidepool().files().expect("the totals close");
    assert!(files.iter().all(|(name, _)| name != "buy.csv"));
}

#[test]
fn a_print_name_that_looks_like_a_formula_is_disarmed_and_still_read_back() {
    let mut quilt = tidepool();
    quilt.stash.prints[0].name = "=1+1".to_owned();
    let text = quilt.file("leftovers.csv");
    assert!(text.contains("'=1+1") && !text.contains("\n=1+1"));
    let placements = quilt.file("placements.csv");
    let (placed, _) = placements::read("placements.csv", placements.as_bytes());
    let (pins, faults) = placements::pins(&placed, &quilt.stash, &quilt.pattern, &quilt.demand);
    assert!(!cutcloth::diagnostic::any_error(&faults), "{faults:?}");
    assert_eq!(pins[0], Some(cutcloth::stash::PrintId(0)));
}
