//! The whole job on small random inputs: whatever the engine answers, its own record must pass the independent
//! check, alternatives included. No verdict is asked for here, only that nothing is shown that is wrong.

use cutcloth::app::Given;
use cutcloth::app::Stop;
use cutcloth::app::options::{self, Options};
use cutcloth::app::run::{Failure, Request, plan};
use cutcloth::app::summary::Verdict;
use cutcloth::verifying::{Fault, Inputs, Rule, Source, Work, verify_within};
use rand::rngs::SmallRng;
use rand::seq::IndexedRandom;
use rand::{Rng, SeedableRng};
use serde_json::{Value, json};

/// Faults of a record, with the usual work for its proofs.
fn verify(inputs: &Inputs, plan_json: &str) -> Vec<Fault> {
    verify_within(inputs, plan_json, &mut Work::percent(100, &|| false))
}

/// Names of our own sea shore.
const PRINTS: [&str; 5] = ["urchin red", "kelp stripe", "sand", "coral", "pebble"];

fn stash(random: &mut SmallRng) -> String {
    let mut text = "print,cut,count,width,length,directional,keep,price\n".to_owned();
    let one_way: Vec<bool> = PRINTS.iter().map(|_| random.random_bool(0.3)).collect();
    for _ in 0..random.random_range(1..7) {
        let print = random.random_range(0..PRINTS.len());
        let (cut, size) = *[
            ("10-inch square", ","),
            ("5-inch square", ","),
            ("fat quarter", ","),
            ("fat eighth", "21,9"),
            ("yardage", "40,18"),
            ("scrap", "7,6 1/2"),
        ]
        .choose(random)
        .expect("there are some");
        let count = random.random_range(1..3);
        let directional = if one_way[print] { "yes" } else { "no" };
        let keep = if random.random_bool(0.2) { "yes" } else { "no" };
        let price = if random.random_bool(0.5) { "2.35" } else { "" };
        text += &format!("{},{cut},{count},{size},{directional},{keep},{price}\n", PRINTS[print]);
    }
    text
}

