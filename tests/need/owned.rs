//! What is still to buy beside what is owned, from files to amounts.

use std::path::PathBuf;
use std::process::Command;

use cutcloth::app::Given;
use cutcloth::app::need::{Asked, Format, Owned, Requirement};
use cutcloth::app::run::Failure;
use cutcloth::length::Length;
use cutcloth::need::{Assumptions, Spare};
use serde_json::Value;

fn given(name: &str, text: &str) -> Given {
    Given { name: name.to_owned(), bytes: text.as_bytes().to_vec() }
}

/// Sixty 4 1/2 in squares; `matching` as the chart writes it.
fn squares(matching: &str) -> Given {
    let rows = format!(
        "block,make,label,role,width,height,count,matching\nall,1,A1,sea,4 1/2,4 1/2,60,{matching}\n"
    );
    given("squares.csv", &rows)
}

fn asked(pattern: &Given, stash: &str) -> Result<Requirement, Failure> {
    let how = Assumptions { spare: Spare::default(), work: 3_000_000, ..Assumptions::default() };
    let stash = given("stash.csv", stash);
    let owned = Some(Owned { stash: &stash, allowance: Length::ZERO, effort: 100 });
    Requirement::of(&Asked { pattern, size: None, how: &how, owned })
}

#[test]
fn what_squaring_up_takes_of_owned_fabric_is_said_as_it_is_done() {
    let answer = asked(&squares("piece"), "print,cut,allowance\nfoam,10-inch square,1/4\nweed,half yard,\n");
    let text = String::from_utf8(answer.expect("it can be worked out").written(Format::Text)).expect("text");
    assert!(
        text.contains(
            "Squaring up takes at most 1/4 in off the width and, once more, off the length of a sheet you own; \
             off the width only of strips, off the length only of yardage."
        ),
        "{text}"
    );
    let answer = asked(&squares("piece"), "print,cut\nfoam,10-inch square\n");
    let text = String::from_utf8(answer.expect("it can be worked out").written(Format::Text)).expect("text");
    assert!(!text.contains("Squaring up"), "{text}");
}

fn both(pattern: &Given, stash: &str) -> (String, Value) {
    let answer = asked(pattern, stash).expect("it can be worked out");
    let text = String::from_utf8(answer.written(Format::Text)).expect("text");
    let json: Value = serde_json::from_slice(&answer.written(Format::Json)).expect("JSON");
    (text, json["still_to_buy"].clone())
}

fn inches(value: &Value) -> f64 {
    value.as_f64().expect("ticks") / 8128.0
}

#[test]
fn what_the_stash_does_not_give_is_bought_and_nothing_else() {
    // Ten squares of 10 in give forty; twenty are left: three strips of eight at 40 in.
    let (text, json) =
        both(&squares("piece"), "print,cut,count\nfoam,10-inch square,6\nweed,10-inch square,4\n");
    assert_eq!(json["verdict"], "impossible");
    assert_eq!(json["served"][0]["pieces"], 60);
    let served: Vec<(&str, i64)> = json["served"][0]["from_stash"]
        .as_array()
        .expect("a list")
        .iter()
        .map(|print| (print["print"].as_str().unwrap_or(""), print["pieces"].as_i64().unwrap_or(0)))
        .collect();
    assert_eq!(served, [("foam", 24), ("weed", 16)]);
    let at = &json["fabrics"][0]["at"];
    assert_eq!(at["pieces"][0]["count"], 20);
    assert_eq!((inches(&at["by_strips"]["exact"]), at["by_strips"]["text"].as_str()), (13.5, Some("1/2 yd")));
    assert!(
        text.contains("13 1/2 in + 1 in squaring up = 14 1/2 in, up to 1/2 yd (18 in), 3 1/2 in over"),
        "{text}"
    );
    assert!(text.contains("The stash alone is not enough, that is proved."), "{text}");
}

#[test]
fn a_pattern_that_fits_wholly_has_nothing_to_buy() {
    let (text, json) = both(&squares("piece"), "print,cut,count\nfoam,10-inch square,15\n");
    assert!(text.contains("Nothing to buy for the quilt top: every piece comes out of the stash."), "{text}");
    assert_eq!(json["verdict"], "fits");
    assert_eq!(json["fabrics"], serde_json::json!([]));
    assert!(!text.contains("Still to buy of"), "{text}");
    assert!(
        text.lines().any(|line| line.starts_with("  sea") && line.matches("nothing").count() == 2),
        "{text}"
    );
}

#[test]
fn of_one_print_throughout_all_is_bought_new_or_more_of_the_one_held() {
    let stash = "print,cut,count,width,length\nsea mist,yardage,1,40,10\nfoam,10-inch square,3,,\nweed,yardage,1,40,5\n";
    let (text, json) = both(&squares("quilt"), stash);
    // No print is enough, so the sixty are bought: eight strips. Two strips of sea mist give sixteen.
    let at = &json["fabrics"][0]["at"];
    assert_eq!(inches(&at["by_strips"]["exact"]), 36.0);
    let more = &json["served"][0]["more_of_one_print"];
    assert_eq!((more["print"].as_str(), more["pieces"].as_i64()), (Some("sea mist"), Some(16)));
    assert_eq!(inches(&more["at"]["by_strips"]["exact"]), 27.0, "44 are left: six strips");
    assert_eq!(more["at"]["proved"], true);
    assert!(
        text.contains("or stay with sea mist: what no other fabric is cut from gives 16 of 60 pieces"),
        "{text}"
    );
    assert!(text.contains("no cutting of these pieces takes less"), "{text}");
}

