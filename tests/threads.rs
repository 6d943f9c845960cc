//! The plan is the same, byte for byte, on however many threads the work is done.

use std::path::Path;

use cutcloth::app::Stop;
use cutcloth::app::given::Given;
use cutcloth::app::options::Options;
use cutcloth::app::run::{Request, plan};

/// Every file that is written for the demo's quilt from one of its stashes.
fn files(pattern: &str, stash: &str, threads: usize) -> Vec<(String, Vec<u8>)> {
    let open = |name: &str| {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("data/tidepool").join(name);
        Given::open(&path).expect("a file of the demo")
    };
    let mut options = Options::default();
    options.rules.threads = threads;
    let request = Request { pattern: open(pattern), stash: open(stash), placements: None, options };
    plan(&request, &Stop::by_hand(), &mut |_| {}).expect("an answer").files
}

fn same(pattern: &str, stash: &str) {
    let alone = files(pattern, stash, 1);
    assert!(alone.iter().any(|(name, _)| name == "plan.json"));
    for threads in [2, 5] {
        for ((name, one), (other_name, other)) in alone.iter().zip(files(pattern, stash, threads)) {
            assert_eq!(*name, other_name);
            assert!(*one == other, "{name} from {stash} differs with {threads} threads");
        }
    }
}

#[test]
fn a_plan_with_proof() {
    same("chart.csv", "pack.csv");
}

#[test]
fn a_plan_whose_up_is_priced_beside_it() {
    same("chart.csv", "shelf.csv");
}

#[test]
fn conflicts_and_alternatives_looked_for_side_by_side() {
    same("chart.csv", "other-pack.csv");
}

#[test]
fn ways_of_making_units_planned_side_by_side() {
    same("pattern.toml", "pack.csv");
}
