//! What a designer is told about mistakes: all of them in one run, each with its line and what to do; and no bytes
//! whatever make the reader fall over.

use cutcloth::diagnostic::{Diagnostic, Severity};
use cutcloth::length::Length;
use cutcloth::pattern::demand::{Demand, Loosened};
use cutcloth::pattern::{geometry, read_toml, steps};
use rand::rngs::SmallRng;
use rand::{Rng, SeedableRng};

fn problems(text: &str) -> Vec<Diagnostic> {
    read_toml("reef.toml", text.as_bytes()).1
}

fn only_problem(text: &str) -> Diagnostic {
    let mut problems = problems(text);
    assert_eq!(problems.len(), 1, "{problems:#?}");
    problems.remove(0)
}

#[test]
fn six_planted_mistakes_are_told_in_one_run_with_their_lines() {
    let text = r#"[quilt]
name = "Reef"
seam = "1/4 inn"
[role]
A = "coral"
B = "water"
[[block]]
name = "Coral"
makes = 6
finished = "8 in"
rows = ["H H", "H H"]
[[block.unit]]
name = "H"
kind = "half-square triangel"
roles = ["A", "B"]
finished = "4 in"
[[block]]
name = "Reef"
finished = "6 in"
rows = ["A B A", "B Q B"]
[[block.piece]]
role = "A"
size = "2 1/2"
count = 0
[[block.unit]]
name = "S"
kind = "square"
role = "C"
finished = "2 in"
"#;
    let problems = problems(text);
    let found: Vec<(u64, &str)> =
        problems.iter().map(|problem| (problem.place.line.unwrap_or(0), problem.code)).collect();
    let planted = [(3, "T106"), (9, "T103"), (14, "T108"), (20, "T112"), (24, "T107"), (28, "T109")];
    assert_eq!(found, planted);
    for problem in &problems {
        assert!(problem.place.line.is_some() && problem.place.field.is_some(), "{problem}");
        assert!(!problem.message.is_empty() && !problem.help.is_empty(), "{problem}");
    }
    let unknown = problems.iter().find(|problem| problem.code == "T103").expect("the unknown key");
    assert_eq!(
        unknown.to_string(),
        "reef.toml, line 9, field \"block.makes\": \"makes\" means nothing in [block]\n  help: did you mean \"make\"?  [T103]"
    );
}

/// A block of four half-square triangles, whose unit has this line.
fn good_block(unit_line: &str) -> String {
    format!(
        "[role]\nA = \"a\"\nB = \"b\"\n[[block]]\nname = \"X\"\nfinished = \"8 in\"\nrows = [\"H H\", \"H H\"]\n\
         [[block.unit]]\nname = \"H\"\nkind = \"half-square triangles\"\nfinished = \"4 in\"\n{unit_line}\n"
    )
}

#[test]
fn pieces_that_cannot_add_up_to_the_unit_are_named_with_their_numbers() {
    let text = r#"
        [role]
        A = "a"
        [[block]]
        name = "Two pieces"
        finished = "13 1/2 in"
        rows = ["L R"]
        [[block.piece]]
        label = "L"
        role = "A"
        size = "8 x 14"
        [[block.piece]]
        label = "R"
        role = "A"
        size = "6 x 14"
    "#;
    let problem = only_problem(text);
    assert_eq!((problem.code, problem.place.line), ("T113", Some(7)));
    assert_eq!(
        problem.message,
        "row 1: L (8 x 14 in) and R (6 x 14 in) sewn together measure 13 1/2 x 14 in unfinished, not 14 x 14 in"
    );
}

#[test]
fn a_method_that_does_not_suit_its_unit_is_refused_and_the_others_named() {
    let problem = only_problem(&good_block("roles = [\"A\", \"B\"]\nmethod = \"folded corners\""));
    assert_eq!(problem.code, "T111");
    assert!(problem.help.contains("eight at a time"), "{problem}");
}

#[test]
fn a_count_that_the_rows_contradict_is_told() {
    let problem = only_problem(&good_block("roles = [\"A\", \"B\"]\ncount = 5"));
    assert_eq!(problem.message, "count says 5 of \"H\", the rows have 4");
}

#[test]
fn a_unit_made_of_itself_is_refused() {
    let text = r#"
        [role]
        A = "a"
        [[block]]
        name = "Circle"
        rows = ["one"]
        [[block.unit]]
        name = "one"
        kind = "rows"
        rows = ["two"]
        [[block.unit]]
        name = "two"
        kind = "rows"
        rows = ["one"]
    "#;
    assert!(problems(text).iter().any(|problem| problem.code == "T116"));
}

#[test]
fn a_quilt_of_another_size_than_stated_is_told_with_both_sizes() {
    let text = r#"
        [quilt]
        finished = "60 x 72 in"
        [role]
        A = "a"
        [[block]]
        name = "Plain"
        finished = "12 in"
        rows = ["A"]
        [layout]
        across = 5
        down = 5
    "#;
    let problem = only_problem(text);
    assert_eq!(problem.message, "the layout makes a quilt of 60 x 60 in finished, not 60 x 72 in");
}

