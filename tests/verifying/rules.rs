//! Plans that keep every rule between fabrics, and ways to break each.

use cutcloth::verifying::{Inputs, Rule, Source};
use serde_json::{Value, json};

use crate::broken::{Case, case, open, push};
use crate::faults;
use crate::measured::measure;
use crate::plans::{
    Answer, Cut, EIGHTH, alternative, failing, fitting, level, narrow, pair, record, set, sheet,
};
use crate::plans::{piece, upright, with};

const STASH: &str = "\
print,cut,count,width,length,color,value,directional,keep,price
urchin red,10-inch square,2,,,#c8353c,dark,no,no,1.25
kelp stripe,fat quarter,1,18,21,,,yes,no,3.25
sand,yardage,1,40,36,,,no,no,9.00
kelp stripe,5-inch square,1,,,Sea Green,medium,yes,no,
";

/// Block and lines of the charts in `plans`, with these keys under the roles A, B and C.
pub(crate) fn pattern(a: &str, b: &str, c: &str) -> Source {
    let text = format!(
        "[quilt]\nblends = true\n[role.A]\nmatching = \"block\"\n{a}\n[role.B]\n{b}\n[role.C]\nmatching = \"quilt\"\n{c}\n\
         [[block]]\nname = \"Urchin\"\nmake = 2\n\
         [[block.piece]]\nlabel = \"A1\"\nrole = \"A\"\nsize = \"4 1/2\"\ncount = 2\n\
         [[block.piece]]\nlabel = \"B1\"\nrole = \"B\"\nsize = \"2 1/2 x 4 1/2\"\ncount = 1\n\
         [[block]]\nname = \"Shell\"\nmake = 1\n\
         [[block.piece]]\nlabel = \"C1\"\nrole = \"C\"\nsize = \"3 1/2 x 30\"\ncount = 1\n"
    );
    Source { name: "inputs/pattern.toml".to_owned(), bytes: text.into_bytes() }
}

const RULES_OF_A: &str = "different = [\"C\"]\nat-most = 1\n\
    only = { print = [\"Urchin  Red\", \"kelp stripe\"], color = [\"red\", \"green\"], value = [\"dark\", \"medium\"] }\n\
    never = { print = [\"sand\"], color = [\"blue\"], value = [\"light\"] }";

/// The plan that fits, of a pattern that has every rule; a narrow piece of the directional print lies turned.
fn ruled() -> (Inputs, Value) {
    let (mut inputs, mut plan) = fitting();
    inputs.stash.bytes = STASH.as_bytes().to_vec();
    inputs.pattern = pattern(RULES_OF_A, "direction = \"free\"", "never = { print = [\"kelp stripe\"] }");
    plan["inputs"]["pattern"] = json!("inputs/pattern.toml");
    let turned = Cut::Piece { label: "B1", copy: 2, turned: true };
    let rest = upright(36, level(20, turned, Cut::Left), Cut::Left);
    let pair = upright(36, piece("A1", 2), upright(36, piece("A1", 2), Cut::Left));
    plan["sheets"][1] = sheet(Some(2), "kelp stripe", "fat quarter", (142, 166), 166, &level(36, pair, rest));
    measure(&mut plan);
    (inputs, plan)
}

/// All A from urchin red, all B from kelp stripe, which must differ: A has one print over the quilt.
fn quilted() -> (Inputs, Value) {
    let (mut inputs, _) = ruled();
    inputs.pattern = pattern("matching = \"quilt\"\ndifferent = [\"B\"]", "", "");
    let text = String::from_utf8(inputs.pattern.bytes).expect("it is text");
    inputs.pattern.bytes = text.replacen("matching = \"block\"\n", "", 1).into_bytes();
    let red = |copy| sheet(Some(1), "urchin red", "10-inch square", (78, 78), 78, &pair(copy, Cut::Left));
    let kelp = narrow_row(narrow(1, narrow(2, Cut::Left)));
    let whole = |role: &str, print: &str| json!({"block": null, "copy": null, "role": role, "label": null, "piece": null, "print": print});
    let mut plan = record(Answer {
        verdict: "fits",
        copies: 2,
        sheets: vec![red(1), with(red(2), "copy", 2), kelp, ruled().1["sheets"][2].clone()],
        sets: vec![
            whole("A", "urchin red"),
            whole("C", "sand"),
            with(set(1, "B"), "print", "kelp stripe"),
            with(set(2, "B"), "print", "kelp stripe"),
        ],
        short: vec![],
        relaxed: vec![],
        alternatives: vec![],
    });
    plan["inputs"]["pattern"] = json!("inputs/pattern.toml");
    (inputs, plan)
}

