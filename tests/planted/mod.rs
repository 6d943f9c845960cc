//! Small quilts that are known to fit: sets whose pieces fill a sheet in plain strips with a little to spare, and single
//! pieces that have exactly their own scraps. A person lays them out at sight.

use cutcloth::app::options::Options;
use cutcloth::app::run::{Request, plan};
use cutcloth::app::summary::Verdict;
use cutcloth::app::{Given, Stop};
use rand::rngs::SmallRng;
use rand::{Rng, SeedableRng};

/// A chart and a stash.
pub(crate) struct Planted {
    pub(crate) chart: String,
    pub(crate) stash: String,
}

/// The quilt of a seed: one to three sheets of a print each, from each of them four to eight strips, in each strip one to
/// three times a piece of one length and a piece of another. A set takes two of either.
pub(crate) fn planted(seed: u64) -> Planted {
    let random = &mut SmallRng::seed_from_u64(seed);
    let depth = random.random_range(6..14);
    let short = random.random_range(5..18);
    let long = short + random.random_range(1..16);
    let pairs = random.random_range(1..4);
    let strips = random.random_range(2..5) * 2;
    let sheets = random.random_range(1..4);
    let (spare_across, spare_along) = (random.random_range(0..4), random.random_range(0..2));
    let middle = random.random_range(6..19);
    let copies = sheets * strips * pairs / 2;
    let (across, along) =
        (quarters(strips * depth + spare_across), quarters(pairs * (short + long) + spare_along));
    let (depth, short, long, middle) = (quarters(depth), quarters(short), quarters(long), quarters(middle));
    let mut stash = "print,cut,count,width,length\n".to_owned();
    for sheet in 0..sheets {
        stash += &format!("kelp {sheet},scrap,1,{across},{along}\n");
    }
    stash += &format!("gull,scrap,{copies},{middle},{middle}\n");
    let chart = format!(
        "block,make,label,role,width,height,count,shape,matching\n\
         Buoy,{copies},R1,ring,{depth},{short},2,rectangle,block\n\
         Buoy,{copies},R2,ring,{depth},{long},2,rectangle,block\n\
         Buoy,{copies},M,middle,{middle},{middle},1,rectangle,piece\n"
    );
    Planted { chart, stash }
}

fn quarters(n: u32) -> String {
    format!("{} {}/4", n / 4, n % 4)
}

/// The verdict that the program reaches and checks.
pub(crate) fn verdict(quilt: &Planted) -> Verdict {
    let given = |name: &str, text: &str| Given { name: name.to_owned(), bytes: text.as_bytes().to_vec() };
    let (pattern, stash) = (given("chart.csv", &quilt.chart), given("stash.csv", &quilt.stash));
    let mut options = Options::default();
    options.rules.alternatives = false;
    let request = Request { pattern, stash, placements: None, options };
    plan(&request, &Stop::by_hand(), &mut |_| {}).expect("an answer").summary.verdict
}
