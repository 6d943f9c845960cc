//! Whole times for the fillings of a fractional answer, by simulated annealing (Kirkpatrick, Gelatt and Vecchi 1983).
//!
//! Of the fillings that are nearly worth their fabric at the prices of the fractional answer there are many more than it
//! uses, and many whole choices of them serve nearly all. A step takes one instead of another, mostly of the same
//! sheets; what is left out counts rather more than its price. All in integers: the answer is the same on every machine.

use rand::rngs::SmallRng;
use rand::{Rng as _, RngCore as _, SeedableRng as _};

use crate::cutting::Stop;
use crate::planning::columns::prices::Prices;
use crate::planning::columns::supply::{Fill, Supplies};
use crate::planning::search::many::rooms::Rooms;

/// Fillings that lose more than one part in so many of their cost at the prices are left alone.
const LOSES: i128 = 20;
/// Steps for each filling of the fractional answer, at the usual effort.
const STEPS: u64 = 10_000;
/// Temperatures: the first is one part in so many of what a filling costs, and falls by so many thousandths at each of so many
/// stages, to a fifth.
const WARM: i64 = 100;
const COOLS: i64 = 16;
const STAGES: u64 = 100;
/// What is left out counts this many times half its price.
const LEFT_OUT: i64 = 3;
/// Binary places of a logarithm.
const PLACES: u32 = 16;

/// What is chosen from.
pub(crate) struct Choices<'a> {
    supplies: &'a Supplies,
    fills: &'a [Fill],
    /// Those that are nearly worth their fabric, in all and by supply.
    near: Vec<usize>,
    by_supply: Vec<Vec<usize>>,
    demands: &'a [u32],
    /// What one of a bag counts that is left out.
    left_out: Vec<i64>,
    /// How often each filling is taken to begin with.
    start: Vec<u32>,
}

/// A choice on the way.
struct Taken {
    /// Fillings, each as often as it is taken.
    fills: Vec<usize>,
    /// By bag, how many are missing; negative where there are too many.
    missing: Vec<i64>,
    rooms: Rooms,
}

impl<'a> Choices<'a> {
    /// `worth` is the price of each bag, `times` how often the fractional answer takes each filling, as whole times and
    /// thousandths.
    pub(crate) fn new(
        (supplies, fills, demands): (&'a Supplies, &'a [Fill], &'a [u32]),
        prices: &Prices,
        worth: &[i64],
        times: &[(u32, u32)],
    ) -> Choices<'a> {
        let prints = prices.of_classes();
        let loses = |fill: &Fill| {
            let supply = &supplies.all[fill.supply];
            let share = i128::from(prints[fill.supply]) * i128::from(fill.used().ticks());
            i128::from(fill.cost) + share / i128::from(supply.all()) - fill.worth(prices.prices())
        };
        let near = |&number: &usize| {
            times[number] != (0, 0) || loses(&fills[number]) * LOSES <= i128::from(fills[number].cost)
        };
        let near: Vec<usize> = (0..fills.len()).filter(near).collect();
        let mut by_supply = vec![Vec::new(); supplies.all.len()];
        near.iter().for_each(|&number| by_supply[fills[number].supply].push(number));
        let left_out = worth.iter().map(|&price| price / 2 * LEFT_OUT).collect();
        let start = times.iter().map(|&(whole, part)| whole + u32::from(part >= 500)).collect();
        Choices { supplies, fills, near, by_supply, demands, left_out, start }
    }

    /// How often each filling is taken, the best of it at `effort`; another answer for each `seed`.
    pub(crate) fn anneal(&self, effort: u32, seed: u64, stop: &Stop) -> Vec<u32> {
        let mut random = SmallRng::seed_from_u64(seed);
        let mut taken = self.begin();
        let many = taken.fills.len().max(1);
        let cost: i64 = taken.fills.iter().map(|&fill| self.fills[fill].cost).sum();
        let mut temperature = cost / i64::try_from(many).unwrap_or(i64::MAX) / WARM;
        let steps = STEPS * many as u64 * u64::from(effort.max(1)) / 100 / STAGES;
        for _ in 0..STAGES {
            if stop.seen() {
                break;
            }
            for _ in 0..steps {
                self.step(&mut taken, temperature, &mut random);
            }
            temperature -= temperature * COOLS / 1_000;
        }
        let mut times = vec![0; self.fills.len()];
        taken.fills.iter().for_each(|&fill| times[fill] += 1);
        times
    }

    /// The fractional answer, rounded, as far as there is room.
    fn begin(&self) -> Taken {
        let missing = self.demands.iter().map(|&n| i64::from(n)).collect();
        let mut taken = Taken { fills: Vec::new(), missing, rooms: Rooms::new(self.supplies) };
        for (number, &times) in self.start.iter().enumerate() {
            for _ in 0..times {
                if taken.rooms.exchange(None, Some(&self.fills[number])) {
                    taken.fills.push(number);
                    self.change(&mut taken.missing, number, 1);
                }
            }
        }
        taken
    }

