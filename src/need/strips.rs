//! The plain strip count: what a pattern's author reckons by hand.
//!
//! Every depth of strip is reckoned for itself. A piece lies with its longer side across the fabric, so that its
//! shorter side is the depth of the strip; pieces of one depth share strips, the longest first into the first strip
//! with room. Nothing is shared between depths. Pieces longer than the fabric is wide run along it; they come first
//! and lie side by side, in a band as long as the longest.

use crate::cutting::Kind;
use crate::length::Length;

/// A size to cut.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wanted {
    /// What the pattern calls it; several names when several pieces have the size.
    pub labels: Vec<String>,
    /// Across the grain.
    pub width: Length,
    /// Along the grain.
    pub height: Length,
    /// True when it may lie a quarter turn round.
    pub turn: bool,
    /// How many.
    pub count: u32,
}

/// Strips cut alike.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Band {
    /// What it takes of the fabric's length.
    pub depth: Length,
    /// What its pieces take of the fabric's width.
    pub used: Length,
    /// How many strips.
    pub times: u32,
    /// True when its pieces run along the fabric because they are longer than it is wide.
    pub lengthwise: bool,
    /// Index of a size and how many of it one strip gives.
    pub pieces: Vec<(usize, u32)>,
}

/// All strips of one fabric.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Strips {
    /// Lengthwise bands first, then the deepest strips first.
    pub bands: Vec<Band>,
    /// What they take of the fabric's length together.
    pub length: Length,
}

/// How a size lies: what it takes across and along, and whether it runs lengthwise.
#[derive(Clone, Copy)]
struct Lying {
    size: usize,
    across: Length,
    along: Length,
    lengthwise: bool,
}

impl Wanted {
    /// As cutting sees it.
    pub fn kind(&self) -> Kind {
        Kind { width: self.width, height: self.height, turn: self.turn && self.width != self.height }
    }
}

impl Strips {
    /// How many strips.
    pub fn count(&self) -> u32 {
        self.bands.iter().map(|band| band.times).sum()
    }

    /// Depth of the deepest strip.
    pub fn deepest(&self) -> Length {
        self.bands.iter().map(|band| band.depth).max().unwrap_or_default()
    }
}

/// The plain strip count of `wanted` on fabric of usable `width`.
///
/// # Errors
/// The index of a size that does not go into the width.
pub fn plain(width: Length, wanted: &[Wanted]) -> Result<Strips, usize> {
    let mut lying = Vec::new();
    for (size, one) in wanted.iter().enumerate() {
        lying.push(lie(width, size, one).ok_or(size)?);
    }
    // The long ones together, longest first; then depth by depth, the longest across first.
    lying.sort_by_key(|one| (!one.lengthwise, std::cmp::Reverse((one.along, one.across)), one.size));
    let mut bands: Vec<Band> = Vec::new();
    for one in lying {
        let from = bands.iter().position(|band| shares(band, &one)).unwrap_or(bands.len());
        fill(&mut bands, from, width, &one, wanted[one.size].count);
    }
    let length = bands.iter().map(|band| times(band.depth, band.times)).sum();
    Ok(Strips { bands, length })
}

/// `length` so many times.
pub(super) fn times(length: Length, count: u32) -> Length {
    Length::from_ticks(length.ticks() * i64::from(count))
}

fn lie(width: Length, size: usize, one: &Wanted) -> Option<Lying> {
    let way = |across: Length, along: Length| {
        (across <= width).then_some(Lying { size, across, along, lengthwise: along > width })
    };
    if !one.turn {
        return way(one.width, one.height);
    }
    let (short, long) = (one.width.min(one.height), one.width.max(one.height));
    way(long, short).or_else(|| way(short, long))
}

/// True when pieces that lie so may go into a band: of the same depth, or beside longer ones that run lengthwise.
fn shares(band: &Band, one: &Lying) -> bool {
    band.lengthwise == one.lengthwise && (one.lengthwise || band.depth == one.along)
}

/// Puts `count` pieces into the bands from `from` on that have room, then into new ones.
fn fill(bands: &mut Vec<Band>, from: usize, width: Length, one: &Lying, mut count: u32) {
    let fits = |room: Length| u32::try_from(room.ticks() / one.across.ticks()).unwrap_or(u32::MAX);
    let mut at = from;
    while count > 0 && at < bands.len() {
        let each = fits(width - bands[at].used);
        // Strips that are filled with it; when there is not enough for one, the first gets what is left.
        let (strips, pieces) = match count.checked_div(each) {
            None => (0, 0),
            Some(0) => (1, count),
            Some(full) => (full.min(bands[at].times), each),
        };
        if strips > 0 {
            split_off(bands, at, strips);
            put(&mut bands[at], one, pieces);
            count -= pieces * strips;
        }
        at += 1;
    }
    let each = fits(width);
    for (pieces, strips) in [(each, count / each), (count % each, 1)] {
        if pieces > 0 && strips > 0 {
            let mut band = Band {
                depth: one.along,
                used: Length::ZERO,
                times: strips,
                lengthwise: one.lengthwise,
                pieces: Vec::new(),
            };
            put(&mut band, one, pieces);
            bands.push(band);
        }
    }
}

/// Makes the first `whole` strips of the band at `at` a band of their own.
fn split_off(bands: &mut Vec<Band>, at: usize, whole: u32) {
    if bands[at].times > whole {
        let rest = Band { times: bands[at].times - whole, ..bands[at].clone() };
        bands[at].times = whole;
        bands.insert(at + 1, rest);
    }
}

fn put(band: &mut Band, one: &Lying, pieces: u32) {
    band.used += times(one.across, pieces);
    band.pieces.push((one.size, pieces));
}
