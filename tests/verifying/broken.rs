//! One broken plan for each rule; each must fail with exactly the code of that rule.

use std::collections::BTreeSet;

use cutcloth::verifying::{Inputs, Rule, verify};
use serde_json::{Value, json};

use crate::faults;
use crate::measured::{self, measure};
use crate::plans::{Cut, EIGHTH, failing, fitting, level, piece, set, sheet, upright, with};

/// A way to break a plan.
pub(crate) type Break = fn(&mut Inputs, &mut Value);

/// What is broken, in which plan, and how.
pub(crate) struct Case {
    rule: Rule,
    name: &'static str,
    plan: fn() -> (Inputs, Value),
    broken: Break,
}

pub(crate) const fn case(
    rule: Rule,
    name: &'static str,
    plan: fn() -> (Inputs, Value),
    broken: Break,
) -> Case {
    Case { rule, name, plan, broken }
}

pub(crate) fn push(list: &mut Value, item: Value) {
    list.as_array_mut().expect("a list").push(item);
}

fn pop(list: &mut Value) -> Value {
    list.as_array_mut().expect("a list").pop().expect("an item")
}

fn add(number: &mut Value, more: i64) {
    *number = json!(number.as_i64().expect("a number") + more);
}

/// Puts another sheet in place of sheet `index`, and keeps the sum of fabric opened right.
fn replace(plan: &mut Value, index: usize, new: Value) {
    plan["sheets"][index] = new;
    open(plan);
}

pub(crate) fn open(plan: &mut Value) {
    let number = |value: &Value| value.as_i64().expect("a number");
    let sheets = plan["sheets"].as_array().expect("a list");
    let weight = |s: &Value| match s["cut"].as_str() {
        Some("scrap") => 50,
        Some("fat quarter") => 120,
        Some("yardage") => 150,
        _ => 100,
    };
    let opened: i64 = sheets.iter().map(|s| number(&s["width"]) * number(&s["used"]) * weight(s)).sum();
    plan["fabric"]["opened"] = json!(opened);
    plan["fabric"]["bound"] = json!(opened - 7);
    plan["fabric"]["least_met"] = json!(opened);
    measure(plan);
}

/// The two A1 of copy 1 and its B1 on a 10-inch square of urchin red, with other sizes or turned.
fn red(a: (i64, i64), b: (i64, i64), b_turned: bool) -> Value {
    let b1 = Cut::Piece { label: "B1", copy: 1, turned: b_turned };
    let pair = upright(a.0, piece("A1", 1), upright(a.0, piece("A1", 1), Cut::Left));
    let cut = level(a.1, pair, upright(b.0, level(b.1, b1, Cut::Left), Cut::Left));
    sheet(Some(1), "urchin red", "10-inch square", (78, 78), 78, &cut)
}

/// Four C1, a fifth of their size, laid round a hole so that no straight cut can start.
fn pinwheel() -> (Inputs, Value) {
    let (mut inputs, mut plan) = fitting();
    let chart = "block,make,label,role,width,height,count,shape,matching,blends\n\
                 Urchin,2,A1,A,4 1/2,4 1/2,2,,block,yes\nUrchin,2,B1,B,2 1/2,4 1/2,1,,piece,\n\
                 Shell,1,C1,C,2 1/2,6 1/2,4,,quilt,\n";
    inputs.pattern.bytes = chart.as_bytes().to_vec();
    plan["totals"][2]["width"] = json!(20 * EIGHTH);
    plan["totals"][2]["height"] = json!(52 * EIGHTH);
    plan["totals"][2]["need"] = json!(4);
    plan["totals"][2]["cut"] = json!(4);
    // Laid in rows first, so that this plan itself is right.
    let row = |rest: Cut| upright(20, piece("C1", 1), rest);
    let cut = level(52, row(row(row(row(Cut::Left)))), Cut::Left);
    replace(&mut plan, 2, sheet(Some(3), "sand", "yardage", (320, 286), 52, &cut));
    (inputs, plan)
}