fn narrow_row(cut: Cut) -> Value {
    sheet(Some(2), "kelp stripe", "fat quarter", (142, 166), 166, &cut)
}

/// A and B must differ, and the second A finds nothing but the print of the second B: the alternative lets it.
fn waived() -> (Inputs, Value) {
    let (mut inputs, _) = ruled();
    inputs.pattern = pattern("different = [\"B\"]", "", "");
    let red = sheet(Some(1), "urchin red", "10-inch square", (78, 78), 78, &pair(1, Cut::Left));
    let sand = ruled().1["sheets"][2].clone();
    let sets = vec![
        with(set(1, "A"), "print", "urchin red"),
        with(set(1, "B"), "print", "kelp stripe"),
        with(set(2, "B"), "print", "kelp stripe"),
        json!({"block": null, "copy": null, "role": "C", "label": null, "piece": null, "print": "sand"}),
    ];
    let mut inner = record(Answer {
        verdict: "fits",
        copies: 2,
        sheets: vec![red.clone(), narrow_row(pair(2, narrow(1, narrow(2, Cut::Left)))), sand.clone()],
        sets: [sets.clone(), vec![with(set(2, "A"), "print", "kelp stripe")]].concat(),
        short: vec![],
        relaxed: vec![json!({"kind": "rule", "rule": "different", "role": "B", "other": "A"})],
        alternatives: vec![],
    });
    inner["inputs"]["pattern"] = json!("inputs/pattern.toml");
    let mut plan = record(Answer {
        verdict: "undecided",
        copies: 2,
        sheets: vec![red, narrow_row(narrow(1, narrow(2, Cut::Left))), sand],
        sets,
        short: vec![with(set(2, "A"), "reason", "no other print is large enough")],
        relaxed: vec![],
        alternatives: vec![alternative(&["A and B may be alike"], None, inner)],
    });
    plan["inputs"]["pattern"] = json!("inputs/pattern.toml");
    (inputs, plan)
}

/// Puts `with` in place of `what`, which stands once in the text.
fn edit(source: &mut Source, what: &str, with: &str) {
    let text = String::from_utf8(source.bytes.clone()).expect("it is text");
    assert_eq!(text.matches(what).count(), 1, "\"{what}\" stands once in\n{text}");
    source.bytes = text.replace(what, with).into_bytes();
}

/// The two ways of the unit in `made`, of which the first is taken: one batch for either block.
fn made() -> (Inputs, Value) {
    let (mut inputs, mut plan) = fitting();
    let text = "[quilt]\nblends = true\n[role.A]\nmatching = \"block\"\n[role.B]\n[role.C]\nmatching = \"quilt\"\n\
         [[block]]\nname = \"Urchin\"\nmake = 2\n\
         [[block.unit]]\nname = \"H\"\nkind = \"half-square triangles\"\nroles = [\"A\", \"A\"]\nfinished = \"3 5/8\"\n\
         count = 2\nmethod = [\"two at a time\", \"cut triangles\"]\n\
         [[block.piece]]\nlabel = \"B1\"\nrole = \"B\"\nsize = \"2 1/2 x 4 1/2\"\ncount = 1\n\
         [[block]]\nname = \"Shell\"\nmake = 1\n\
         [[block.piece]]\nlabel = \"C1\"\nrole = \"C\"\nsize = \"3 1/2 x 30\"\ncount = 1\n";
    inputs.pattern = Source { name: "inputs/pattern.toml".to_owned(), bytes: text.as_bytes().to_vec() };
    plan["inputs"]["pattern"] = json!("inputs/pattern.toml");
    let units = json!([{"block": "Urchin", "unit": "H", "method": "two at a time"}]);
    plan["methods"] = json!({"units": units, "settled": false, "text": "in words", "refused": []});
    (inputs, plan)
}

