//! Drawn stashes of many shapes, each with a quilt that asks for less than it has, about as much, or more. Seeded: the
//! same files every time.

use std::fmt::Write as _;

use rand::rngs::SmallRng;
use rand::seq::IndexedRandom as _;
use rand::{Rng as _, SeedableRng as _};

/// What most of a stash is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Shape {
    Scraps,
    Strips,
    FatEighths,
    Yardage,
    /// Every print in two to four cuts of fabric.
    SeveralCuts,
    Mixed,
    /// Mixed, for a quilt that has a block of its own for each of some forty sizes of piece.
    ManySizes,
}

const SHAPES: [Shape; 7] = [
    Shape::Scraps,
    Shape::Strips,
    Shape::FatEighths,
    Shape::Yardage,
    Shape::SeveralCuts,
    Shape::Mixed,
    Shape::ManySizes,
];

/// A stash and a chart for it.
pub(crate) struct Drawn {
    pub(crate) shape: Shape,
    pub(crate) stash: String,
    pub(crate) chart: String,
    pub(crate) rows: u32,
    /// Area of all pieces by that of all fabric, in percent.
    pub(crate) wanted: u32,
}

/// Lengths here are in eighths of an inch.
fn inches(eighths: u32) -> String {
    format!("{} {}/8", eighths / 8, eighths % 8)
}

/// The case of this number.
pub(crate) fn drawn(number: u64) -> Drawn {
    let random = &mut SmallRng::seed_from_u64(0x7_1DE5_EA00 + number);
    let shape = SHAPES[usize::try_from(number % SHAPES.len() as u64).unwrap_or(0)];
    let mut stash = StashText::new();
    let rows = match shape {
        Shape::Yardage => random.random_range(6..=25),
        Shape::ManySizes => random.random_range(60..=200),
        _ => random.random_range(20..=120),
    };
    while stash.rows < rows {
        stash.print(shape, random);
    }
    let share = random.random_range(35..=125);
    let target = stash.area * share / 100;
    let (chart, area) = match shape {
        Shape::ManySizes => many_sizes(target, random),
        _ => few_blocks(shape, target, random),
    };
    let wanted = u32::try_from(area * 100 / stash.area.max(1)).unwrap_or(u32::MAX);
    Drawn { shape, stash: stash.text, chart, rows: stash.rows, wanted }
}

struct StashText {
    text: String,
    rows: u32,
    prints: u32,
    area: u64,
}

impl StashText {
    fn new() -> StashText {
        let text = "print,cut,count,width,length,directional,keep\n".to_owned();
        StashText { text, rows: 0, prints: 0, area: 0 }
    }

    /// All rows of one more print.
    fn print(&mut self, shape: Shape, random: &mut SmallRng) {
        self.prints += 1;
        let up = random.random_range(0..8) == 0;
        let cuts = match shape {
            Shape::SeveralCuts => random.random_range(2..=4),
            _ => 1 + u32::from(random.random_range(0..5) == 0),
        };
        for _ in 0..cuts {
            self.row(shape, up, random);
        }
    }