fn cases() -> Vec<Case> {
    let mut all = form();
    all.extend(sheets());
    all.extend(pieces());
    all.extend(cuts());
    all.extend(counts());
    all.extend(claims());
    all.extend(alternatives());
    all.extend(crate::rules::cases());
    all.extend(crate::places::cases());
    all.extend(crate::looks::cases());
    all.extend(measured::cases());
    all
}

fn form() -> Vec<Case> {
    vec![
        case(Rule::Format, "another format", fitting, |_, p| p["format"] = json!("something-else")),
        case(Rule::Format, "a later version", fitting, |_, p| p["version"] = json!(2)),
        case(Rule::Format, "another unit", fitting, |_, p| p["ticks_per_inch"] = json!(1000)),
        case(Rule::Format, "an alternative of another format", failing, |_, p| {
            p["alternatives"][1]["plan"]["format"] = json!("something-else");
        }),
        case(Rule::Field, "a missing field", fitting, |_, p| {
            p["sheets"][0]["pieces"][1].as_object_mut().expect("a piece").remove("turned");
        }),
        case(Rule::Field, "a text for a number", fitting, |_, p| p["sheets"][0]["width"] = json!("wide")),
        case(Rule::Field, "a negative length", fitting, |_, p| p["sheets"][0]["pieces"][0]["x"] = json!(-1)),
        case(Rule::Field, "a length past all bounds", fitting, |_, p| {
            p["sheets"][0]["pieces"][0]["x"] = json!(i64::MAX);
        }),
        case(Rule::Field, "a fraction of a tick", fitting, |_, p| p["sheets"][0]["height"] = json!(0.5)),
        case(Rule::Field, "an unknown verdict", fitting, |_, p| p["verdict"] = json!("perhaps")),
        case(Rule::Field, "an unknown kind of change", failing, |_, p| {
            p["alternatives"][0]["plan"]["rules"]["relaxed"][0]["kind"] = json!("magic");
        }),
        case(Rule::Inputs, "other files named", fitting, |_, p| p["inputs"]["stash"] = json!("inputs/x.csv")),
        case(Rule::Inputs, "placements left out", fitting, |inputs, _| inputs.placements = None),
        case(Rule::Inputs, "a copy that cannot be read", fitting, |inputs, _| {
            inputs.stash.bytes = b"print,cut,count\nurchin red,10-inch square,none\n".to_vec();
        }),
    ]
}

fn sheets() -> Vec<Case> {
    vec![
        case(Rule::SheetLot, "a lot the stash does not have", fitting, |_, p| {
            p["sheets"][0]["lot"] = json!(9)
        }),
        case(Rule::SheetLot, "neither a lot nor bought", fitting, |_, p| {
            p["sheets"][0]["lot"] = Value::Null;
        }),
        case(Rule::SheetLot, "a lot and bought as well", fitting, |_, p| {
            p["sheets"][0]["bought"] = json!("a square");
        }),
        case(Rule::SheetPrint, "another print", fitting, |_, p| p["sheets"][0]["print"] = json!("coral")),
        case(Rule::SheetCut, "another cut", fitting, |_, p| p["sheets"][0]["cut"] = json!("5-inch square")),
        case(Rule::SheetCopy, "a third of two", fitting, |_, p| p["sheets"][0]["copy"] = json!(3)),
        case(Rule::SheetCopy, "copy nought", fitting, |_, p| p["sheets"][0]["copy"] = json!(0)),
        case(Rule::SheetTwice, "the same sheet twice", failing, |_, p| {
            p["alternatives"][0]["plan"]["sheets"][3]["copy"] = json!(1);
        }),
        case(Rule::SheetSize, "the allowance forgotten", fitting, |_, p| {
            let rest = upright(20, level(36, piece("B1", 1), Cut::Left), Cut::Left);
            let pair = upright(36, piece("A1", 1), upright(36, piece("A1", 1), Cut::Left));
            let cut = level(36, pair, rest);
            replace(p, 0, sheet(Some(1), "urchin red", "10-inch square", (80, 80), 80, &cut));
        }),
        case(Rule::SheetSize, "width and length swapped", fitting, |_, p| {
            let rest = upright(20, level(36, piece("B1", 2), Cut::Left), Cut::Left);
            let pair = upright(36, piece("A1", 2), upright(36, piece("A1", 2), Cut::Left));
            replace(
                p,
                1,
                sheet(Some(2), "kelp stripe", "fat quarter", (166, 142), 142, &level(36, pair, rest)),
            );
        }),
        case(Rule::SheetEmpty, "a sheet opened for nothing", fitting, |_, p| {
            let empty = sheet(Some(1), "urchin red", "10-inch square", (78, 78), 78, &Cut::Left);
            push(&mut p["sheets"], with(empty, "copy", 2));
            open(p);
        }),
        case(Rule::KeptBack, "a lot kept back", failing, |_, p| {
            p["alternatives"][3]["plan"]["rules"]["relaxed"].as_array_mut().expect("a list").remove(1);
        }),
    ]
}

