//! Refusals by rules between fabrics and by lists of plans: each is proved again without the search, and its proof,
//! changed or not, is never taken where the quilt fits.

use cutcloth::app::options::Options;
use cutcloth::app::run::{Answer, Request, plan};
use cutcloth::app::summary::Verdict;
use cutcloth::app::{Given, Stop};
use cutcloth::verifying::{Fault, Inputs, Rule, Source, Work, verify_within};
use rand::rngs::SmallRng;
use rand::seq::IndexedRandom;
use rand::{Rng, SeedableRng};
use serde_json::{Value, json};

/// Faults of a record, with four times the usual work for its proofs.
fn verify(inputs: &Inputs, plan_json: &str) -> Vec<Fault> {
    verify_within(inputs, plan_json, &mut Work::percent(400, &|| false))
}

/// Names of our own sea shore.
const PRINTS: [&str; 5] = ["coral", "kelp", "sand", "pebble", "urchin red"];

/// A pattern, and rows of a stash: print, cut and size, count.
#[derive(Clone)]
struct Quilt {
    pattern: String,
    stash: Vec<(&'static str, String, u32)>,
}

impl Quilt {
    fn stash(&self) -> String {
        let row = |(print, what, count): &(&str, String, u32)| format!("{print},{count},{what}\n");
        let rows: String = self.stash.iter().map(row).collect();
        format!("print,count,cut,width,length,directional\n{rows}")
    }

    fn planned(&self) -> Answer {
        let given = |name: &str, text: String| Given { name: name.to_owned(), bytes: text.into_bytes() };
        let mut options = Options::default();
        options.rules.alternatives = false;
        options.rules.conflicts = false;
        let request = Request {
            pattern: given("pattern.toml", self.pattern.clone()),
            stash: given("stash.csv", self.stash()),
            placements: None,
            options,
        };
        plan(&request, &Stop::never(), &mut |_| {})
            .unwrap_or_else(|said| panic!("{said:?}\n{}", self.pattern))
    }

