//! Two prints beside each other.

use cutcloth::length::Length;
use cutcloth::looks::{Pair, Sight, Thresholds};
use cutcloth::stash::{self, PrintId, Stash};

const STASH: &str = "\
print,cut,color,value
foam,fat quarter,#ffffff,
gull,fat quarter,#e8eef0,
deep water,fat quarter,#1d3557,
beet,fat quarter,#b03050,
kelp,fat quarter,#3f7d30,
fog,fat quarter,,light
slate,fat quarter,,dark
grey day,fat quarter,grey,light
grey night,fat quarter,grey,dark
secret,fat quarter,,
";

fn stash() -> Stash {
    stash::read("stash.csv", STASH.as_bytes(), Length::ZERO).0
}

fn pair(sight: &Sight, stash: &Stash, one: &str, other: &str) -> Pair {
    let find = |name: &str| PrintId(stash.prints.iter().position(|print| print.name == name).unwrap());
    let (one, other) = (find(one), find(other));
    assert_eq!(sight.pair(one, other), sight.pair(other, one));
    sight.pair(one, other)
}

#[test]
fn two_prints_are_judged_by_lightness_before_colour() {
    let stash = stash();
    let sight = Sight::of(&stash, Thresholds::default());
    let judged = |one, other| pair(&sight, &stash, one, other);
    assert_eq!(judged("foam", "foam"), Pair::Same);
    assert_eq!(judged("foam", "gull"), Pair::Blend);
    assert_eq!(judged("foam", "deep water"), Pair::Fine);
    // Red and green of one lightness: only colour parts them.
    assert_eq!(judged("beet", "kelp"), Pair::AlikeInValue);
    assert_eq!(judged("secret", "foam"), Pair::NotKnown);
}

#[test]
fn a_value_alone_counts_as_grey_and_moves_a_colour_that_is_only_a_word() {
    let stash = stash();
    let sight = Sight::of(&stash, Thresholds::default());
    let judged = |one, other| pair(&sight, &stash, one, other);
    assert_eq!(judged("fog", "slate"), Pair::Fine);
    assert_eq!(judged("grey day", "grey night"), Pair::Fine);
    assert_eq!(judged("grey day", "fog"), Pair::Blend);
    assert_eq!(judged("grey night", "slate"), Pair::Blend);
}

#[test]
fn where_alike_begins_can_be_set() {
    let stash = stash();
    let careful = Sight::of(&stash, Thresholds { contrast: 300, difference: 9000 });
    let bold = Sight::of(&stash, Thresholds { contrast: 105, difference: 100 });
    assert_eq!(pair(&careful, &stash, "beet", "kelp"), Pair::Blend);
    assert_eq!(pair(&bold, &stash, "foam", "gull"), Pair::Fine);
}
