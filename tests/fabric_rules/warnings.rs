//! Rules that this stash cannot keep are told before the planning.

use crate::planned;

fn said(rules: &str, stash: &str) -> Vec<(&'static str, String, String)> {
    let pattern = format!(
        "[role.A]\n{rules}\n[[block]]\nname = \"One\"\nmake = 1\nfinished = \"4 in\"\nrows = [\"A\"]\n"
    );
    let answer = planned(&pattern, stash, 100);
    answer.said.into_iter().map(|one| (one.code, one.to_string(), one.help)).collect()
}

const STASH: &str = "print,cut,color\nteal dot,10-inch square,teal\nrust leaf,10-inch square,\n";

#[test]
fn a_print_that_is_not_held_is_told_with_the_nearest() {
    let said =
        said("only = { print = [\"Teal  Dot\", \"teal dots\"] }\nnever = { print = [\"indigo\"] }", STASH);
    let codes: Vec<&str> = said.iter().map(|(code, _, _)| *code).collect();
    assert_eq!(codes, ["T130", "T130"]);
    assert!(said[0].1.starts_with("pattern.toml, field \"role.A.only\": "), "{}", said[0].1);
    assert_eq!(said[0].2, "did you mean \"teal dot\"?");
    assert!(said[1].1.contains("role.A.never"), "{}", said[1].1);
}

#[test]
fn a_role_that_is_left_no_print_is_told_with_what_the_stash_does_not_say() {
    let said = said("only = { color = [\"red\"] }", STASH);
    assert_eq!(said.len(), 1);
    assert_eq!(said[0].0, "T131");
    assert_eq!(
        said[0].2,
        "1 of its prints state no color that we know; fill these cells in the stash, or change the rules"
    );
}

#[test]
fn prints_that_are_passed_over_for_what_is_not_known_of_them_are_named() {
    let said = said("only = { color = [\"blue\"] }", STASH);
    assert_eq!(said.len(), 1);
    assert_eq!(said[0].0, "T132");
    assert!(
        said[0].1.contains("prints whose color is not known are not taken for it: rust leaf"),
        "{}",
        said[0].1
    );
}

#[test]
fn rules_that_can_be_kept_are_not_told() {
    assert_eq!(said("only = { print = [\"teal dot\"] }\nnever = { print = [\"rust leaf\"] }", STASH), []);
}