    fn row(&mut self, shape: Shape, up: bool, random: &mut SmallRng) {
        let any = ["scrap", "strip", "eighth", "quarter", "square", "yard"];
        let cut = match (shape, random.random_range(0..8)) {
            (Shape::Scraps, 0..7) => "scrap",
            (Shape::Strips, 0..7) => "strip",
            (Shape::FatEighths, 0..5) => "eighth",
            (Shape::FatEighths, 5..7) => "quarter",
            (Shape::Yardage, 0..7) => "yard",
            _ => any.choose(random).unwrap_or(&"square"),
        };
        let (cut, (width, length), measured) = match cut {
            "scrap" => ("scrap", (random.random_range(20..=160u32), random.random_range(20..=160u32)), true),
            "strip" => ("2 1/2-inch strip", (320, 20), false),
            "eighth" => ("fat eighth", (168, 72), false),
            "quarter" => ("fat quarter", (168, 144), false),
            "square" => ("10-inch square", (80, 80), false),
            _ => match random.random_range(0..4) {
                0 => ("quarter yard", (320, 72), false),
                1 => ("half yard", (320, 144), false),
                2 => ("one yard", (320, 288), false),
                _ => ("yardage", (random.random_range(300..=344), random.random_range(80..=600)), true),
            },
        };
        let count = match cut {
            "2 1/2-inch strip" | "10-inch square" => random.random_range(1..=4),
            "scrap" => random.random_range(1..=2),
            _ => 1,
        };
        let size = if measured { format!("{},{}", inches(width), inches(length)) } else { ",".to_owned() };
        let (up, keep) =
            (if up { "yes" } else { "no" }, if random.random_range(0..25) == 0 { "yes" } else { "no" });
        // Writing to a String cannot fail.
        let _ = writeln!(self.text, "shore print {},{cut},{count},{size},{up},{keep}", self.prints);
        self.rows += 1;
        self.area += u64::from(width * length) * count;
    }
}

/// Three to nine kinds of block, each of one to three sizes, until they cover about `target`.
fn few_blocks(shape: Shape, target: u64, random: &mut SmallRng) -> (String, u64) {
    let mut text = "block,make,label,role,width,height,count,shape,matching,from\n".to_owned();
    let narrow = shape == Shape::Strips;
    let mut area = 0;
    let kinds = random.random_range(3..=9);
    for kind in 0..kinds {
        let mut lines = Vec::new();
        let mut each = 0;
        for label in 0..random.random_range(1..=3) {
            // On the quarter inch; strips serve nothing deeper than they are.
            let mut side = |most: u32| 2 * random.random_range(6..=most);
            let (width, height) = (side(36), side(if narrow { 10 } else { 28 }));
            let count = random.random_range(1..=4);
            let square = random.random_range(0..6) == 0;
            let (width, shape) = if square { (height, "cut once") } else { (width, "rectangle") };
            let matching = ["block", "block", "piece", "quilt"][random.random_range(0..4)];
            let from = match (shape, random.random_range(0..12)) {
                ("rectangle", 0) => "yardage / half yard / one yard",
                _ => "",
            };
            // Matching and fabric belong to a role, so every line has one of its own.
            lines.push(format!(
                "L{kind}{label},role {kind}{label},{},{},{count},{shape},{matching},{from}",
                inches(width),
                inches(height)
            ));
            each += u64::from(width * height) * count;
        }
        let room = target.saturating_sub(area) / each.max(1) / (kinds - kind);
        let make = room.clamp(1, 40);
        area += each * make;
        for (number, line) in lines.iter().enumerate() {
            let start = if number == 0 { format!("Pool {kind},{make}") } else { ",".to_owned() };
            let _ = writeln!(text, "{start},{line}");
        }
    }
    (text, area)
}

/// A block for each of some forty sizes, one side from 1 1/2 to 40 in; a quarter of them longer than most fabric is.
fn many_sizes(target: u64, random: &mut SmallRng) -> (String, u64) {
    let mut text = "block,make,label,role,width,height,count,matching\n".to_owned();
    let kinds = random.random_range(36..=44);
    let mut area = 0;
    for kind in 0..kinds {
        let width = 2 * random.random_range(6..=if kind % 4 == 0 { 160 } else { 40 });
        let height = 2 * random.random_range(6..=24);
        let count = random.random_range(1..=4);
        let each = u64::from(width * height) * count;
        let make = (target.saturating_sub(area) / each / (kinds - kind)).clamp(1, 30);
        area += each * make;
        let matching = if random.random_range(0..4) == 0 { "piece" } else { "block" };
        let _ = writeln!(
            text,
            "Wave {kind},{make},W{kind},role {kind},{},{},{count},{matching}",
            inches(width),
            inches(height)
        );
    }
    (text, area)
}
