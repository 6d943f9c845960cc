//! Plans made by hand, without the engine: two small questions about the Tidepool Quilt and right answers to
//! them, as JSON that the tests then break.

use cutcloth::verifying::{Inputs, Source};
use serde_json::{Value, json};

use crate::measured::measure;

/// Ticks in an eighth of an inch; every size below is given in eighths.
pub(crate) const EIGHTH: i64 = 1016;

/// A quarter inch comes off every trued side.
const ALLOWANCE: i64 = 2 * EIGHTH;

const STASH: &str = "\
print,cut,count,width,length,directional,keep,price
urchin red,10-inch square,2,,,no,no,1.25
kelp stripe,fat quarter,1,18,21,yes,no,3.25
sand,yardage,1,40,36,no,no,9.00
coral,10-inch square,1,,,no,yes,1.50
pebble,scrap,1,6,6,no,no,
";

/// How a sheet is cut up.
pub(crate) enum Cut {
    Left,
    Piece { label: &'static str, copy: i64, turned: bool },
    Upright(i64, Box<Cut>, Box<Cut>),
    Level(i64, Box<Cut>, Box<Cut>),
}

/// Piece `label` of block copy `copy`.
pub(crate) fn piece(label: &'static str, copy: i64) -> Cut {
    Cut::Piece { label, copy, turned: false }
}

/// A cut parallel to the left edge, `at` eighths from it.
pub(crate) fn upright(at: i64, left: Cut, right: Cut) -> Cut {
    Cut::Upright(at, Box::new(left), Box::new(right))
}

/// A cut parallel to the lower edge, `at` eighths from it.
pub(crate) fn level(at: i64, lower: Cut, upper: Cut) -> Cut {
    Cut::Level(at, Box::new(lower), Box::new(upper))
}

/// Block and role of a label in the charts below.
fn home(label: &str) -> (&'static str, &'static str) {
    match label {
        "A1" => ("Urchin", "A"),
        "B1" => ("Urchin", "B"),
        _ => ("Shell", "C"),
    }
}

/// The sheet `lot` (print, cut, whole sides in eighths, used length) cut up as `cut` says.
pub(crate) fn sheet(
    lot: Option<i64>,
    print: &str,
    cut_name: &str,
    size: (i64, i64),
    used: i64,
    cut: &Cut,
) -> Value {
    let mut parts = Parts::default();
    parts.take(cut, 0, 0, size.0, size.1);
    json!({
        "lot": lot, "bought": if lot.is_some() { Value::Null } else { json!("one more") },
        "print": print, "cut": cut_name, "copy": 1,
        "width": size.0 * EIGHTH, "height": size.1 * EIGHTH, "used": used * EIGHTH,
        "pieces": parts.pieces, "leftovers": parts.leftovers, "cuts": parts.cuts,
    })
}

#[derive(Default)]
struct Parts {
    pieces: Vec<Value>,
    leftovers: Vec<Value>,
    cuts: Vec<Value>,
}

impl Parts {
    fn take(&mut self, cut: &Cut, x: i64, y: i64, width: i64, height: i64) {
        let mut rect = json!({
            "x": x * EIGHTH, "y": y * EIGHTH, "width": width * EIGHTH, "height": height * EIGHTH,
        });
        match cut {
            Cut::Left => self.leftovers.push(rect),
            Cut::Piece { label, copy, turned } => {
                let (block, role) = home(label);
                rect["label"] = json!(label);
                rect["block"] = json!(block);
                rect["role"] = json!(role);
                rect["copy"] = json!(copy);
                rect["turned"] = json!(turned);
                self.pieces.push(rect);
            }
            Cut::Upright(at, left, right) => {
                self.cut(rect, "width", *at);
                self.take(left, x, y, *at, height);
                self.take(right, x + at, y, width - at, height);
            }
            Cut::Level(at, lower, upper) => {
                self.cut(rect, "height", *at);
                self.take(lower, x, y, width, *at);
                self.take(upper, x, y + at, width, height - at);
            }
        }
    }