fn pieces() -> Vec<Case> {
    vec![
        case(Rule::Outside, "a piece over the edge", fitting, |_, p| {
            p["sheets"][0]["pieces"][2]["y"] = json!(78 * EIGHTH);
        }),
        case(Rule::Outside, "a leftover over the edge", fitting, |_, p| {
            add(&mut p["sheets"][0]["leftovers"][0]["width"], EIGHTH);
        }),
        case(Rule::Overlap, "two pieces on each other", fitting, |_, p| {
            add(&mut p["sheets"][0]["pieces"][1]["x"], -EIGHTH);
        }),
        case(Rule::Overlap, "a leftover over a piece", fitting, |_, p| {
            add(&mut p["sheets"][0]["leftovers"][0]["x"], -EIGHTH);
        }),
        case(Rule::UnknownPiece, "a piece nobody asked for", fitting, |_, p| {
            let extra =
                upright(20, level(36, piece("B1", 1), Cut::Left), upright(9, piece("B1", 1), Cut::Left));
            let pair = upright(36, piece("A1", 1), upright(36, piece("A1", 1), Cut::Left));
            replace(
                p,
                0,
                sheet(Some(1), "urchin red", "10-inch square", (78, 78), 78, &level(36, pair, extra)),
            );
            p["sheets"][0]["pieces"][3]["label"] = json!("Z9");
        }),
        case(Rule::PieceSize, "an eighth too narrow", fitting, |_, p| {
            replace(p, 0, red((36, 36), (19, 36), false));
            p["totals"][1]["cut"] = json!(1);
        }),
        case(Rule::PieceSize, "turned without saying so", fitting, |_, p| {
            replace(p, 0, red((36, 36), (36, 20), false));
            p["totals"][1]["cut"] = json!(1);
        }),
        case(Rule::PieceSize, "said to be turned, but is not", fitting, |_, p| {
            replace(p, 0, red((36, 36), (20, 36), true));
            p["totals"][1]["cut"] = json!(1);
        }),
        case(Rule::Direction, "a directional print turned", fitting, |_, p| {
            let b1 = Cut::Piece { label: "B1", copy: 2, turned: true };
            let pair = upright(36, piece("A1", 2), upright(36, piece("A1", 2), Cut::Left));
            let cut = level(36, pair, upright(36, level(20, b1, Cut::Left), Cut::Left));
            replace(p, 1, sheet(Some(2), "kelp stripe", "fat quarter", (142, 166), 166, &cut));
        }),
        case(Rule::From, "from a cut the role does not allow", failing, |_, p| {
            // In the alternative with pebble, the third B1 comes from the scrap.
            let plan = &mut p["alternatives"][4]["plan"];
            let corner = upright(20, level(36, piece("B1", 3), Cut::Left), Cut::Left);
            plan["sheets"][0] = fitting().1["sheets"][0].clone();
            // One A1 moves to the second red square beside its twin, so that the scrap is free for B1.
            let scrap = sheet(Some(5), "pebble", "scrap", (46, 46), 46, &corner);
            let pair = upright(36, piece("A1", 3), upright(36, piece("A1", 3), Cut::Left));
            let second =
                sheet(Some(1), "urchin red", "10-inch square", (78, 78), 78, &level(36, pair, Cut::Left));
            plan["sheets"][3] = scrap;
            plan["sheets"][4] = with(second, "copy", 2);
            for placed in plan["sets"].as_array_mut().expect("a list") {
                if placed["copy"] == 3 && placed["role"] == "B" {
                    placed["print"] = json!("pebble");
                }
                if placed["copy"] == 3 && placed["role"] == "A" {
                    placed["print"] = json!("urchin red");
                }
            }
            let mut first = plan["rules"]["relaxed"][1].clone();
            first["piece"] = json!(1);
            push(&mut plan["rules"]["relaxed"], first);
            open(plan);
        }),
        case(Rule::EdgeToEdge, "a pinwheel", pinwheel, |_, p| {
            let s = &mut p["sheets"][2];
            let places = [(0, 0, 20, 52), (20, 0, 52, 20), (52, 20, 20, 52), (0, 52, 52, 20)];
            for (index, (x, y, width, height)) in places.into_iter().enumerate() {
                let placed = &mut s["pieces"][index];
                placed["x"] = json!(x * EIGHTH);
                placed["y"] = json!(y * EIGHTH);
                placed["width"] = json!(width * EIGHTH);
                placed["height"] = json!(height * EIGHTH);
                placed["turned"] = json!(width > height);
            }
            let left = |x: i64, y: i64, width: i64, height: i64| json!({"x": x * EIGHTH, "y": y * EIGHTH, "width": width * EIGHTH, "height": height * EIGHTH});
            s["leftovers"] = json!([left(20, 20, 32, 32), left(72, 0, 248, 286), left(0, 72, 72, 214)]);
            s["used"] = json!(72 * EIGHTH);
            open(p);
        }),
    ]
}