#[test]
fn more_of_a_print_is_not_offered_where_the_role_may_not_take_it() {
    let pattern = "[role.sea]\nmatching = \"quilt\"\nnever = { print = [\"sea mist\"] }\n[[piece]]\nlabel = \"A1\"\nrole = \"sea\"\nsize = \"4 1/2 in\"\ncount = 60\n";
    let stash = "print,cut,count,width,length\nsea mist,yardage,1,40,10\nweed,yardage,1,40,5\n";
    let (_, json) = both(&given("squares.toml", pattern), stash);
    assert_eq!(json["served"][0]["more_of_one_print"]["print"], "weed");
}

#[test]
fn what_must_match_within_a_block_counts_as_sets_of_squares() {
    let pattern =
        "block,make,label,role,width,height,count,matching,from\nKite,8,A1,sail,6,6,2,block,10-inch square\n";
    let stash = "print,cut,count\nfoam,10-inch square,2\nweed,10-inch square,2\nsand,10-inch square,1\n";
    let (text, json) = both(&given("kite.csv", pattern), stash);
    // Six blocks have no pair. The odd square makes none.
    assert_eq!(json["fabrics"][0]["at"]["pieces"][0]["count"], 12);
    let sets = &json["fabrics"][0]["from"][0]["sets"][0];
    assert_eq!((sets["sets"].as_i64(), sets["each"]["count"].as_i64()), (Some(6), Some(2)));
    assert!(text.contains("6 sets of one print each, 2 a set"), "{text}");
}

#[test]
fn mistakes_in_the_stash_are_told_with_their_line() {
    let Err(Failure::Inputs(said)) = asked(&squares("piece"), "print,cut,count\nfoam,10-inch sqare,six\n")
    else {
        panic!("it was taken");
    };
    assert!(said.iter().any(|one| one.place.file == "stash.csv" && one.place.line == Some(2)), "{said:?}");
}

#[test]
fn the_demo_on_a_pack_that_is_not_enough_buys_two_urchins_worth() {
    let data = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("data/tidepool");
    let run = |format: &str| {
        let output = Command::new(env!("CARGO_BIN_EXE_cutcloth"))
            .current_dir(&data)
            .args(["need", "pattern.toml", "--stash", "other-pack.csv", "--effort", "20", "--format", format])
            .output()
            .expect("the program starts");
        assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
        String::from_utf8(output.stdout).expect("text")
    };
    let csv = run("csv");
    let mut rows = csv::Reader::from_reader(csv.as_bytes());
    let rows: Vec<csv::StringRecord> = rows.records().map(|row| row.expect("a row")).collect();
    let bought: Vec<&str> = rows.iter().filter(|row| !row[6].is_empty()).map(|row| &row[0]).collect();
    assert_eq!(bought, ["urchin"]);
    // A set of an urchin is seven pieces; every other fabric is served to the last piece.
    assert_eq!((&rows[0][2], &rows[0][3]), ("42", "28"));
    assert!(rows[1..].iter().all(|row| row[2] == row[3]), "{csv}");
    assert!(run("text").contains("What is kept back is not used: 1 row."));
    assert!(run("text").contains("What finishes the quilt is not looked for in the stash."));
}

/// A border still to be joined is joined from the fabric that is bought, though the file says strips of 40 in: 3/8 yd less
/// an inch are five strips of 2 1/2 in. Sides of 24 1/2 in are one strip each from 24 1/2 in on, top and bottom of 28 1/2
/// in (57 in) three together from 19 1/3 in on; below 24 1/2 in the sides take three as well.
#[test]
fn strips_that_the_stash_does_not_give_follow_the_width_that_is_bought() {
    let pattern = given(
        "pier.toml",
        "[role]\nA = \"boats\"\nC = \"edge\"\n[role.B]\nname = \"sea\"\nfrom = [\"10-inch square\"]\n\
         [[block]]\nname = \"Boat\"\nfinished = \"6 in\"\nrows = [\"B\"]\n[layout]\nacross = 4\ndown = 4\n\
         [[layout.border]]\nwidth = \"2 in\"\nrole = \"C\"\nstrip = \"40 in\"\n",
    );
    let (text, json) = both(&pattern, "print,cut,count\nfoam,10-inch square,16\n");
    assert_eq!(json["fabrics"].as_array().map(Vec::len), Some(1), "{text}");
    assert!(text.contains("border 1: 2 in finished, butted, joined straight"), "{text}");
    assert_eq!(json["fabrics"][0]["works_from"][0]["text"], "3/8 yd");
    let from = inches(&json["fabrics"][0]["works_from"][0]["from_width"]);
    assert!((from - 24.5).abs() < 1e-9, "{from}: {text}");
    assert!(text.contains("names of prints are not compared"), "{text}");
}
