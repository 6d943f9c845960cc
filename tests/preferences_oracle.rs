//! What is claimed of leftovers and layouts against every way of cutting tiny stashes, enumerated without the engine.

mod table;

use std::collections::{BTreeMap, BTreeSet, HashMap};

use cutcloth::pattern::Matching;
use cutcloth::planning::{Measures, Verdict};
use rand::rngs::SmallRng;
use rand::{Rng, SeedableRng};
use table::{Table, e};

/// Everything is in whole inches; a leftover is useful from 2 in.
type Size = (i64, i64);
const USEFUL: i64 = 2;

/// The most that leftovers of a `w` x `h` region are worth when exactly these pieces are cut from it; `None` when they
/// cannot be. Cuts go through every whole inch.
struct Cuttings {
    turn: bool,
    known: HashMap<(i64, i64, Vec<Size>), Option<i64>>,
}

impl Cuttings {
    fn most(&mut self, w: i64, h: i64, pieces: &[Size]) -> Option<i64> {
        if pieces.is_empty() {
            return Some(if w.min(h) < USEFUL { 0 } else { w * h * w.min(h) });
        }
        if pieces.iter().map(|(w, h)| w * h).sum::<i64>() > w * h {
            return None;
        }
        let key = (w, h, pieces.to_vec());
        if let Some(&known) = self.known.get(&key) {
            return known;
        }
        let exact = |&(x, y): &Size| (x, y) == (w, h) || (self.turn && (y, x) == (w, h));
        let mut best = if pieces.len() == 1 && exact(&pieces[0]) { Some(0) } else { None };
        for part in 0..1usize << pieces.len() {
            let side = |chosen: bool| -> Vec<Size> {
                let of = pieces.iter().enumerate().filter(|(at, _)| (part >> at & 1 == 1) == chosen);
                of.map(|(_, &size)| size).collect()
            };
            let (one, other) = (side(true), side(false));
            for at in 1..w.max(h) {
                for (first, second) in [((at, h), (w - at, h)), ((w, at), (w, h - at))] {
                    if second.0 < 1 || second.1 < 1 {
                        continue;
                    }
                    let Some(left) = self.most(first.0, first.1, &one) else { continue };
                    let Some(right) = self.most(second.0, second.1, &other) else { continue };
                    best = best.max(Some(left + right));
                }
            }
        }
        self.known.insert(key, best);
        best
    }
}

/// The fewest groups of sheets such that the larger of what each needs, size by size, goes on one sheet.
fn fewest(sheets: &[Vec<Size>], side: i64, cuttings: &mut Cuttings) -> usize {
    fn place(rest: &[Vec<Size>], groups: &mut Vec<Vec<Size>>, side: i64, cuttings: &mut Cuttings) -> usize {
        let Some((next, rest)) = rest.split_first() else { return groups.len() };
        let mut least = usize::MAX;
        for at in 0..groups.len() {
            let before = groups[at].clone();
            let both = joined(&before, next);
            if cuttings.most(side, side, &both).is_some() {
                groups[at] = both;
                least = least.min(place(rest, groups, side, cuttings));
                groups[at] = before;
            }
        }
        groups.push(next.clone());
        least = least.min(place(rest, groups, side, cuttings));
        groups.pop();
        least
    }
    place(sheets, &mut Vec::new(), side, cuttings)
}

fn joined(one: &[Size], other: &[Size]) -> Vec<Size> {
    let count = |all: &[Size], size: Size| all.iter().filter(|&&known| known == size).count();
    let sizes: BTreeSet<Size> = one.iter().chain(other).copied().collect();
    let many = |size: Size| count(one, size).max(count(other, size));
    sizes.into_iter().flat_map(|size| std::iter::repeat_n(size, many(size))).collect()
}

