//! The command as a person runs it.

use std::path::PathBuf;
use std::process::{Command, Output};

fn run(arguments: &[&str]) -> Output {
    let data = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("data");
    let quick = ["--effort", "5"];
    let program = env!("CARGO_BIN_EXE_cutcloth");
    let output = Command::new(program).current_dir(data).arg("need").args(arguments).args(quick).output();
    output.expect("the program starts")
}

fn told(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).expect("text")
}

#[test]
fn the_tidepool_quilt_in_inches_and_metric_has_the_same_pieces() {
    let inches = run(&["tidepool/pattern.toml"]);
    assert_eq!(inches.status.code(), Some(0));
    let inches = told(&inches);
    for part in ["usable width 40 in", "seam 1/4 in", "Finishing a top of 68 1/2 x 68 1/2 in as sewn"] {
        assert!(inches.contains(part), "{part:?} is not in\n{inches}");
    }
    assert!(inches.contains("along the fabric, cut first: 1 length of 68 1/2 in"), "{inches}");
    assert!(inches.contains("backing: 76 1/2 x 76 1/2 in"), "{inches}");
    let metric = told(&run(&["tidepool/pattern.toml", "--units", "metric"]));
    assert!(metric.contains("usable width 101.6 cm") && metric.contains("rounded up to 0.1 m"), "{metric}");
    let strips = |text: &str| text.lines().filter(|line| line.contains(" deep = ")).count();
    assert_eq!(strips(&inches), strips(&metric));
}

#[test]
fn the_same_question_has_the_same_answer() {
    let ask = || told(&run(&["tidepool/pattern.toml", "--format", "json"]));
    assert_eq!(ask(), ask());
}

#[test]
fn what_cannot_be_is_an_input_error_with_its_numbers() {
    let narrow = run(&["tidepool/pattern.toml", "--width", "4"]);
    assert_eq!(narrow.status.code(), Some(2));
    let said = String::from_utf8(narrow.stderr).expect("text");
    assert!(said.contains("does not go into fabric of 4 in usable width"), "{said}");
    let unjoined = run(&["tidepool/pattern.toml", "--borders", "crosswise", "--no-joins"]);
    assert_eq!(unjoined.status.code(), Some(2));
    let said = String::from_utf8(unjoined.stderr).expect("text");
    assert!(said.contains("border 1 needs 68 1/2 in in one piece"), "{said}");
    assert_eq!(run(&["tidepool/pattern.toml", "--directional", "nobody"]).status.code(), Some(2));
}