    /// The same with a little more fabric.
    fn with_more(&self, random: &mut SmallRng) -> Quilt {
        let mut more = self.clone();
        let row = random.random_range(0..more.stash.len());
        more.stash[row].2 += 1;
        more
    }
}

fn piece(role: usize, size: &str, count: u32) -> String {
    format!("[[block.piece]]\nlabel = \"L{role}\"\nrole = \"R{role}\"\nsize = \"{size}\"\ncount = {count}\n")
}

fn block(make: u32) -> String {
    format!("[[block]]\nname = \"Shell\"\nmake = {make}\n")
}

/// Squares only, so that counting is all there is: roles that differ, in rings or not, with several sets in a copy, or one
/// over the whole quilt.
fn of_rules(random: &mut SmallRng) -> Quilt {
    let roles = random.random_range(2..6);
    let mut pattern = String::new();
    for role in 0..roles {
        let matching = ["piece", "piece", "block", "block", "quilt"].choose(random).expect("some");
        pattern += &format!("[role.R{role}]\nmatching = \"{matching}\"\n");
        if random.random_bool(0.25) {
            pattern += &format!("at-most = {}\n", random.random_range(1..3));
        }
        let ring = (role + 1) % roles;
        let others: Vec<String> = (0..roles)
            .filter(|&other| other != role && random.random_bool(if other == ring { 0.8 } else { 0.1 }))
            .map(|other| format!("\"R{other}\""))
            .collect();
        if !others.is_empty() {
            pattern += &format!("different = [{}]\n", others.join(", "));
        }
    }
    let make = random.random_range(1..4);
    pattern += &block(make);
    let mut squares = 0;
    for role in 0..roles {
        let count = random.random_range(1..4);
        squares += count * make;
        pattern += &piece(role, "10", count);
    }
    let prints = random.random_range(2..5);
    let each = squares * random.random_range(100..140) / 100 / prints + 1;
    let row = |print: &&'static str| (*print, "10-inch square,,,no".to_owned(), each);
    Quilt { pattern, stash: PRINTS[..prints as usize].iter().map(row).collect() }
}

/// Single pieces, and prints with scraps of two forms.
fn of_scraps(random: &mut SmallRng) -> Quilt {
    let side = |random: &mut SmallRng| random.random_range(8..15);
    let forms = [(side(random), side(random)), (side(random), side(random))];
    let (mut stash, mut fabric) = (Vec::new(), 0);
    for &print in &PRINTS[..random.random_range(2..4)] {
        let up = ["yes", "no"].choose(random).expect("two");
        for &(width, length) in &forms[..random.random_range(1..3)] {
            let count = random.random_range(1..4);
            fabric += width * length * count;
            stash.push((print, format!("scrap,{width},{length},{up}"), count));
        }
    }
    let sizes: Vec<(u32, u32)> =
        (0..3).map(|_| (random.random_range(3..9), random.random_range(3..9))).collect();
    let mut pattern: String = (0..3).map(|role| format!("[role.R{role}]\nmatching = \"piece\"\n")).collect();
    pattern += &block(1);
    for (role, &(width, height)) in sizes.iter().enumerate() {
        let count = fabric * random.random_range(24..33) / 100 / (width * height);
        pattern += &piece(role, &format!("{width} x {height}"), count.max(1));
    }
    Quilt { pattern, stash }
}

/// Sets that go badly together into prints that are alike.
fn of_like_prints(random: &mut SmallRng) -> Quilt {
    let (width, length) = (random.random_range(8..15), random.random_range(8..15));
    let prints = random.random_range(2..6);
    let row = |print: &&'static str| (*print, format!("scrap,{width},{length},no"), 1);
    let stash: Vec<_> = PRINTS[..prints].iter().map(row).collect();
    let mut pattern: String = (0..2).map(|role| format!("[role.R{role}]\nmatching = \"block\"\n")).collect();
    for role in 0..2 {
        let (wide, high) = (random.random_range(3..9), random.random_range(3..9));
        let each = random.random_range(1..3);
        let make = width * length * u32::try_from(prints).expect("few") * random.random_range(30..48)
            / 100
            / (wide * high * each);
        pattern += &format!("[[block]]\nname = \"Shell {role}\"\nmake = {}\n", make.max(1));
        pattern += &piece(role, &format!("{wide} x {high}"), each);
    }
    Quilt { pattern, stash }
}

/// Each print is whole or not at all in one of the roles, and no two of them are enough for either.
fn of_whole_prints() -> Quilt {
    let roles = "[role.R0]\nmatching = \"piece\"\ndifferent = [\"R1\"]\n[role.R1]\nmatching = \"piece\"\n";
    let pattern = roles.to_owned() + &block(1) + &piece(0, "10", 4) + &piece(1, "10", 4);
    let row = |print: &&'static str| (*print, "10-inch square,,,no".to_owned(), 3);
    Quilt { pattern, stash: PRINTS[..3].iter().map(row).collect() }
}

/// As scraps drawn once: what decides is how much of a size comes from sheets of one form.
fn of_two_forms() -> Quilt {
    let mut pattern: String = (0..3).map(|role| format!("[role.R{role}]\nmatching = \"piece\"\n")).collect();
    pattern += &(block(1) + &piece(0, "3 x 8", 9) + &piece(1, "7 x 5", 8) + &piece(2, "4 x 5", 7));
    let stash = vec![
        ("coral", "scrap,9,11,yes".to_owned(), 3),
        ("kelp", "scrap,9,11,no".to_owned(), 3),
        ("kelp", "scrap,9,8,no".to_owned(), 2),
    ];
    Quilt { pattern, stash }
}

fn record(answer: &Answer) -> Value {
    let (_, bytes) = answer.files.iter().find(|(name, _)| name == "plan.json").expect("always there");
    serde_json::from_slice(bytes).expect("it is JSON")
}

/// The splits of all cases.
fn splits(record: &Value) -> Vec<&Value> {
    let reasons = record["reasons"].as_array().expect("a list");
    let cases = reasons.iter().flat_map(|reason| reason["cases"].as_array().expect("a list"));
    cases.map(|case| &case["split"]).filter(|split| !split.is_null()).collect()
}

fn drawn(random: &mut SmallRng) -> Quilt {
    match random.random_range(0..3) {
        0 => of_rules(random),
        1 => of_scraps(random),
        _ => of_like_prints(random),
    }
}

#[test]
fn every_refusal_by_rules_or_lists_is_proved_again() {
    let mut random = SmallRng::seed_from_u64(61);
    let (mut refused, mut listed) = (0, 0);
    for _ in 0..200 {
        let quilt = drawn(&mut random);
        let answer = quilt.planned();
        if answer.summary.verdict != Verdict::Impossible {
            continue;
        }
        refused += 1;
        let (shown, all) = answer.summary.shown_again;
        assert!(shown == all && all > 0, "{shown} of {all}\n{}{}", quilt.pattern, quilt.stash());
        let record = record(&answer);
        let reasons = record["reasons"].as_array().expect("a list");
        listed += u32::from(reasons.iter().any(|reason| reason["code"] == "every plan tried"));
    }
    assert!(refused > 50 && listed > 5, "{refused} refused, {listed} by lists");
}

#[test]
fn prints_that_are_alike_are_taken_one_by_one_where_all_together_prove_nothing() {
    let answer = of_whole_prints().planned();
    assert_eq!((answer.summary.verdict, answer.summary.shown_again), (Verdict::Impossible, (1, 1)));
    let record = record(&answer);
    let splits = splits(&record);
    assert!(!splits.is_empty() && splits.iter().all(|split| split["sheets"] == json!([])), "{splits:#?}");
    let few = splits.iter().filter(|split| split["prints"].as_array().is_some_and(|prints| prints.len() < 3));
    assert!(few.count() > 0, "some of the three prints are told apart: {splits:#?}");
}

#[test]
fn sheets_of_a_print_that_stand_for_themselves_are_told_apart() {
    let quilt = of_two_forms();
    let answer = quilt.planned();
    assert_eq!((answer.summary.verdict, answer.summary.shown_again), (Verdict::Impossible, (1, 1)));
    let record = record(&answer);
    let named = splits(&record).into_iter().any(|split| split["sheets"] != json!([]));
    assert!(named, "{:#?}", splits(&record));
    // What is served under a bound counts only so much less as the bound costs.
    let mut free = record.clone();
    for case in free["reasons"][0]["cases"].as_array_mut().expect("a list") {
        let prices = case["prices"].as_array().expect("a list").len();
        case["prices"] = json!(vec![0; prices]);
    }
    let faults = verify(&inputs(&quilt), &free.to_string());
    assert_eq!(faults.iter().map(|fault| fault.rule).collect::<Vec<_>>(), [Rule::ProofAgain]);
}

/// The numbers of a proof, one of them changed a little.
fn changed(reason: &Value, random: &mut SmallRng) -> Value {
    let mut reason = reason.clone();
    let mut numbers: Vec<&mut Value> = Vec::new();
    gather(&mut reason, &mut numbers);
    let at = random.random_range(0..numbers.len());
    let number = numbers[at].as_i64().expect("a whole number");
    *numbers[at] = json!((number + [-2, -1, 1, 2].choose(random).expect("four")).max(0));
    reason
}

/// Weights, prices and what splits divide at, and the numbers of sheets.
fn gather<'a>(value: &'a mut Value, numbers: &mut Vec<&'a mut Value>) {
    match value {
        Value::Object(fields) => {
            for (name, field) in fields.iter_mut() {
                match (name.as_str(), field) {
                    ("weight" | "needed" | "most", number) => numbers.push(number),
                    ("prices" | "numbers", Value::Array(all)) => numbers.extend(all.iter_mut()),
                    ("sets" | "pieces" | "prints", _) => {}
                    (_, field) => gather(field, numbers),
                }
            }
        }
        Value::Array(items) => items.iter_mut().for_each(|item| gather(item, numbers)),
        _ => {}
    }
}