/// The plan that does not fit, with the same unit: the other way is refused by the same weights.
fn unmade() -> (Inputs, Value) {
    let (mut inputs, mut plan) = failing();
    inputs.pattern = made().0.pattern;
    edit(&mut inputs.pattern, "make = 2", "make = 3");
    plan["inputs"]["pattern"] = json!("inputs/pattern.toml");
    plan["alternatives"] = json!([]);
    let way = |method: &str| json!([{"block": "Urchin", "unit": "H", "method": method}]);
    let refused = json!([{"units": way("cut triangles"), "proved_again": true, "weighing": plan["reasons"][0]["weighing"], "cases": []}]);
    plan["methods"] =
        json!({"units": way("two at a time"), "settled": true, "text": "in words", "refused": refused});
    (inputs, plan)
}

/// The fat quarter of kelp stripe as squared up, and two A1 and a B1 on it.
const CUT_INTO: i64 = 142 * 166 * EIGHTH * EIGHTH;
const PIECES: i64 = (2 * 36 * 36 + 20 * 36) * EIGHTH * EIGHTH;

/// The plan that fits, with what keeping the up of kelp stripe costs.
fn compared() -> (Inputs, Value) {
    let (inputs, mut plan) = fitting();
    let opened = plan["fabric"]["opened"].as_i64().expect("a number");
    plan["upright"] = json!({
        "prints": 1, "opened": opened - 5, "bound": opened - 9, "cut_into": CUT_INTO, "pieces": PIECES,
        "text": "in words"
    });
    (inputs, plan)
}

