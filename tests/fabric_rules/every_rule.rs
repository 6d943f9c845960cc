//! One pattern with every rule, and stashes in which each of them decides.

use cutcloth::app::summary::Verdict;

use crate::{planned, record};

/// Two stars on a sky. Every piece takes a 10-inch square, but for the narrow one.
fn pattern(rules_of_a: &str, rules_of_b: &str) -> String {
    format!(
        "[role.A]\nname = \"star\"\nmatching = \"block\"\n{rules_of_a}\n[role.B]\nname = \"sky\"\n{rules_of_b}\n\
         [[block]]\nname = \"Star\"\nmake = 2\n\
         [[block.piece]]\nlabel = \"A1\"\nrole = \"A\"\nsize = \"10\"\ncount = 1\n\
         [[block.piece]]\nlabel = \"B1\"\nrole = \"B\"\nsize = \"4 x 10\"\ncount = 1\n"
    )
}

fn verdict(rules_of_a: &str, rules_of_b: &str, stash: &str) -> Verdict {
    planned(&pattern(rules_of_a, rules_of_b), stash, 100).summary.verdict
}

const STASH: &str = "print,cut,count,width,length,color,value,directional\n\
    coral,10-inch square,2,,,#c8353c,dark,no\n\
    kelp,10-inch square,2,,,Sea Green,medium,no\n\
    mist,10-inch square,1,,,,,no\n";

#[test]
fn a_plan_keeps_every_rule_at_once() {
    let a = "different = [\"B\"]\nat-most = 1\nonly = { color = [\"red\", \"green\"], value = [\"dark\", \"medium\"] }";
    let b = "never = { print = [\"MIST\"], color = [\"blue\"] }\ndirection = \"free\"";
    let answer = planned(&pattern(a, b), STASH, 100);
    assert_eq!(answer.summary.verdict, Verdict::Fits);
    let record = record(&answer);
    let print = |copy: u64, role: &str| {
        let sets = record["sets"].as_array().expect("a list");
        let set = sets.iter().find(|set| set["copy"] == copy && set["role"] == role).expect("it is placed");
        set["print"].as_str().expect("a print").to_owned()
    };
    let stars = [print(1, "A"), print(2, "A")];
    assert!(stars.contains(&"coral".to_owned()) && stars.contains(&"kelp".to_owned()), "{stars:?}");
    for copy in [1, 2] {
        let (star, sky) = (print(copy, "A"), print(copy, "B"));
        assert!(star != sky && sky != "mist", "copy {copy}: {star} on {sky}");
    }
}

#[test]
fn each_rule_can_make_it_impossible() {
    let none = verdict("", "", STASH);
    assert_eq!(none, Verdict::Fits);
    for (a, b) in [
        ("only = { print = [\"mist\"] }", ""),
        ("only = { color = [\"blue\"] }", ""),
        // The mist states neither color nor value, so it is not taken where one is asked for.
        ("only = { value = [\"light\"] }", ""),
        ("never = { color = [\"red\"], value = [\"medium\"] }", ""),
        ("at-most = 1\nnever = { print = [\"kelp\", \"mist\"] }", ""),
        ("only = { print = [\"coral\"] }\ndifferent = [\"B\"]", "only = { print = [\"coral\"] }"),
        ("only = { print = [\"kelp\"] }", "only = { print = [\"kelp\"] }"),
    ] {
        assert_eq!(verdict(a, b, STASH), Verdict::Impossible, "{a}\n{b}");
    }
    // The other way round each is possible.
    for (a, b) in [
        ("never = { value = [\"light\"] }", ""),
        ("never = { color = [\"red\"] }", ""),
        ("at-most = 1", "different = [\"A\"]"),
        ("only = { print = [\"coral\"] }\ndifferent = [\"B\"]", "never = { color = [\"red\"] }"),
    ] {
        assert_eq!(verdict(a, b, STASH), Verdict::Fits, "{a}\n{b}");
    }
}

