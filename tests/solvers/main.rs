//! The two solvers of integer programmes against each other; built only with the feature `highs`.

#[path = "../table/mod.rs"]
mod table;
#[path = "../planning_mip/world.rs"]
#[allow(dead_code)] // the other test uses more of it
mod world;

use cutcloth::app::options::{self, Options};
use cutcloth::app::run::{Answer, Request, plan};
use cutcloth::app::{Given, Solver, Stop};
use cutcloth::planning::Verdict;
use rand::SeedableRng;
use rand::rngs::SmallRng;
use serde_json::Value;

#[test]
fn both_solvers_give_the_same_verdicts_and_proved_figures() {
    let mut random = SmallRng::seed_from_u64(0x5EA_0020);
    let (mut fits, mut proved, mut impossible) = (0, 0, 0);
    for case in 0..200 {
        let world = world::draw(&mut random);
        let mut table = world.table();
        let one = table.plan();
        table.rules.solver = Solver::Highs;
        let other = table.plan();
        let (first, second) = (one.fabric, other.fabric);
        match [one.verdict, other.verdict] {
            [Verdict::Fits, Verdict::Fits] => {
                assert!(first.bound <= second.opened, "case {case}: {world:#?}");
                assert!(second.bound <= first.opened, "case {case}: {world:#?}");
                fits += 1;
                proved += u32::from(first.opened == first.bound && second.opened == second.bound);
            }
            [Verdict::Impossible, Verdict::Impossible] => impossible += 1,
            verdicts => {
                assert!(verdicts.contains(&Verdict::Undecided), "case {case}: {verdicts:?} {world:#?}")
            }
        }
    }
    eprintln!("{fits} fit, {proved} proved by both, {impossible} impossible");
    assert!(fits > 60 && proved > 40 && impossible > 60, "{fits}, {proved}, {impossible}");
}

#[test]
fn a_program_built_with_it_takes_its_name() {
    assert_eq!(options::solver("HiGHS"), Ok(Solver::Highs));
    assert_eq!(options::solver("microlp"), Ok(Solver::Microlp));
}

/// What is planned of the demo with this solver.
fn demo(solver: Solver) -> Answer {
    let given = |name: &str| {
        let path = format!("{}/data/tidepool/{name}", env!("CARGO_MANIFEST_DIR"));
        Given { name: name.to_owned(), bytes: std::fs::read(path).expect("the demo is there") }
    };
    let mut options = Options::default();
    options.rules.solver = solver;
    let request =
        Request { pattern: given("pattern.toml"), stash: given("pack.csv"), placements: None, options };
    plan(&request, &Stop::never(), &mut |_| {}).expect("a checked plan")
}

#[test]
fn the_record_and_the_summary_name_the_solver_and_the_same_run_gives_the_same_bytes() {
    let (usual, highs) = (demo(Solver::Microlp), demo(Solver::Highs));
    let record = |answer: &Answer| -> Value {
        let (_, bytes) = answer.files.iter().find(|(name, _)| name == "plan.json").expect("a record");
        serde_json::from_slice(bytes).expect("JSON")
    };
    let said = |answer: &Answer| answer.summary.choices.iter().any(|line| line.contains("solved by highs"));
    assert_eq!(record(&usual)["rules"]["solver"], "microlp");
    assert_eq!(record(&highs)["rules"]["solver"], "highs");
    assert!(!said(&usual) && said(&highs));
    assert_eq!(highs.files, demo(Solver::Highs).files);
    let (one, other) = (usual.summary, highs.summary);
    assert_eq!(one.verdict, other.verdict);
    assert!(one.opened.1 <= other.opened.0 && other.opened.1 <= one.opened.0);
}
