//! The search: simulated annealing by swaps within a kind of block, in whole numbers.

use std::collections::BTreeMap;

use rand::rngs::SmallRng;
use rand::seq::SliceRandom;
use rand::{Rng, SeedableRng};

use crate::arranging::{Likeness, Wall, weighted_bound};

/// How often it begins anew, each time with another seed.
const TRIES: u64 = 4;
/// Temperatures of one try. Each is nine tenths of the one before.
const STAGES: u32 = 56;
/// The first temperature: what a pair of neighbours with one print in common counts, halved.
const WARMEST: u64 = 160;
/// Parts of one in temperatures and logarithms.
const PARTS: u64 = 256;
/// Swaps tried at each temperature for each place, and the least and most of them.
const SWAPS: usize = 30;
const FEWEST: usize = 200;
const MOST: usize = 4000;
/// With more pairs than this, going through all of them at the end takes too long.
const MOST_PAIRS: usize = 100_000;

/// The seat of every copy, by index: copy i belongs to the kind of block of place i.
///
/// `kept` has the seats that are decided. The work is counted in swaps, so the result depends on nothing but the
/// inputs. It ends early when the crowding meets its bound, or when it is `stopped`.
pub fn search(
    wall: &Wall,
    likeness: &Likeness,
    kept: &[Option<usize>],
    stopped: &dyn Fn() -> bool,
) -> Vec<usize> {
    let bound = weighted_bound(wall, likeness);
    let mut best: Option<(u64, Vec<usize>)> = None;
    for seed in 0..TRIES {
        let mut random = SmallRng::seed_from_u64(seed);
        let mut seating = Seating::new(wall, likeness, kept, &mut random);
        seating.anneal(bound, &mut random, stopped);
        seating.settle(stopped);
        if best.as_ref().is_none_or(|(crowding, _)| seating.crowding < *crowding) {
            best = Some((seating.crowding, seating.seats()));
        }
        if best.as_ref().is_some_and(|(crowding, _)| *crowding <= bound) || stopped() {
            break;
        }
    }
    let seats = best.map_or(Vec::new(), |(_, seats)| seats);
    in_order(wall, likeness, kept, seats)
}

/// An arrangement in the making.
struct Seating<'a> {
    wall: &'a Wall,
    likeness: &'a Likeness,
    /// The copy on each place.
    on: Vec<usize>,
    /// Places that may change copies, by kind of block; each has two at least.
    free: Vec<Vec<usize>>,
    crowding: u64,
}

impl<'a> Seating<'a> {
    /// What is decided lies where it is to lie, everything else anywhere among its kind.
    fn new(
        wall: &'a Wall,
        likeness: &'a Likeness,
        kept: &[Option<usize>],
        random: &mut SmallRng,
    ) -> Seating<'a> {
        let mut on = vec![usize::MAX; wall.places.len()];
        let mut copies: BTreeMap<_, Vec<usize>> = BTreeMap::new();
        for (copy, seat) in kept.iter().enumerate() {
            match seat {
                Some(seat) => on[*seat] = copy,
                None => copies.entry(wall.kinds[copy]).or_default().push(copy),
            }
        }
        let mut free: BTreeMap<_, Vec<usize>> = BTreeMap::new();
        for place in (0..on.len()).filter(|&place| on[place] == usize::MAX) {
            free.entry(wall.kinds[place]).or_default().push(place);
        }
        for (kind, places) in &free {
            let copies = copies.entry(*kind).or_default();
            copies.shuffle(random);
            for (&place, &copy) in places.iter().zip(copies.iter()) {
                on[place] = copy;
            }
        }
        let free = free.into_values().filter(|places| places.len() > 1).collect();
        let mut seating = Seating { wall, likeness, on, free, crowding: 0 };
        seating.crowding = likeness.weighted(wall, &seating.seats());
        seating
    }

    /// By copy, its place.
    fn seats(&self) -> Vec<usize> {
        let mut seats = vec![0; self.on.len()];
        for (place, &copy) in self.on.iter().enumerate() {
            seats[copy] = place;
        }
        seats
    }

    /// How much crowding a swap of two places brings.
    fn change(&self, one: usize, other: usize) -> i64 {
        let (a, b) = (self.on[one], self.on[other]);
        let side = |place: usize, elsewhere: usize, leaves: usize, comes: usize| -> i64 {
            let near = self.wall.near[place].iter().filter(|(near, _)| *near != elsewhere);
            let each = near.map(|&(near, nearness)| {
                let there = self.on[near];
                let more = self.likeness.between(comes, there).cast_signed()
                    - self.likeness.between(leaves, there).cast_signed();
                nearness.cast_signed() * more
            });
            each.sum()
        };
        side(one, other, a, b) + side(other, one, b, a)
    }

    fn swap(&mut self, one: usize, other: usize, change: i64) {
        self.on.swap(one, other);
        self.crowding = self.crowding.saturating_add_signed(change);
    }

    /// Swaps that crowd more are taken less and less often; the best seating on the way is what remains.
    fn anneal(&mut self, bound: u64, random: &mut SmallRng, stopped: &dyn Fn() -> bool) {
        if self.free.is_empty() {
            return;
        }
        let movable: Vec<(usize, usize)> = self
            .free
            .iter()
            .enumerate()
            .flat_map(|(kind, places)| places.iter().map(move |&place| (kind, place)))
            .collect();
        let mut best = (self.crowding, self.on.clone());
        let mut warmth = WARMEST * PARTS;
        for _ in 0..STAGES {
            if stopped() {
                break;
            }
            for _ in 0..(SWAPS * movable.len()).clamp(FEWEST, MOST) {
                let (kind, one) = movable[random.random_range(0..movable.len())];
                let other = self.free[kind][random.random_range(0..self.free[kind].len())];
                let change = if one == other { 0 } else { self.change(one, other) };
                if one == other || !taken(change, warmth, random.random()) {
                    continue;
                }
                self.swap(one, other, change);
                if self.crowding < best.0 {
                    best = (self.crowding, self.on.clone());
                    if self.crowding <= bound {
                        return;
                    }
                }
            }
            warmth = warmth * 9 / 10;
        }
        (self.crowding, self.on) = best;
    }

    /// Takes every swap that helps until none does.
    fn settle(&mut self, stopped: &dyn Fn() -> bool) {
        let pairs: Vec<(usize, usize)> = self
            .free
            .iter()
            .flat_map(|places| {
                let each = places.iter().enumerate();
                each.flat_map(|(index, &one)| places[index + 1..].iter().map(move |&other| (one, other)))
            })
            .collect();
        let mut helped = pairs.len() <= MOST_PAIRS;
        while helped && !stopped() {
            helped = false;
            for &(one, other) in &pairs {
                let change = self.change(one, other);
                if change < 0 {
                    self.swap(one, other, change);
                    helped = true;
                }
            }
        }
    }
}