fn cuts() -> Vec<Case> {
    vec![
        case(Rule::CutOrder, "numbers left out", fitting, |_, p| {
            p["sheets"][0]["cuts"][1]["order"] = json!(7)
        }),
        case(Rule::CutRegion, "cuts in an order that cannot be", fitting, |_, p| {
            p["sheets"][0]["cuts"].as_array_mut().expect("a list").swap(0, 1);
            p["sheets"][0]["cuts"][0]["order"] = json!(1);
            p["sheets"][0]["cuts"][1]["order"] = json!(2);
        }),
        case(Rule::CutRegion, "a cut on the edge", fitting, |_, p| {
            p["sheets"][0]["cuts"][0]["at"] = json!(0)
        }),
        case(Rule::CutRegion, "a cut of a region that is not there", fitting, |_, p| {
            add(&mut p["sheets"][0]["cuts"][0]["width"], -EIGHTH);
        }),
        case(Rule::CutResult, "a cut left out", fitting, |_, p| {
            pop(&mut p["sheets"][0]["cuts"]);
        }),
        case(Rule::CutResult, "a cut moved an eighth", fitting, |_, p| {
            let last = p["sheets"][0]["cuts"].as_array().expect("a list").len() - 1;
            add(&mut p["sheets"][0]["cuts"][last]["at"], EIGHTH);
            p["sheets"][0]["cuts"][last]["text"] =
                json!("cut 4 5/8 in from the lower edge; the rest remains");
        }),
        case(Rule::LeftoverArea, "a leftover forgotten", fitting, |_, p| {
            pop(&mut p["sheets"][0]["leftovers"]);
        }),
    ]
}

