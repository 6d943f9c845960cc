//! Room made in a print: something goes in and pushes out what counts less, or two prints exchange what they serve.

use itertools::Itertools as _;
use rand::Rng as _;
use rand::seq::IndexedRandom as _;

use crate::planning::search::repair::{Bags, Repair, with, without};

/// Prints looked at to push something out of.
const LOOKS: usize = 10;
/// Choices of what to push out that are tried in one print.
const PUSHES: usize = 6;

impl Repair<'_, '_, '_> {
    /// Puts a bag into the print where it pushes out what counts least, if that counts less than the bag itself.
    pub(super) fn push_in(&mut self, bag: usize) {
        let area = self.search.instance().bags[bag].area;
        let spots = (0..self.now.spots.len())
            .filter(|&spot| {
                let spot_ = &self.now.spots[spot];
                !spot_.bags.is_empty() && spot_.room >= area && self.may(spot, bag)
            })
            .collect_vec();
        let mut rated = Vec::new();
        for spot in spots {
            let least = self.least_out(spot, area);
            rated.push((least * self.search.random.random_range(70..=130), spot));
        }
        rated.sort_unstable();
        let most = i128::from(self.failed[bag]) * i128::from(area);
        let mut best: Option<(i128, usize, Bags, i64)> = None;
        for (_, spot) in rated.into_iter().take(LOOKS) {
            let below = best.as_ref().map_or(most, |(weight, ..)| *weight);
            if let Some((weight, bags, cost)) = self.pushed(spot, bag, below) {
                best = Some((weight, spot, bags, cost));
            }
        }
        let Some((_, spot, bags, cost)) = best else { return };
        let before = self.now.spots[spot].bags.iter().map(|&(bag, _)| bag).collect_vec();
        self.set(spot, bags, cost);
        self.fill(spot, &before);
    }

    /// About the least that goes out of a print to make room for `area` more.
    fn least_out(&self, spot: usize, area: i64) -> i128 {
        let spot = &self.now.spots[spot];
        let mut need = area - (spot.room - spot.used);
        let mut weight = 0;
        for &(bag, count) in spot.bags.iter().sorted_by_key(|(bag, _)| (self.failed[*bag], *bag)) {
            let one = self.search.instance().bags[bag].area.max(1);
            let out = ((need + one - 1) / one).clamp(0, i64::from(count));
            weight += i128::from(out * one) * i128::from(self.failed[bag]);
            need -= out * one;
        }
        weight
    }

    /// What a print serves when it takes one of `bag`, and what that pushes out, if it counts less than `below`.
    fn pushed(&mut self, spot: usize, bag: usize, below: i128) -> Option<(i128, Bags, i64)> {
        let instance = self.search.instance();
        let area = instance.bags[bag].area;
        let old = self.now.spots[spot].bags.clone();
        // Small single pieces give way and come back where they still fit.
        let small = |of: usize| {
            let other = &instance.bags[of];
            of != bag && other.area * 4 <= area && other.needs.len() == 1 && other.needs[0].1 == 1
        };
        let core = old.iter().copied().filter(|&(of, _)| !small(of)).collect_vec();
        let need = area - (self.now.spots[spot].room - self.search.area(&core));
        let weigh = |out: &[(usize, u32)]| -> i128 {
            let one = |&(of, n): &(usize, u32)| {
                i128::from(instance.bags[of].area) * i128::from(n) * i128::from(self.failed[of])
            };
            out.iter().map(one).sum()
        };
        let enough = |of: usize| {
            let one = instance.bags[of].area.max(1);
            u32::try_from(((need + one - 1) / one).max(1)).unwrap_or(u32::MAX)
        };
        let mut outs: Vec<(i128, Bags)> = Vec::new();
        if need <= 0 {
            outs.push((0, Vec::new()));
        }
        let singles = core.iter().filter(|&&(of, n)| of != bag && enough(of) <= n);
        outs.extend(singles.map(|&(of, _)| vec![(of, enough(of))]).map(|out| (weigh(&out), out)));
        let pairs = core.iter().filter(|&&(of, _)| of != bag).tuple_combinations();
        let pairs = pairs.filter(|(a, b)| instance.bags[a.0].area + instance.bags[b.0].area >= need);
        outs.extend(pairs.map(|(a, b)| vec![(a.0, 1), (b.0, 1)]).map(|out| (weigh(&out), out)));
        // All but the dearest, as a last resort.
        if let Some(&dearest) = core.iter().filter(|&&(of, _)| of != bag).max_by_key(|&&one| weigh(&[one])) {
            let out = core.iter().copied().filter(|&one| one != dearest && one.0 != bag).collect_vec();
            outs.push((weigh(&out), out));
        }
        outs.retain(|(weight, _)| *weight < below);
        outs.sort();
        outs.dedup();
        for (weight, out) in outs.into_iter().take(PUSHES) {
            let kept = out.iter().fold(core.clone(), |kept, &(of, n)| without(&kept, of, n));
            let bags = with(&kept, bag, 1);
            let overfull = self.search.area(&bags) - self.now.spots[spot].room;
            if overfull > 0 {
                continue;
            }
            let Some(cost) = self.cost_of(spot, &bags) else { continue };
            if self.now.cost + cost - self.now.spots[spot].cost <= self.limit {
                return Some((weight, bags, cost));
            }
        }
        None
    }

    /// A move of one bag between two prints, or a swap, taken wherever it is possible.
    pub(super) fn move_one(&mut self) {
        let spots = (0..self.now.spots.len()).collect_vec();
        let (Some(&from), Some(&to)) =
            (spots.choose(&mut self.search.random), spots.choose(&mut self.search.random))
        else {
            return;
        };
        let Some(&(bag, _)) = self.now.spots[from].bags.choose(&mut self.search.random) else { return };
        if from == to || !self.may(to, bag) || self.now.spots[to].bags.is_empty() {
            return;
        }
        let mut back = None;
        if self.search.random.random_range(0..3) > 0 {
            back = self.now.spots[to].bags.choose(&mut self.search.random).map(|&(bag, _)| bag);
        }
        let mut new_from = without(&self.now.spots[from].bags, bag, 1);
        let mut new_to = with(&self.now.spots[to].bags, bag, 1);
        if let Some(back) = back {
            if back == bag || !self.may(from, back) {
                return;
            }
            new_to = without(&new_to, back, 1);
            new_from = with(&new_from, back, 1);
        }
        let fits = |spot: usize, bags: &Bags| self.search.area(bags) <= self.now.spots[spot].room;
        if !fits(from, &new_from) || !fits(to, &new_to) {
            return;
        }
        let Some(cost_to) = self.cost_of(to, &new_to) else { return };
        let Some(cost_from) = self.cost_of(from, &new_from) else { return };
        let before = self.now.spots[from].cost + self.now.spots[to].cost;
        if cost_from + cost_to <= before
            || self.now.cost + cost_from + cost_to - before <= self.limit.min(self.now.cost)
        {
            self.empty(from); // what comes back must be free first
            self.set(to, new_to, cost_to);
            self.set(from, new_from, cost_from);
        }
    }
}