    fn cut(&mut self, mut region: Value, across: &str, at: i64) {
        region["order"] = json!(self.cuts.len() + 1);
        region["across"] = json!(across);
        region["at"] = json!(at * EIGHTH);
        let (whole, edge) = (at / 8, if across == "width" { "left" } else { "lower" });
        let part = ["", " 1/8", " 1/4", " 3/8", " 1/2", " 5/8", " 3/4", " 7/8"]
            [usize::try_from(at % 8).expect("below 8")];
        region["text"] = json!(format!("cut {whole}{part} in from the {edge} edge; the rest remains"));
        self.cuts.push(region);
    }
}

/// Two matching A1 in a corner, then `rest` above them.
pub(crate) fn pair(copy: i64, rest: Cut) -> Cut {
    level(36, upright(36, piece("A1", copy), upright(36, piece("A1", copy), Cut::Left)), rest)
}

/// One B1, then `rest` to the right of it.
pub(crate) fn narrow(copy: i64, rest: Cut) -> Cut {
    upright(20, level(36, piece("B1", copy), Cut::Left), rest)
}

fn red(rest: Cut) -> Value {
    sheet(Some(1), "urchin red", "10-inch square", (78, 78), 78, &pair(1, narrow(1, rest)))
}

fn kelp() -> Value {
    sheet(Some(2), "kelp stripe", "fat quarter", (142, 166), 166, &pair(2, narrow(2, Cut::Left)))
}

fn sand() -> Value {
    let cut = upright(28, level(240, piece("C1", 1), Cut::Left), Cut::Left);
    sheet(Some(3), "sand", "yardage", (320, 286), 240, &cut)
}

/// The set of block copy `copy` and role `role`; of the single piece B1 when the role is B.
pub(crate) fn set(copy: i64, role: &str) -> Value {
    let single = role == "B";
    json!({
        "block": "Urchin", "copy": copy, "role": role,
        "label": if single { json!("B1") } else { Value::Null },
        "piece": if single { json!(1) } else { Value::Null },
    })
}

/// `value` with one more field.
pub(crate) fn with(mut value: Value, field: &str, content: impl Into<Value>) -> Value {
    value[field] = content.into();
    value
}

fn quilt_set() -> Value {
    json!({"block": null, "copy": null, "role": "C", "label": null, "piece": null, "print": "sand"})
}

fn placed(copy: i64, print: &str) -> [Value; 2] {
    [with(set(copy, "A"), "print", print), with(set(copy, "B"), "print", print)]
}

fn total(label: &str, size: (i64, i64), need: i64, short: i64) -> Value {
    let (block, role) = home(label);
    json!({
        "block": block, "label": label, "role": role, "width": size.0 * EIGHTH, "height": size.1 * EIGHTH,
        "need": need, "cut": need - short, "short": short,
    })
}

/// What differs from plan to plan.
pub(crate) struct Answer {
    pub(crate) verdict: &'static str,
    pub(crate) copies: i64,
    pub(crate) sheets: Vec<Value>,
    pub(crate) sets: Vec<Value>,
    pub(crate) short: Vec<Value>,
    pub(crate) relaxed: Vec<Value>,
    pub(crate) alternatives: Vec<Value>,
}

/// The record, with totals, purchases, fabric and measures worked out.
pub(crate) fn record(answer: Answer) -> Value {
    let weight = |cut: &str| match cut {
        "scrap" => 50,
        "fat quarter" => 120,
        "yardage" => 150,
        _ => 100,
    };
    let number = |value: &Value| value.as_i64().expect("a number");
    let opened: i64 = answer
        .sheets
        .iter()
        .map(|s| number(&s["width"]) * number(&s["used"]) * weight(s["cut"].as_str().expect("a cut")))
        .sum();
    let purchases: Vec<Value> = answer
        .relaxed
        .iter()
        .filter(|change| change["kind"] == "buy")
        .map(|change| {
            let mut bought = change.clone();
            bought.as_object_mut().expect("an object").remove("kind");
            bought
        })
        .collect();
    let short = i64::try_from(answer.short.len()).expect("few");
    let mut plan = json!({
        "format": "cutcloth-plan", "version": 1, "ticks_per_inch": 8128,
        "verdict": answer.verdict, "proof": "made by hand",
        "reasons": if answer.verdict == "fits" { json!([]) } else if answer.verdict == "undecided" {
            json!([{"code": "budget", "text": "the search ended first", "proved_again": false, "weighing": null, "cases": []}])
        } else {
            // Urchin 3 takes two pieces of 4 1/2 x 4 1/2 in from a square of 5 3/4 in.
            json!([{
                "code": "yield", "text": "a 5 3/4 x 5 3/4 in sheet yields one of two pieces", "proved_again": true, "cases": [],
                "weighing": {"needed": 1, "most": 0, "items": [{
                    "weight": 1, "pieces": [],
                    "sets": [{"block": "Urchin", "copies": [3], "role": "A", "label": null, "piece": null}],
                }]},
            }])
        },
        "inputs": {
            "stash": "inputs/stash.csv", "pattern": "inputs/chart.csv", "placements": "inputs/placements.csv",
            "size": null,
        },
        "files": [],
        "rules": {
            "weights": {"scrap": 50, "precut": 100, "fat_quarter": 120, "yardage": 150},
            "useful_side": 20 * EIGHTH, "allowance": ALLOWANCE, "aim": "save", "extra_fabric": 5, "effort": 100, "solver": "microlp",
            "stopped": null, "alike": {"contrast": 150, "difference": 2000},
            "relaxed": answer.relaxed,
        },
        "upright": null, "methods": {"units": [], "settled": true, "text": "", "refused": []},
        "fabric": {"opened": opened, "bound": opened - 7, "least_met": opened, "claimed": false},
        "totals": [
            total("A1", (36, 36), 2 * answer.copies, 2 * short),
            total("B1", (20, 36), answer.copies, 0),
            total("C1", (28, 240), 1, 0),
        ],
        "sets": answer.sets, "sheets": answer.sheets, "short": answer.short, "places": null, "purchases": purchases,
        "alternatives": answer.alternatives,
    });
    measure(&mut plan);
    plan
}

fn source(name: &str, text: String) -> Source {
    Source { name: name.to_owned(), bytes: text.into_bytes() }
}

fn inputs(copies: i64, placements: &str) -> Inputs {
    let chart = format!(
        "block,make,label,role,width,height,count,shape,matching,from,blends\n\
         Urchin,{copies},A1,A,4 1/2,4 1/2,2,,block,,yes\n\
         Urchin,{copies},B1,B,2 1/2,4 1/2,1,,piece,10-inch square; fat quarter,\n\
         Shell,1,C1,C,3 1/2,30,1,,quilt,,yes\n"
    );
    Inputs {
        stash: source("inputs/stash.csv", STASH.to_owned()),
        pattern: source("inputs/chart.csv", chart),
        placements: Some(source("inputs/placements.csv", format!("block,copy,role,print\n{placements}"))),
    }
}

/// Two Urchin blocks and a Shell: it fits.
pub(crate) fn fitting() -> (Inputs, Value) {
    let sheets = vec![red(Cut::Left), kelp(), sand()];
    let sets = [placed(1, "urchin red"), placed(2, "kelp stripe")].concat();
    let plan = record(Answer {
        verdict: "fits",
        copies: 2,
        sheets,
        sets: [sets, vec![quilt_set()]].concat(),
        short: vec![],
        relaxed: vec![],
        alternatives: vec![],
    });
    (inputs(2, "Urchin,1,A,urchin red\n"), plan)
}

/// Three Urchin blocks, the third decided to be of pebble, which holds only one of two A1: it does not fit,
/// and there are five ways out, one for each kind of change.
pub(crate) fn failing() -> (Inputs, Value) {
    let plan = record(Answer {
        verdict: "impossible",
        copies: 3,
        sheets: three_sheets(),
        sets: three_blocks_sets(),
        short: vec![with(set(3, "A"), "reason", "pebble yields one of two")],
        relaxed: vec![],
        alternatives: vec![other_print(), fewer_copies(), buy(), release(), mixed()],
    });
    (inputs(3, "Urchin,1,A,urchin red\nUrchin,3,A,pebble\n"), plan)
}

fn three_sheets() -> Vec<Value> {
    vec![red(narrow(3, Cut::Left)), kelp(), sand()]
}

/// All sets of three blocks but the third A.
fn three_blocks_sets() -> Vec<Value> {
    let b = with(set(3, "B"), "print", "urchin red");
    [placed(1, "urchin red").to_vec(), placed(2, "kelp stripe").to_vec(), vec![b, quilt_set()]].concat()
}

/// The plan of three blocks in which the third pair, `sets`, is cut from `extra`.
fn third(extra: Vec<Value>, sets: Vec<Value>, relaxed: Vec<Value>) -> Value {
    record(Answer {
        verdict: "fits",
        copies: 3,
        sheets: [three_sheets(), extra].concat(),
        sets: [three_blocks_sets(), sets].concat(),
        short: vec![],
        relaxed,
        alternatives: vec![],
    })
}

pub(crate) fn alternative(changes: &[&str], amount: Option<f64>, plan: Value) -> Value {
    json!({"changes": changes, "cost": {"amount": amount, "text": "in words"}, "plan": plan})
}

fn decided(set: Value) -> Value {
    with(with(set, "kind", "other print"), "decided", "pebble")
}

fn other_print() -> Value {
    let sheet = sheet(Some(1), "urchin red", "10-inch square", (78, 78), 78, &pair(3, Cut::Left));
    let sets = vec![with(set(3, "A"), "print", "urchin red")];
    let plan = third(vec![with(sheet, "copy", 2)], sets, vec![decided(set(3, "A"))]);
    alternative(&["Urchin copy 3, role A: urchin red instead of pebble"], None, plan)
}

fn fewer_copies() -> Value {
    let mut plan = fitting().1;
    plan["rules"]["relaxed"] = json!([{"kind": "fewer copies", "block": "Urchin", "was": 3, "make": 2}]);
    alternative(&["two Urchin blocks"], None, plan)
}

fn buy() -> Value {
    let bought = sheet(None, "pebble", "10-inch square", (78, 78), 78, &pair(3, Cut::Left));
    let sets = vec![with(set(3, "A"), "print", "pebble")];
    let change = json!({
        "kind": "buy", "print": "pebble", "cut": "10-inch square",
        "width": 80 * EIGHTH, "length": 80 * EIGHTH, "count": 1, "price": 125,
    });
    alternative(&["buy one square of pebble"], Some(1.25), third(vec![bought], sets, vec![change]))
}

fn release() -> Value {
    let coral = sheet(Some(4), "coral", "10-inch square", (78, 78), 78, &pair(3, Cut::Left));
    let sets = vec![with(set(3, "A"), "print", "coral")];
    let changes = vec![decided(set(3, "A")), json!({"kind": "release", "lot": 4})];
    alternative(&["use coral", "instead of pebble"], None, third(vec![coral], sets, changes))
}

/// One A1 of the third block from pebble, its twin from the second square of urchin red.
fn mixed() -> Value {
    let single = |number: i64| with(with(set(3, "A"), "label", "A1"), "piece", number);
    let corner = |copy| level(36, upright(36, piece("A1", copy), Cut::Left), Cut::Left);
    let pebble = sheet(Some(5), "pebble", "scrap", (46, 46), 46, &corner(3));
    let red = with(sheet(Some(1), "urchin red", "10-inch square", (78, 78), 78, &corner(3)), "copy", 2);
    let sets = vec![with(single(1), "print", "pebble"), with(single(2), "print", "urchin red")];
    let changes = vec![
        json!({"kind": "mixed prints", "block": "Urchin", "copies": [3], "role": "A"}),
        decided(single(2)),
    ];
    let plan = third(vec![pebble, red], sets, changes);
    alternative(&["Urchin copy 3 of two prints", "one of them urchin red"], None, plan)
}
