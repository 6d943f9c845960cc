//! One pattern, several sizes: each is counted out as if the file described it alone.

use cutcloth::app::Stop;
use cutcloth::app::chart;
use cutcloth::app::given::Given;
use cutcloth::app::options::Options;
use cutcloth::app::run::{Failure, Request, plan};
use cutcloth::app::summary::Verdict;
use cutcloth::length::Units;
use cutcloth::pattern::demand::{Demand, Loosened};
use cutcloth::pattern::{Pattern, read_toml};
use cutcloth::verifying::{Inputs, Source, verify};
use rand::rngs::SmallRng;
use rand::{Rng, SeedableRng};

fn read(text: &str) -> Pattern {
    let (pattern, problems) = read_toml("quilt.toml", text.as_bytes());
    assert!(problems.is_empty(), "{problems:#?}");
    pattern
}

fn refused(text: &str) -> Vec<String> {
    let (_, problems) = read_toml("quilt.toml", text.as_bytes());
    assert!(problems.iter().any(|problem| problem.is_error()), "nothing was found wrong");
    problems.iter().map(ToString::to_string).collect()
}

/// The pieces of a pattern: label, size and how many, over all blocks.
fn pieces(pattern: &Pattern) -> Vec<(String, String, usize)> {
    let demand = Demand::expand(pattern, &Loosened::default());
    let mut pieces: Vec<(String, String, usize)> = Vec::new();
    for piece in &demand.pieces {
        let size = format!("{} x {}", piece.width.show_bare(Units::Inches), piece.height.show(Units::Inches));
        match pieces.iter_mut().find(|(label, other, _)| *label == piece.label && *other == size) {
            Some((_, _, count)) => *count += 1,
            None => pieces.push((piece.label.clone(), size, 1)),
        }
    }
    pieces.sort();
    pieces
}

fn shown(pattern: &Pattern) -> Vec<String> {
    pieces(pattern).into_iter().map(|(label, size, count)| format!("{count} {label} {size}")).collect()
}

const FABRICS: &str = "[role]\nA = \"limpet\"\nB = \"rock\"\n";

const MAIN: &str = r#"
[[block]]
name = "Limpet"
letter = "l"
finished = "6 in"
rows = ["H H>", "H< Hv"]
[[block.unit]]
name = "H"
kind = "half-square triangles"
roles = ["A", "B"]
finished = "3 in"
method = "eight at a time"
[[block]]
name = "Rock"
letter = "r"
finished = "6 in"
rows = ["B"]
[layout]
rows = ["l r l", "r l r", "l r l"]
[[layout.border]]
width = "2 in"
role = "B"
[[piece]]
label = "hanger"
role = "A"
size = "4 x 20 in"
count = 2
"#;

/// A file with `main` and what follows the blocks in place of its layout, for one size alone.
fn alone(layout: &str) -> Pattern {
    let blocks = MAIN.split("[layout]").next().expect("the blocks");
    read(&format!("{FABRICS}{blocks}{layout}"))
}

#[test]
fn a_size_comes_to_the_same_pieces_as_a_file_of_that_size_alone() {
    let sizes = r#"
[[size]]
name = "mat"
finished = "14 x 8 in"
rows = ["l l"]
border = [{ width = "1 in" }]
[[size.piece]]
label = "hanger"
count = 0
[[size]]
name = "wall"
rows = ["l r l r", "r l> r l"]
[[size.border]]
width = "1 in"
role = "A"
[[size.border]]
width = "3 1/2 in"
role = "B"
[[size.piece]]
label = "hanger"
size = "4 x 9 in"
count = 3
"#;
    let pattern = read(&format!("{FABRICS}{MAIN}{sizes}"));
    let names: Vec<&str> = pattern.sizes.iter().map(|size| size.name.as_str()).collect();
    assert_eq!(names, ["main", "mat", "wall"]);

    let mat = pattern.at_size(pattern.find_size("Mat").expect("any case")).expect("a size");
    // The block that the mat has none of is gone; eight units are one batch; 12 x 6 in has a border of 1 in.
    let blocks: Vec<&str> = mat.blocks.iter().map(|block| block.name.as_str()).collect();
    assert_eq!(blocks, ["Limpet", "quilt top"]);
    let expected = [
        ("A1", "7 3/4 x 7 3/4 in", 1),
        ("B1", "7 3/4 x 7 3/4 in", 1),
        ("border 1", "1 1/2 x 6 1/2 in", 2),
        ("border 1 top", "1 1/2 x 14 1/2 in", 2),
    ];
    assert_eq!(shown(&mat), expected.map(|(label, size, count)| format!("{count} {label} {size}")));
    assert_eq!(mat.sizes[1].finished.map(|size| size.show(Units::Inches)).as_deref(), Some("14 x 8 in"));

    let wall = pattern.at_size(2).expect("a size");
    let by_hand = alone(
        r#"
[layout]
rows = ["l r l r", "r l> r l"]
[[layout.border]]
width = "1 in"
role = "A"
[[layout.border]]
width = "3 1/2 in"
role = "B"
[[piece]]
label = "hanger"
role = "A"
size = "4 x 9 in"
count = 3
"#,
    );
    assert_eq!(pieces(&wall), pieces(&by_hand));
    assert_eq!(wall.title(), "quilt, size wall");
}

