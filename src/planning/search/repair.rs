//! Completes a plan that leaves sets out; `improve` uses that to make a complete one cheaper.
//!
//! What is left out goes into some print and pushes out what counts less; what is hard to place counts more each time
//! it fails, so that the search does not turn in circles (the ejection pool of Nagata and Bräysy 2009). The fabric that
//! may be opened is the goal and is never passed (goal-driven ruin and recreate, after Gardeyn and Wauters 2022).

use itertools::Itertools as _;
use rand::Rng as _;
use rand::seq::IndexedRandom as _;

use crate::planning::oracle::QUICK;
use crate::planning::pool::Column;
use crate::planning::search::{Assignment, Search};

mod improve;

/// Questions worked out anew, at the usual effort, before a complete plan is given up.
pub(super) const TO_COMPLETE: u64 = 30_000;
/// Questions may be known already, so rounds are counted as well: so many questions to each.
const TO_A_ROUND: u64 = 5;
/// Prints looked at to push something out of.
const LOOKS: usize = 10;
/// Choices of what to push out that are tried in one print.
const PUSHES: usize = 6;
/// Random moves between prints after each push.
const MOVES: u32 = 4;

type Bags = Vec<(usize, u32)>;

/// One print and what it serves.
#[derive(Clone)]
struct Spot {
    class: usize,
    bags: Bags,
    cost: i64,
    /// Area of the bags, and of all the sheets.
    used: i64,
    room: i64,
}

#[derive(Clone)]
struct State {
    spots: Vec<Spot>,
    /// By bag: how many have no print.
    left: Vec<u32>,
    cost: i64,
}

struct Repair<'s, 'a, 'b> {
    search: &'s mut Search<'a, 'b>,
    now: State,
    /// By bag: how often it could not be placed, and one.
    failed: Vec<i64>,
    /// No more fabric than this.
    limit: i64,
    /// The state with least area left out since [`Repair::complete`] began, with that area.
    fullest: Option<(i128, State)>,
}

impl Search<'_, '_> {
    /// Looks for a complete plan from the fullest one.
    pub(super) fn repair(&mut self, questions: u64) {
        let start = self.hand_out(self.fullest.1.clone());
        let questions = questions * u64::from(self.effort) / 100;
        let mut repair = Repair::new(self, &start);
        let done = repair.complete(questions);
        if !done {
            repair.now = repair.fullest.take().map_or(repair.now, |(_, fullest)| fullest);
        }
        let columns = repair.columns();
        if done {
            self.take(columns);
        } else {
            self.keep_part(columns);
        }
    }

    /// Keeps a plan, and its columns for the master.
    pub(super) fn take(&mut self, columns: Vec<Column>) {
        for column in &columns {
            self.pool.add(column.clone());
        }
        if self.serves_all(&columns) {
            self.keep(columns);
        }
    }
}