fn inputs(quilt: &Quilt) -> Inputs {
    let source = |name: &str, text: String| Source { name: name.to_owned(), bytes: text.into_bytes() };
    Inputs {
        stash: source("inputs/stash.csv", quilt.stash()),
        pattern: source("inputs/pattern.toml", quilt.pattern.clone()),
        placements: None,
    }
}

#[test]
fn no_proof_is_taken_where_the_quilt_fits() {
    let mut random = SmallRng::seed_from_u64(62);
    let (mut fitting, mut named) = (0, 0);
    for round in 0..300 {
        let refused = match round {
            0..20 => of_whole_prints(),
            20..60 => of_two_forms(),
            _ => drawn(&mut random),
        };
        let answer = refused.planned();
        if answer.summary.verdict != Verdict::Impossible {
            continue;
        }
        let proof = record(&answer)["reasons"][0].clone();
        // Sheet by sheet until it fits: there the proof must fail, and by a hair.
        let mut quilt = refused;
        let fits = (0..12).find_map(|_| {
            quilt = quilt.with_more(&mut random);
            let answer = quilt.planned();
            (answer.summary.verdict == Verdict::Fits).then_some(answer)
        });
        let Some(fits) = fits else { continue };
        fitting += 1;
        let mut claimed = record(&fits);
        claimed["verdict"] = json!("impossible");
        for change in 0..6 {
            let mut reason = if change == 0 { proof.clone() } else { changed(&proof, &mut random) };
            // The reason by area is told from its code alone.
            reason["code"] = json!("together");
            claimed["reasons"] = json!([reason]);
            named += u32::from(splits(&claimed).iter().any(|split| split["sheets"] != json!([])));
            let faults = verify(&inputs(&quilt), &claimed.to_string());
            assert!(
                faults
                    .iter()
                    .any(|fault| [Rule::Proof, Rule::ProofAgain, Rule::WorkEnded].contains(&fault.rule)),
                "round {round}: it fits, and is shown not to\n{}{}{reason:#}\n{faults:#?}",
                quilt.pattern,
                quilt.stash()
            );
        }
    }
    assert!(fitting > 60 && named > 100, "{fitting} fit in the end; {named} proofs name sheets");
}