#[test]
fn a_pattern_without_a_layout_says_how_many_blocks_each_size_has() {
    let pattern = read(&format!(
        "{FABRICS}[quilt]\nsize = \"large\"\n[[block]]\nname = \"Limpet\"\nmake = 20\nfinished = \"6 in\"\nrows = [\"A B\"]\n\
         [[block]]\nname = \"Rock\"\nmake = 5\nfinished = \"6 in\"\nrows = [\"B\"]\n\
         [[size]]\nname = \"small\"\nmake = {{ Limpet = 6, Rock = 0 }}\n[[size]]\nname = \"middle\"\nmake = {{ Limpet = 12 }}\n"
    ));
    let made = |index: usize| -> Vec<(String, u32)> {
        let size = pattern.at_size(index).expect("a size");
        size.blocks.iter().map(|block| (block.name.clone(), block.make)).collect()
    };
    let named = |list: &[(&str, u32)]| -> Vec<(String, u32)> {
        list.iter().map(|&(name, make)| (name.to_owned(), make)).collect()
    };
    assert_eq!(made(0), named(&[("Limpet", 20), ("Rock", 5)]));
    assert_eq!(made(1), named(&[("Limpet", 6)]));
    assert_eq!(made(2), named(&[("Limpet", 12), ("Rock", 5)]));
    assert!(pattern.at_size(3).is_none());
}

#[test]
fn a_stated_size_that_is_not_the_one_made_is_refused_with_both_numbers() {
    let said = refused(&format!(
        "{FABRICS}{MAIN}[[size]]\nname = \"wall\"\nfinished = \"30 x 16 in\"\nrows = [\"l r l r\", \"r l r l\"]\n\
         [[size]]\nname = \"odd\"\nrows = [\"l r l\", \"r l\"]\n"
    ));
    let wall = said.iter().find(|line| line.contains("\"wall\"")).expect("the wall is refused");
    assert!(wall.contains("28 x 16 in") && wall.contains("30 x 16 in"), "{wall}");
    let odd = said.iter().find(|line| line.contains("\"odd\"")).expect("rows of two lengths are refused too");
    assert!(odd.contains("T118"), "{odd}");
    assert_eq!(said.len(), 2, "{said:#?}");
}

#[test]
fn the_layout_itself_may_state_the_finished_size() {
    let stated = MAIN.replace("[layout]\n", "[layout]\nfinished = \"23 in\"\n");
    let said = refused(&format!("{FABRICS}{stated}"));
    assert!(said[0].contains("22 x 22 in") && said[0].contains("23 x 23 in"), "{said:?}");
}