/// Whether a change is taken at a warmth: with the chance of e to the minus change over warmth. `dice` are even
/// random bits.
fn taken(change: i64, warmth: u64, dice: u64) -> bool {
    let Ok(change) = u64::try_from(change) else { return true };
    // The natural logarithm is the binary one times 177/256, nearly.
    u128::from(change) * u128::from(PARTS * PARTS * PARTS)
        <= u128::from(warmth) * u128::from(minus_log2(dice)) * 177
}

/// Minus the binary logarithm of `dice` over 2 to the 64, in parts; between powers of two along a straight line.
fn minus_log2(dice: u64) -> u64 {
    let zeros = u64::from(dice.leading_zeros());
    if zeros >= 56 {
        return 56 * PARTS;
    }
    let after = (dice << (zeros + 1)) >> 56;
    zeros * PARTS + (PARTS - after)
}

/// Copies of a kind that share the same prints are told apart by their number alone: they are put in reading order.
fn in_order(wall: &Wall, likeness: &Likeness, kept: &[Option<usize>], mut seats: Vec<usize>) -> Vec<usize> {
    let mut alike: BTreeMap<_, Vec<usize>> = BTreeMap::new();
    for copy in (0..seats.len()).filter(|&copy| kept[copy].is_none()) {
        alike.entry((wall.kinds[copy], likeness.features[copy].clone())).or_default().push(copy);
    }
    for copies in alike.into_values() {
        let mut places: Vec<usize> = copies.iter().map(|&copy| seats[copy]).collect();
        places.sort_unstable();
        for (copy, place) in copies.into_iter().zip(places) {
            seats[copy] = place;
        }
    }
    seats
}

#[cfg(test)]
mod tests {
    use super::{PARTS, minus_log2, taken};

    #[test]
    fn the_logarithm_is_right_at_powers_of_two_and_falls_between() {
        assert_eq!(minus_log2(1 << 63), PARTS);
        assert_eq!(minus_log2(1 << 62), 2 * PARTS);
        assert!(minus_log2(u64::MAX) <= 2 && minus_log2(0) == 56 * PARTS);
        assert!(minus_log2(3 << 62) < PARTS);
    }

    #[test]
    fn what_helps_is_always_taken_and_what_harms_less_often_when_it_is_cold() {
        assert!(taken(-1, 0, 7) && taken(0, 1, u64::MAX));
        // A change equal to the warmth is taken with a chance of 1/e: below 0.367 of the dice.
        let chance = |tenths: u64| u64::MAX / 10 * tenths;
        assert!(taken(100, 100 * PARTS, chance(3)) && !taken(100, 100 * PARTS, chance(4)));
        assert!(!taken(100, 10 * PARTS, chance(3)));
    }
}
