//! Small random jobs: what is printed is enough, and nothing is called too little that some cutting does with. Compared
//! with a plain search through all straight cuts, in whole inches, that shares nothing with the engine.

use std::collections::HashMap;

use crate::jobs::no_spare;
use cutcloth::length::Length;
use cutcloth::need::need;
use cutcloth::pattern::read_chart;
use rand::rngs::SmallRng;
use rand::{Rng, SeedableRng};

/// A piece: its width and height in inches, and whether it may lie turned.
type Piece = (i64, i64, bool);

/// Whether pieces come out of a rectangle by straight cuts, remembered by its sides and the set of pieces.
struct Search {
    pieces: Vec<Piece>,
    known: HashMap<(i64, i64, u32), bool>,
}

impl Search {
    fn fits(&mut self, width: i64, height: i64, set: u32) -> bool {
        if set.count_ones() == 1 {
            let (w, h, turn) = self.pieces[set.trailing_zeros() as usize];
            return (w <= width && h <= height) || (turn && h <= width && w <= height);
        }
        if let Some(&known) = self.known.get(&(width, height, set)) {
            return known;
        }
        let lowest = set & set.wrapping_neg();
        let mut part = (set - 1) & set;
        let mut found = false;
        while part > 0 && !found {
            // Each way of parting the pieces once: the first of them lies on the near side or the far side.
            if part & lowest > 0 {
                let rest = set & !part;
                found = (1..width).any(|x| self.fits(x, height, part) && self.fits(width - x, height, rest))
                    || (1..height).any(|y| self.fits(width, y, part) && self.fits(width, height - y, rest));
            }
            part = (part - 1) & set;
        }
        self.known.insert((width, height, set), found);
        found
    }
}

/// One to three sizes, five pieces at most, none wider than the fabric as it may lie.
fn job(random: &mut SmallRng, width: i64) -> Vec<((i64, i64), u32)> {
    let mut left = 5;
    let mut sizes = Vec::new();
    for _ in 0..random.random_range(1..=3) {
        let (w, h) = (random.random_range(1..=width), random.random_range(1..=7));
        let count = random.random_range(1..=3).min(left);
        left -= count;
        if count > 0 {
            sizes.push(((w, h), count));
        }
    }
    sizes
}

#[test]
fn amounts_are_enough_and_nothing_is_too_little_that_some_cutting_does_with() {
    let mut random = SmallRng::seed_from_u64(79);
    let (mut proved, mut lengthwise) = (0, 0);
    for case in 0..300 {
        let width = random.random_range(4..=9);
        let sizes = job(&mut random, width);
        let mut search = Search { pieces: Vec::new(), known: HashMap::new() };
        let mut chart = "block,make,label,role,width,height,count\n".to_owned();
        let mut how = no_spare(Length::from_inches(width));
        let turn = random.random_bool(0.6);
        if !turn {
            how.directional = vec!["A".to_owned()];
        }
        for (index, ((w, h), count)) in sizes.iter().enumerate() {
            chart += &format!("all,1,P{index},A,{w},{h},{count}\n");
            search.pieces.extend((0..*count).map(|_| (*w, *h, turn)));
        }
        let (pattern, problems) = read_chart("chart.csv", chart.as_bytes());
        assert!(problems.is_empty(), "{problems:?}");
        let answer = need(&pattern, &how).unwrap_or_else(|error| panic!("{case}: {error:?}\n{chart}"));
        let role = &answer.roles[0];
        let all = (1 << search.pieces.len()) - 1;
        let least = (1..).find(|&length| search.fits(width, length, all)).expect("some length does");
        let least = Length::from_inches(least);
        let at = &role.at;
        assert!(at.bound <= least, "case {case}: {:?} is called too little\n{chart}", least);
        assert!(
            least <= at.by_least.exact && at.by_least.exact <= at.by_strips.exact,
            "case {case}\n{chart}"
        );
        assert!(at.by_strips.exact <= at.by_strips.amount.length, "case {case}");
        if at.is_proved() {
            assert_eq!(at.by_least.exact, least, "case {case}\n{chart}");
            proved += 1;
        }
        lengthwise += u32::from(at.strips.bands.iter().any(|band| band.lengthwise));
        let whole = |length: Length| length.ticks() / Length::TICKS_PER_INCH;
        let total: usize = at.wanted.iter().map(|one| one.count as usize).sum();
        assert_eq!(total, search.pieces.len(), "case {case}");
        // From the least width told on, up to the width at hand, the amount is enough at every mark.
        for (amount, from) in &role.holds {
            for inches in from.iter().flat_map(|from| whole(*from + Length::from_eighths(7))..=width) {
                assert!(
                    search.fits(inches, whole(amount.length), all),
                    "case {case}: {} at {inches} in\n{chart}",
                    amount.show()
                );
            }
        }
    }
    assert!(proved > 250 && lengthwise > 20, "{proved} proved, {lengthwise} with pieces along the fabric");
}
