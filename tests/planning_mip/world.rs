//! Small stashes and patterns in whole inches.

use cutcloth::fabric::Cut;
use cutcloth::pattern::{Block as Made, Count, Matching, PieceLine, Role, RoleId, Shape};
use rand::Rng;
use rand::rngs::SmallRng;
use rand::seq::IndexedRandom;

use crate::table::{Table, e};

/// Cuts of fabric with the weight of their family, in hundredths.
pub(crate) const CUTS: [(&str, i64); 4] =
    [("10-inch square", 100), ("scrap", 50), ("fat quarter", 120), ("yardage", 150)];
pub(crate) const SQUARE: usize = 0;
pub(crate) const SCRAP: usize = 1;
pub(crate) const YARDAGE: usize = 3;

/// A sheet of a cut of fabric.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Sheet {
    pub(crate) cut: usize,
    pub(crate) w: i64,
    pub(crate) h: i64,
}

/// A print: its sheets, and whether pieces of it may be turned.
#[derive(Clone, Debug)]
pub(crate) struct Print {
    pub(crate) sheets: Vec<Sheet>,
    pub(crate) turn: bool,
}

/// A kind of set: its pieces, and the cuts it may be taken from, or any.
#[derive(Clone, Debug)]
pub(crate) struct Kind {
    pub(crate) pieces: Vec<(i64, i64)>,
    pub(crate) from: Vec<usize>,
}

/// A block: one set of each of its kinds in each copy.
#[derive(Clone, Debug)]
pub(crate) struct Block {
    pub(crate) kinds: Vec<usize>,
    pub(crate) make: usize,
    /// The sets of one copy take different prints.
    pub(crate) different: bool,
    /// At most so many copies take the same print for the first kind.
    pub(crate) at_most: Option<u32>,
}

/// A stash and a pattern.
#[derive(Clone, Debug)]
pub(crate) struct World {
    pub(crate) prints: Vec<Print>,
    pub(crate) kinds: Vec<Kind>,
    pub(crate) blocks: Vec<Block>,
}

fn sheet(random: &mut SmallRng) -> Sheet {
    let cut = *[0, 0, 0, 1, 1, 2, 3].choose(random).expect("seven");
    let longest = if cut == YARDAGE { 8 } else { 6 };
    Sheet { cut, w: random.random_range(3..=6), h: random.random_range(3..=longest) }
}

/// Up to ten prints and twelve sets.
pub(crate) fn draw(random: &mut SmallRng) -> World {
    let some = sheet(random);
    // Alike prints are what packs are made of.
    let packed = random.random_range(0..3) == 0;
    let prints = (0..random.random_range(2..=10)).map(|_| Print {
        sheets: (0..random.random_range(1..=2)).map(|_| if packed { some } else { sheet(random) }).collect(),
        turn: packed || random.random_range(0..4) > 0,
    });
    let prints: Vec<Print> = prints.collect();
    let sizes: Vec<(i64, i64)> = (0..random.random_range(1..=4))
        .map(|_| (random.random_range(1..=4), random.random_range(2..=4)))
        .collect();
    let kind = |random: &mut SmallRng| Kind {
        pieces: (0..random.random_range(1..=4)).map(|_| *sizes.choose(random).expect("one")).collect(),
        from: match random.random_range(0..6) {
            0 => vec![0, 1],
            1 => vec![0, 2, 3],
            _ => Vec::new(),
        },
    };
    let kinds: Vec<Kind> = (0..random.random_range(1..=4)).map(|_| kind(random)).collect();
    let mut blocks = Vec::new();
    let mut left = random.random_range(2..=12);
    while left > 0 {
        let two = kinds.len() > 1 && left > 1 && random.random_range(0..3) == 0;
        let first = random.random_range(0..kinds.len());
        let second = (first + 1) % kinds.len();
        let of = if two { vec![first, second] } else { vec![first] };
        let make = random.random_range(1..=left / of.len());
        left -= make * of.len();
        let different = two && random.random_range(0..2) == 0;
        let at_most = (random.random_range(0..5) == 0).then(|| random.random_range(1..=2));
        blocks.push(Block { kinds: of, make, different, at_most });
    }
    World { prints, kinds, blocks }
}

impl World {
    /// The same for planning, sizes in eighths of an inch.
    pub(crate) fn table(&self) -> Table {
        let mut table = Table::default();
        for (number, print) in self.prints.iter().enumerate() {
            for sheet in &print.sheets {
                let name = format!("print {number}");
                table.lot(&name, CUTS[sheet.cut].0, sheet.w * 8, sheet.h * 8, 1).directional = !print.turn;
            }
        }
        for (number, block) in self.blocks.iter().enumerate() {
            let first = table.pattern.roles.len();
            let mut made = Made {
                name: format!("block {number}"),
                make: u32::try_from(block.make).expect("few"),
                ..Made::default()
            };
            for (place, &kind) in block.kinds.iter().enumerate() {
                let role = RoleId(first + place);
                made.pieces.extend(self.lines(kind, role));
                let from = self.kinds[kind].from.iter().map(|&cut| Cut::find(CUTS[cut].0).expect("a cut"));
                let mut said =
                    Role { name: format!("role {}", role.0), from: from.collect(), ..Role::default() };
                if place == 0 {
                    said.rules.at_most = block.at_most;
                } else if block.different {
                    said.rules.different = vec![RoleId(first)];
                }
                table.pattern.roles.push(said);
            }
            table.pattern.blocks.push(made);
        }
        table.rules.alternatives = false;
        table.rules.conflicts = false;
        table
    }

    fn lines(&self, kind: usize, role: RoleId) -> impl Iterator<Item = PieceLine> {
        self.kinds[kind].pieces.iter().enumerate().map(move |(number, &(w, h))| PieceLine {
            label: format!("{}.{number}", role.0),
            role,
            width: e(w * 8),
            height: e(h * 8),
            count: Count::PerCopy(1),
            shape: Shape::Rectangle,
            matching: Matching::Block,
            line: 0,
        })
    }
}
