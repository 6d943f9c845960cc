//! What a choice of prints comes to.

use cutcloth::length::Length;
use cutcloth::looks::{Sight, Tally, Thresholds, Touches, WHOLE, measure, meetings};
use cutcloth::pattern::demand::{Demand, Loosened};
use cutcloth::stash::{self, PrintId};

const CHART: &str = "\
block,make,label,role,size,count,matching
Limpet,3,L1,shell,3 x 3,1,block
Limpet,,L2,rock,2 x 2,4,piece
Limpet,,B1,water,2 x 2,4,quilt
";

const STASH: &str = "\
print,cut,color
foam,fat quarter,#ffffff
gull,fat quarter,#f2f5f5
deep water,fat quarter,#1d3557
secret,fat quarter,
";

#[test]
fn loose_pieces_count_their_share_and_repeats_are_counted_by_block() {
    let (pattern, _) = cutcloth::pattern::read("chart.csv", CHART.as_bytes());
    let (stash, _) = stash::read("stash.csv", STASH.as_bytes(), Length::ZERO);
    let demand = Demand::expand(&pattern, &Loosened::default());
    let touches = Touches::of(&meetings(&pattern), &demand);
    assert!(!touches.by_seam);
    // Three meetings in each of three copies.
    assert_eq!(touches.list.len(), 9);
    let [foam, gull, deep, secret] = [0, 1, 2, 3].map(PrintId);
    // Water is deep; shells are foam, foam and deep; rocks are gull but one in the first copy, which is not known.
    let mut rocks = 0;
    let prints: Vec<Option<PrintId>> = demand
        .sets
        .iter()
        .map(|set| match pattern.roles[set.role.0].name.as_str() {
            "water" => Some(deep),
            "shell" if set.block.unwrap().1 == 3 => Some(deep),
            "shell" => Some(foam),
            _ => {
                rocks += 1;
                Some(if rocks == 1 { secret } else { gull })
            }
        })
        .collect();
    let figures = measure(&touches, &demand, &prints, &Sight::of(&stash, Thresholds::default()));
    // Copy 1: shell and rock blend by three quarters and a quarter is not known, so is a quarter of rock and water. Copy 2: shell
    // and rock blend. Copy 3: shell and water are one print.
    let expected = Tally { all: 9 * WHOLE, same: WHOLE, blends: 1750, alike: 0, not_known: 500 };
    assert_eq!(figures.tally, expected);
    // Shells of copies 1 and 2; rocks: 3 of 4, then twice 6 pairs.
    assert_eq!((figures.copies_alike, figures.pieces_alike), (1, 3 + 6 + 6));
    assert_eq!((figures.prints, figures.largest_repeat()), (4, 3));
    assert_eq!(figures.repeats[0].print, gull);
}

#[test]
fn what_is_left_out_counts_nothing() {
    let (pattern, _) = cutcloth::pattern::read("chart.csv", CHART.as_bytes());
    let (stash, _) = stash::read("stash.csv", STASH.as_bytes(), Length::ZERO);
    let demand = Demand::expand(&pattern, &Loosened::default());
    let touches = Touches::of(&meetings(&pattern), &demand);
    let nothing = vec![None; demand.sets.len()];
    let figures = measure(&touches, &demand, &nothing, &Sight::of(&stash, Thresholds::default()));
    assert_eq!((figures.tally, figures.prints, figures.largest_repeat()), (Tally::default(), 0, 0));
}