#[test]
fn no_plan_for_as_little_fabric_leaves_more_or_has_fewer_layouts_than_is_claimed() {
    let mut random = SmallRng::seed_from_u64(23);
    let (mut fits, mut met) = (0, [0, 0]);
    for _ in 0..150 {
        let side = random.random_range(4..=6);
        let turn = random.random_bool(0.5);
        let mut table = Table::default();
        table.rules.useful_side = e(8 * USEFUL);
        let prints: Vec<u32> = (0..random.random_range(2..=3)).map(|_| random.random_range(1..=2)).collect();
        for (number, &count) in prints.iter().enumerate() {
            let lot = table.lot(&format!("sand {number}"), "10-inch square", 8 * side, 8 * side, count);
            lot.directional = !turn;
        }
        // Each bag, copy by copy, and its pieces.
        let mut bags: Vec<Vec<Size>> = Vec::new();
        for block in 0..random.random_range(1..=2) {
            let make = random.random_range(1..=2);
            let mut lines: BTreeMap<Size, u32> = BTreeMap::new();
            for _ in 0..random.random_range(1..=2) {
                let (w, h) = (random.random_range(1..=side), random.random_range(1..=side));
                *lines.entry(if turn { (w.max(h), w.min(h)) } else { (w, h) }).or_insert(0) += 1;
            }
            let pieces: Vec<(i64, i64, u32)> = lines.iter().map(|(&(w, h), &n)| (8 * w, 8 * h, n)).collect();
            table.block(&format!("shell {block}"), make, Matching::Block, &pieces);
            let bag = lines
                .iter()
                .flat_map(|(&size, &n)| std::iter::repeat_n(size, n as usize))
                .collect::<Vec<_>>();
            bags.extend(std::iter::repeat_n(bag, make as usize));
        }
        let outcome = table.plan();
        if outcome.verdict != Verdict::Fits {
            continue;
        }
        fits += 1;
        let (most, least) = best(&bags, &prints, side, turn, outcome.plan.sheets.len());
        let measures = Measures::of(&outcome.plan, &table.stash, &table.rules);
        let inches = 8128i128 * 8128;
        let (most_claimed, least_claimed) =
            (outcome.preferences.leftovers.expect("it fits"), outcome.preferences.layouts.expect("it fits"));
        assert!(
            measures.leftovers <= i128::from(most) * inches && i128::from(most) * inches <= most_claimed,
            "{table:?}"
        );
        assert!(least_claimed <= least && least <= measures.layouts, "{table:?}");
        met[0] += usize::from(measures.leftovers == most_claimed);
        met[1] += usize::from(measures.layouts == least_claimed);
    }
    assert!(fits > 60 && met[0] > 5 && met[1] > 40, "{fits} fit, {met:?} at their bounds");
}

/// The most in leftovers and the fewest layouts over every way to give the pieces to at most `opened` sheets.
fn best(bags: &[Vec<Size>], prints: &[u32], side: i64, turn: bool, opened: usize) -> (i64, usize) {
    let sheets: Vec<usize> =
        prints.iter().enumerate().flat_map(|(print, &n)| std::iter::repeat_n(print, n as usize)).collect();
    let pieces: Vec<(usize, Size)> =
        bags.iter().enumerate().flat_map(|(bag, sizes)| sizes.iter().map(move |&size| (bag, size))).collect();
    let mut cuttings = Cuttings { turn, known: HashMap::new() };
    let (mut most, mut least) = (-1, usize::MAX);
    let mut seen = BTreeSet::new();
    for mut number in 0..sheets.len().pow(u32::try_from(pieces.len()).expect("few")) {
        let mut held: Vec<Vec<Size>> = vec![Vec::new(); sheets.len()];
        let mut print_of: BTreeMap<usize, BTreeSet<usize>> = BTreeMap::new();
        for &(bag, size) in &pieces {
            let sheet = number % sheets.len();
            number /= sheets.len();
            held[sheet].push(size);
            print_of.entry(bag).or_default().insert(sheets[sheet]);
        }
        if print_of.values().any(|prints| prints.len() > 1) {
            continue;
        }
        held.iter_mut().for_each(|sheet| sheet.sort_unstable());
        held.retain(|sheet| !sheet.is_empty());
        held.sort();
        if held.len() > opened || !seen.insert(held.clone()) {
            continue;
        }
        let worth: Option<Vec<i64>> = held.iter().map(|sheet| cuttings.most(side, side, sheet)).collect();
        if let Some(worth) = worth {
            most = most.max(worth.iter().sum());
            least = least.min(fewest(&held, side, &mut cuttings));
        }
    }
    (most, least)
}
