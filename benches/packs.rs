//! Random packs of the size a quilter meets: is every verdict proved, how far from the bound, how long?
//!
//! `cargo bench --bench packs -- [--count N] [--seed S] [--only K]` prints one JSON line a pack and a summary line.
//! Packs have 30 to 64 10-inch squares, some prints twice, and sometimes a length of yardage; quilts have up to
//! 16 sizes of piece in up to 20 kinds of set (80 sets at most), 55 to 105 % of the pack by area.

use std::time::Instant;

use cutcloth::fabric::Cut;
use cutcloth::length::Length;
use cutcloth::pattern::{Block, Count, Matching, Pattern, PieceLine, Role, RoleId, Shape};
use cutcloth::placements::Placements;
use cutcloth::planning::{Rules, Stop, Verdict, plan};
use cutcloth::stash::{Lot, Print, PrintId, Stash};
use rand::rngs::SmallRng;
use rand::{Rng, SeedableRng};

fn main() {
    let mut count = 60;
    let mut seed = 1;
    let mut only: Option<u64> = None;
    let mut arguments = std::env::args().skip(1);
    while let Some(argument) = arguments.next() {
        let mut number = || arguments.next().and_then(|text| text.parse().ok());
        match argument.as_str() {
            "--count" => count = number().expect("--count takes a number"),
            "--only" => only = number(),
            "--seed" => seed = number().expect("--seed takes a number"),
            _ => {} // cargo adds its own
        }
    }
    let (mut fits, mut impossible, mut undecided, mut best) = (0, 0, 0, 0);
    let mut seconds: Vec<f64> = Vec::new();
    let mut gaps = 0.0;
    for number in (0..count).filter(|number| only.is_none_or(|wanted| wanted == *number)) {
        let mut random = SmallRng::seed_from_u64(seed * 1_000 + number);
        let stash = pack(&mut random);
        let pattern = quilt(&mut random, &stash);
        let rules = Rules { alternatives: false, ..Rules::default() };
        let start = Instant::now();
        let outcome = plan(&stash, &pattern, &Placements::default(), &rules, &Stop::never(), &mut |_| {});
        let wall = start.elapsed().as_secs_f64();
        seconds.push(wall);
        let gap = match outcome.verdict {
            Verdict::Fits => {
                fits += 1;
                best += u32::from(outcome.fabric.opened == outcome.fabric.bound);
                percent(outcome.fabric.opened - outcome.fabric.bound, outcome.fabric.opened)
            }
            Verdict::Impossible => {
                impossible += 1;
                0.0
            }
            Verdict::Undecided => {
                undecided += 1;
                0.0
            }
        };
        gaps += gap;
        println!(
            "{{\"pack\": {number}, \"verdict\": \"{:?}\", \"reason\": \"{}\", \"gap_percent\": {gap:.2}, \"wall_s\": {wall:.3}}}",
            outcome.verdict,
            outcome.reasons.first().map_or("", |reason| reason.code)
        );
    }
    seconds.sort_by(f64::total_cmp);
    println!(
        "{{\"packs\": {count}, \"fits\": {fits}, \"least_fabric_proved\": {best}, \"impossible\": {impossible}, \"undecided\": {undecided}, \"mean_gap_percent\": {:.2}, \"median_s\": {:.3}, \"slowest_s\": {:.3}}}",
        gaps / f64::from(fits.max(1)),
        seconds[seconds.len() / 2],
        seconds[seconds.len() - 1]
    );
}

#[allow(clippy::cast_precision_loss)] // a percentage for people
fn percent(part: i128, whole: i128) -> f64 {
    part as f64 * 100.0 / whole as f64
}

fn pack(random: &mut SmallRng) -> Stash {
    let mut stash = Stash::default();
    let squares = random.random_range(30..=64);
    let doubles = random.random_range(0..=squares / 3);
    for number in 0..squares - doubles {
        lot(
            &mut stash,
            &format!("print {number}"),
            "10-inch square",
            (80, 80),
            if number < doubles { 2 } else { 1 },
        );
    }
    if random.random_range(0..3) == 0 {
        lot(&mut stash, "background", "yardage", (8 * 41, 8 * 72), 1);
    }
    stash
}

fn lot(stash: &mut Stash, print: &str, cut: &str, (width, length): (i64, i64), count: u32) {
    stash.prints.push(Print { name: print.into() });
    let print = PrintId(stash.prints.len() - 1);
    let cut = Cut::find(cut).expect("a cut of the table");
    let (width, length) = (Length::from_eighths(width), Length::from_eighths(length));
    stash.lots.push(Lot {
        row: u32::try_from(stash.lots.len() + 1).ok(),
        count,
        directional: stash.lots.len() % 9 == 8,
        ..Lot::plain(print, cut, width, length)
    });
}

fn quilt(random: &mut SmallRng, stash: &Stash) -> Pattern {
    let squares: i64 = stash
        .lots
        .iter()
        .filter(|lot| lot.length == Length::from_eighths(80))
        .map(|lot| i64::from(lot.count))
        .sum();
    let target = squares * 6400 * random.random_range(55..=105) / 100;
    // Sides on the quarter inch between 1 1/2 and 8 1/2 in, as finished sizes with seams come.
    let sizes: Vec<(i64, i64)> = (0..random.random_range(5..=16))
        .map(|_| (2 * random.random_range(6..=34), 2 * random.random_range(6..=22)))
        .collect();
    let mut pattern = Pattern { name: "random".into(), ..Pattern::default() };
    let mut area = 0;
    let mut sets = 0;
    for number in 0..random.random_range(4..=20) {
        let role = RoleId(pattern.roles.len());
        let matching = if random.random_range(0..4) == 0 { Matching::Piece } else { Matching::Block };
        let mut pieces: Vec<(i64, i64, u32)> = Vec::new();
        let mut each = 0;
        for _ in 0..random.random_range(1..=3) {
            let (width, height) = sizes[random.random_range(0..sizes.len())];
            let count = if matching == Matching::Piece { 1 } else { random.random_range(1..=4) };
            if each + width * height * i64::from(count) > 9_000 {
                break;
            }
            each += width * height * i64::from(count);
            pieces.push((width, height, count));
        }
        if pieces.is_empty() {
            continue;
        }
        let per_copy = if matching == Matching::Piece { u32::try_from(pieces.len()).unwrap_or(1) } else { 1 };
        let most = (80 - sets) / per_copy;
        let room = u32::try_from((target - area) / each.max(1)).unwrap_or(0);
        let make = random.random_range(1..=12).min(most).min(room);
        if make == 0 {
            continue;
        }
        sets += make * per_copy;
        area += each * i64::from(make);
        pattern.roles.push(Role { name: format!("role {number}"), ..Role::default() });
        let lines = pieces.iter().enumerate().map(|(line, &(width, height, count))| PieceLine {
            label: format!("{number}-{line}"),
            role,
            width: Length::from_eighths(width),
            height: Length::from_eighths(height),
            count: Count::PerCopy(count),
            shape: Shape::Rectangle,
            matching,
            line: 0,
        });
        pattern.blocks.push(Block {
            name: format!("block {number}"),
            make,
            pieces: lines.collect(),
            ..Block::default()
        });
    }
    pattern
}
