//! Beds: mattress sizes, and what a quilt must measure to hang down from one.

use crate::length::{Length, Unit, Units, round};
use crate::need::{Lost, ruler};
use crate::pattern::Size;

/// A mattress as it is sold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Mattress {
    /// Its name.
    pub name: &'static str,
    /// Width and length in units of `unit`.
    sides: (i64, i64),
    unit: Unit,
}

const fn inches(name: &'static str, width: i64, length: i64) -> Mattress {
    Mattress { name, sides: (width, length), unit: Unit::Inch }
}

const fn centimetres(name: &'static str, width: i64, length: i64) -> Mattress {
    Mattress { name, sides: (width, length), unit: Unit::Centimetre }
}

/// Mattresses. Of two published sizes the larger side is taken, for a quilt that covers it covers the other as well:
/// cribs are 27 or 28 in wide, a king 76 or 78. Sources, row by row, are in `tests/need/values.csv`: Quilters Resources,
/// "Measurements"; Delaware Quilts, "Sizes"; Karen Daniel, "Common Quilt and Batting Sizes"; gnomon.org.uk, "Bed sizes",
/// and Edwards Furniture; for cots UK Mattress Guide and Soak & Sleep. No list that was read has a US super king.
pub const MATTRESSES: [Mattress; 29] = [
    inches("crib", 28, 52),
    inches("youth", 33, 66),
    inches("twin", 39, 75),
    inches("twin XL", 39, 80),
    inches("three-quarter", 48, 75),
    inches("full", 54, 75),
    inches("full XL", 54, 80),
    inches("queen", 60, 80),
    inches("California queen", 60, 84),
    inches("king", 78, 80),
    inches("California king", 72, 84),
    centimetres("UK cot", 60, 120),
    centimetres("UK cot bed", 70, 140),
    centimetres("UK small single", 75, 190),
    centimetres("UK single", 90, 190),
    centimetres("UK super single", 105, 190),
    centimetres("UK small double", 120, 190),
    centimetres("UK double", 135, 190),
    centimetres("UK king", 150, 200),
    centimetres("UK super king", 180, 200),
    inches("UK imperial single", 36, 75),
    inches("UK imperial king", 60, 78),
    inches("UK emperor", 84, 84),
    centimetres("European small single", 80, 200),
    centimetres("European single", 90, 200),
    centimetres("European large single", 100, 200),
    centimetres("European double", 140, 200),
    centimetres("European king", 160, 200),
    centimetres("European super king", 180, 200),
];

impl Mattress {
    /// The mattress of this name, capitals and hyphens as they come. Where it is sold may be left out when all that are
    /// called so are of one size: a small double, a super king, a cot.
    ///
    /// # Errors
    /// All that the name may mean, when their sizes differ; none, when nothing is called so.
    pub fn find(name: &str) -> Result<Mattress, Vec<&'static str>> {
        let plain = |text: &str| text.to_lowercase().replace('-', " ");
        let name = plain(name.trim());
        if let Some(exact) = MATTRESSES.into_iter().find(|mattress| plain(mattress.name) == name) {
            return Ok(exact);
        }
        let regions = ["uk ", "uk imperial ", "european "];
        let called = |mattress: &Mattress| {
            let known = plain(mattress.name);
            regions.iter().any(|region| known.strip_prefix(region) == Some(name.as_str()))
        };
        let found: Vec<Mattress> = MATTRESSES.into_iter().filter(called).collect();
        match found.first() {
            Some(first) if found.iter().all(|other| other.size() == first.size()) => Ok(*first),
            _ => Err(found.iter().map(|mattress| mattress.name).collect()),
        }
    }

    /// Its width and length.
    pub fn size(&self) -> Size {
        let side = |side: i64| Length::from_ticks(side * self.unit.ticks());
        Size { width: side(self.sides.0), height: side(self.sides.1) }
    }
}

/// A quilt that hangs down by `drop` at both sides and the foot and is longer by `tuck` at the head, where it goes over
/// or under pillows. Cia's Palette, "Standard Mattress Sizes": 12 in at sides and foot, bedspreads 15 in more.
pub fn quilt(mattress: Size, drop: Length, tuck: Length) -> Size {
    Size { width: mattress.width + drop + drop, height: mattress.height + drop + tuck }
}

/// The drop taken when none is given: that of the source of [`quilt`], in round numbers with metric units.
pub fn usual_drop(units: Units) -> Length {
    match units {
        Units::Inches => Length::from_inches(12),
        Units::Metric => ruler::millimetres(300),
    }
}

/// The units a mattress is sold by: inches where both sides lie on marks of an inch ruler, else centimetres.
pub fn sold_in(mattress: Size) -> Units {
    let mark = Units::Inches.finest_mark().ticks();
    let on_mark = [mattress.width, mattress.height].iter().all(|side| side.ticks() % mark == 0);
    if on_mark { Units::Inches } else { Units::Metric }
}

/// How far a quilt hangs down at each side (down to a tick) and at the foot when it begins at the head.
pub fn hang(quilt: Size, mattress: Size) -> (Length, Length) {
    let beyond = (quilt.width - mattress.width).ticks();
    (Length::from_ticks(beyond.div_euclid(2)), quilt.height - mattress.height)
}

/// What must be made for `size` to be left of what quilting and washing take, up to a multiple of `mark`:
/// size / (1 - percent / 100) for either side. Kay Stephenson, "Quilt sizes", gives 3 to 5 percent.
///
/// # Panics
/// When all of a side is lost, or `mark` is not positive.
pub fn before_shrinking(size: Size, lost: Lost, mark: Length) -> Size {
    let width = round::up(lost.across.before(size.width), mark);
    Size { width, height: round::up(lost.along.before(size.height), mark) }
}