fn counts() -> Vec<Case> {
    vec![
        case(Rule::PieceCount, "a spare piece", fitting, |_, p| {
            let b1 = |rest: Cut| upright(20, level(36, piece("B1", 1), Cut::Left), rest);
            let pair = upright(36, piece("A1", 1), upright(36, piece("A1", 1), Cut::Left));
            let cut = level(36, pair, b1(b1(Cut::Left)));
            replace(p, 0, sheet(Some(1), "urchin red", "10-inch square", (78, 78), 78, &cut));
            p["totals"][1]["cut"] = json!(3);
        }),
        case(Rule::PieceCount, "a piece missing", fitting, |_, p| {
            let pair = upright(36, piece("A1", 1), upright(36, piece("A1", 1), Cut::Left));
            let cut = level(36, pair, Cut::Left);
            replace(p, 0, sheet(Some(1), "urchin red", "10-inch square", (78, 78), 78, &cut));
            p["totals"][1]["cut"] = json!(1);
        }),
        case(Rule::SetList, "a set the pattern does not have", fitting, |_, p| {
            push(&mut p["sets"], with(set(7, "A"), "print", "sand"));
        }),
        case(Rule::SetList, "a set on both lists", failing, |_, p| {
            let short = with(set(3, "B"), "reason", "there is some");
            push(&mut p["short"], short);
        }),
        case(Rule::SetList, "a set on no list", fitting, |_, p| {
            let at = p["sets"].as_array().expect("a list").iter().position(|s| s["role"] == "B");
            p["sets"].as_array_mut().expect("a list").remove(at.expect("there is one"));
        }),
        case(Rule::Matching, "a pair of two prints", failing, |_, p| {
            // The alternative with mixed prints, had it not been allowed to mix.
            let plan = &mut p["alternatives"][4]["plan"];
            let lone = with(set(3, "A"), "print", "urchin red");
            let sets = plan["sets"].as_array_mut().expect("a list");
            sets.truncate(sets.len() - 2);
            sets.push(lone);
            let decided = with(with(set(3, "A"), "kind", "other print"), "decided", "pebble");
            plan["rules"]["relaxed"] = json!([decided]);
        }),
        case(Rule::Matching, "a set listed from another print", fitting, |_, p| {
            p["sets"][2]["print"] = json!("urchin red");
        }),
        case(Rule::Placement, "another print than decided", failing, |_, p| {
            p["alternatives"][3]["plan"]["rules"]["relaxed"].as_array_mut().expect("a list").remove(0);
        }),
        case(Rule::Totals, "a total that is wrong", fitting, |_, p| add(&mut p["totals"][0]["need"], 1)),
        case(Rule::Totals, "a total left out", fitting, |_, p| {
            pop(&mut p["totals"]);
        }),
        case(Rule::Totals, "a total too many", fitting, |_, p| {
            let twice = p["totals"][0].clone();
            push(&mut p["totals"], twice);
        }),
    ]
}

