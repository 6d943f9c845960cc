//! Stashes and patterns as they are drawn: a few prints in mixed lots, a few blocks with matching and rules.

use cutcloth::fabric::Cut;
use cutcloth::pattern::{Block, Count, Matching, PieceLine, Role, RoleId, Shape};
use rand::Rng;
use rand::rngs::SmallRng;
use rand::seq::IndexedRandom;

use crate::table::{Table, e};

/// A side of fabric in eighths of an inch, mostly whole inches.
fn side(random: &mut SmallRng, least: i64, most: i64) -> i64 {
    8 * random.random_range(least..=most) + [0, 0, 0, 2, 4].choose(random).expect("five")
}

/// A lot of a print, which keeps its up or not.
pub(crate) fn lot(table: &mut Table, print: usize, up: bool, random: &mut SmallRng) {
    let cut = *["10-inch square", "10-inch square", "scrap", "fat quarter", "yardage"]
        .choose(random)
        .expect("five");
    let most = if cut == "yardage" { 9 } else { 7 };
    let (width, length) = (side(random, 3, 7), side(random, 3, most));
    let count = *[1, 1, 1, 2].choose(random).expect("four");
    let lot = table.lot(&format!("print {print}"), cut, width, length, count);
    lot.directional = up;
    lot.keep = random.random_range(0..12) == 0;
    lot.allowance = e(*[0, 0, 0, 1, 2].choose(random).expect("five"));
}

/// True when the print of this number keeps its up.
pub(crate) fn up(table: &Table, print: usize) -> bool {
    table.stash.lots.iter().any(|lot| lot.print.0 == print && lot.directional)
}

/// How much is drawn at most: prints, lots of each, sizes of piece, blocks.
pub(crate) struct Extent {
    prints: (usize, usize),
    lots: u32,
    sizes: u32,
    blocks: usize,
}

/// Planned in a moment, so that very many can be asked; and a few prints more, where searches are cut short.
pub(crate) const TINY: Extent = Extent { prints: (1, 3), lots: 1, sizes: 2, blocks: 2 };
pub(crate) const SMALL: Extent = Extent { prints: (2, 6), lots: 2, sizes: 3, blocks: 3 };

pub(crate) fn draw(extent: &Extent, random: &mut SmallRng) -> Table {
    let mut table = Table::default();
    let prints = random.random_range(extent.prints.0..=extent.prints.1);
    for print in 0..prints {
        let up = random.random_range(0..4) == 0;
        for _ in 0..random.random_range(1..=extent.lots) {
            lot(&mut table, print, up, random);
        }
    }
    let sizes: Vec<(i64, i64)> = (0..random.random_range(1..=extent.sizes))
        .map(|_| (8 * random.random_range(1..=4), side(random, 1, 4)))
        .collect();
    for number in 0..random.random_range(1..=extent.blocks) {
        block(&mut table, number, &sizes, prints, random);
    }
    table.rules.alternatives = false;
    table.rules.conflicts = false;
    table
}

fn block(table: &mut Table, number: usize, sizes: &[(i64, i64)], prints: usize, random: &mut SmallRng) {
    let first = table.pattern.roles.len();
    let mut block =
        Block { name: format!("block {number}"), make: random.random_range(1..=3), ..Block::default() };
    for place in 0..random.random_range(1..=2) {
        let mut role = Role { name: format!("role {}", first + place), ..Role::default() };
        if random.random_range(0..6) == 0 {
            let cuts = ["10-inch square", "scrap", "yardage"];
            role.from =
                cuts.iter().take(random.random_range(1..=3)).map(|cut| Cut::find(cut).unwrap()).collect();
        }
        if place > 0 && random.random_range(0..3) == 0 {
            role.rules.different = vec![RoleId(first)];
        }
        if random.random_range(0..6) == 0 {
            role.rules.at_most = Some(random.random_range(1..=2));
        }
        if random.random_range(0..8) == 0 {
            role.rules.never.prints = vec![format!("print {}", random.random_range(0..prints))];
        }
        let matching = *[Matching::Block, Matching::Block, Matching::Block, Matching::Piece, Matching::Quilt]
            .choose(random)
            .expect("five");
        for line in 0..random.random_range(1..=2) {
            let &(width, height) = sizes.choose(random).expect("one");
            block.pieces.push(PieceLine {
                label: format!("{}.{line}", first + place),
                role: RoleId(first + place),
                width: e(width),
                height: e(height),
                count: Count::PerCopy(random.random_range(1..=2)),
                shape: Shape::Rectangle,
                matching,
                line: 0,
            });
        }
        table.pattern.roles.push(role);
    }
    table.pattern.blocks.push(block);
}
