//! Small grids, on which every arrangement can be tried.

use std::collections::BTreeSet;

use cutcloth::arranging::{Feature, Likeness, Wall, bound, closest, search, weighted_bound};
use cutcloth::color::ColorGroup;
use cutcloth::pattern::layout::Place;
use cutcloth::pattern::{BlockId, Layout, read_toml};
use cutcloth::stash::PrintId;
use rand::rngs::SmallRng;
use rand::seq::SliceRandom;
use rand::{Rng, SeedableRng};

const COLORS: [ColorGroup; 4] = [ColorGroup::Blue, ColorGroup::Green, ColorGroup::Red, ColorGroup::Grey];

fn is_print(feature: Feature) -> bool {
    matches!(feature, Feature::Print(_))
}

/// A grid of places for the kinds given in reading order.
fn grid(columns: u32, kinds: &[usize]) -> Wall {
    let places: Vec<Place> = (0..u32::try_from(kinds.len()).unwrap())
        .map(|at| Place { row: at / columns + 1, column: at % columns + 1 })
        .collect();
    let spots = places.iter().map(|place| (i64::from(place.column), i64::from(place.row))).collect();
    Wall::new(places, kinds.iter().map(|&kind| BlockId(kind)).collect(), spots)
}

/// Copies of one or two prints of a few, each print of one colour.
fn copies(number: usize, prints: usize, random: &mut SmallRng) -> Likeness {
    let features = (0..number).map(|_| {
        let mut features = BTreeSet::new();
        for _ in 0..random.random_range(1..3) {
            let print = random.random_range(0..prints);
            features.insert(Feature::Print(PrintId(print)));
            features.insert(Feature::Color(COLORS[print % COLORS.len()]));
        }
        features.into_iter().collect()
    });
    Likeness::new(features.collect())
}

/// The least crowding over every arrangement: place by place, giving up what is no better than the best so far.
struct Exhaustive<'a> {
    wall: &'a Wall,
    likeness: &'a Likeness,
    kept: &'a [Option<usize>],
    best: u64,
}

impl Exhaustive<'_> {
    fn least(wall: &Wall, likeness: &Likeness, kept: &[Option<usize>]) -> u64 {
        let mut all = Exhaustive { wall, likeness, kept, best: u64::MAX };
        all.place(&mut Vec::new(), 0);
        all.best
    }

    /// `on` has the copies on the first places, `crowding` what these bring.
    fn place(&mut self, on: &mut Vec<usize>, crowding: u64) {
        if crowding >= self.best {
            return;
        }
        let at = on.len();
        if at == self.wall.places.len() {
            self.best = crowding;
            return;
        }
        let mut tried = BTreeSet::new();
        for copy in 0..self.wall.places.len() {
            let fits = self.wall.kinds[copy] == self.wall.kinds[at]
                && self.kept[copy].is_none_or(|seat| seat == at)
                && !self.kept.iter().enumerate().any(|(other, seat)| *seat == Some(at) && other != copy);
            // Copies that are alike are tried once, unless one of them is decided.
            let look = (self.likeness.features[copy].clone(), self.kept[copy]);
            if on.contains(&copy) || !fits || !tried.insert(look) {
                continue;
            }
            let before = self.wall.near[at].iter().filter(|(other, _)| *other < at);
            let more: u64 = before.map(|&(other, near)| near * self.likeness.between(copy, on[other])).sum();
            on.push(copy);
            self.place(on, crowding + more);
            on.pop();
        }
    }
}

#[test]
fn the_search_finds_the_least_crowding_of_small_grids_and_no_bound_passes_it() {
    let mut random = SmallRng::seed_from_u64(5);
    let (mut cases, mut reached) = (0, 0);
    for case in 0..60 {
        let (columns, kinds): (u32, Vec<usize>) = match case % 3 {
            0 => (3, vec![0; 9]),
            1 => (3, vec![0, 1, 0, 1, 0, 1, 0, 1, 0]),
            _ => (4, vec![0, 1, 0, 1, 1, 0, 1, 0, 0, 1, 0, 1]),
        };
        let wall = grid(columns, &kinds);
        let likeness = copies(kinds.len(), random.random_range(3..9), &mut random);
        let free = vec![None; kinds.len()];
        let least = Exhaustive::least(&wall, &likeness, &free);
        let seats = search(&wall, &likeness, &free, &|| false);
        let found = likeness.weighted(&wall, &seats);
        let below = weighted_bound(&wall, &likeness);
        assert!(below <= least, "case {case}: the bound {below} passes the least {least}");
        assert!(found >= least, "case {case}: {found} is below the least of all, {least}");
        assert_eq!(seats.iter().collect::<BTreeSet<_>>().len(), kinds.len(), "every place has one copy");
        assert!(seats.iter().enumerate().all(|(copy, &seat)| wall.kinds[copy] == wall.kinds[seat]));
        cases += 1;
        reached += u32::from(found == least);
    }
    assert!(reached >= cases - 1, "the least was reached in {reached} of {cases} cases");
}