pub(crate) fn cases() -> Vec<Case> {
    vec![
        case(Rule::Methods, "a way that the pattern does not name", made, |_, p| {
            p["methods"]["units"][0]["method"] = json!("eight at a time");
        }),
        case(Rule::Methods, "a unit left out", made, |_, p| p["methods"]["units"] = json!([])),
        case(Rule::Methods, "a unit listed twice", made, |_, p| {
            let twice = p["methods"]["units"][0].clone();
            push(&mut p["methods"]["units"], twice);
        }),
        case(Rule::Methods, "a unit that is not there", made, |_, p| {
            p["methods"]["units"][0]["unit"] = json!("K");
        }),
        case(Rule::Methods, "a choice where there is none", fitting, |_, p| {
            p["methods"]["settled"] = json!(false);
        }),
        case(Rule::Methods, "a way refused that is not named", unmade, |_, p| {
            let mut unknown = p["methods"]["refused"][0].clone();
            unknown["units"][0]["method"] = json!("eight at a time");
            push(&mut p["methods"]["refused"], unknown);
        }),
        case(Rule::EveryWay, "a way not refused", unmade, |_, p| p["methods"]["refused"] = json!([])),
        case(Rule::EveryWay, "a way refused twice", unmade, |_, p| {
            let twice = p["methods"]["refused"][0].clone();
            push(&mut p["methods"]["refused"], twice);
        }),
        case(Rule::EveryWay, "the way taken refused once more", unmade, |_, p| {
            let mut taken = p["methods"]["refused"][0].clone();
            taken["units"] = p["methods"]["units"].clone();
            push(&mut p["methods"]["refused"], taken);
        }),
        case(Rule::EveryWay, "impossible with other ways left open", unmade, |_, p| {
            p["methods"]["settled"] = json!(false);
        }),
        case(Rule::EveryWay, "a way refused of what fits", made, |_, p| {
            p["methods"]["refused"] = json!([{"units": p["methods"]["units"], "proved_again": false, "weighing": null, "cases": []}]);
        }),
        case(Rule::Proof, "weights of another way that do not add up", unmade, |_, p| {
            p["methods"]["refused"][0]["weighing"]["needed"] = json!(2);
        }),
        case(Rule::ProofAgain, "another way said not to fit that does", unmade, |_, p| {
            p["methods"]["refused"][0]["weighing"]["items"][0]["sets"][0]["copies"] = json!([2]);
        }),
        case(Rule::Reason, "a way without words", made, |_, p| p["methods"]["text"] = json!("")),
        case(Rule::Upright, "prints miscounted", compared, |_, p| p["upright"]["prints"] = json!(2)),
        case(Rule::Upright, "more fabric when free to turn", compared, |_, p| {
            p["upright"]["opened"] = json!(p["fabric"]["opened"].as_i64().expect("a number") + 1);
        }),
        case(Rule::Upright, "a bound past what it opens", compared, |_, p| {
            p["upright"]["bound"] = p["fabric"]["opened"].clone();
        }),
        case(Rule::Upright, "less cut into than there is", compared, |_, p| {
            p["upright"]["cut_into"] = json!(CUT_INTO - 1);
        }),
        case(Rule::Upright, "pieces that are not there", compared, |_, p| {
            p["upright"]["pieces"] = json!(PIECES + 1);
        }),
        case(Rule::Reason, "a comparison without words", compared, |_, p| {
            p["upright"]["text"] = json!(" ");
        }),
        case(Rule::Contrast, "a print too near to what it must stand out from", ruled, |inputs, _| {
            edit(&mut inputs.stash, "sand,yardage,1,40,36,,", "sand,yardage,1,40,36,#c04040,");
            edit(&mut inputs.pattern, "different = [\"C\"]", "contrast = { with = [\"C\"], at-least = 1.5 }");
        }),
        case(Rule::Contrast, "of a print of which neither colour nor value is known", ruled, |inputs, _| {
            edit(&mut inputs.pattern, "different = [\"C\"]", "contrast = { with = [\"C\"], at-least = 1.5 }");
        }),
        case(Rule::Different, "two roles of a block of one print", ruled, |inputs, _| {
            edit(&mut inputs.pattern, "different = [\"C\"]", "different = [\"B\"]");
        }),
        case(Rule::Different, "said by the other role only", ruled, |inputs, _| {
            edit(&mut inputs.pattern, "direction = \"free\"", "direction = \"free\"\ndifferent = [\"A\"]");
        }),
        case(Rule::Different, "one of them the same over the quilt", quilted, |_, p| {
            let red = pair(2, narrow(2, Cut::Left));
            let red = sheet(Some(1), "urchin red", "10-inch square", (78, 78), 78, &red);
            p["sheets"][1] = with(red, "copy", 2);
            p["sheets"][2] = narrow_row(narrow(1, Cut::Left));
            p["sets"][3]["print"] = json!("urchin red");
            open(p);
        }),
        case(Rule::AtMost, "two copies alike where one may be", ruled, |_, p| {
            let red = sheet(Some(1), "urchin red", "10-inch square", (78, 78), 78, &pair(2, Cut::Left));
            push(&mut p["sheets"], with(red, "copy", 2));
            p["sheets"][1] = narrow_row(narrow(2, Cut::Left));
            p["sets"][2]["print"] = json!("urchin red");
            open(p);
        }),
        case(Rule::Only, "not of the prints named", ruled, |inputs, _| {
            edit(&mut inputs.pattern, "\"Urchin  Red\", \"kelp stripe\"", "\"urchin red\"");
        }),
        case(Rule::Only, "not of the colors named", ruled, |inputs, _| {
            edit(&mut inputs.pattern, "[\"red\", \"green\"]", "[\"red\", \"blue\"]");
        }),
        case(Rule::Only, "not of the values named", ruled, |inputs, _| {
            edit(&mut inputs.pattern, "[\"dark\", \"medium\"]", "[\"dark\"]");
        }),
        case(Rule::Only, "of a color that nobody states", ruled, |inputs, _| {
            edit(&mut inputs.stash, "Sea Green", "");
        }),
        case(Rule::Only, "of a value that nobody states", ruled, |inputs, _| {
            edit(&mut inputs.stash, "Sea Green,medium", "Sea Green,");
        }),
        case(Rule::Never, "a print ruled out", ruled, |inputs, _| {
            edit(&mut inputs.pattern, "[\"sand\"]", "[\"sand\", \"KELP stripe\"]");
        }),
        case(Rule::Never, "a color ruled out", ruled, |inputs, _| {
            edit(&mut inputs.pattern, "color = [\"blue\"]", "color = [\"green\"]");
        }),
        case(Rule::Never, "a value ruled out", ruled, |inputs, _| {
            edit(&mut inputs.pattern, "[\"light\"]", "[\"medium\"]");
        }),
        case(Rule::Direction, "a directional print turned where it must be kept", ruled, |inputs, _| {
            edit(&mut inputs.pattern, "direction = \"free\"", "direction = \"kept\"");
        }),
        case(Rule::Change, "a rule given up twice", waived, |_, p| {
            let again = json!({"kind": "rule", "rule": "different", "role": "A", "other": "B"});
            push(&mut p["alternatives"][0]["plan"]["rules"]["relaxed"], again);
        }),
        case(Rule::Change, "a rule given up that is not there", waived, |_, p| {
            let other = json!({"kind": "rule", "rule": "at most", "role": "A", "other": null});
            push(&mut p["alternatives"][0]["plan"]["rules"]["relaxed"], other);
        }),
        case(Rule::Change, "a rule given up of a role that is not there", waived, |_, p| {
            let other = json!({"kind": "rule", "rule": "only", "role": "Z", "other": null});
            push(&mut p["alternatives"][0]["plan"]["rules"]["relaxed"], other);
        }),
        case(Rule::Change, "a rule of one role given up between two", waived, |_, p| {
            let other = json!({"kind": "rule", "rule": "different", "role": "A", "other": null});
            push(&mut p["alternatives"][0]["plan"]["rules"]["relaxed"], other);
        }),
        case(Rule::Different, "a rule broken that another role gave up", waived, |inputs, p| {
            edit(&mut inputs.pattern, "[role.C]", "[role.C]\ndifferent = [\"A\"]");
            p["alternatives"][0]["plan"]["rules"]["relaxed"][0]["role"] = json!("C");
        }),
    ]
}

