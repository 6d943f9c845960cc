//! From a layout to the quilt top: where everything lies, what the setting pieces are, and whether it adds up.
//!
//! Coordinates are finished sizes in ticks: x to the right, y down, from the upper left corner of the quilt
//! top. On point they are irrational; they are rounded to the nearest tick, for drawing only.

use crate::length::{Length, Units};
use crate::pattern::{Block, BlockCell, Layout, PieceLine, RoleId, Sewing, Size, layout};

mod borders;
mod cut;
mod joined;
mod lines;
mod on_point;
mod straight;

/// Whether the pieces of each role keep their up, so that they are cut as they lie.
pub type KeepsUp<'a> = &'a [bool];

/// A point of the quilt top.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Point {
    /// To the right.
    pub x: Length,
    /// Down.
    pub y: Length,
}

/// A block copy on the quilt top.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PlacedBlock {
    /// Which block and copy, and how it is turned.
    pub cell: BlockCell,
    /// Straight: its upper left corner. On point: its uppermost corner.
    pub at: Point,
    /// Its finished size as it lies (as it is, on point).
    pub size: Size,
}

/// What a setting piece is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Purpose {
    /// A strip between blocks.
    Sashing,
    /// A square where sashing crosses.
    Cornerstone,
    /// Half such a square, at the edge of a quilt on point.
    EdgeCornerstone,
    /// A triangle at the side of a quilt on point.
    SideTriangle,
    /// A triangle in the corner of a quilt on point.
    CornerTriangle,
    /// Left or right strip of the border with this number, from 1.
    BorderSide(usize),
    /// Top or bottom strip of the border with this number, from 1.
    BorderTop(usize),
    /// Corner square of the border with this number, from 1.
    BorderCornerstone(usize),
}

impl Purpose {
    /// What its pieces are called; a letter follows where several sizes serve one purpose. A border whose four sides
    /// come of one joined strip has the name of its left and right strip throughout.
    pub fn label(self) -> String {
        match self {
            Purpose::Sashing => "sashing".to_string(),
            Purpose::Cornerstone => "cornerstone".to_string(),
            Purpose::EdgeCornerstone => "edge cornerstones".to_string(),
            Purpose::SideTriangle => "side triangles".to_string(),
            Purpose::CornerTriangle => "corner triangles".to_string(),
            Purpose::BorderSide(number) => format!("border {number}"),
            Purpose::BorderTop(number) => format!("border {number} top"),
            Purpose::BorderCornerstone(number) => format!("border {number} corner"),
        }
    }
}

/// A setting piece on the quilt top.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Patch {
    /// What it is for.
    pub purpose: Purpose,
    /// Its fabric.
    pub role: RoleId,
    /// Its corners in order.
    pub corners: Vec<Point>,
}

impl Patch {
    /// The least upright rectangle round it, finished: itself, or a mitred strip before its ends are trimmed.
    pub fn size(&self) -> Size {
        let span = |side: fn(&Point) -> Length| {
            let sides = self.corners.iter().map(side);
            let (least, most) = (sides.clone().min(), sides.max());
            most.unwrap_or_default() - least.unwrap_or_default()
        };
        Size { width: span(|at| at.x), height: span(|at| at.y) }
    }
}

/// The whole quilt top.
#[derive(Clone, Debug, Default)]
pub struct Top {
    /// Finished size, borders included.
    pub size: Size,
    /// Every block copy of the layout.
    pub blocks: Vec<PlacedBlock>,
    /// Everything else.
    pub patches: Vec<Patch>,
    /// What to cut for everything else: cut sizes and counts.
    pub lines: Vec<PieceLine>,
}

/// What the quilt top is worked out for.
#[derive(Clone, Copy, Debug)]
pub struct Frame<'a> {
    /// The blocks, finished sizes known.
    pub blocks: &'a [Block],
    /// Seam and ruler.
    pub sewing: Sewing,
    /// How lengths are shown in messages.
    pub units: Units,
    /// Whether each role keeps its up.
    pub keeps_up: KeepsUp<'a>,
}

/// Works out the quilt top.
///
/// # Errors
/// The first thing that does not add up, one sentence with the numbers.
pub fn work_out(layout: &Layout, frame: &Frame) -> Result<Top, String> {
    let mut top = match layout.set {
        layout::Set::Straight => straight::centre(layout, frame)?,
        layout::Set::OnPoint => on_point::centre(layout, frame)?,
    };
    borders::add(&mut top, &layout.borders);
    check_size(&top, layout, frame)?;
    top.lines = lines::lines(&top, layout, frame)?;
    Ok(top)
}

impl Frame<'_> {
    /// Finished size of a block as it lies in a cell.
    fn size(&self, cell: &BlockCell) -> Result<Size, String> {
        let block = &self.blocks[cell.block.0];
        let size = block
            .finished
            .ok_or_else(|| format!("\"{}\" has no finished size, so it cannot be set", block.name))?;
        Ok(size.turned(cell.turn))
    }
}

/// What the pattern says the quilt measures must be what the layout gives, up to a mark of the ruler on point.
fn check_size(top: &Top, layout: &Layout, frame: &Frame) -> Result<(), String> {
    let Some(stated) = layout.finished else { return Ok(()) };
    let slack = match layout.set {
        layout::Set::Straight => 0,
        layout::Set::OnPoint => frame.sewing.ruler.ticks(),
    };
    let near = |one: Length, other: Length| (one.ticks() - other.ticks()).abs() <= slack;
    if near(stated.width, top.size.width) && near(stated.height, top.size.height) {
        return Ok(());
    }
    let shown = match layout.set {
        layout::Set::Straight => top.size,
        layout::Set::OnPoint => Size {
            width: frame.sewing.up(top.size.width).map_err(|error| error.to_string())?,
            height: frame.sewing.up(top.size.height).map_err(|error| error.to_string())?,
        },
    };
    Err(format!(
        "the layout makes a quilt of {} finished, not {}",
        shown.show(frame.units),
        stated.show(frame.units)
    ))
}

/// The four corners of a rectangle, clockwise from the upper left.
fn rectangle(at: Point, size: Size) -> Vec<Point> {
    let (right, bottom) = (at.x + size.width, at.y + size.height);
    vec![at, Point { x: right, y: at.y }, Point { x: right, y: bottom }, Point { x: at.x, y: bottom }]
}