#[test]
fn every_mistake_in_the_sizes_is_told_in_one_go() {
    let said = refused(&format!(
        "{FABRICS}{MAIN}[[size]]\nname = \"main\"\n[[size]]\nrows = [\"l x\"]\n\
         [[size]]\nname = \"a\"\nacross = 3\ndown = 2\nmake = {{ Rok = 3, l = 2 }}\nheight = 3\n\
         [[size.piece]]\nlabel = \"label\"\ncount = 2\n[[size.piece]]\nlabel = \"hanger\"\nrole = \"B\"\n\
         [[size]]\nname = \"b\"\nborder = [{{ width = \"1 in\" }}, {{ width = \"2 in\" }}]\n"
    ));
    let all = said.join("\n");
    for words in [
        "there is a size \"main\" already",
        "\"name\" is missing",
        "\"x\" is no block",
        "fill a quilt of one block",
        "\"Rok\" is no block",
        "did you mean \"Rock\"?",
        "\"height\" means nothing in [size]",
        // A new label is a new piece, and wants all a piece must say.
        "\"size\" is missing",
        "\"role\" means nothing in [size.piece]",
        // The second border of a size is new where the main size has one.
        "\"role\" is missing",
    ] {
        assert!(all.contains(words), "{words} is not in\n{all}");
    }
}

#[test]
fn a_size_of_blocks_says_when_the_layout_has_another_number() {
    let said =
        refused(&format!("{FABRICS}{MAIN}[[size]]\nname = \"a\"\nrows = [\"l r\"]\nmake = {{ l = 3 }}\n"));
    assert!(said[0].contains("T114") && said[0].contains("make says 3"), "{said:?}");
    let said = refused(&format!(
        "{FABRICS}[[block]]\nname = \"L\"\nfinished = \"6 in\"\nrows = [\"A\"]\n[[size]]\nname = \"a\"\nrows = [\"L\"]\n"
    ));
    assert!(said[0].contains("this pattern has none"), "{said:?}");
}

#[test]
fn the_chart_of_a_size_is_that_size_and_an_unknown_name_lists_the_known_ones() {
    let text = format!("{FABRICS}{MAIN}[[size]]\nname = \"mat\"\nrows = [\"l l\"]\n");
    let given = Given { name: "quilt.toml".to_owned(), bytes: text.into_bytes() };
    let (csv, _) = chart(&given, Some("mat"), Units::Inches).expect("a good pattern");
    let csv = String::from_utf8(csv).expect("text");
    assert!(csv.contains("Limpet,2,") && !csv.contains("Rock"), "{csv}");
    let said = chart(&given, Some("bed"), Units::Inches).expect_err("there is no bed size");
    assert_eq!(said.len(), 1);
    let said = said[0].to_string();
    assert!(said.contains("T121") && said.contains("use one of: main, mat"), "{said}");
}

#[test]
fn a_plan_is_of_the_size_named_and_its_record_is_recomputed_in_that_size() {
    let text = format!("{FABRICS}{MAIN}[[size]]\nname = \"mat\"\nrows = [\"l l\"]\n");
    let stash = "print,cut,count\nlimpet grey,fat quarter,1\nrock pool,fat quarter,1\n";
    let given = |name: &str, text: &str| Given { name: name.to_owned(), bytes: text.as_bytes().to_vec() };
    let request = |size: Option<&str>| Request {
        pattern: given("quilt.toml", &text),
        stash: given("stash.csv", stash),
        placements: None,
        options: Options { size: size.map(str::to_owned), ..Options::default() },
    };
    let whole = plan(&request(None), &Stop::never(), &mut |_| {}).expect("a plan");
    assert_eq!(whole.summary.verdict, Verdict::Impossible, "{}", whole.summary.proof);
    let small = plan(&request(Some("mat")), &Stop::never(), &mut |_| {}).expect("a plan");
    assert_eq!(small.summary.verdict, Verdict::Fits, "{}", small.summary.proof);
    let file = |name: &str| {
        let (_, bytes) = small.files.iter().find(|(held, _)| held == name).expect("it is written");
        String::from_utf8(bytes.clone()).expect("text")
    };
    assert!(file("sheet.html").contains("quilt, size mat"));
    let mut record: serde_json::Value = serde_json::from_str(&file("plan.json")).expect("JSON");
    assert_eq!(record["inputs"]["size"], "mat");
    let source = |name: &str| Source { name: name.to_owned(), bytes: file(name).into_bytes() };
    let inputs = Inputs {
        stash: source("inputs/stash.csv"),
        pattern: source("inputs/pattern.toml"),
        placements: None,
    };
    assert!(verify(&inputs, &record.to_string()).is_empty());
    // The same cutting called another size, or a size that there is not, does not pass.
    for other in ["main", "bed"] {
        record["inputs"]["size"] = other.into();
        assert!(!verify(&inputs, &record.to_string()).is_empty(), "passed as {other}");
    }
    record["inputs"]["size"] = serde_json::Value::Null;
    assert!(!verify(&inputs, &record.to_string()).is_empty(), "passed without its size");
    let Err(Failure::Inputs(said)) = plan(&request(Some("bed")), &Stop::never(), &mut |_| {}) else {
        panic!("no such size")
    };
    assert!(said.iter().any(|one| one.code == "T121"), "{said:?}");
}

