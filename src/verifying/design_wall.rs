//! Where the blocks lie: every place has a copy of its own kind, what is decided is kept, and the crowding and the
//! closest two are as the record says. The bound is a claim of the search, like that on the fabric.

use std::collections::{BTreeMap, BTreeSet};

use super::Question;
use super::changes::Changes;
use super::decided::same;
use super::fault::{Faults, Rule};
use super::record::{Crowding, Placed, Places, Record};
use crate::color::ColorGroup;
use crate::pattern::Pattern;
use crate::pattern::layout::Set;
use crate::stash::Stash;

/// Larger quilts are not arranged.
const MOST_PLACES: usize = 2500;

/// What a pair counts at distance 1, 2 and 3, for each print or group of colours they share.
const NEARNESS: [i64; 3] = [16, 4, 1];

/// A place of the quilt: row and column from 1, and the kind of block it is for.
struct Seat {
    row: u64,
    column: u64,
    block: String,
    /// Steps along the two directions in which blocks touch, so that neighbours are one step apart.
    spot: (i64, i64),
}

/// Checks the places of one plan.
pub(super) fn check(
    record: &Record,
    asked: &Question,
    pattern: &Pattern,
    changes: &Changes,
    faults: &mut Faults,
) {
    let seats = seats(pattern);
    let wanted =
        (1..=MOST_PLACES).contains(&seats.len()) && record.short.is_empty() && changes.makes.is_empty();
    let Some(places) = &record.places else {
        if wanted {
            faults.add(
                Rule::Places,
                "",
                "the pattern says how its blocks are set, the plan does not".to_owned(),
            );
        }
        return;
    };
    if !wanted {
        let message = "the blocks are placed though they are not all made or have no places".to_owned();
        faults.add(Rule::Places, "", message);
        return;
    }
    let before = faults.count();
    let on = copies_on(places, &seats, faults);
    kept(places, asked, &seats, changes, faults);
    if faults.count() == before {
        Wall { seats: &seats, on: &on, things: things(record, &asked.stash) }.check(places, faults);
    }
}

/// The places of the layout. On point, rows of blocks and the rows between follow each other.
fn seats(pattern: &Pattern) -> Vec<Seat> {
    let Some(layout) = &pattern.layout else { return Vec::new() };
    let mut seats = Vec::new();
    let mut add = |row: usize, cells: &[crate::pattern::BlockCell]| {
        for (column, cell) in cells.iter().enumerate() {
            let (down, right) = (i64::try_from(row).unwrap_or(0), i64::try_from(column).unwrap_or(0));
            // On point, half a diagonal to the right or left and half one down is a step along an edge.
            let spot = match (layout.set, layout.between.is_empty()) {
                (Set::Straight, _) => (right, down),
                (Set::OnPoint, true) => (right + down, right - down),
                (Set::OnPoint, false) => {
                    let along = down.rem_euclid(2) + 2 * right;
                    ((along + down) / 2, (along - down) / 2)
                }
            };
            let block = pattern.blocks[cell.block.0].name.clone();
            seats.push(Seat { row: row as u64 + 1, column: column as u64 + 1, block, spot });
        }
    };
    for (index, row) in layout.rows.iter().enumerate() {
        if layout.between.is_empty() {
            add(index, row);
        } else {
            add(2 * index, row);
            if let Some(between) = layout.between.get(index) {
                add(2 * index + 1, between);
            }
        }
    }
    seats
}

/// The copy on each seat, by number of the seat.
fn copies_on(places: &Places, seats: &[Seat], faults: &mut Faults) -> BTreeMap<usize, (String, u64)> {
    let mut on: BTreeMap<usize, (String, u64)> = BTreeMap::new();
    let mut seen: BTreeSet<(&str, u64)> = BTreeSet::new();
    let mut wrong = |message: String| faults.add(Rule::Places, "", message);
    for placed in &places.copies {
        let of_kind = seats.iter().filter(|seat| seat.block == placed.block).count();
        if placed.copy < 1 || placed.copy > of_kind as u64 {
            wrong(format!("{} is not among the {of_kind} of the layout", say(placed)));
        }
        if !seen.insert((&placed.block, placed.copy)) {
            wrong(format!("{} has two places", say(placed)));
        }
        let at = seats.iter().position(|seat| (seat.row, seat.column) == (placed.row, placed.column));
        match at {
            None => wrong(format!("{}: there is no such place", say(placed))),
            Some(at) if seats[at].block != placed.block => {
                wrong(format!("{}: the place is for {}", say(placed), seats[at].block));
            }
            Some(at) => {
                if let Some((block, copy)) = on.insert(at, (placed.block.clone(), placed.copy)) {
                    wrong(format!("{}: {block} {copy} lies there too", say(placed)));
                }
            }
        }
    }
    for (_, seat) in seats.iter().enumerate().filter(|(at, _)| !on.contains_key(at)) {
        wrong(format!("no block lies in row {}, column {}", seat.row, seat.column));
    }
    on
}

