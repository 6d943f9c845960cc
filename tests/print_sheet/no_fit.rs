//! What the sheet and the files say when the quilt does not fit.

use std::collections::BTreeSet;

use serde_json::Value;

use crate::markup;
use crate::tidepool::one_square_short;

#[test]
fn the_verdict_comes_first_then_the_reason_what_is_short_and_the_alternatives() {
    let words = markup::words(&one_square_short().file("sheet.html"));
    let order = [
        "It does not fit.",
        "Proved by the search: 6 squares are needed, the stash has 5. The independent checker has not proved it again.",
        "Urchin 6, fabric A",
        "no square is left",
        "What would make it fit",
        "buy one 10-inch square of sea glass (10 x 10 in, 0.75 each)",
        "0.75: one 10-inch square to buy",
        "make 5 Urchin instead of 6",
        "free: 1 fewer of Urchin",
        "Alternative 1:",
    ];
    let mut rest = words.as_str();
    for part in order {
        let at = rest.find(part).unwrap_or_else(|| panic!("{part} comes next"));
        rest = &rest[at + part.len()..];
    }
}

#[test]
fn each_alternative_has_its_own_cards_blocks_counts_and_cautions() {
    let sheet = one_square_short().file("sheet.html");
    assert_eq!(markup::fault(&sheet), None);
    let parts: Vec<&str> = sheet.split("<details").skip(1).collect();
    assert_eq!(parts.len(), 3, "two alternatives and what can be cut as it is");
    for part in &parts[..2] {
        let words = markup::words(part);
        for section in
            ["Fabric key", "Cutting, fabric by fabric", "Sewing, block by block", "Counts", "Bag labels"]
        {
            assert!(words.contains(section), "{section}");
        }
        assert!(words.contains("Close the blade after every cut"));
    }
    assert!(markup::words(parts[0]).contains("To buy first: one 10-inch square of sea glass, 10 x 10 in."));
    assert!(markup::words(parts[0]).contains("Urchin 6 of 6"));
    assert!(markup::words(parts[1]).contains("Urchin 5 of 5"));
}

#[test]
fn a_link_leads_to_every_alternative_and_no_anchor_is_used_twice() {
    let sheet = one_square_short().file("sheet.html");
    let mut anchors = BTreeSet::new();
    for id in sheet.split(" id=\"").skip(1) {
        let id = id.split('"').next().expect("a value");
        assert!(anchors.insert(id.to_owned()), "{id} is used twice");
    }
    for goal in sheet.split("href=\"#").skip(1) {
        let goal = goal.split('"').next().expect("a value");
        assert!(anchors.contains(goal), "{goal} leads nowhere");
    }
    assert!(anchors.contains("alternative-2"));
}

#[test]
fn the_record_holds_each_alternative_with_its_cost_and_what_it_relaxes() {
    let record: Value = serde_json::from_str(&one_square_short().file("plan.json")).expect("JSON");
    assert_eq!(record["verdict"], "impossible");
    assert_eq!(record["short"][0]["copy"], 6);
    let alternatives = record["alternatives"].as_array().expect("a list");
    assert_eq!(alternatives[0]["cost"]["amount"], 0.75);
    assert_eq!(alternatives[0]["plan"]["purchases"][0]["count"], 1);
    assert_eq!(alternatives[0]["plan"]["rules"]["relaxed"][0]["kind"], "buy");
    let bought = alternatives[0]["plan"]["sheets"].as_array().expect("sheets");
    let bought: Vec<&Value> = bought.iter().filter(|sheet| sheet["lot"].is_null()).collect();
    assert_eq!(bought.len(), 1);
    assert_eq!(bought[0]["bought"], "10-inch square, 10 x 10 in");
    assert_eq!(alternatives[1]["cost"]["amount"], Value::Null);
    assert_eq!(alternatives[1]["plan"]["rules"]["relaxed"][0]["make"], 5);
    assert_eq!(alternatives[1]["plan"]["verdict"], "fits");
    assert_eq!(alternatives[1]["plan"]["alternatives"], Value::Array(Vec::new()));
}

#[test]
fn the_list_to_buy_names_the_alternative_it_belongs_to() {
    let list = one_square_short().file("buy.csv");
    assert!(list.contains("alternative 1,sea glass,10-inch square,1,10 in,10 in,0.75,"), "{list}");
}

#[test]
fn nothing_is_printed_when_an_alternative_does_not_add_up() {
    let mut quilt = one_square_short();
    quilt.outcome.alternatives[1].outcome.plan.sheets.pop();
    assert!(quilt.files().is_err());
}
