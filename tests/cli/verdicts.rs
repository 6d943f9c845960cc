//! Verdicts, exit codes, summaries, and records that verify.

use serde_json::Value;

use crate::support::{DEMO, Shop, all_files, cutcloth, text};

#[test]
fn a_plan_that_fits_says_so_first_and_exits_0() {
    let shop = Shop::small();
    let run = shop.plan(&[]);
    assert_eq!(run.status.code(), Some(0), "{}", text(&run.stderr));
    let said = text(&run.stdout);
    assert!(said.starts_with("IT FITS\n"), "{said}");
    for word in ["sheets cut      2", "fabric cut into", "leftovers kept", "sheet.html"] {
        assert!(said.contains(word), "{word} is missing:\n{said}");
    }
}

#[test]
fn a_plan_that_does_not_fit_exits_1_with_the_reason_and_the_ways_out() {
    let shop = Shop::small();
    shop.put("stash.csv", "print,cut,count,price\nteal dot,10-inch square,1,1.25\n");
    let run = shop.plan(&[]);
    assert_eq!(run.status.code(), Some(1), "{}", text(&run.stderr));
    let said = text(&run.stdout);
    assert!(said.starts_with("IT DOES NOT FIT\nProved: "), "{said}");
    assert!(said.contains("\nShort:\n") && said.contains("What would make it fit"), "{said}");
    assert!(said.contains("1.25"), "the price of another square is known:\n{said}");
    let verify = shop.run(&["verify", "out"]);
    assert_eq!(verify.status.code(), Some(0), "the record of a failure is right as well");
    assert!(text(&verify.stdout).contains("it does not fit"), "{}", text(&verify.stdout));
}

/// Eight half-square triangles and seven scraps, too small for eight at a time and one too few for two at a time.
#[test]
fn a_proof_made_again_says_for_which_ways_of_making_units() {
    let shop = Shop::new();
    shop.put("stash.csv", "print,cut,count,width,length\nteal dot,scrap,7,3,3\n");
    let pattern = |method: &str| {
        format!(
            "[role]\nA = \"print\"\nB = \"ground\"\n[[block]]\nname = \"Row\"\nmake = 1\nfinished = \"16 x 2 in\"\n\
             rows = [\"T T T T T T T T\"]\n[[block.unit]]\nname = \"T\"\nkind = \"half-square triangles\"\n\
             roles = [\"A\", \"B\"]\nfinished = \"2 in\"\nmethod = {method}\n"
        )
    };
    let cases = [
        ("\"two at a time\"", "was made again, without the search"),
        (
            "[\"two at a time\", \"eight at a time\"]",
            "was made again for each of the 2 ways of making the units that had to be refused, without the search",
        ),
    ];
    for (method, proof) in cases {
        shop.put("pattern.toml", &pattern(method));
        let run = shop.run(&["plan", "pattern.toml", "--stash", "stash.csv", "--out", "out"]);
        assert_eq!(run.status.code(), Some(1), "{}{}", text(&run.stdout), text(&run.stderr));
        let verify = shop.run(&["verify", "out"]);
        assert_eq!(verify.status.code(), Some(0), "{}", text(&verify.stderr));
        let said = text(&verify.stdout);
        assert!(said.contains(&format!("  the proof       {proof}\n")), "{method}: {said}");
    }
    // A proof that is left out of the record is not claimed to have been made again.
    let mut record: Value = serde_json::from_str(&shop.get("out/plan.json")).expect("it is JSON");
    record["methods"]["refused"][0]["weighing"] = Value::Null;
    record["methods"]["refused"][0]["proved_again"] = false.into();
    shop.put("out/plan.json", &record.to_string());
    let verify = shop.run(&["verify", "out"]);
    assert_eq!(
        verify.status.code(),
        Some(3),
        "not as sure as one that was made again: {}",
        text(&verify.stderr)
    );
    let proof =
        "was made again for 1 of the 2 ways of making the units that had to be refused; for the others it";
    assert!(text(&verify.stdout).contains(proof), "{}", text(&verify.stdout));
}