impl<'s, 'a, 'b> Repair<'s, 'a, 'b> {
    fn new(search: &'s mut Search<'a, 'b>, start: &Assignment) -> Repair<'s, 'a, 'b> {
        let instance = search.instance();
        let mut left = search.demands.clone();
        let mut spots = Vec::new();
        for (class, holders) in start.iter().enumerate() {
            for bags in holders {
                let room = instance.classes[class].area();
                let mut spot = Spot { class, bags: Vec::new(), cost: 0, used: 0, room };
                // Cut back, a print may be cut otherwise; what is not found again is placed anew.
                let cost = search.cost_of(class, bags).or_else(|| {
                    search.oracle.cut(&instance.classes[class], &instance.pieces(bags), QUICK).cost()
                });
                if let Some(cost) = cost {
                    bags.iter().for_each(|&(bag, n)| left[bag] -= n);
                    spot.used = search.area(bags);
                    (spot.cost, spot.bags) = (cost, bags.clone());
                }
                spots.push(spot);
            }
        }
        let cost = spots.iter().map(|spot| spot.cost).sum();
        let failed = vec![1; left.len()];
        Repair { search, now: State { spots, left, cost }, failed, limit: i64::MAX, fullest: None }
    }

    fn spent(&self, last: u64) -> bool {
        self.search.oracle.fresh() >= last || self.search.oracle.stopped()
    }

    fn columns(&self) -> Vec<Column> {
        let used = self.now.spots.iter().filter(|spot| !spot.bags.is_empty());
        used.map(|spot| Column { class: spot.class, bags: spot.bags.clone(), cost: spot.cost }).collect()
    }

    /// Places all that is left out; false when so many questions are used up first.
    fn complete(&mut self, questions: u64) -> bool {
        let last = self.search.oracle.fresh() + questions;
        let mut rounds = 0;
        self.fullest = None;
        while let Some(bag) = self.hardest() {
            rounds += 1;
            self.note_fullest();
            if self.spent(last) || rounds > questions / TO_A_ROUND {
                return false;
            }
            if !self.insert(bag) {
                self.failed[bag] += 1;
                self.push_in(bag);
                (0..MOVES).for_each(|_| self.move_one());
            }
        }
        true
    }

    /// Remembers what is so far the fullest on the way.
    fn note_fullest(&mut self) {
        let bags = self.search.oracle.instance.bags.iter().zip(&self.now.left);
        let left = bags.map(|(bag, &left)| i128::from(bag.area) * i128::from(left)).sum();
        if self.fullest.as_ref().is_none_or(|(least, _)| left < *least) {
            self.fullest = Some((left, self.now.clone()));
        }
    }

    /// The bag left out that counts most, shaken.
    fn hardest(&mut self) -> Option<usize> {
        let left = (0..self.now.left.len()).filter(|&bag| self.now.left[bag] > 0).collect_vec();
        let random = &mut self.search.random;
        let instance = self.search.oracle.instance;
        let weight = |bag: usize| i128::from(self.failed[bag]) * i128::from(instance.bags[bag].area);
        left.into_iter().max_by_key(|&bag| weight(bag) * random.random_range(50..=100))
    }

    /// Puts as many of a bag as possible into one print that has room; the fullest print first, one with nothing in it last.
    fn insert(&mut self, bag: usize) -> bool {
        let area = self.search.instance().bags[bag].area;
        let order = (0..self.now.spots.len())
            .filter(|&spot| {
                self.now.spots[spot].room - self.now.spots[spot].used >= area && self.may(spot, bag)
            })
            .sorted_by_key(|&spot| {
                let spot = &self.now.spots[spot];
                (spot.bags.is_empty(), spot.room - spot.used)
            })
            .collect_vec();
        for &spot in &order {
            let bags = with(&self.now.spots[spot].bags, bag, 1);
            if let Some(cost) = self.added(spot, &bags) {
                self.set(spot, bags, cost);
                self.fill(spot, &[bag]);
                return true;
            }
        }
        // What opens nothing new comes before what does.
        let mut dearer: Option<(i64, usize, Bags)> = None;
        for spot in order {
            let bags = with(&self.now.spots[spot].bags, bag, 1);
            let Some(cost) = self.cost_of(spot, &bags) else { continue };
            let more = cost - self.now.spots[spot].cost;
            if more <= 0 {
                self.set(spot, bags, cost);
                self.fill(spot, &[bag]);
                return true;
            }
            if self.now.cost + more <= self.limit && dearer.as_ref().is_none_or(|(least, ..)| more < *least) {
                dearer = Some((more, spot, bags));
            }
        }
        let Some((more, spot, bags)) = dearer else { return false };
        let cost = self.now.spots[spot].cost + more;
        self.set(spot, bags, cost);
        self.fill(spot, &[bag]);
        true
    }

    /// As many more of these as fit without opening more.
    fn fill(&mut self, spot: usize, bags: &[usize]) {
        for &bag in bags {
            let area = self.search.instance().bags[bag].area.max(1);
            let room = (self.now.spots[spot].room - self.now.spots[spot].used) / area;
            let most = self.now.left[bag].min(u32::try_from(room).unwrap_or(u32::MAX));
            let (mut fits, mut refused) = (0, most + 1);
            let mut next = most;
            while fits + 1 < refused {
                let bags = with(&self.now.spots[spot].bags, bag, next);
                let cost = self.added(spot, &bags).or_else(|| self.cost_of(spot, &bags));
                match cost.filter(|&cost| cost <= self.now.spots[spot].cost) {
                    Some(_) => fits = next,
                    None => refused = next,
                }
                next = (fits + refused).div_ceil(2).max(fits + 1);
            }
            if fits > 0 {
                let bags = with(&self.now.spots[spot].bags, bag, fits);
                let cost = self.now.spots[spot].cost;
                self.set(spot, bags, cost);
            }
        }
    }

    /// Puts a bag into the print where it pushes out what counts least, if that counts less than the bag itself.
    fn push_in(&mut self, bag: usize) {
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
    fn move_one(&mut self) {
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

    fn empty(&mut self, spot: usize) {
        self.set(spot, Vec::new(), 0);
    }

    fn may(&self, spot: usize, bag: usize) -> bool {
        self.search.instance().classes[self.now.spots[spot].class].allowed[bag]
    }

    fn cost_of(&mut self, spot: usize, bags: &[(usize, u32)]) -> Option<i64> {
        self.search.cost_of(self.now.spots[spot].class, bags)
    }

    /// The same when nothing has to move and nothing more is opened.
    fn added(&mut self, spot: usize, bags: &[(usize, u32)]) -> Option<i64> {
        let instance = self.search.instance();
        let spot = &self.now.spots[spot];
        if !instance.obeys(bags) {
            return None;
        }
        let class = &instance.classes[spot.class];
        let cost = self.search.oracle.add(class, &instance.pieces(&spot.bags), &instance.pieces(bags));
        cost.filter(|&cost| cost <= spot.cost)
    }

    /// Gives a print other bags; what it no longer serves is left out, what it takes is not.
    fn set(&mut self, spot: usize, bags: Bags, cost: i64) {
        let used = self.search.area(&bags);
        let place = &mut self.now.spots[spot];
        place.bags.iter().for_each(|&(bag, n)| self.now.left[bag] += n);
        bags.iter().for_each(|&(bag, n)| self.now.left[bag] -= n);
        self.now.cost += cost - place.cost;
        (place.bags, place.cost, place.used) = (bags, cost, used);
    }
}

impl Search<'_, '_> {
    pub(super) fn area(&self, bags: &[(usize, u32)]) -> i64 {
        bags.iter().map(|&(bag, n)| self.instance().bags[bag].area * i64::from(n)).sum()
    }

    /// The fabric one print of a class opens for these bags, if a short look finds a way to cut them.
    fn cost_of(&mut self, class: usize, bags: &[(usize, u32)]) -> Option<i64> {
        let instance = self.instance();
        if self.area(bags) > instance.classes[class].area() || !instance.obeys(bags) {
            return None;
        }
        self.oracle.cut_lightly(&instance.classes[class], &instance.pieces(bags)).cost()
    }
}

fn with(bags: &[(usize, u32)], bag: usize, count: u32) -> Bags {
    let mut all = bags.to_vec();
    match all.binary_search_by_key(&bag, |&(of, _)| of) {
        Ok(at) => all[at].1 += count,
        Err(at) => all.insert(at, (bag, count)),
    }
    all
}

fn without(bags: &[(usize, u32)], bag: usize, count: u32) -> Bags {
    let fewer = bags.iter().map(|&(of, n)| (of, if of == bag { n.saturating_sub(count) } else { n }));
    fewer.filter(|&(_, n)| n > 0).collect()
}