fn claims() -> Vec<Case> {
    vec![
        case(Rule::Used, "yardage used to its end", fitting, |_, p| {
            p["sheets"][2]["used"] = json!(286 * EIGHTH)
        }),
        case(Rule::Used, "a square used in part", fitting, |_, p| {
            p["sheets"][0]["used"] = json!(40 * EIGHTH)
        }),
        case(Rule::Opened, "more opened than is", fitting, |_, p| add(&mut p["fabric"]["opened"], 1)),
        case(Rule::Bound, "a bound past the fabric opened", fitting, |_, p| {
            add(&mut p["fabric"]["bound"], 8)
        }),
        case(Rule::Bound, "less found than is possible", fitting, |_, p| {
            add(&mut p["fabric"]["least_met"], -8)
        }),
        case(Rule::Bound, "claimed with a gap", fitting, |_, p| p["fabric"]["claimed"] = json!(true)),
        case(Rule::Bound, "no gap but not claimed", fitting, |_, p| add(&mut p["fabric"]["bound"], 7)),
        case(Rule::Verdict, "fits with a set short", failing, |_, p| {
            p["verdict"] = json!("fits");
            *weighing(p) = Value::Null;
            p["reasons"][0]["proved_again"] = json!(false);
        }),
        case(Rule::Verdict, "impossible with nothing short", fitting, |_, p| {
            p["verdict"] = json!("undecided");
        }),
        case(Rule::Reason, "impossible for no reason", failing, |_, p| p["reasons"] = json!([])),
        case(Rule::Proof, "said not to fit by area when there is area enough", failing, |_, p| {
            p["reasons"][0]["code"] = json!("area");
        }),
        case(Rule::Proof, "a proof made again that is not there", failing, |_, p| {
            p["reasons"][0]["weighing"] = Value::Null;
        }),
        case(Rule::Proof, "weights that do not add up", failing, |_, p| weighing(p)["needed"] = json!(2)),
        case(Rule::Proof, "weights below what can be served", failing, |_, p| weighing(p)["most"] = json!(1)),
        case(Rule::Proof, "a weight of nothing", failing, |_, p| {
            weighing(p)["items"][0]["weight"] = json!(0)
        }),
        case(Rule::Proof, "a set weighed that is not there", failing, |_, p| {
            weighing(p)["items"][0]["sets"][0]["copies"] = json!([4])
        }),
        case(Rule::Proof, "a piece weighed that is not there", failing, |_, p| {
            let piece = json!({"block": "Urchin", "copies": [1], "role": "A", "label": "A1", "piece": 3});
            weighing(p)["items"][0]["pieces"] = json!([piece]);
        }),
        case(Rule::Proof, "a set weighed whole and in part", failing, |_, p| {
            let piece = json!({"block": "Urchin", "copies": [3], "role": "A", "label": "A1", "piece": 2});
            weighing(p)["items"][0]["pieces"] = json!([piece]);
            weighing(p)["needed"] = json!(2);
        }),
        case(Rule::Proof, "weights of what fits", fitting, |_, p| {
            p["reasons"] = json!([{"code": "yield", "text": "too little", "proved_again": true, "cases": [], "weighing":
                {"needed": 1, "most": 0, "items": []}}]);
        }),
        case(Rule::ProofAgain, "a set said to fit nowhere that fits", failing, |_, p| {
            weighing(p)["items"][0]["sets"][0]["copies"] = json!([2])
        }),
        case(Rule::Reason, "a reason without words", failing, |_, p| p["reasons"][0]["text"] = json!(" ")),
        case(Rule::Reason, "a short set without a reason", failing, |_, p| {
            p["short"][0]["reason"] = json!("")
        }),
        case(Rule::Reason, "a proof without words", fitting, |_, p| p["proof"] = json!("")),
        case(Rule::Reason, "a cut without words", fitting, |_, p| {
            p["sheets"][0]["cuts"][0]["text"] = json!("")
        }),
        case(Rule::CutText, "a text of another length", fitting, |_, p| {
            p["sheets"][0]["cuts"][0]["text"] = json!("cut 4 5/8 in from the lower edge; the rest remains");
        }),
        case(Rule::CutText, "a text of another edge", fitting, |_, p| {
            p["sheets"][0]["cuts"][0]["text"] = json!("cut 4 1/2 in from the left edge; the rest remains");
        }),
        case(Rule::CutText, "a text of two places", fitting, |_, p| {
            p["sheets"][0]["cuts"][0]["text"] =
                json!("cut 4 1/2 in from the lower edge; or 5 in from the left edge");
        }),
        case(Rule::Reason, "a change without words", failing, |_, p| {
            p["alternatives"][0]["changes"] = json!([]);
        }),
        case(Rule::Reason, "a cost without words", failing, |_, p| {
            p["alternatives"][0]["cost"]["text"] = json!("");
        }),
        case(Rule::Reason, "a purchase without words", failing, |_, p| {
            p["alternatives"][2]["plan"]["sheets"][3]["bought"] = json!("");
        }),
    ]
}

