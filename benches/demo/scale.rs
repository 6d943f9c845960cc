//! Invented stashes of growing size, each with a quilt that grows along. Seeded: the same files every time.

use std::fmt::Write as _;
use std::fs;
use std::path::Path;

use rand::rngs::SmallRng;
use rand::seq::IndexedRandom as _;
use rand::{Rng as _, SeedableRng as _};

use crate::measure::Case;

/// Sizes of stash, in lots.
const LOTS: [u32; 4] = [10, 50, 200, 500];
/// Those that are planned again for quilts of many sets and sizes: lots, and copies of each of twenty blocks for a hundred.
const RICH: [(u32, u32); 6] = [(50, 5), (200, 5), (500, 5), (50, 10), (200, 10), (500, 10)];

/// Writes the files of every size into `folder`.
pub(crate) fn cases(folder: &Path) -> Result<Vec<Case>, String> {
    let few = LOTS.map(|lots| (format!("{lots} lots"), lots, chart_for(lots)));
    let many = RICH.map(|(lots, copies)| {
        let copies = (lots * copies).div_ceil(100);
        (format!("{lots} lots, {} pieces in 40 sizes", copies * 120), lots, rich_chart_for(copies))
    });
    few.into_iter()
        .chain(many)
        .map(|(name, lots, chart)| {
            let stash = folder.join(format!("stash-{lots}.csv"));
            let pattern = folder.join(format!("{name}.csv"));
            fs::write(&stash, stash_of(lots)).map_err(|error| error.to_string())?;
            fs::write(&pattern, chart).map_err(|error| error.to_string())?;
            Ok(Case { name, pattern, stash })
        })
        .collect()
}

/// Half 10-inch squares, the rest fat quarters, strips, scraps and some yardage; every fourth lot is of a print
/// already held.
fn stash_of(lots: u32) -> String {
    let mut random = SmallRng::seed_from_u64(0x5EA_5407E + u64::from(lots));
    let mut text = "print,cut,count,width,length,directional\n".to_owned();
    let mut prints = 0u32;
    for lot in 0..lots {
        let print = if prints > 3 && lot % 4 == 3 { random.random_range(1..prints) } else { prints };
        prints = prints.max(print + 1);
        let directional = ["no", "no", "no", "no", "yes"].choose(&mut random).unwrap_or(&"no");
        // One bolt to every ten lots, so that there is background for the quilt.
        let (cut, count, size) = match (lot % 10, random.random_range(0..10u32)) {
            (0, _) => ("yardage", 1, ",2 yd".to_owned()),
            (_, 0..6) => ("10-inch square", random.random_range(1..=2), ",".to_owned()),
            (_, 6..8) => ("fat quarter", 1, ",".to_owned()),
            (_, 8) => ("2 1/2-inch strip", random.random_range(1..=3), ",".to_owned()),
            _ => {
                let mut side = || random.random_range(20..120u32); // eighths of an inch
                let (width, length) = (side(), side());
                ("scrap", 1, format!("{} {}/8,{} {}/8", width / 8, width % 8, length / 8, length % 8))
            }
        };
        // Writing to a String cannot fail.
        let _ = writeln!(text, "print {print},{cut},{count},{size},{directional}");
    }
    text
}

/// Blocks that need one print each, blocks of single pieces, and background: about two thirds of the stash's squares.
fn chart_for(lots: u32) -> String {
    let copies = |per_hundred: u32| (lots * per_hundred).div_ceil(100);
    format!(
        "block,make,label,role,width,height,count,shape,matching,from\n\
         Ring,{},R1,ring,2 1/2,4 1/2,2,,block,10-inch square / fat quarter\n\
         ,,R2,ring,2 1/2,8 1/2,2,,block,\n\
         ,,R3,ground,4 1/2,4 1/2,1,,piece,yardage\n\
         Four,{},F1,four,4 1/2,4 1/2,4,,block,10-inch square / fat quarter\n\
         ,,F2,ground,2 1/2,6 1/2,4,,piece,\n\
         Planks,{},P1,plank,2 1/2,6 1/2,12,,piece,\n\
         Large,{},L1,large,4 7/8,4 7/8,6,cut once,block,10-inch square / fat quarter\n",
        copies(20),
        copies(12),
        copies(6),
        copies(5),
    )
}

/// Twenty kinds of block, each of three matching pieces and three loose ones: 40 sizes.
fn rich_chart_for(copies: u32) -> String {
    let mut text = "block,make,label,role,width,height,count,shape,matching,from\n".to_owned();
    let quarters = |n: u32| format!("{} {}/4", n / 4, n % 4);
    for kind in 0..20u32 {
        // Sides from 1 1/2 to 7 1/4 in, no two sizes alike.
        let (set, loose) = (quarters(9 + kind), quarters(6 + kind));
        let (side, narrow) = (quarters(10 + kind * 7 % 19), quarters(6 + kind * 5 % 13));
        // Writing to a String cannot fail.
        let _ = writeln!(text, "B{kind},{copies},S{kind},set{kind},{set},{side},3,,block,");
        let _ = writeln!(text, ",,L{kind},loose{kind},{loose},{narrow},3,,piece,");
    }
    text
}