/// Single pieces beside sets of two, on one or two prints with scraps of two forms; it mostly fits.
fn of_both(random: &mut SmallRng) -> Quilt {
    let mut stash = Vec::new();
    let mut fabric = 0;
    for &print in &PRINTS[..random.random_range(1..3)] {
        for width in [9, 12] {
            let count = random.random_range(1..3);
            fabric += width * 10 * count;
            stash.push((print, format!("scrap,{width},10,no"), count));
        }
    }
    let mut pattern = "[role.R0]\nmatching = \"piece\"\n[role.R1]\nmatching = \"block\"\n".to_owned();
    if random.random_bool(0.3) {
        pattern += "different = [\"R0\"]\n";
    }
    let size =
        |random: &mut SmallRng| format!("{} x {}", random.random_range(3..10), random.random_range(3..7));
    pattern += &format!("{}{}", block(1), piece(0, &size(random), random.random_range(1..4)));
    if random.random_bool(0.7) {
        pattern += &piece(1, &size(random), fabric / 180);
    }
    Quilt { pattern, stash }
}

/// Sets as a record names them.
fn named<'a>(sets: impl Iterator<Item = &'a Value>) -> Vec<Value> {
    let copies = |set: &Value| set["copy"].as_u64().into_iter().collect::<Vec<_>>();
    let name = |set: &Value| {
        json!({"block": set["block"], "copies": copies(set), "role": set["role"],
               "label": set["label"], "piece": set["piece"]})
    };
    sets.map(name).collect()
}

/// Cases made up: splits two deep by what some prints or sheets serve, each refuted by weights of one, at small prices.
fn made_up(record: &Value, random: &mut SmallRng) -> Vec<Value> {
    let sets = record["sets"].as_array().expect("a list");
    let sheets = record["sheets"].as_array().expect("a list");
    let weighed: Vec<&Value> = sets.iter().filter(|_| random.random_bool(0.8)).collect();
    let needed = weighed.len();
    let items = json!([{"weight": 1, "sets": named(weighed.iter().copied()), "pieces": []}]);
    let weighing = json!({"needed": needed, "most": needed.saturating_sub(1), "items": items});
    let tied = random.random_bool(0.1);
    let single: Vec<&&Value> = weighed.iter().filter(|set| tied || set["label"].is_string()).collect();
    let mut split = |single: &[&&Value]| {
        let prints: Vec<&Value> = sheets.iter().map(|sheet| &sheet["print"]).collect();
        let print = prints.choose(random).expect("something is cut");
        let sheet = sheets.choose(random).expect("something is cut");
        let by_sheet = random.random_bool(0.8);
        let some = json!([{"print": sheet["print"], "cut": sheet["cut"], "width": sheet["width"],
                           "height": sheet["height"], "numbers": [1]}]);
        json!({"sets": named(single.iter().map(|set| **set)), "pieces": [], "most": random.random_range(0..single.len()),
               "prints": if by_sheet { json!([]) } else { json!([print]) },
               "sheets": if by_sheet { some } else { json!([]) }})
    };
    if single.is_empty() {
        return vec![json!({"split": null, "prices": [], "weighing": weighing})];
    }
    let splits = [split(&single), split(&single)];
    let divided = |split: &Value| json!({"split": split, "prices": [], "weighing": null});
    let mut refuted = |deep: usize| {
        let prices: Vec<u32> = (0..deep).map(|_| random.random_range(0..3)).collect();
        json!({"split": null, "prices": prices, "weighing": weighing})
    };
    let once = vec![divided(&splits[0]), refuted(1), refuted(1)];
    let twice = vec![divided(&splits[0]), refuted(1), divided(&splits[1]), refuted(2), refuted(2)];
    if needed.is_multiple_of(2) { once } else { twice }
}