#[test]
fn decided_places_are_kept_and_the_rest_is_best_beside_them() {
    let mut random = SmallRng::seed_from_u64(8);
    for case in 0..20 {
        let kinds = [0, 0, 1, 0, 0, 1, 1, 0, 0];
        let wall = grid(3, &kinds);
        let likeness = copies(9, 4, &mut random);
        // Two copies of the first kind and one of the second lie somewhere of their kind.
        let mut kept = vec![None; 9];
        for (kind, number) in [(0, 2), (1, 1)] {
            let own: Vec<usize> = (0..9).filter(|&at| kinds[at] == kind).collect();
            let (mut copies, mut seats) = (own.clone(), own);
            copies.shuffle(&mut random);
            seats.shuffle(&mut random);
            for at in 0..number {
                kept[copies[at]] = Some(seats[at]);
            }
        }
        let seats = search(&wall, &likeness, &kept, &|| false);
        assert!(kept.iter().zip(&seats).all(|(kept, seat)| kept.is_none_or(|kept| kept == *seat)));
        let least = Exhaustive::least(&wall, &likeness, &kept);
        assert_eq!(likeness.weighted(&wall, &seats), least, "case {case}");
        assert!(weighted_bound(&wall, &likeness) <= least);
    }
}

#[test]
fn the_bound_on_one_print_is_met_where_every_choice_of_places_is_tried() {
    // The fewest copies of one print on every choice of places, for each number of copies.
    for (columns, rows) in [(3, 3), (4, 3), (5, 2)] {
        let number = columns * rows;
        let wall = grid(columns, &vec![0; usize::try_from(number).unwrap()]);
        let mut met = 0;
        for copies in 2..=number {
            let print = |copy| if copy < copies { vec![Feature::Print(PrintId(0))] } else { Vec::new() };
            let likeness = Likeness::new((0..number).map(print).collect());
            let chosen = (0_u32..1 << number).filter(|chosen| chosen.count_ones() == copies);
            let least = chosen.map(|chosen| {
                let (ours, theirs): (Vec<usize>, Vec<usize>) =
                    (0..usize::try_from(number).unwrap()).partition(|at| chosen >> at & 1 == 1);
                likeness.crowding(&wall, &[ours, theirs].concat(), is_print)
            });
            let least = least.min().unwrap();
            let below = bound(&wall, &likeness, is_print);
            assert!(below <= least, "{columns} x {rows}, {copies} copies: {below} > {least}");
            met += u32::from(below == least);
        }
        assert!(met >= 1, "{columns} x {rows}: met for {met} numbers of copies");
    }
}

#[test]
fn a_large_quilt_of_many_prints_is_proved_best() {
    // Thirty prints of four copies each: a print fits once into every square of 4 x 4 places and no more is asked.
    let likeness = Likeness::new((0..120).map(|copy| vec![Feature::Print(PrintId(copy % 30))]).collect());
    let wall = grid(12, &[0; 120]);
    let seats = search(&wall, &likeness, &vec![None; 120], &|| false);
    assert_eq!((likeness.weighted(&wall, &seats), weighted_bound(&wall, &likeness)), (0, 0));
    assert!(closest(&wall, &likeness, &seats).is_some_and(|found| found.distance > 3));
}

#[test]
fn a_search_gives_the_same_answer_every_time() {
    let likeness = copies(30, 12, &mut SmallRng::seed_from_u64(3));
    let wall = grid(6, &[0; 30]);
    let free = vec![None; 30];
    let first = search(&wall, &likeness, &free, &|| false);
    assert_eq!(first, search(&wall, &likeness, &free, &|| false));
    let found = closest(&wall, &likeness, &first).expect("prints are shared");
    let [one, other] = found.copies;
    assert_eq!(wall.distance(first[one], first[other]), found.distance);
    assert!(likeness.between(one, other) > 0);
}

fn layout(text: &str) -> Layout {
    let head = "[role]\nA = \"a\"\n[[block]]\nname = \"X\"\nfinished = \"4 in\"\nrows = [\"A\"]\n[layout]\n";
    let (pattern, said) = read_toml("shore.toml", format!("{head}{text}").as_bytes());
    assert!(said.is_empty(), "{}", said[0]);
    pattern.layout.unwrap()
}

#[test]
fn on_point_neighbours_across_an_edge_and_corner_to_corner_are_one_apart() {
    let wall = Wall::of(&layout(
        "set = \"on point\"\nsetting = \"A\"\nrows = [\"X X X\", \"X X X\", \"X X X\"]\nbetween = [\"X X\", \"X X\"]\n",
    ));
    let at =
        |row: u32, column: u32| wall.places.iter().position(|&place| place == Place { row, column }).unwrap();
    // Row 2 stands between rows 1 and 3 of blocks.
    assert_eq!(wall.places.len(), 13);
    for (one, other, apart) in [
        ((1, 1), (2, 1), 1),
        ((1, 2), (2, 1), 1),
        ((2, 1), (3, 1), 1),
        ((1, 1), (1, 2), 1),
        ((1, 1), (3, 1), 1),
        ((2, 1), (2, 2), 1),
        ((1, 1), (3, 2), 2),
        ((1, 1), (1, 3), 2),
        ((1, 1), (2, 2), 2),
        ((1, 1), (5, 3), 4),
    ] {
        assert_eq!(wall.distance(at(one.0, one.1), at(other.0, other.1)), apart, "{one:?} {other:?}");
    }
    let wall = Wall::of(&layout("set = \"on point\"\nsetting = \"A\"\nrows = [\"X\", \"X\", \"X\"]\n"));
    assert_eq!([wall.distance(0, 1), wall.distance(0, 2)], [1, 2]);
}
