//! Rules between fabrics given up, the fewest that will do.

use serde_json::Value;

use cutcloth::verifying::Rule;

use crate::jobs::run;

/// Three tide blocks; only one print is held, and the rule lets it into two of them.
const TIDE: &str = "[quilt]\nname = \"Tide\"\n\n[role.A]\nname = \"star\"\nmatching = \"block\"\nRULE\n\n\
                    [[block]]\nname = \"Star\"\nmake = 3\n\n[[block.piece]]\nlabel = \"S\"\nrole = \"A\"\n\
                    size = \"9 1/2 x 4 1/2\"\ncount = 2\n";

fn tide(rule: &str) -> String {
    TIDE.replace("RULE", rule)
}

#[test]
fn one_rule_between_fabrics_is_given_up_and_only_that_one() {
    let cases = [
        ("at-most = 2", "print,cut,count\ncoral,10-inch square,3\n", "at most"),
        (
            "only = { print = [\"coral\"] }",
            "print,cut,count\ncoral,10-inch square,2\nsand,10-inch square,1\n",
            "only",
        ),
        (
            "never = { print = [\"sand\"] }",
            "print,cut,count\ncoral,10-inch square,2\nsand,10-inch square,1\n",
            "never",
        ),
    ];
    for (rule, stash, name) in cases {
        let run = run(&tide(rule), stash, "");
        assert_eq!(run.record["verdict"], "impossible", "{rule}");
        let offer = run.offer(&["rule"]);
        let relaxed = &run.record["alternatives"][offer]["plan"]["rules"]["relaxed"];
        assert_eq!((&relaxed[0]["rule"], &relaxed[0]["role"]), (&name.into(), &"A".into()), "{rule}");
        assert!(run.says(offer).contains("fabric A"), "{}", run.says(offer));
        // Kept quiet, it is a broken rule.
        let quiet = run.faults(|record| {
            record["alternatives"][offer]["plan"]["rules"]["relaxed"] = Value::Array(Vec::new())
        });
        let broken = match name {
            "at most" => Rule::AtMost,
            "only" => Rule::Only,
            _ => Rule::Never,
        };
        assert!(quiet.contains(&broken) && quiet.contains(&Rule::Alternative), "{rule}: {quiet:?}");
    }
}

#[test]
fn roles_that_must_differ_may_share_a_print_when_nothing_else_will_do() {
    let pattern = "[role.A]\nname = \"star\"\nmatching = \"block\"\ndifferent = [\"B\"]\n\n[role.B]\nname = \"sky\"\n\
                   matching = \"block\"\n\n[[block]]\nname = \"Star\"\nmake = 1\n\n[[block.piece]]\nlabel = \"S\"\n\
                   role = \"A\"\nsize = \"9 1/2 x 4 1/2\"\ncount = 1\n\n[[block.piece]]\nlabel = \"T\"\nrole = \"B\"\n\
                   size = \"9 1/2 x 4 1/2\"\ncount = 1\n";
    let run = run(pattern, "print,cut,count\ncoral,10-inch square,1\n", "");
    let offer = run.offer(&["rule"]);
    let relaxed = &run.record["alternatives"][offer]["plan"]["rules"]["relaxed"][0];
    assert_eq!((&relaxed["rule"], &relaxed["other"]), (&"different".into(), &"B".into()));
    let quiet = run.faults(|record| {
        record["alternatives"][offer]["plan"]["rules"]["relaxed"] = Value::Array(Vec::new())
    });
    assert!(quiet.contains(&Rule::Different), "{quiet:?}");
}