/// A chart, with its blocks and how many of each.
fn chart(random: &mut SmallRng) -> (String, Vec<(&'static str, u32)>) {
    let mut text = "block,make,label,role,width,height,count,matching,from\n".to_owned();
    let mut blocks = Vec::new();
    for block in &["Urchin", "Shell"][..random.random_range(1..3)] {
        let make = random.random_range(1..4);
        blocks.push((*block, make));
        for role in &["A", "B"][..random.random_range(1..3)] {
            let matching = ["piece", "block", "quilt"].choose(random).expect("there are some");
            for number in 1..random.random_range(2..4) {
                let (width, height) = (random.random_range(4..40), random.random_range(4..40));
                let count = random.random_range(1..4);
                text += &format!(
                    "{block},{make},{role}{number},{role},{}/8,{}/8,{count},{matching},\n",
                    width + 6,
                    height + 6
                );
            }
        }
    }
    (text, blocks)
}

fn placements(random: &mut SmallRng, blocks: &[(&str, u32)]) -> String {
    let mut text = "block,copy,role,print\n".to_owned();
    for &(block, make) in blocks {
        for copy in 1..=make {
            if random.random_bool(0.4) {
                let print = PRINTS.choose(random).expect("there are some");
                text += &format!("{block},{copy},A,{print}\n");
            }
        }
    }
    text
}

fn given(name: &str, text: String) -> Given {
    Given { name: name.to_owned(), bytes: text.into_bytes() }
}

/// One random job; `alternatives` and conflicts take most of the time of those that do not fit.
fn job(random: &mut SmallRng, alternatives: bool) -> (Request, String) {
    let (pattern, blocks) = chart(random);
    let stash = stash(random);
    let decided = random.random_bool(0.5).then(|| placements(random, &blocks));
    let allowance = ["0", "1/8", "1/4"].choose(random).expect("there are some");
    let allowance = options::length(allowance).expect("a length");
    let mut options = Options { allowance, ..Options::default() };
    options.rules.alternatives = alternatives;
    options.rules.conflicts = alternatives;
    let inputs = format!("{pattern}\n{stash}\n{}", decided.clone().unwrap_or_default());
    let request = Request {
        pattern: given("chart.csv", pattern),
        stash: given("stash.csv", stash),
        placements: decided.map(|text| given("placements.csv", text)),
        options,
    };
    (request, inputs)
}

#[test]
fn every_answer_passes_the_independent_check() {
    let mut random = SmallRng::seed_from_u64(254);
    let (mut fits, mut fails, mut ways, mut refused) = (0, 0, 0, 0);
    for round in 0..60 {
        let (request, inputs) = job(&mut random, true);
        match plan(&request, &Stop::never(), &mut |_| {}) {
            Ok(answer) if answer.summary.verdict == Verdict::Fits => fits += 1,
            Ok(answer) => {
                fails += 1;
                ways += answer.summary.alternatives.len();
            }
            // A print decided that is not held, or decided twice: refused before planning, as it should be.
            Err(Failure::Inputs(_)) => refused += 1,
            Err(Failure::Internal(said)) => panic!("round {round}: {said:#?}\n{inputs}"),
        }
    }
    let told = format!("{fits} fit, {fails} do not, {ways} alternatives, {refused} refused");
    assert!(fits > 5 && fails > 5 && ways > 10, "the inputs must try everything: {told}");
}

#[test]
fn every_refusal_is_shown_again_without_the_search() {
    let mut random = SmallRng::seed_from_u64(1_703);
    let (mut refused, mut shown) = (0, 0);
    for _ in 0..240 {
        let (request, _) = job(&mut random, false);
        let Ok(answer) = plan(&request, &Stop::never(), &mut |_| {}) else { continue };
        if answer.summary.verdict == Verdict::Impossible {
            refused += 1;
            shown += u32::from(answer.summary.shown_again.0 > 0);
        }
    }
    assert!(refused > 30 && shown == refused, "{shown} of {refused} are shown again");
}

/// The claim divided in two by how many of some sets a print serves, at any price.
fn cases(record: &Value, weighing: &Value, random: &mut SmallRng) -> Value {
    let sets = record["sets"].as_array().expect("a list");
    let print = &sets.choose(random).expect("something is cut")["print"];
    let mut named = Vec::new();
    for set in sets.iter().filter(|_| random.random_bool(0.6)) {
        let copies = set["copy"].as_u64().into_iter().collect::<Vec<_>>();
        named.push(json!({"block": set["block"], "copies": copies, "role": set["role"],
                          "label": set["label"], "piece": set["piece"]}));
    }
    if named.is_empty() {
        return json!([{"split": null, "prices": [], "weighing": weighing}]);
    }
    let split = json!({"sets": named, "pieces": [], "prints": [print], "sheets": [],
                       "most": random.random_range(0..named.len())});
    let mut refuted = || json!({"split": null, "prices": [random.random_range(0..6)], "weighing": weighing});
    json!([{"split": split, "prices": [], "weighing": null}, refuted(), refuted()])
}

#[test]
fn no_weights_ever_show_that_what_fits_does_not() {
    let mut random = SmallRng::seed_from_u64(1_704);
    let mut tried = 0;
    for round in 0..60 {
        let (request, inputs) = job(&mut random, false);
        let Ok(answer) = plan(&request, &Stop::never(), &mut |_| {}) else { continue };
        if answer.summary.verdict != Verdict::Fits {
            continue;
        }
        let file =
            |name: &str| answer.files.iter().find(|(held, _)| held == name).map(|(_, bytes)| bytes.clone());
        let source = |name: &str| Some(Source { name: name.to_owned(), bytes: file(name)? });
        let sources = Inputs {
            stash: source("inputs/stash.csv").expect("always there"),
            pattern: source("inputs/chart.csv").expect("always there"),
            placements: source("inputs/placements.csv"),
        };
        let record = file("plan.json").expect("always there");
        let mut record: Value = serde_json::from_slice(&record).expect("it is JSON");
        // Everything is served, so no weights can stand above what can be served: claim it by a hair.
        let mut needed = 0;
        let mut items = Vec::new();
        for set in record["sets"].as_array().expect("a list") {
            let weight = [1, 1, 5, random.random_range(1..1_000)].choose(&mut random).copied().expect("some");
            let copies = set["copy"].as_u64().into_iter().collect::<Vec<_>>();
            let name = json!({"block": set["block"], "copies": copies, "role": set["role"],
                              "label": set["label"], "piece": set["piece"]});
            needed += weight;
            items.push(json!({"weight": weight, "sets": [name], "pieces": []}));
        }
        let weighing = json!({"needed": needed, "most": needed - 1, "items": items});
        record["verdict"] = json!("impossible");
        let cases = cases(&record, &weighing, &mut random);
        for (weighing, cases) in [(weighing, json!([])), (Value::Null, cases)] {
            record["reasons"] = json!([
                {"code": "together", "text": "so it is claimed", "proved_again": true, "weighing": weighing, "cases": cases}
            ]);
            let faults = verify(&sources, &record.to_string());
            assert!(
                faults.iter().any(|fault| [Rule::ProofAgain, Rule::WorkEnded].contains(&fault.rule)),
                "round {round}: shown of what fits\n{inputs}\n{cases}\n{faults:#?}"
            );
        }
        tried += 1;
    }
    assert!(tried > 15, "{tried} of the jobs fit");
}