/// What the quilter has placed lies there.
fn kept(places: &Places, asked: &Question, seats: &[Seat], changes: &Changes, faults: &mut Faults) {
    for row in &asked.placements.places {
        let (down, column) = (u64::from(row.place.row), u64::from(row.place.column));
        if changes.resized {
            // Another size has not every copy and place that was decided on.
            let of_kind = || seats.iter().filter(|seat| same(&seat.block, &row.block));
            let seat = of_kind().any(|seat| (seat.row, seat.column) == (down, column));
            if !seat || u64::from(row.copy) > of_kind().count() as u64 {
                continue;
            }
        }
        // Of an earlier pattern: it has no such place, or not so many copies.
        let is_there = seats.iter().any(|seat| (seat.row, seat.column) == (down, column));
        let made = seats.iter().filter(|seat| same(&seat.block, &row.block)).count() as u64;
        if !is_there || u64::from(row.copy) > made {
            continue;
        }
        let lies = places
            .copies
            .iter()
            .find(|placed| same(&placed.block, &row.block) && placed.copy == u64::from(row.copy));
        if lies.is_none_or(|lies| (lies.row, lies.column) != (down, column)) {
            let message = format!(
                "{} {} is to lie in row {down}, column {column}{}",
                row.block,
                row.copy,
                lies.map_or(String::new(), |lies| format!(
                    ", not in row {}, column {}",
                    lies.row, lies.column
                ))
            );
            faults.add(Rule::PlaceKept, "", message);
        }
    }
}

/// What a copy shares with others: the prints of its own sets, and their groups of colours.
#[derive(Default)]
struct Things<'a> {
    prints: BTreeSet<&'a str>,
    colors: BTreeSet<ColorGroup>,
}

fn things<'a>(record: &'a Record, stash: &Stash) -> BTreeMap<(String, u64), Things<'a>> {
    let mut things: BTreeMap<(String, u64), Things<'a>> = BTreeMap::new();
    for placed in &record.sets {
        let (Some(block), Some(copy)) = (&placed.set.block, placed.set.copy) else { continue };
        let here = things.entry((block.clone(), copy)).or_default();
        here.prints.insert(&placed.print);
        let held = stash.find(&placed.print);
        here.colors.extend(held.and_then(|print| stash.print_color_group(print)));
    }
    things
}

struct Wall<'a> {
    seats: &'a [Seat],
    on: &'a BTreeMap<usize, (String, u64)>,
    things: BTreeMap<(String, u64), Things<'a>>,
}

impl Wall<'_> {
    fn check(&self, places: &Places, faults: &mut Faults) {
        let (mut by_print, mut by_color, mut nearest) = (0, 0, None);
        for one in 0..self.seats.len() {
            for other in one + 1..self.seats.len() {
                let (prints, colors) = self.shared(one, other);
                let distance = self.distance(one, other);
                let near = usize::try_from(distance - 1).ok().and_then(|index| NEARNESS.get(index));
                by_print += near.map_or(0, |near| near * prints);
                by_color += near.map_or(0, |near| near * colors);
                if prints > 0 {
                    nearest = Some(nearest.map_or(distance, |nearest: i64| nearest.min(distance)));
                }
            }
        }
        let mut wrong = |message: String| faults.add(Rule::Crowding, "", message);
        for (of, said, is) in [("prints", &places.prints, by_print), ("colors", &places.colors, by_color)] {
            let Crowding { reached, bound, claimed } = *said;
            if reached != is {
                wrong(format!("{of}: the crowding is {is}, not {reached}"));
            }
            if !(0..=reached).contains(&bound) {
                wrong(format!("{of}: the bound {bound} does not lie between 0 and the crowding {reached}"));
            }
            if claimed != (bound == reached) {
                wrong(format!("{of}: crowding {reached}, bound {bound}, claimed {claimed}"));
            }
        }
        match (&places.closest, nearest) {
            (None, None) => {}
            (None, Some(nearest)) => {
                wrong(format!("two copies share a print, {nearest} apart; none is named"))
            }
            (Some(closest), _) => {
                let pair: Vec<Option<usize>> = closest.copies.iter().map(|copy| self.seat_of(copy)).collect();
                let right = match pair.as_slice() {
                    [Some(one), Some(other)] if one != other => {
                        let both = [one, other].iter().all(|seat| {
                            self.of(**seat).is_some_and(|it| it.prints.contains(closest.print.as_str()))
                        });
                        both && Some(self.distance(*one, *other)) == nearest
                            && i64::try_from(closest.distance).ok() == nearest
                    }
                    _ => false,
                };
                if !right {
                    let said = nearest
                        .map_or("no two share a print".to_owned(), |n| format!("the closest are {n} apart"));
                    wrong(format!("the two closest are not as said: {said}"));
                }
            }
        }
    }

    fn of(&self, seat: usize) -> Option<&Things<'_>> {
        self.things.get(self.on.get(&seat)?)
    }

    /// How many prints and how many groups of colours two seats share.
    fn shared(&self, one: usize, other: usize) -> (i64, i64) {
        let (Some(one), Some(other)) = (self.of(one), self.of(other)) else { return (0, 0) };
        let count = |number: usize| i64::try_from(number).unwrap_or(i64::MAX);
        (
            count(one.prints.intersection(&other.prints).count()),
            count(one.colors.intersection(&other.colors).count()),
        )
    }

    fn distance(&self, one: usize, other: usize) -> i64 {
        let ((x, y), (u, v)) = (self.seats[one].spot, self.seats[other].spot);
        (x - u).abs().max((y - v).abs())
    }

    /// The seat on which a copy lies, when it lies where the list says.
    fn seat_of(&self, placed: &Placed) -> Option<usize> {
        let seat =
            self.seats.iter().position(|seat| (seat.row, seat.column) == (placed.row, placed.column))?;
        let (block, copy) = self.on.get(&seat)?;
        (*block == placed.block && *copy == placed.copy).then_some(seat)
    }
}

fn say(placed: &Placed) -> String {
    format!("{} {} in row {}, column {}", placed.block, placed.copy, placed.row, placed.column)
}
