//! What is on the shelf: prints and lots, plain data.

use crate::color::{ColorGroup, color_group};
use crate::fabric::{Cut, Price, Trued, Value};
use crate::length::Length;

mod color;
mod columns;
mod csv;
mod index;
mod price;
mod prints;
mod size;

pub use csv::read;

use index::Index;

/// Index of a print in [`Stash::prints`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PrintId(pub usize);

/// Index of a lot in [`Stash::lots`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct LotId(pub usize);

/// The inventory.
#[derive(Clone, Debug, Default)]
pub struct Stash {
    /// Every print, in order of first appearance.
    pub prints: Vec<Print>,
    /// Every lot, in file order; lots that an alternative would buy come last.
    pub lots: Vec<Lot>,
    /// Headings of columns this program does not know; passed through.
    pub other_columns: Vec<String>,
    index: Index,
}

/// One fabric design in one colouring.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Print {
    /// The user's own name for it.
    pub name: String,
}

/// One row of the inventory: a print, a cut, a size, a count.
#[derive(Clone, Debug)]
pub struct Lot {
    /// 1-based data row in the stash file; `None` for fabric an alternative would buy.
    pub row: Option<u32>,
    /// Line of the file it stands on, as a text editor counts; `None` for fabric an alternative would buy.
    pub line: Option<u64>,
    /// The print.
    pub print: PrintId,
    /// How the fabric comes.
    pub cut: Cut,
    /// Width as held, across the grain.
    pub width: Length,
    /// Length as held, along the grain; the "up" of a directional print runs along it.
    pub length: Length,
    /// Taken once off the width and once off the length before cutting, or off one of them where the cut of fabric loses
    /// it one way only; 0 when nothing is squared up.
    pub allowance: Length,
    /// How many alike; at least 1.
    pub count: u32,
    /// True when the print has an "up": pieces may not be turned.
    pub directional: bool,
    /// True when the quilter keeps it back: only an alternative may use it, and says so.
    pub keep: bool,
    /// Colour as written: `#rrggbb` or a colour word.
    pub color: Option<String>,
    /// Light, medium or dark.
    pub value: Option<Value>,
    /// Where it is kept.
    pub place: String,
    /// Price of one, if given.
    pub price: Option<Price>,
    /// The quilter's note.
    pub note: String,
    /// Cells of the unknown columns, in the order of [`Stash::other_columns`].
    pub other: Vec<String>,
}

impl Lot {
    /// One sheet of a print, and nothing more said of it: no row of a file, not squared up, no up, not kept back.
    pub fn plain(print: PrintId, cut: Cut, width: Length, length: Length) -> Lot {
        Lot {
            row: None,
            line: None,
            print,
            cut,
            width,
            length,
            allowance: Length::ZERO,
            count: 1,
            directional: false,
            keep: false,
            color: None,
            value: None,
            place: String::new(),
            price: None,
            note: String::new(),
            other: Vec::new(),
        }
    }

    /// Width of one sheet of this lot after squaring up.
    pub fn sheet_width(&self) -> Length {
        match self.cut.entry().trued {
            Trued::Both | Trued::Width => self.width - self.allowance,
            Trued::Length => self.width,
        }
    }

    /// Length of one sheet of this lot after squaring up.
    pub fn sheet_length(&self) -> Length {
        match self.cut.entry().trued {
            Trued::Both | Trued::Length => self.length - self.allowance,
            Trued::Width => self.length,
        }
    }
}

impl Stash {
    /// The lot with this id.
    pub fn lot(&self, id: LotId) -> &Lot {
        &self.lots[id.0]
    }

    /// The print with this id.
    pub fn print(&self, id: PrintId) -> &Print {
        &self.prints[id.0]
    }

    /// The colour of a print: as its first lot that states one writes it.
    pub fn print_color(&self, print: PrintId) -> Option<&str> {
        self.lots_of(print).find_map(|lot| lot.color.as_deref())
    }

    /// The colour group of a print, when its colour is stated and is one we know.
    pub fn print_color_group(&self, print: PrintId) -> Option<ColorGroup> {
        self.print_color(print).and_then(color_group)
    }

    /// The value of a print: that of its first lot which states one.
    pub fn print_value(&self, print: PrintId) -> Option<Value> {
        self.lots_of(print).find_map(|lot| lot.value)
    }

    /// The lots of a print, in file order.
    pub fn lots_of(&self, print: PrintId) -> impl Iterator<Item = &Lot> {
        self.places_of(print).map(|place| self.lot(place))
    }

    /// The places of the lots of a print, in file order.
    pub fn places_of(&self, print: PrintId) -> impl Iterator<Item = LotId> {
        let known = self.index.lots_of(&self.lots, print);
        // Where lots were added since, all are looked at one by one.
        let all = if known.is_some() { 0..0 } else { 0..self.lots.len() };
        let known = known.unwrap_or_default().iter().copied();
        known.chain(all.filter(move |&place| self.lots[place].print == print)).map(LotId)
    }

    /// The print of exactly this name.
    pub fn find(&self, name: &str) -> Option<PrintId> {
        self.index.print(&self.prints, name)
    }
}