#[test]
fn too_few_strips_for_a_border_are_refused() {
    let text = r#"
        [role]
        A = "a"
        [[block]]
        name = "Plain"
        finished = "60 in"
        rows = ["A"]
        [layout]
        across = 1
        down = 1
        [[layout.border]]
        width = "2 in"
        role = "A"
        strip = "42 in"
        strips = 5
    "#;
    // 2 x 60 1/2 + 2 x 64 1/2 = 250 in; five strips of 42 in joined end to end are 208 in. All four from one length take
    // seven, but a side and a top of 125 in come out of three strips with two joins of 1/2 in, 125 in, and so the other two.
    let problem = only_problem(text);
    assert_eq!(problem.code, "T118");
    assert!(problem.message.contains("it takes 6"), "{problem}");
    let six = text.replace("strips = 5", "strips = 6");
    assert!(problems(&six).is_empty(), "six are enough");
}

#[test]
fn a_color_that_is_no_plain_color_is_told_with_those_that_are() {
    let text = r#"
        [role.A]
        only = { color = ["Gray", "beige"] }
        [[block]]
        name = "One"
        finished = "4 in"
        rows = ["A"]
    "#;
    let problem = only_problem(text);
    assert_eq!((problem.code, problem.place.line), ("T108", Some(3)));
    assert!(problem.message.contains("\"beige\"") && !problem.message.contains("Gray"), "{problem}");
    assert!(problem.help.contains("brown, black, grey, white"), "{problem}");
}

#[test]
fn a_size_between_two_marks_is_flagged_and_cut_at_the_next() {
    let text = "[role]\nA = \"a\"\n[[block]]\nname = \"Odd\"\nfinished = \"2 15/16 in\"\nrows = [\"A\"]\n";
    let (pattern, problems) = read_toml("odd.toml", text.as_bytes());
    assert_eq!(problems.len(), 1);
    assert_eq!((problems[0].code, problems[0].severity), ("T117", Severity::Warning));
    let cut = pattern.blocks[0].pieces[0].width;
    assert_eq!(cut, Length::from_eighths(28)); // 3 7/16 in, up to 3 1/2 in
}

/// Reads bytes, and does everything with what comes out that a program would.
fn exercise(bytes: &[u8]) {
    let (pattern, problems) = read_toml("any.toml", bytes);
    for problem in &problems {
        assert!(!problem.to_string().is_empty());
    }
    if problems.iter().all(|problem| !problem.is_error()) {
        let demand = Demand::expand(&pattern, &Loosened::default());
        assert!(!demand.pieces.is_empty());
    }
    // Drawing and sewing order must bear a pattern with errors as well.
    let _ = geometry::quilt(&pattern);
    for block in &pattern.blocks {
        let _ = steps::stages(block);
    }
}

#[test]
fn random_bytes_never_make_the_reader_fall_over() {
    let mut random = SmallRng::seed_from_u64(0x7EA1);
    let letters: Vec<u8> = b"[]{}=\"'#.,\n\t xv<>^0123456789/-_AaBbrolequiltpackngfs\xff\xc3".to_vec();
    for _ in 0..3000 {
        let length = random.random_range(0..120);
        let bytes: Vec<u8> = (0..length).map(|_| letters[random.random_range(0..letters.len())]).collect();
        exercise(&bytes);
    }
}

/// The example of the reference that has one of each kind of unit, and the one that is set on point.
fn examples(page: &str) -> String {
    let fences: Vec<&str> = page.split("```").collect();
    let with = |words: &str| {
        let found = fences.iter().find(|text| text.contains(words)).expect("an example");
        found.strip_prefix("toml").unwrap_or(found).to_string()
    };
    let on_point = with("set = \"on point\"\nrows");
    let layout = on_point.split_once("[layout]").expect("a layout").1;
    format!("{}\n[layout]{layout}", with("One of each"))
}

#[test]
fn patterns_damaged_at_random_never_make_the_reader_fall_over() {
    let files = [
        "data/tidepool/pattern.toml",
        "tests/cases/pattern/one-strip-roll/pattern.toml",
        "tests/cases/pattern/geese-topper/pattern.toml",
        "tests/cases/pattern/split-quarter-squares/pattern.toml",
        "data/pattern-format.md",
    ];
    let mut random = SmallRng::seed_from_u64(0x5EA);
    for file in files {
        let mut good = std::fs::read(file).expect("the file is there");
        if file.ends_with(".md") {
            good = examples(&String::from_utf8(good).expect("text")).into_bytes();
        }
        let lines: Vec<&[u8]> = good.split_inclusive(|&byte| byte == b'\n').collect();
        for _ in 0..200 {
            let mut damaged: Vec<Vec<u8>> = lines.iter().map(|line| line.to_vec()).collect();
            for _ in 0..random.random_range(1..5) {
                let at = random.random_range(0..damaged.len());
                match random.random_range(0..4) {
                    0 => damaged[at].clear(),
                    1 => damaged[at] = lines[random.random_range(0..lines.len())].to_vec(),
                    2 => {
                        let other = random.random_range(0..damaged.len());
                        damaged.swap(at, other);
                    }
                    _ => {
                        let spot = random.random_range(0..=damaged[at].len());
                        damaged[at].insert(spot, b"0/x\"9 ["[random.random_range(0..7)]);
                    }
                }
            }
            exercise(&damaged.concat());
        }
    }
}

#[test]
fn rows_within_rows_without_end_are_refused_before_the_stack_is() {
    let mut text = String::from("[role]\nA = \"a\"\n[[block]]\nname = \"Deep\"\nrows = [\"u0\"]\n");
    for level in 0..3000 {
        text.push_str(&format!(
            "[[block.unit]]\nname = \"u{level}\"\nkind = \"rows\"\nrows = [\"u{} u{}\"]\n",
            level + 1,
            level + 1
        ));
    }
    assert!(problems(&text).iter().any(|problem| problem.code == "T116"));
}
