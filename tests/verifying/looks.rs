//! What is said of the looks of a plan, and ways to say it wrong.

use cutcloth::verifying::{Inputs, Rule};
use serde_json::{Value, json};

use crate::broken::{Case, case, push};
use crate::faults;
use crate::plans::fitting;

/// The plan that fits, of a chart in which A and B meet: in either Urchin they are of one print.
fn looked() -> (Inputs, Value) {
    let (mut inputs, mut plan) = fitting();
    let text = String::from_utf8(inputs.pattern.bytes).expect("it is text");
    inputs.pattern.bytes = text.replace(",yes", ",").into_bytes();
    let clash = |copy: u64, print: &str| json!({"block": "Urchin", "copy": copy, "roles": ["A", "B"], "prints": [print, print], "same": true});
    plan["looks"]["by"] = json!("meeting");
    plan["looks"]["all"] = json!(2000);
    plan["looks"]["same"] = json!(2000);
    plan["looks"]["clashes"] = json!([clash(1, "urchin red"), clash(2, "kelp stripe")]);
    (inputs, plan)
}

/// The same with colours, of which the two hardly differ.
fn coloured() -> (Inputs, Value) {
    let (mut inputs, mut plan) = looked();
    inputs.stash.bytes = "print,cut,count,width,length,directional,keep,price,color\n\
        urchin red,10-inch square,2,,,no,no,1.25,#c8353c\nkelp stripe,fat quarter,1,18,21,yes,no,3.25,#3a7a3a\n\
        sand,yardage,1,40,36,no,no,9.00,#e8dcc0\n"
        .into();
    // The B of the second Urchin, cut from what is left of the red square, meets the A of kelp stripe.
    plan["looks"]["text"] = json!(["in words"]);
    (inputs, plan)
}

pub(crate) fn cases() -> Vec<Case> {
    vec![
        case(Rule::Looks, "less of one print", looked, |_, p| p["looks"]["same"] = json!(1000)),
        case(Rule::Looks, "something blends that does not", looked, |_, p| p["looks"]["blends"] = json!(1)),
        case(Rule::Looks, "more that meets", looked, |_, p| p["looks"]["all"] = json!(3000)),
        case(Rule::Looks, "measured by seams that are not known", looked, |_, p| {
            p["looks"]["by"] = json!("seam");
        }),
        case(Rule::Looks, "two of one print kept quiet", looked, |_, p| {
            p["looks"]["clashes"].as_array_mut().expect("a list").pop();
        }),
        case(Rule::Looks, "two of one print said twice", looked, |_, p| {
            let again = p["looks"]["clashes"][0].clone();
            push(&mut p["looks"]["clashes"], again);
        }),
        case(Rule::Looks, "two prints that do not meet", coloured, |_, p| {
            p["looks"]["clashes"][1]["prints"] = json!(["kelp stripe", "sand"]);
        }),
        case(Rule::Looks, "prints miscounted", looked, |_, p| p["looks"]["prints"] = json!(2)),
        case(Rule::Looks, "a print in more blocks", looked, |_, p| p["looks"]["largest_repeat"] = json!(2)),
        case(Rule::Looks, "copies alike that are not", looked, |_, p| p["looks"]["copies_alike"] = json!(1)),
        case(Rule::Looks, "pieces alike that are not", looked, |_, p| p["looks"]["pieces_alike"] = json!(1)),
    ]
}

#[test]
fn looks_that_are_right_pass() {
    for (inputs, plan) in [looked(), coloured()] {
        let (codes, text) = faults(&inputs, &plan);
        assert!(codes.is_empty(), "{text}");
    }
}