fn alternatives() -> Vec<Case> {
    vec![
        case(Rule::Change, "changes in the plan itself", failing, |_, p| {
            p["rules"]["relaxed"] = json!([{
                "kind": "mixed prints", "block": "Urchin", "copies": [3], "role": "A",
            }]);
            p["rules"]["relaxed"][0]["copies"] = json!([9]);
        }),
        case(Rule::Change, "a lot released that is not kept back", failing, |_, p| {
            push(&mut p["alternatives"][3]["plan"]["rules"]["relaxed"], json!({"kind": "release", "lot": 1}));
        }),
        case(Rule::Change, "a lot released for nothing", failing, |_, p| {
            push(&mut p["alternatives"][0]["plan"]["rules"]["relaxed"], json!({"kind": "release", "lot": 4}));
        }),
        case(Rule::Change, "a decision changed that was not made", failing, |_, p| {
            p["alternatives"][0]["plan"]["rules"]["relaxed"][0]["decided"] = json!("sand");
        }),
        case(Rule::Change, "a decision said to be changed but kept", failing, |_, p| {
            let change = with(with(set(1, "A"), "kind", "other print"), "decided", "urchin red");
            push(&mut p["alternatives"][0]["plan"]["rules"]["relaxed"], change);
        }),
        case(Rule::Change, "fewer copies than the pattern never had", failing, |_, p| {
            p["alternatives"][1]["plan"]["rules"]["relaxed"][0]["was"] = json!(4);
        }),
        case(Rule::Purchases, "a purchase kept quiet", failing, |_, p| {
            p["alternatives"][2]["plan"]["purchases"] = json!([]);
            p["alternatives"][2]["cost"]["amount"] = Value::Null;
        }),
        case(Rule::Purchases, "two bought and one used", failing, |_, p| {
            let alternative = &mut p["alternatives"][2];
            alternative["plan"]["purchases"][0]["count"] = json!(2);
            alternative["plan"]["rules"]["relaxed"][0]["count"] = json!(2);
            alternative["cost"]["amount"] = json!(2.5);
        }),
        case(Rule::Cost, "another sum", failing, |_, p| p["alternatives"][2]["cost"]["amount"] = json!(1.24)),
        case(Rule::Cost, "a price made up", failing, |_, p| {
            let alternative = &mut p["alternatives"][2];
            alternative["plan"]["purchases"][0]["price"] = json!(99);
            alternative["plan"]["rules"]["relaxed"][0]["price"] = json!(99);
            alternative["cost"]["amount"] = json!(0.99);
        }),
        case(Rule::Cost, "a sum for nothing", failing, |_, p| {
            p["alternatives"][0]["cost"]["amount"] = json!(1)
        }),
        case(Rule::Alternative, "under other rules", failing, |_, p| {
            p["alternatives"][0]["plan"]["rules"]["effort"] = json!(1);
        }),
        case(Rule::Alternative, "alternatives of an alternative", failing, |_, p| {
            let inner = p["alternatives"][1].clone();
            push(&mut p["alternatives"][0]["plan"]["alternatives"], inner);
        }),
        case(Rule::Alternative, "one that changes nothing", fitting, |_, p| {
            let plan = p.clone();
            p["alternatives"] = json!([{
                "changes": ["nothing"], "cost": {"amount": null, "text": "nothing"}, "plan": plan,
            }]);
        }),
    ]
}

#[test]
fn every_broken_plan_fails_with_exactly_its_code() {
    let mut wrong = String::new();
    for Case { rule, name, plan, broken } in cases() {
        let (mut inputs, mut plan) = plan();
        let (before, text) = faults(&inputs, &plan);
        assert!(before.is_empty(), "{name}: the plan must be right before it is broken:\n{text}");
        broken(&mut inputs, &mut plan);
        let (codes, text) = faults(&inputs, &plan);
        let codes: BTreeSet<&str> = codes.into_iter().collect();
        if codes != BTreeSet::from([rule.code()]) {
            wrong += &format!("{name}: expected {} alone, found\n{text}\n", rule.code());
        }
    }
    assert!(wrong.is_empty(), "{wrong}");
}

#[test]
fn every_rule_is_broken_at_least_once() {
    let broken: BTreeSet<Rule> = cases().iter().map(|case| case.rule).collect();
    // What is not JSON, files beside the record, and the work allowed are no matter of its fields.
    let elsewhere = [Rule::Json, Rule::Files, Rule::WorkEnded];
    for rule in Rule::ALL.iter().filter(|rule| !elsewhere.contains(rule)) {
        assert!(broken.contains(rule), "no plan breaks {}: {}", rule.code(), rule.says());
    }
}

#[test]
fn what_is_not_json_is_said_to_be_none() {
    let (inputs, plan) = fitting();
    let text = plan.to_string();
    for broken in ["", "plan", &text[..text.len() / 2], &"{\"a\":".repeat(5000)] {
        let found = verify(&inputs, broken);
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].rule, Rule::Json);
    }
}

#[test]
fn codes_are_told_apart_and_every_rule_has_a_sentence() {
    let codes: BTreeSet<&str> = Rule::ALL.iter().map(|rule| rule.code()).collect();
    assert_eq!(codes.len(), Rule::ALL.len());
    assert!(Rule::ALL.iter().all(|rule| rule.says().ends_with('.')));
}

fn weighing(plan: &mut Value) -> &mut Value {
    &mut plan["reasons"][0]["weighing"]
}