    /// One filling less, one more, or one instead of another.
    fn step(&self, taken: &mut Taken, temperature: i64, random: &mut SmallRng) {
        let kind = random.random_range(0..10);
        let place = (kind < 9 && !taken.fills.is_empty()).then(|| random.random_range(0..taken.fills.len()));
        let out = place.map(|place| taken.fills[place]);
        let new = match out {
            _ if kind == 0 => None,
            Some(out) if random.random_range(0..4) > 0 => {
                one_of(&self.by_supply[self.fills[out].supply], random)
            }
            _ => one_of(&self.near, random),
        };
        if out == new {
            return;
        }
        let change = |missing: &mut [i64], out: Option<usize>, new: Option<usize>| {
            out.map_or(0, |out| self.change(missing, out, -1))
                + new.map_or(0, |new| self.change(missing, new, 1))
        };
        let dearer = change(&mut taken.missing, out, new);
        let of = |number: usize| &self.fills[number];
        if dearer > 0 && dearer > (temperature * logarithm(random.next_u64())) >> PLACES
            || !taken.rooms.exchange(out.map(of), new.map(of))
        {
            change(&mut taken.missing, new, out);
            return;
        }
        match (place, new) {
            (Some(place), Some(new)) => taken.fills[place] = new,
            (Some(place), None) => drop(taken.fills.swap_remove(place)),
            (None, Some(new)) => taken.fills.push(new),
            (None, None) => {}
        }
    }

    /// Takes a filling once more (1) or once less (-1): how much dearer that is, with what is left out.
    fn change(&self, missing: &mut [i64], fill: usize, times: i64) -> i64 {
        let fill = &self.fills[fill];
        let mut dearer = fill.cost * times;
        for &(bag, n) in &fill.bags {
            let before = missing[bag].max(0);
            missing[bag] -= i64::from(n) * times;
            dearer += (missing[bag].max(0) - before) * self.left_out[bag];
        }
        dearer
    }
}

fn one_of(fills: &[usize], random: &mut SmallRng) -> Option<usize> {
    (!fills.is_empty()).then(|| fills[random.random_range(0..fills.len())])
}

/// About the negative natural logarithm of a number drawn from 0 to 1, times two to the [`PLACES`]: the binary one by the
/// leading zeros and a straight line between powers, times 0.693.
fn logarithm(drawn: u64) -> i64 {
    let zeros = drawn.leading_zeros();
    let part = drawn.checked_shl(zeros + 1).unwrap_or(0) >> (64 - PLACES);
    let binary = (i64::from(zeros + 1) << PLACES) - i64::try_from(part).expect("so many places");
    binary * 693 / 1_000
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::planning::columns::prices::{Part, parts_of};
    use crate::planning::search::repair_tests::instance;

    /// Seven ten-inch squares hold these without a sheet to spare: five of a six-inch and three four-inch squares, two
    /// of four five-inch squares.
    fn seven_sheets() -> crate::planning::instance::Instance {
        let squares = [vec![6; 5], vec![4; 15], vec![5; 8]].concat();
        instance(&[10; 9], &squares)
    }

    #[test]
    fn whole_times_are_found_where_every_sheet_counts() {
        let instance = seven_sheets();
        let supplies = Supplies::new(&instance, &Stop::never());
        let demands: Vec<u32> = instance.bags.iter().map(|bag| bag.demand()).collect();
        let areas: Vec<i64> = instance.bags.iter().map(|bag| bag.area * 120).collect();
        let mut prices = Prices::new(&demands, &supplies.many(), &areas);
        let mut fills: Vec<Fill> = Vec::new();
        for round in 0..12_i64 {
            // Prices that favour another kind of square each time.
            let at = areas.iter().zip(0..).map(|(area, bag)| area * (1 + i64::from((bag + round) % 3 == 0)));
            fills.extend(supplies.price(&at.collect::<Vec<_>>(), &vec![0; supplies.all.len()], 1));
        }
        let parts: Vec<Part<'_>> = fills.iter().map(|fill| supplies.part(fill)).collect();
        prices.add_parts(&parts);
        let times = parts_of(&parts, &demands, &supplies.many(), &areas).expect("a fractional answer");
        let choices = Choices::new((&supplies, &fills, &demands), &prices, &areas, &times);
        let sheet = fills[0].cost;
        for seed in 1..20 {
            let found = choices.anneal(100, seed, &Stop::never());
            let mut missing = demands.clone();
            let mut cost = 0;
            for (fill, &n) in fills.iter().zip(&found) {
                cost += fill.cost * i64::from(n);
                fill.bags
                    .iter()
                    .for_each(|&(bag, each)| missing[bag] = missing[bag].saturating_sub(n * each));
            }
            assert_eq!((cost, missing), (7 * sheet, vec![0; demands.len()]), "seed {seed}: {found:?}");
            assert_eq!(found, choices.anneal(100, seed, &Stop::never()), "the same from run to run");
        }
    }

    #[test]
    fn a_logarithm_is_near_the_true_one() {
        let thousandths = |drawn: u64| (logarithm(drawn) * 1_000) >> PLACES;
        let known = [(u64::MAX, 0..=1), (1 << 63, 692..=694), (1 << 62, 1_385..=1_387), (3 << 62, 287..=400)];
        for (drawn, about) in known {
            assert!(about.contains(&thousandths(drawn)), "{drawn}: {}", thousandths(drawn));
        }
    }
}
