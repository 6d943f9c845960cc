//! Completes a plan that leaves sets out; `improve` uses that to make a complete one cheaper.
//!
//! What is left out goes into some print and pushes out what counts less; what is hard to place counts more each time
//! it fails, so that the search does not turn in circles (the ejection pool of Nagata and Bräysy 2009). The fabric that
//! may be opened is the goal and is never passed (goal-driven ruin and recreate, after Gardeyn and Wauters 2022).

use itertools::Itertools as _;
use rand::Rng as _;

use crate::planning::columns::pool::Column;
use crate::planning::oracle::QUICK;
use crate::planning::search::{Assignment, Search};

mod improve;
mod push;

/// Questions worked out anew, at the usual effort, before a complete plan is given up.
pub(super) const TO_COMPLETE: u64 = 30_000;
/// Questions may be known already, so rounds are counted as well: so many questions to each.
const TO_A_ROUND: u64 = 5;
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
