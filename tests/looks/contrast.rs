//! The rule of contrast, in pattern files and charts: kept, checked, and refused where nothing can meet it.

use cutcloth::app::options::Options;
use cutcloth::app::run::{Answer, Failure, Request, plan};
use cutcloth::app::summary::Verdict;
use cutcloth::app::{Given, Stop};
use serde_json::Value;

const PATTERN: &str = r#"
[quilt]
name = "Gulls"
[role.gull]
matching = "block"
contrast = { with = ["sky"], at-least = RATIO }
[role.sky]
matching = "quilt"
from = ["fat quarter"]
[[block]]
name = "Gull"
make = 3
finished = "4 in"
rows = ["gull sky", "sky gull"]
"#;

const CHART: &str = "\
block,make,label,role,size,count,matching,from,contrast
Gull,3,A,gull,2 1/2 x 2 1/2,2,block,,RATIO with sky
Gull,,B,sky,2 1/2 x 2 1/2,2,quilt,fat quarter,
";

/// Each small square is enough for one gull. Beside mist only the dark ones stand out, beside storm only the pale ones.
const STASH: &str = "\
print,cut,count,width,length,color
mist,fat quarter,1,18,21,#e8eef0
storm,fat quarter,1,18,21,#2f3a44
foam,scrap,1,6,6,#ffffff
shell,scrap,1,6,6,#f4e7d8
sand,scrap,1,6,6,#eadfc8
tar,scrap,1,6,6,#101418
";

fn planned(name: &str, pattern: &str, ratio: &str, stash: &str) -> Result<Answer, Failure> {
    let given = |name: &str, text: &str| Given { name: name.to_owned(), bytes: text.as_bytes().to_vec() };
    let request = Request {
        pattern: given(name, &pattern.replace("RATIO", ratio)),
        stash: given("stash.csv", stash),
        placements: None,
        options: Options::default(),
    };
    plan(&request, &Stop::never(), &mut |_| {})
}

fn prints(answer: &Answer, role: &str) -> Vec<String> {
    let record = answer.files.iter().find(|(name, _)| name == "plan.json").expect("a record");
    let record: Value = serde_json::from_slice(&record.1).expect("JSON");
    let sets = record["sets"].as_array().expect("a list").iter().filter(|set| set["role"] == role);
    sets.map(|set| set["print"].as_str().expect("a name").to_owned()).collect()
}

#[test]
fn the_fabric_to_stand_out_from_is_chosen_so_that_all_others_do() {
    for (name, pattern) in [("gulls.toml", PATTERN), ("gulls.csv", CHART)] {
        let answer = planned(name, pattern, "4", STASH).expect("it can be planned");
        assert_eq!(answer.summary.verdict, Verdict::Fits, "{name}");
        // Beside mist only tar and storm would stand out, and storm is a fat quarter that must be opened besides.
        assert_eq!(prints(&answer, "sky"), ["storm"], "{name}");
        let gulls = prints(&answer, "gull");
        assert!(gulls.iter().all(|print| ["foam", "shell", "sand"].contains(&print.as_str())), "{gulls:?}");
    }
}

#[test]
fn without_the_rule_any_print_will_do() {
    let plain = PATTERN.replace("contrast = { with = [\"sky\"], at-least = RATIO }", "");
    let answer = planned("gulls.toml", &plain, "", STASH).expect("it can be planned");
    assert_eq!(answer.summary.verdict, Verdict::Fits);
}

#[test]
fn a_contrast_out_of_reach_is_refused_with_the_most_there_is() {
    for (name, pattern) in [("gulls.toml", PATTERN), ("gulls.csv", CHART)] {
        let Err(Failure::Inputs(said)) = planned(name, pattern, "20", STASH) else {
            panic!("{name} is planned")
        };
        let told: Vec<&str> =
            said.iter().filter(|one| one.is_error()).map(|one| one.message.as_str()).collect();
        // Tar beside mist: (0.84 + 0.05) / (0.007 + 0.05).
        assert_eq!(told.len(), 1, "{told:?}");
        assert!(told[0].contains("the most there is is 15."), "{told:?}");
        assert!(told[0].contains("\"tar\" beside \"mist\""), "{told:?}");
    }
}

#[test]
fn what_no_print_can_give_all_copies_is_no_plan() {
    // Only tar stands out from mist, and it is enough for one gull; nothing stands out from storm but foam by 11.
    let few = STASH.replace("shell,scrap,1,6,6,#f4e7d8\n", "").replace("sand,scrap,1,6,6,#eadfc8\n", "");
    let answer = planned("gulls.toml", PATTERN, "11", &few).expect("it can be planned");
    assert_ne!(answer.summary.verdict, Verdict::Fits);
    assert_eq!(answer.summary.shown_again.0, 0, "no weights are claimed that hold for one sky only");
}

#[test]
fn rules_that_cannot_be_read_are_named_with_their_place() {
    let chart = "\
block,make,label,role,size,count,matching,different,at most,contrast,meets
Gull,3,A,gull,2 x 2,2,block,cloud,1,much,sky
Gull,,B,sky,2 x 2,2,block,,,,
Gull,,C,gull,3 x 3,2,block,sky,,,gull
";
    let (_, said) = cutcloth::pattern::read("gulls.csv", chart.as_bytes());
    let told: Vec<(&str, u64, &str)> = said
        .iter()
        .filter(|one| one.is_error())
        .map(|one| (one.code, one.place.line.unwrap(), one.place.field.as_deref().unwrap()))
        .collect();
    let expected =
        [("C120", 2, "different"), ("C121", 2, "contrast"), ("C119", 4, "different"), ("C119", 4, "meets")];
    assert_eq!(told.len(), expected.len(), "{said:?}");
    assert!(expected.iter().all(|one| told.contains(one)), "{told:?}");
    let text = PATTERN.replace("matching = \"quilt\"", "matching = \"block\"").replace("RATIO", "0.5");
    let (_, said) = cutcloth::pattern::read("gulls.toml", text.as_bytes());
    assert!(said.iter().any(|one| one.message.contains("0.5 is not a contrast ratio")), "{said:?}");
    let text = PATTERN.replace("matching = \"quilt\"", "matching = \"block\"").replace("RATIO", "2");
    let (_, said) = cutcloth::pattern::read("gulls.toml", text.as_bytes());
    assert!(said.iter().any(|one| one.message.contains("not one print over the whole quilt")), "{said:?}");
}
