//! From the files of a person to a checked record, and back through the placements a plan writes.

use cutcloth::app::Given;
use cutcloth::app::Stop;
use cutcloth::app::options::Options;
use cutcloth::app::run::{Answer, Failure, Request, plan};
use serde_json::Value;

const PATTERN: &str = r#"
[quilt]
name = "Shore"
[role.shell]
matching = "block"
[role.sand]
matching = "quilt"
from = ["yardage"]
[[block]]
name = "Cockle"
letter = "C"
finished = "4 in"
rows = ["shell sand", "sand shell"]
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
cockle red,scrap,2,9,9,#b03030
sea blue,scrap,2,9,9,#2050a0
weed green,scrap,2,9,9,#3a7a3a
driftwood,scrap,3,9,9,#8a7f70
dry sand,yardage,1,40,36,#efe6cc
";

fn given(name: &str, text: &str) -> Given {
    Given { name: name.to_owned(), bytes: text.as_bytes().to_vec() }
}

fn planned(placements: Option<&str>) -> Result<Answer, Failure> {
    let request = Request {
        pattern: given("pattern.toml", PATTERN),
        stash: given("stash.csv", STASH),
        placements: placements.map(|text| given("placements.csv", text)),
        options: Options::default(),
    };
    plan(&request, &Stop::never(), &mut |_| {})
}

fn file(answer: &Answer, name: &str) -> String {
    let found = answer.files.iter().find(|(file, _)| file == name);
    String::from_utf8(found.unwrap_or_else(|| panic!("no {name}")).1.clone()).unwrap()
}

fn record(answer: &Answer) -> Value {
    serde_json::from_str(&file(answer, "plan.json")).unwrap()
}

/// Block and copy by row and column.
fn on(record: &Value, row: u64, column: u64) -> (String, u64) {
    let copies = record["places"]["copies"].as_array().unwrap();
    let found = copies.iter().find(|copy| copy["row"] == row && copy["column"] == column).unwrap();
    (found["block"].as_str().unwrap().to_owned(), found["copy"].as_u64().unwrap())
}

#[test]
fn every_place_has_a_copy_of_its_block_and_the_written_placements_keep_it() {
    let first = planned(None).expect("it fits");
    let record_of_first = record(&first);
    let places = &record_of_first["places"];
    assert_eq!(places["copies"].as_array().unwrap().len(), 9);
    assert_eq!(on(&record_of_first, 1, 1).0, "Cockle");
    assert_eq!(on(&record_of_first, 2, 1).0, "Whelk");
    // Nine copies of four prints cannot all be apart, and two of a print need not be neighbours.
    assert!(places["closest"]["distance"].as_u64().unwrap() >= 1);
    assert!(places["prints"]["bound"].as_u64().unwrap() <= places["prints"]["reached"].as_u64().unwrap());
    let written = file(&first, "placements.csv");
    assert!(written.starts_with("block,copy,role,print,label,piece,row,column\n"), "{written}");
    let again = planned(Some(&written)).expect("it fits");
    assert_eq!(record(&again)["places"]["copies"], places["copies"]);
    assert_eq!(file(&again, "placements.csv"), written);
}

#[test]
fn a_block_goes_where_the_quilter_wants_it() {
    let answer =
        planned(Some("block,copy,role,print,row,column\nCockle,3,,,1,1\nWhelk,2,shell,sea blue,3,2\n"));
    let record = record(&answer.expect("it fits"));
    assert_eq!(on(&record, 1, 1), ("Cockle".to_owned(), 3));
    assert_eq!(on(&record, 3, 2), ("Whelk".to_owned(), 2));
}

#[test]
fn rows_left_over_from_a_larger_quilt_are_left_out_and_the_plan_is_checked_all_the_same() {
    // The sixth Cockle, the second row of a Winkle and the ninth row of blocks are gone.
    let text = "block,copy,role,print,row,column\n\
        Cockle,3,,,1,1\n\
        Cockle,6,shell,sea blue,1,3\n\
        Winkle,1,shell,sea blue,2,1\n\
        Whelk,2,shell,sea blue,9,2\n";
    let answer = planned(Some(text)).expect("it fits");
    let record = record(&answer);
    assert_eq!(on(&record, 1, 1), ("Cockle".to_owned(), 3));
    let sets = record["sets"].as_array().unwrap();
    let whelk = sets.iter().find(|set| set["block"] == "Whelk" && set["copy"] == 2).unwrap();
    assert_eq!(whelk["print"], "sea blue", "what such a row says beside its place still holds");
    let told: Vec<(&str, Option<u64>)> =
        answer.said.iter().map(|said| (said.code, said.place.line)).collect();
    assert_eq!(
        told,
        [("P102", Some(3)), ("P101", Some(4)), ("P102", Some(3)), ("P101", Some(4)), ("P113", Some(5))]
    );
}