#[test]
fn plans_that_keep_every_rule_pass() {
    for (name, (inputs, plan)) in [("ruled", ruled()), ("quilted", quilted()), ("waived", waived())] {
        let (codes, text) = faults(&inputs, &plan);
        assert!(codes.is_empty(), "{name}:\n{text}");
    }
}

#[test]
fn a_rule_given_up_is_no_rule_for_that_alternative_and_stays_one_for_the_plan() {
    let (inputs, mut plan) = waived();
    let freed = plan["alternatives"][0]["plan"].clone();
    for field in ["sheets", "sets", "totals", "short", "fabric", "preferences"] {
        plan[field] = freed[field].clone();
    }
    plan["verdict"] = json!("fits");
    plan["reasons"] = json!([]);
    let (codes, text) = faults(&inputs, &plan);
    assert_eq!(codes, ["V506"], "{text}");
    assert!(text.contains("Urchin copy 2: roles A and B are both of kelp stripe"), "{text}");
}

#[test]
fn color_and_value_of_a_print_that_is_bought_are_left_to_the_buyer() {
    let (mut inputs, mut plan) = failing();
    // In the third alternative a square of pebble is bought; here the stash has none of it.
    let alternative = plan["alternatives"][2].clone();
    plan["alternatives"] = json!([alternative]);
    plan["reasons"] = json!([{"code": "count", "text": "there is no pebble", "proved_again": false, "weighing": null, "cases": []}]);
    plan["inputs"]["pattern"] = json!("inputs/pattern.toml");
    plan["inputs"]["placements"] = Value::Null;
    plan["alternatives"][0]["plan"]["inputs"] = plan["inputs"].clone();
    inputs.placements = None;
    inputs.stash.bytes = STASH.as_bytes().to_vec();
    let mut three = |only: &str| {
        inputs.pattern = pattern(only, "", "");
        edit(&mut inputs.pattern, "make = 2", "make = 3");
        faults(&inputs, &plan)
    };
    let (codes, text) = three("only = { color = [\"red\", \"green\"], value = [\"dark\", \"medium\"] }");
    assert!(codes.is_empty(), "{text}");
    let (codes, text) = three("only = { print = [\"urchin red\", \"kelp stripe\"] }");
    assert_eq!(codes, ["V308"], "{text}");
}
