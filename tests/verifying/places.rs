//! A plan whose blocks have their places, broken in every way in which places can be wrong. The plan itself is the
//! engine's: only its places are in question here.

use cutcloth::app::Given;
use cutcloth::app::Stop;
use cutcloth::app::options::Options;
use cutcloth::app::run::{Request, plan};
use cutcloth::verifying::{Inputs, Rule, Source};
use serde_json::{Value, json};

use crate::broken::{Case, case};

const PATTERN: &str = r#"
[role.shell]
matching = "block"
[[block]]
name = "Cockle"
letter = "C"
finished = "4 in"
rows = ["shell"]
[[block]]
name = "Whelk"
letter = "W"
finished = "4 in"
rows = ["shell"]
[layout]
rows = ["C W C", "W C W", "C W C"]
"#;

const STASH: &str = "\
print,cut,count,width,length,color
cockle red,scrap,3,5,5,#b03030
sea blue,scrap,3,5,5,#2050a0
weed green,scrap,3,5,5,#3a7a3a
";

const PLACEMENTS: &str = "block,copy,role,print,row,column\nCockle,3,,,1,1\n";

/// A plan that fits, with Cockle 3 in the first place.
fn placed() -> (Inputs, Value) {
    let given = |name: &str, text: &str| Given { name: name.to_owned(), bytes: text.as_bytes().to_vec() };
    let request = Request {
        pattern: given("pattern.toml", PATTERN),
        stash: given("stash.csv", STASH),
        placements: Some(given("placements.csv", PLACEMENTS)),
        options: Options::default(),
    };
    let answer = plan(&request, &Stop::never(), &mut |_| {}).expect("it fits");
    let file =
        |name: &str| answer.files.iter().find(|(file, _)| file == name).expect("it is written").1.clone();
    let source = |name: &str| Source { name: name.to_owned(), bytes: file(name) };
    let inputs = Inputs {
        stash: source("inputs/stash.csv"),
        pattern: source("inputs/pattern.toml"),
        placements: Some(source("inputs/placements.csv")),
    };
    (inputs, serde_json::from_slice(&file("plan.json")).expect("JSON"))
}

/// Two entries of the list change copies.
fn swap(plan: &mut Value, one: usize, other: usize) {
    let copies = &mut plan["places"]["copies"];
    let (first, second) = (copies[one]["copy"].clone(), copies[other]["copy"].clone());
    copies[one]["copy"] = second;
    copies[other]["copy"] = first;
}

fn add(number: &mut Value) {
    *number = json!(number.as_u64().expect("a number") + 1000);
}

/// Places listed wrongly.
pub(crate) fn cases() -> Vec<Case> {
    vec![
        case(Rule::Places, "no places at all", placed, |_, p| p["places"] = Value::Null),
        case(Rule::Places, "a place left empty", placed, |_, p| {
            p["places"]["copies"].as_array_mut().expect("a list").pop();
        }),
        case(Rule::Places, "a place of another block", placed, |_, p| {
            p["places"]["copies"][8]["block"] = json!("Whelk");
        }),
        case(Rule::Places, "a copy on two places", placed, |_, p| {
            p["places"]["copies"][2]["copy"] = p["places"]["copies"][4]["copy"].clone();
        }),
        case(Rule::Places, "a place that is not there", placed, |_, p| {
            p["places"]["copies"][1]["row"] = json!(7);
        }),
        case(Rule::PlaceKept, "a decided copy elsewhere", placed, |_, p| swap(p, 0, 2)),
        case(Rule::Crowding, "another crowding of prints", placed, |_, p| {
            add(&mut p["places"]["prints"]["reached"])
        }),
        case(Rule::Crowding, "another crowding of colours", placed, |_, p| {
            add(&mut p["places"]["colors"]["reached"]);
        }),
        case(Rule::Crowding, "a bound above what is reached", placed, |_, p| {
            add(&mut p["places"]["colors"]["bound"]);
        }),
        case(Rule::Crowding, "claimed or not", placed, |_, p| {
            let claimed = p["places"]["prints"]["claimed"].as_bool().expect("true or false");
            p["places"]["prints"]["claimed"] = json!(!claimed);
        }),
        case(Rule::Crowding, "the closest farther apart", placed, |_, p| {
            p["places"]["closest"]["distance"] = json!(5);
        }),
        case(Rule::Crowding, "the closest of another print", placed, |_, p| {
            p["places"]["closest"]["print"] = json!("dry sand");
        }),
        case(Rule::Crowding, "no closest", placed, |_, p| p["places"]["closest"] = Value::Null),
    ]
}
