//! What the aim `look` gives and costs: blends, variety, fabric and time, beside the aim `save`.

use std::fs;
use std::time::Instant;

use cutcloth::length::Length;
use cutcloth::looks::{Sight, Thresholds, Touches, measure, meetings};
use cutcloth::pattern::demand::{Demand, Loosened};
use cutcloth::pattern::{self, Pattern};
use cutcloth::placements::Placements;
use cutcloth::planning::rules::Aim;
use cutcloth::planning::{Rules, Stop, Verdict, plan_methods};
use cutcloth::stash::{self, Stash};

/// Twenty blocks of the shore, four by five.
const SHORE: &str = "\
block,make,label,role,size,count,matching,from
Beacon,6,N1,beacon,4 1/2 x 4 1/2,1,block,10-inch square
Beacon,,N2,beacon,2 1/2 x 4 1/2,4,block,10-inch square
Beacon,,N3,mist,4 1/2 x 4 1/2,4,quilt,yardage
Beacon,,N4,mist,2 1/2 x 4 1/2,4,quilt,yardage
Lobster pot,5,P1,pot,3 1/2 x 3 1/2,8,block,10-inch square
Lobster pot,,P2,mist,3 1/2 x 3 1/2,8,quilt,yardage
Gull,5,G1,gull,4 1/2 x 4 1/2,1,block,10-inch square
Gull,,G2,gull,4 7/8 x 4 7/8,2,block,10-inch square
Gull,,G3,mist,4 7/8 x 4 7/8,2,quilt,yardage
Gull,,G4,mist,4 1/2 x 4 1/2,4,quilt,yardage
Beach hut,4,H1,hut,2 1/2 x 6 1/2,8,piece,10-inch square
Beach hut,,H2,mist,2 1/2 x 6 1/2,4,quilt,yardage
Border,1,B1,surf,2 1/2 x 60 1/2,2,quilt,yardage
Border,,B2,surf,2 1/2 x 52 1/2,2,quilt,yardage
";

/// Prints of the shore: of every seven, three are as pale as the pale bolt.
fn shore_stash() -> String {
    let pale = ["#f4efe6", "#efe8dd", "#f6f1ea", "#ece7e1", "#f1ebe3"];
    let others = ["#1f4e5f", "#b5533c", "#3d6b35", "#7a3b69", "#c98a2b", "#2f3e73", "#8c2f39"];
    let mut text = "print,cut,size,count,color\n".to_owned();
    for number in 0..34 {
        let color = if number % 7 < 3 { pale[number % 5] } else { others[number % 7] };
        let count = if number % 4 == 1 && number < 32 { 2 } else { 1 };
        text += &format!("shore {number},10-inch square,10 x 10,{count},{color}\n");
    }
    text + "pale bolt,yardage,41 x 108,1,#f3eee6\ndark bolt,yardage,41 1/2 x 90,1,#22384f\n"
}

fn show(name: &str, stash: &Stash, pattern: &Pattern) {
    for (aim, extra_fabric) in [(Aim::Save, 0), (Aim::Look, 0), (Aim::Look, 2), (Aim::Look, 5)] {
        let rules = Rules {
            aim,
            extra_fabric,
            alternatives: false,
            conflicts: false,
            threads: 2,
            ..Rules::default()
        };
        let start = Instant::now();
        let planned =
            plan_methods(stash, pattern, &Placements::default(), &rules, &Stop::never(), &mut |_| {});
        let seconds = start.elapsed().as_secs_f64();
        let outcome = planned.outcome;
        if outcome.verdict != Verdict::Fits {
            println!("| {name} | {} | {:?} |", aim.name(), outcome.verdict);
            continue;
        }
        let demand = Demand::expand(&planned.pattern, &Loosened::default());
        let touches = Touches::of(&meetings(&planned.pattern), &demand);
        let sight = Sight::of(stash, Thresholds::default());
        let figures = measure(&touches, &demand, &outcome.plan.prints, &sight);
        let percent = |part: i64| {
            let tenths = part * 1000 / figures.tally.all.max(1);
            format!("{}.{}", tenths / 10, tenths % 10)
        };
        let tally = figures.tally;
        let inch = i128::from(Length::TICKS_PER_INCH) * i128::from(Length::TICKS_PER_INCH) * 100;
        println!(
            "| {name} | {} +{extra_fabric} % | {} | {} | {} | {} | {} | {} | {} | {} | {seconds:.2} |",
            aim.name(),
            percent(tally.same),
            percent(tally.blends),
            percent(tally.alike),
            figures.copies_alike,
            figures.pieces_alike,
            figures.prints,
            figures.largest_repeat(),
            outcome.fabric.opened / inch,
        );
    }
}

fn main() {
    println!(
        "| quilt | aim | same % | blend % | alike in value % | copies alike | pieces alike | prints | most blocks | opened | s |"
    );
    println!("|---|---|---|---|---|---|---|---|---|---|---|");
    let folder = format!("{}/data/tidepool", env!("CARGO_MANIFEST_DIR"));
    let bytes = |name: &str| fs::read(format!("{folder}/{name}")).expect("a file of the demo");
    let (demo, _) = pattern::read("pattern.toml", &bytes("pattern.toml"));
    for name in ["pack.csv", "shelf.csv"] {
        show(name, &stash::read(name, &bytes(name), Length::ZERO).0, &demo);
    }
    let (shore, said) = pattern::read("shore.csv", SHORE.as_bytes());
    let (held, also) = stash::read("stash.csv", shore_stash().as_bytes(), Length::ZERO);
    for one in said.iter().chain(&also).filter(|one| one.is_error()) {
        println!("{one:?}");
    }
    show("shore", &held, &shore);
}