#[test]
fn every_mistake_in_a_place_is_told_at_once() {
    let text = "block,copy,role,print,row,column\n\
        Cockle,1,,,9,1\n\
        Cockle,1,,,1,4\n\
        Cockle,2,,,2,1\n\
        Cockle,3,,,1,1\n\
        Cockle,3,,,1,3\n\
        Cockle,4,,,1,1\n\
        Cockle,5,,,3,\n\
        Whelk,,shell,sea blue,1,2\n\
        Winkle,1,,,1,2\n\
        Whelk,7,,,1,2\n";
    let Err(Failure::Inputs(said)) = planned(Some(text)) else { panic!("nothing was said") };
    let told: Vec<String> = said
        .iter()
        .filter(|said| said.is_error())
        .map(|said| said.to_string().lines().next().unwrap().to_owned())
        .collect();
    // What the file says by itself comes first; only then is it held against the pattern.
    assert_eq!(
        told,
        [
            "placements.csv, line 8, field \"column\": a place is named without its column",
            "placements.csv, line 9, field \"copy\": a place is named without its copy",
        ]
    );
    let text: Vec<&str> =
        text.lines().filter(|line| !line.ends_with(",3,") && !line.contains(",,shell")).collect();
    let Err(Failure::Inputs(said)) = planned(Some(&text.join("\n"))) else { panic!("nothing was said") };
    let told: Vec<String> = said
        .iter()
        .filter(|said| said.is_error())
        .map(|said| format!("{} {}", said.code, said.to_string().lines().next().unwrap()))
        .collect();
    assert_eq!(
        told,
        [
            "P114 placements.csv, line 4, field \"column\": row 2, column 1 is a place for \"Whelk\", not for \"Cockle\"",
            "P115 placements.csv, line 6, field \"row\": Cockle 3 is put at row 1, column 3 here and at row 1, column 1 \
             on line 5",
            "P116 placements.csv, line 7, field \"column\": row 1, column 1 is given to Cockle 3 on line 5 already",
        ]
    );
    let left_out: Vec<String> = said
        .iter()
        .filter(|said| !said.is_error())
        .map(|said| format!("{} {:?}", said.code, said.place.line))
        .collect();
    assert_eq!(left_out, ["P113 Some(2)", "P113 Some(3)", "P101 Some(8)", "P102 Some(9)"]);
}

/// The colours in which the patches of a drawing are filled, in order.
fn fills(svg: &str) -> Vec<&str> {
    svg.split("<path d=").skip(1).filter_map(|path| path.split("fill=\"").nth(1)?.split('"').next()).collect()
}

#[test]
fn the_quilt_is_drawn_with_every_patch_in_its_print_and_each_kind_of_look_once() {
    let answer = planned(None).expect("it fits");
    let record = record(&answer);
    let colors = |print: &str| {
        let row = STASH.lines().find(|row| row.starts_with(print)).unwrap();
        row.rsplit(',').next().unwrap().to_owned()
    };
    let sets = record["sets"].as_array().unwrap();
    let print_of = |copy: &(String, u64)| {
        let own = sets.iter().find(|set| set["block"] == *copy.0 && set["copy"] == copy.1).unwrap();
        own["print"].as_str().unwrap().to_owned()
    };
    let sand = sets.iter().find(|set| set["role"] == "sand").unwrap()["print"].as_str().unwrap().to_owned();
    let mut expected = Vec::new();
    for (row, column) in (1..4).flat_map(|row| (1..4).map(move |column| (row, column))) {
        let copy = on(&record, row, column);
        let (own, sand) = (colors(&print_of(&copy)), colors(&sand));
        if copy.0 == "Cockle" {
            expected.extend([own.clone(), sand.clone(), sand, own]);
        } else {
            expected.push(own);
        }
    }
    let quilt = file(&answer, "quilt.svg");
    assert_eq!(fills(&quilt)[..expected.len()], expected);
    // On the sheet the quilt comes first, in colour and in grey, then one drawing for each look of a block.
    let sheet = file(&answer, "sheet.html");
    let drawings: Vec<&str> = sheet.split("class=\"patchwork\"").skip(1).collect();
    assert_eq!(fills(drawings[0])[..expected.len()], expected);
    let mut looks: Vec<(String, String)> = ["Cockle", "Whelk"]
        .iter()
        .flat_map(|block| (1..6).map(move |copy| ((*block).to_owned(), copy)))
        .filter(|(block, copy)| block == "Cockle" || *copy < 5)
        .map(|copy| (copy.0.clone(), print_of(&copy)))
        .collect();
    looks.sort();
    looks.dedup();
    assert_eq!(drawings.len(), 2 + looks.len());
    assert!(sheet.contains("Make one trial block first"));
}