#[test]
fn a_file_cannot_ask_for_more_sizes_or_places_than_there_can_be() {
    let one = |name: usize| format!("[[size]]\nname = \"s{name}\"\nrows = [\"l l\"]\n");
    let said = refused(&format!("{FABRICS}{MAIN}{}", (0..30).map(one).collect::<String>()));
    assert_eq!(said.len(), 1, "{said:?}");
    assert!(said[0].contains("T107") && said[0].contains("there are 30 sizes; at most 24"), "{said:?}");
    let block =
        "[[block]]\nname = \"L\"\nfinished = \"6 in\"\nrows = [\"A\"]\n[layout]\nacross = 2\ndown = 2\n";
    let said = refused(&format!("{FABRICS}{block}[[size]]\nname = \"a\"\nacross = 99999\ndown = 99999\n"));
    assert!(said[0].contains("T118") && said[0].contains("50000 places at most"), "{said:?}");
}

#[test]
fn sizes_with_lines_changed_are_read_whole_or_refused() {
    let sizes = "[quilt]\nsize = \"wall\"\n[[size]]\nname = \"mat\"\nfinished = \"14 x 8 in\"\nrows = [\"l l\"]\nborder = [{ width = \"1 in\" }]\n\
        [[size.piece]]\nlabel = \"hanger\"\ncount = 0\n[[size]]\nname = \"bed\"\nrows = [\"l r> l r\", \"r l r l\", \"l r l r\"]\n\
        [[size.border]]\nwidth = \"1 in\"\nstrip = \"12 in\"\n[[size.piece]]\nlabel = \"loop\"\nrole = \"B\"\nsize = \"2 in\"\ncount = 3\n";
    let whole = format!("{FABRICS}{MAIN}{sizes}");
    let lines: Vec<&str> = whole.lines().collect();
    let mut random = SmallRng::seed_from_u64(12);
    let (mut good, mut bad) = (0, 0);
    for _ in 0..8_000 {
        let mut lines = lines.clone();
        for _ in 0..random.random_range(1..3) {
            let at = random.random_range(0..lines.len());
            match random.random_range(0..4) {
                0 => drop(lines.remove(at)),
                1 => lines.insert(at, lines[at]),
                2 => lines[at] = lines[random.random_range(0..lines.len())],
                _ => {
                    lines.insert(at, ["make = { l = 0 }", "across = 2", "rows = [\"\"]", "count = 0"][at % 4])
                }
            }
        }
        let text = lines.join("\n");
        let (pattern, problems) = read_toml("quilt.toml", text.as_bytes());
        if problems.iter().any(|problem| problem.is_error()) {
            bad += 1;
            continue;
        }
        good += 1;
        for index in 0..pattern.sizes.len() {
            let size = pattern.at_size(index).expect("a size");
            assert!(!Demand::expand(&size, &Loosened::default()).pieces.is_empty(), "{text}");
            let mut copies = vec![0; size.blocks.len()];
            for cell in
                size.layout.iter().flat_map(|layout| layout.rows.iter().chain(&layout.between)).flatten()
            {
                copies[cell.block.0] += 1;
                assert_eq!(cell.copy, copies[cell.block.0], "copies are numbered in reading order\n{text}");
            }
            for (block, copies) in size.blocks.iter().zip(copies) {
                assert!(block.make > 0 && (copies == 0 || copies == block.make), "{}\n{text}", block.name);
            }
        }
    }
    assert!(good > 300 && bad > 300, "{good} read, {bad} refused");
}