/// With next to no search for everything, the search for the most blocks finds places for all: that is a plan.
#[test]
fn a_hurried_plan_that_places_everything_fits() {
    let shop = Shop::new();
    let files = ["chart.csv", "pack.csv"].map(|name| format!("{DEMO}/{name}"));
    let run = shop.run(&["plan", &files[0], "--stash", &files[1], "--effort", "1", "--out", "hurried"]);
    assert_eq!(run.status.code(), Some(0), "{}", text(&run.stderr));
    assert!(text(&run.stdout).starts_with("IT FITS\n"), "{}", text(&run.stdout));
    assert_eq!(shop.run(&["verify", "hurried"]).status.code(), Some(0));
}

#[test]
fn the_demo_that_fits_fits_and_the_other_has_at_least_three_ways_out() {
    let shop = Shop::new();
    let chart = format!("{DEMO}/chart.csv");
    for (stash, code) in [("pack", 0), ("other-pack", 1)] {
        let file = format!("{DEMO}/{stash}.csv");
        let run = shop.run(&["plan", &chart, "--stash", &file, "--out", stash]);
        assert_eq!(run.status.code(), Some(code), "{stash}: {}", text(&run.stderr));
        assert_eq!(shop.run(&["verify", stash]).status.code(), Some(0), "{stash}");
        if code == 1 {
            assert!(text(&run.stdout).contains("\n  3. "), "{}", text(&run.stdout));
        }
    }
}

#[test]
fn the_same_input_gives_the_same_bytes_wherever_it_is_written() {
    let shop = Shop::small();
    shop.put("deep/er/chart.csv", &shop.get("chart.csv"));
    let first = shop.plan(&["--placements", "wall.csv"]);
    let arguments =
        ["plan", "deep/er/chart.csv", "--stash", "stash.csv", "--placements", "wall.csv", "--out", "two"];
    let second = shop.run(&arguments);
    assert_eq!((first.status.code(), second.status.code()), (Some(0), Some(0)));
    assert_eq!(all_files(&shop.path("out")), all_files(&shop.path("two")));
}

#[test]
fn what_the_quilter_decided_is_kept() {
    let shop = Shop::small();
    assert_eq!(shop.plan(&["--placements", "wall.csv"]).status.code(), Some(0));
    let placements = shop.get("out/placements.csv");
    let line = placements.lines().find(|line| line.starts_with("Urchin,2,A,"));
    assert!(line.is_some_and(|line| line.contains("teal dot")), "{placements}");
}

#[test]
fn the_placements_a_plan_writes_can_be_planned_with_again() {
    let shop = Shop::small();
    assert_eq!(shop.plan(&[]).status.code(), Some(0));
    let run = shop.run(&[
        "plan",
        "chart.csv",
        "--stash",
        "stash.csv",
        "--placements",
        "out/placements.csv",
        "--out",
        "again",
    ]);
    assert_eq!(run.status.code(), Some(0), "{}", text(&run.stderr));
    assert_eq!(shop.get("out/placements.csv"), shop.get("again/placements.csv"));
}

#[test]
fn an_allowance_makes_sheets_smaller_and_the_record_says_so() {
    let shop = Shop::small();
    // Two 4 1/2 in squares side by side need 9 in; after 1 1/2 in are taken off there are 8 1/2 in.
    assert_eq!(shop.plan(&["--allowance", "1/2"]).status.code(), Some(0));
    assert!(shop.get("out/plan.json").contains("\"allowance\": 4064"));
    assert_eq!(shop.plan(&["--allowance", "1 1/2"]).status.code(), Some(1));
    assert_eq!(shop.run(&["verify", "out"]).status.code(), Some(0));
}

#[test]
fn metric_and_the_date_reach_the_sheet() {
    let shop = Shop::small();
    let run = shop.plan(&["--units", "metric", "--date", "first of May"]);
    assert_eq!(run.status.code(), Some(0));
    assert!(text(&run.stdout).contains("sq cm"));
    let sheet = shop.get("out/sheet.html");
    assert!(sheet.contains("first of May") && sheet.contains(" cm"));
    assert_eq!(shop.run(&["verify", "out"]).status.code(), Some(0));
}