#[test]
fn pieces_of_a_directional_print_are_turned_only_where_the_role_leaves_it_free() {
    let stash = "print,cut,count,width,length,directional\n\
                 coral,10-inch square,2,,,no\nweed,scrap,1,10,8,yes\n";
    // Two narrow pieces of 4 x 10 fit the scrap of 10 x 8 only when they lie down.
    assert_eq!(verdict("never = { print = [\"weed\"] }", "", stash), Verdict::Impossible);
    let kept = verdict("never = { print = [\"weed\"] }", "direction = \"kept\"", stash);
    assert_eq!(kept, Verdict::Impossible);
    let free = pattern("never = { print = [\"weed\"] }", "direction = \"free\"");
    let answer = planned(&free, stash, 100);
    assert_eq!(answer.summary.verdict, Verdict::Fits);
    let record = record(&answer);
    let sheets = record["sheets"].as_array().expect("a list");
    let pieces = sheets.iter().flat_map(|sheet| sheet["pieces"].as_array().expect("a list"));
    let turned: Vec<&str> =
        pieces.filter(|p| p["turned"] == true).filter_map(|p| p["role"].as_str()).collect();
    assert_eq!(turned, ["B", "B"]);
}

#[test]
fn freedom_of_one_role_does_not_turn_pieces_of_another() {
    // The same size in both roles: one may lie down, the other may not.
    let text = "[role.A]\nname = \"fixed\"\n[role.B]\nname = \"free\"\ndirection = \"free\"\n\
        [[block]]\nname = \"Pair\"\nmake = 1\n\
        [[block.piece]]\nlabel = \"A1\"\nrole = \"A\"\nsize = \"4 x 10\"\ncount = 1\n\
        [[block.piece]]\nlabel = \"B1\"\nrole = \"B\"\nsize = \"4 x 10\"\ncount = 1\n";
    let lying = "print,cut,width,length,directional\nweed,scrap,10,8,yes\n";
    assert_eq!(planned(text, lying, 100).summary.verdict, Verdict::Impossible);
    let mixed = "print,cut,width,length,directional\nweed,scrap,14,10,yes\n";
    let answer = planned(text, mixed, 100);
    assert_eq!(answer.summary.verdict, Verdict::Fits);
}

#[test]
fn a_print_to_be_bought_is_told_what_it_must_be() {
    let a = "only = { color = [\"blue\", \"purple\"] }\nnever = { value = [\"light\"] }";
    let answer = planned(&pattern(a, ""), STASH, 100);
    assert_eq!(answer.summary.verdict, Verdict::Impossible);
    let changes: Vec<&String> = answer.summary.alternatives.iter().flat_map(|way| &way.changes).collect();
    let buys: Vec<&&String> = changes.iter().filter(|change| change.starts_with("buy ")).collect();
    assert!(!buys.is_empty(), "{changes:?}");
    assert!(buys.iter().all(|buy| buy.contains("; it must be blue or purple and not light)")), "{buys:?}");
    // A print that is held already is what it is, and one without rules may be anything.
    let free = planned(&pattern("only = { print = [\"mist\"] }", ""), STASH, 100);
    let changes: Vec<&String> = free.summary.alternatives.iter().flat_map(|way| &way.changes).collect();
    assert!(changes.iter().all(|change| !change.contains("must be")), "{changes:?}");
}

/// Each square of the print could give a star, were it not for the rule.
#[test]
fn what_a_rule_forbids_a_print_is_shown_again_by_the_check() {
    let one = "print,cut,count\ncoral,10-inch square,4\n";
    let answer = planned(&pattern("at-most = 1", ""), one, 100);
    assert_eq!((answer.summary.verdict, answer.summary.shown_again), (Verdict::Impossible, (1, 1)));
    assert_eq!(verdict("", "", one), Verdict::Fits);
}

/// The stars are one set of the whole quilt, in two copies of the block; or two pieces in each of them.
#[test]
fn more_alike_than_may_be_is_shown_again_by_the_check() {
    let stash = "print,cut,count\ncoral,10-inch square,5\n";
    let quilt = pattern("at-most = 1", "").replace("matching = \"block\"", "matching = \"quilt\"");
    let pieces = pattern("at-most = 1", "")
        .replace("matching = \"block\"", "matching = \"piece\"")
        .replace("size = \"10\"\ncount = 1", "size = \"10\"\ncount = 2");
    for pattern in [quilt, pieces] {
        let answer = planned(&pattern, stash, 100);
        let summary = answer.summary;
        assert_eq!((summary.verdict, summary.shown_again), (Verdict::Impossible, (1, 1)), "{pattern}");
        let free = pattern.replace("at-most = 1", "");
        assert_eq!(planned(&free, stash, 100).summary.verdict, Verdict::Fits);
    }
}