/// A set of two lies in both sheets of the only print. Sheet by sheet there would be no room for it, and a bound on one
/// sheet must not make the check look sheet by sheet.
#[test]
fn a_bound_on_a_sheet_does_not_part_a_set_over_two_sheets() {
    let roles = "[role.R0]\nmatching = \"piece\"\n[role.R1]\nmatching = \"block\"\n".to_owned();
    let quilt = Quilt {
        pattern: roles + &block(1) + &piece(0, "3 x 10", 1) + &piece(1, "9 x 10", 2),
        stash: vec![("kelp", "scrap,9,10,no".to_owned(), 1), ("kelp", "scrap,12,10,no".to_owned(), 1)],
    };
    let answer = quilt.planned();
    assert_eq!(answer.summary.verdict, Verdict::Fits);
    let fits = record(&answer);
    let sets = fits["sets"].as_array().expect("a list");
    let single: Vec<&Value> = sets.iter().filter(|set| set["label"].is_string()).collect();
    assert_eq!((sets.len(), single.len()), (2, 1));
    let items = json!([{"weight": 1, "sets": named(sets.iter()), "pieces": []}]);
    let refuted = json!({"split": null, "prices": [0], "weighing": {"needed": 2, "most": 1, "items": items}});
    for sheet in fits["sheets"].as_array().expect("a list") {
        let sheets = json!([{"print": sheet["print"], "cut": sheet["cut"], "width": sheet["width"],
                             "height": sheet["height"], "numbers": [1]}]);
        let split = json!({"sets": named(single.iter().copied()), "pieces": [], "most": 0, "prints": [], "sheets": sheets});
        let split = json!({"split": split, "prices": [], "weighing": null});
        let mut tried = fits.clone();
        tried["verdict"] = json!("impossible");
        tried["reasons"] = json!([{"code": "together", "text": "so it is claimed", "proved_again": false, "weighing": null,
                                   "cases": [split, refuted, refuted]}]);
        let faults = verify(&inputs(&quilt), &tried.to_string());
        assert!(faults.iter().any(|fault| fault.rule == Rule::ProofAgain), "{faults:#?}");
    }
}

#[test]
fn no_cases_made_up_pass_where_the_quilt_fits() {
    let mut random = SmallRng::seed_from_u64(63);
    let (mut fitting, mut again, mut tied) = (0, 0, 0);
    for round in 0..300 {
        let quilt = of_both(&mut random);
        let answer = quilt.planned();
        if answer.summary.verdict != Verdict::Fits {
            continue;
        }
        fitting += 1;
        let fits = record(&answer);
        for _ in 0..40 {
            let cases = made_up(&fits, &mut random);
            let mut tried = fits.clone();
            tried["verdict"] = json!("impossible");
            tried["reasons"] = json!([{"code": "together", "text": "so it is claimed", "proved_again": false, "weighing": null, "cases": cases}]);
            let faults = verify(&inputs(&quilt), &tried.to_string());
            again += u32::from(faults.iter().any(|fault| fault.rule == Rule::ProofAgain));
            tied += u32::from(faults.iter().any(|fault| fault.message.contains("sets of several pieces")));
            assert!(
                faults
                    .iter()
                    .any(|fault| [Rule::Proof, Rule::ProofAgain, Rule::WorkEnded].contains(&fault.rule)),
                "round {round}: it fits, and is shown not to\n{}{}{cases:#?}\n{faults:#?}",
                quilt.pattern,
                quilt.stash()
            );
        }
    }
    let told = format!(
        "{fitting} fit, {again} proofs are in order but for what they say, {tied} tie sheets together"
    );
    assert!(fitting > 150 && again > 40 * 120 && tied > 50, "{told}");
}