#[test]
fn a_tampered_record_is_found_wrong() {
    let shop = Shop::small();
    assert_eq!(shop.plan(&[]).status.code(), Some(0));
    let record = shop.get("out/plan.json");
    shop.put("out/plan.json", &record.replacen("\"print\": \"teal dot\"", "\"print\": \"rust leaf\"", 1));
    let run = shop.run(&["verify", "out"]);
    assert_eq!(run.status.code(), Some(1));
    assert!(text(&run.stdout).starts_with("The record is wrong"), "{}", text(&run.stdout));
    // A stash that says something else than the plan was made from is found as well.
    shop.put("out/plan.json", &record);
    shop.put(
        "out/inputs/stash.csv",
        "print,cut,count\nteal dot,5-inch square,9\nrust leaf,5-inch square,9\n",
    );
    assert_eq!(shop.run(&["verify", "out"]).status.code(), Some(1));
}

#[test]
fn a_record_cannot_lead_out_of_its_folder() {
    let shop = Shop::small();
    assert_eq!(shop.plan(&[]).status.code(), Some(0));
    let record = shop.get("out/plan.json");
    for elsewhere in
        ["../stash.csv", "inputs/../../stash.csv", "/etc/passwd", "inputs/", "inputs/..", "stash.csv"]
    {
        shop.put("out/plan.json", &record.replace("inputs/stash.csv", elsewhere));
        let run = shop.run(&["verify", "out"]);
        assert_eq!(run.status.code(), Some(1), "{elsewhere}");
        assert!(text(&run.stdout).contains("[V104]"), "{}", text(&run.stdout));
    }
}

#[test]
fn a_folder_without_a_plan_cannot_be_verified() {
    let shop = Shop::small();
    let run = shop.run(&["verify", "nowhere"]);
    assert_eq!(run.status.code(), Some(2));
    assert!(text(&run.stderr).contains("plan.json"));
    assert_eq!(shop.plan(&[]).status.code(), Some(0));
    std::fs::remove_file(shop.path("out/inputs/stash.csv")).expect("it is there");
    assert_eq!(shop.run(&["verify", "out"]).status.code(), Some(2));
}

#[test]
fn the_version_is_told() {
    let run = cutcloth(&["--version"]);
    assert_eq!(run.status.code(), Some(0));
    assert!(text(&run.stdout).contains(env!("CARGO_PKG_VERSION")));
}

#[test]
fn a_time_limit_that_is_not_reached_changes_nothing_and_none_is_no_number() {
    let shop = Shop::small();
    assert_eq!(shop.plan(&[]).status.code(), Some(0));
    let before = shop.get("out/plan.json");
    assert_eq!(shop.plan(&["--time", "600", "--force"]).status.code(), Some(0));
    assert_eq!(shop.get("out/plan.json"), before);
    for value in ["0", "soon", "-1"] {
        let run = shop.plan(&["--force", &format!("--time={value}")]);
        assert_eq!(run.status.code(), Some(2), "{value}");
    }
}

#[test]
fn the_clock_stops_a_long_search_and_the_plan_is_right_and_says_so() {
    let shop = Shop::new();
    let (chart, stash) = (format!("{DEMO}/chart.csv"), format!("{DEMO}/shelf.csv"));
    // A hundred times the usual effort takes minutes.
    let more = ["--effort", "10000", "--time", "1", "--out", "out"];
    let run = shop.run(&[&["plan", &chart, "--stash", &stash][..], &more].concat());
    // Whether a full plan was found in that second depends on the machine.
    assert!([Some(0), Some(3)].contains(&run.status.code()), "{}", text(&run.stderr));
    assert!(text(&run.stdout).contains("The search was stopped by the clock"), "{}", text(&run.stdout));
    assert!(shop.get("out/sheet.html").contains("The search was stopped by the clock"));
    assert!(shop.get("out/plan.json").contains("\"stopped\": \"clock\""));
    assert_eq!(shop.run(&["verify", "out"]).status.code(), Some(0));
}
