//! Where everything lies: patches of a block, and of the whole quilt, as polygons for a drawing.
//!
//! Finished sizes in ticks, x to the right, y down. Straight sets are exact; on point, coordinates are rounded to
//! the nearest tick. Nothing is cut by these numbers.

use crate::length::Length;
use crate::length::Units;
use crate::pattern::setting::{self, Frame, PlacedBlock, Point, Purpose, Top};
use crate::pattern::unit::{Corner, Kind};
use crate::pattern::{Block, BlockId, Cell, Part, Pattern, RoleId, Sewing, Size, Turn, rules, seam};

/// A patch of one fabric.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Drawn {
    /// Its fabric; `None` for a free unit, whose inside is not described.
    pub role: Option<RoleId>,
    /// What the pattern calls the unit or piece it belongs to.
    pub unit: String,
    /// What it is cut and sewn from; `None` for a setting piece.
    pub source: Option<Source>,
    /// Its corners in order.
    pub corners: Vec<Point>,
}

/// Where in the description of a block a patch comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Source {
    /// A piece of the line with this index in [`Block::pieces`].
    Piece(usize),
    /// A part of a unit.
    Unit {
        /// Index in [`Block::units`].
        unit: usize,
        /// Which of these units of the block copy, from 0, in the order in which they are drawn.
        number: usize,
        /// Which patch of the unit, from 0, in the order in which a unit of its kind is drawn.
        part: usize,
        /// Whether the unit lies turned by a quarter.
        turned: bool,
    },
}

/// A patch on the quilt top.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct QuiltPatch {
    /// The block and copy it belongs to; `None` for a setting piece.
    pub block: Option<(BlockId, u32)>,
    /// What a setting piece is for.
    pub purpose: Option<Purpose>,
    /// The patch.
    pub patch: Drawn,
}

/// The quilt top of a pattern with a layout; `None` when it has none or its blocks do not fit in it.
pub fn top(pattern: &Pattern) -> Option<Top> {
    let layout = pattern.layout.as_ref()?;
    let keeps_up: Vec<bool> =
        pattern.roles.iter().map(|role| role.rules.direction == rules::Direction::Kept).collect();
    let sewing: Sewing = pattern.sewing.unwrap_or_default();
    let frame = Frame { blocks: &pattern.blocks, sewing, units: Units::Inches, keeps_up: &keeps_up };
    setting::work_out(layout, &frame).ok()
}

/// The patches of one kind of block, upright, from its upper left corner; empty when it has no rows.
pub fn block(block: &Block) -> Vec<Drawn> {
    let mut pen = Pen { block, drawn: vec![0; block.units.len()] };
    let origin = Point { x: Length::ZERO, y: Length::ZERO };
    pen.rows(&block.rows, &Place { at: origin, size: Size::default(), turn: Turn::Up, across: false }, 0)
}

/// The patches of the whole quilt: blocks in reading order, then setting pieces. `None` as for [`top`].
pub fn quilt(pattern: &Pattern) -> Option<Vec<QuiltPatch>> {
    let top = top(pattern)?;
    let on_point =
        pattern.layout.as_ref().is_some_and(|layout| layout.set == crate::pattern::layout::Set::OnPoint);
    let blocks: Vec<Vec<Drawn>> = pattern.blocks.iter().map(block).collect();
    let mut patches = Vec::new();
    for placed in &top.blocks {
        for patch in &blocks[placed.cell.block.0] {
            let corners = patch.corners.iter().map(|&corner| on_quilt(corner, placed, on_point)).collect();
            let patch = Drawn { corners, ..patch.clone() };
            let block = Some((placed.cell.block, placed.cell.copy));
            patches.push(QuiltPatch { block, purpose: None, patch });
        }
    }
    for patch in top.patches {
        let drawn =
            Drawn { role: Some(patch.role), unit: String::new(), source: None, corners: patch.corners };
        patches.push(QuiltPatch { block: None, purpose: Some(patch.purpose), patch: drawn });
    }
    Some(patches)
}

/// The outline of every block of the quilt, in the order of [`Top::blocks`].
pub fn outlines(pattern: &Pattern, top: &Top) -> Vec<Vec<Point>> {
    let on_point =
        pattern.layout.as_ref().is_some_and(|layout| layout.set == crate::pattern::layout::Set::OnPoint);
    let outline = |placed: &PlacedBlock| {
        let upright = placed.size.turned(placed.cell.turn);
        rectangle(upright).into_iter().map(|corner| on_quilt(corner, placed, on_point)).collect()
    };
    top.blocks.iter().map(outline).collect()
}

/// A point of an upright block, moved to where a copy of it lies.
fn on_quilt(corner: Point, placed: &PlacedBlock, on_point: bool) -> Point {
    let upright = placed.size.turned(placed.cell.turn);
    let turned = turn(corner, upright, placed.cell.turn);
    if !on_point {
        return Point { x: placed.at.x + turned.x, y: placed.at.y + turned.y };
    }
    // A step of one side along a block's edge goes half its diagonal across and half down.
    let side = placed.size.width;
    let diagonal = seam::diagonal(side).unwrap_or_default();
    let scaled = |sum: Length| -> Length {
        let numerator = i128::from(sum.ticks()) * i128::from(diagonal.ticks());
        let denominator = 2 * i128::from(side.ticks().max(1));
        Length::from_ticks(
            i64::try_from((2 * numerator + denominator).div_euclid(2 * denominator)).unwrap_or(0),
        )
    };
    Point { x: placed.at.x + scaled(turned.x - turned.y), y: placed.at.y + scaled(turned.x + turned.y) }
}

/// Where something lies: its upper left corner, its size before turning, its turn.
struct Place {
    at: Point,
    size: Size,
    turn: Turn,
    /// Whether its width and height change places on the block, with the turns of all it lies in.
    across: bool,
}

impl Place {
    fn moved(&self, corner: Point) -> Point {
        let turned = turn(corner, self.size, self.turn);
        Point { x: self.at.x + turned.x, y: self.at.y + turned.y }
    }
}

/// A point of something of `size`, after the whole is turned and its upper left corner put back to the origin.
fn turn(point: Point, size: Size, turn: Turn) -> Point {
    let Point { x, y } = point;
    match turn {
        Turn::Up => point,
        Turn::Right => Point { x: size.height - y, y: x },
        Turn::Down => Point { x: size.width - x, y: size.height - y },
        Turn::Left => Point { x: y, y: size.width - x },
    }
}

/// The work on one block.
struct Pen<'a> {
    block: &'a Block,
    /// How many of each unit are drawn.
    drawn: Vec<usize>,
}

impl Pen<'_> {
    /// Rows within a place. Units nest; the reader has refused circles, and `depth` guards against a model that
    /// was built by hand.
    fn rows(&mut self, rows: &[Vec<Cell>], place: &Place, depth: usize) -> Vec<Drawn> {
        let block = self.block;
        if depth > block.units.len() {
            return Vec::new();
        }
        let mut inner: Vec<Drawn> = Vec::new();
        let mut y = Length::ZERO;
        for row in rows {
            let mut x = Length::ZERO;
            let mut height = Length::ZERO;
            for cell in row {
                let Some(lying) = block.cell_size(cell) else { continue };
                // Turning twice by the same quarter gives the upright size back.
                let size = lying.turned(cell.turn);
                let across = place.across != cell.turn.swaps();
                let here = Place { at: Point { x, y }, size, turn: cell.turn, across };
                match cell.part {
                    Part::Piece(index, role) => {
                        let corners = rectangle(size).map(|corner| here.moved(corner)).to_vec();
                        let unit = block.pieces.get(index).map(|line| line.label.clone()).unwrap_or_default();
                        let source = Some(Source::Piece(index));
                        inner.push(Drawn { role: Some(role), unit, source, corners });
                    }
                    Part::Unit(index) => inner.append(&mut self.unit(index, &here, depth)),
                }
                x += lying.width;
                height = height.max(lying.height);
            }
            y += height;
        }
        for corner in inner.iter_mut().flat_map(|patch| &mut patch.corners) {
            *corner = place.moved(*corner);
        }
        inner
    }

    fn unit(&mut self, index: usize, place: &Place, depth: usize) -> Vec<Drawn> {
        let unit = &self.block.units[index];
        if let Kind::Rows { rows } = &unit.kind {
            return self.rows(rows, place, depth + 1);
        }
        let number = self.drawn[index];
        self.drawn[index] += 1;
        let patches =
            shapes(&unit.kind, place.size).into_iter().enumerate().map(|(part, (role, corners))| {
                let source = Source::Unit { unit: index, number, part, turned: place.across };
                let corners = corners.into_iter().map(|corner| place.moved(corner)).collect();
                Drawn { role, unit: unit.name.clone(), source: Some(source), corners }
            });
        patches.collect()
    }
}

/// The patches of a unit as described, upright, from its upper left corner.
fn shapes(kind: &Kind, size: Size) -> Vec<(Option<RoleId>, Vec<Point>)> {
    let Size { width: w, height: h } = size;
    let zero = Length::ZERO;
    let at = |x: Length, y: Length| Point { x, y };
    let [upper_left, upper_right, lower_right, lower_left] = rectangle(size);
    let (half_w, half_h) = (half(w), half(h));
    let middle = at(half_w, half_h);
    let top = vec![upper_left, upper_right, middle];
    let right = vec![upper_right, lower_right, middle];
    let bottom = vec![lower_right, lower_left, middle];
    let left = vec![lower_left, upper_left, middle];
    match kind {
        Kind::Patch { role } => vec![(Some(*role), rectangle(size).to_vec())],
        Kind::HalfSquare { roles: [one, other] } => vec![
            (Some(*one), vec![upper_left, upper_right, lower_left]),
            (Some(*other), vec![upper_right, lower_right, lower_left]),
        ],
        Kind::QuarterSquare { roles } => match roles[..] {
            [one, other] => {
                vec![(Some(one), top), (Some(other), right), (Some(one), bottom), (Some(other), left)]
            }
            [one, other, large] => vec![
                (Some(one), top),
                (Some(other), left),
                (Some(large), vec![upper_right, lower_right, lower_left]),
            ],
            _ => roles.iter().map(|&role| Some(role)).zip([top, right, bottom, left]).collect(),
        },
        Kind::Geese { goose, left, right } => vec![
            (Some(*goose), vec![lower_left, at(half_w, zero), lower_right]),
            (Some(*left), vec![upper_left, at(half_w, zero), lower_left]),
            (Some(*right), vec![at(half_w, zero), upper_right, lower_right]),
        ],
        Kind::FoldedCorners { base, corners, side } => folded(*base, corners, *side, size),
        Kind::SquareInSquare { centre, corners } => {
            let points = [at(half_w, zero), at(w, half_h), at(half_w, h), at(zero, half_h)];
            vec![
                (Some(*centre), points.to_vec()),
                (Some(*corners), vec![upper_left, points[0], points[3]]),
                (Some(*corners), vec![upper_right, points[1], points[0]]),
                (Some(*corners), vec![lower_right, points[2], points[1]]),
                (Some(*corners), vec![lower_left, points[3], points[2]]),
            ]
        }
        Kind::StripSet { strips, .. } => {
            let mut y = zero;
            let strips = strips.iter().map(|&(role, height)| {
                let (from, to) = (y, y + height);
                y = to;
                (Some(role), vec![at(zero, from), at(w, from), at(w, to), at(zero, to)])
            });
            strips.collect()
        }
        Kind::Free { .. } => vec![(None, rectangle(size).to_vec())],
        Kind::TrianglesCutOnce { .. } | Kind::TrianglesCutTwice { .. } | Kind::Rows { .. } => Vec::new(),
    }
}

/// The base with the folded corners taken off, and the corners.
fn folded(
    base: RoleId,
    corners: &[(Corner, RoleId)],
    side: Length,
    size: Size,
) -> Vec<(Option<RoleId>, Vec<Point>)> {
    let Size { width: w, height: h } = size;
    let zero = Length::ZERO;
    let at = |x: Length, y: Length| Point { x, y };
    // Each corner: the points where its fold meets the edge before and after it, going round clockwise.
    let all = [
        (Corner::UpperLeft, at(zero, zero), at(zero, side), at(side, zero)),
        (Corner::UpperRight, at(w, zero), at(w - side, zero), at(w, side)),
        (Corner::LowerRight, at(w, h), at(w, h - side), at(w - side, h)),
        (Corner::LowerLeft, at(zero, h), at(side, h), at(zero, h - side)),
    ];
    let mut outline = Vec::new();
    let mut triangles = Vec::new();
    for (corner, point, before, after) in all {
        match corners.iter().find(|(other, _)| *other == corner) {
            Some(&(_, role)) => {
                outline.extend([before, after]);
                triangles.push((Some(role), vec![point, after, before]));
            }
            None => outline.push(point),
        }
    }
    let mut patches = vec![(Some(base), outline)];
    patches.append(&mut triangles);
    patches
}

fn half(length: Length) -> Length {
    Length::from_ticks(length.ticks() / 2)
}

/// Corners of a rectangle from the origin, clockwise from the upper left.
fn rectangle(size: Size) -> [Point; 4] {
    let Size { width, height } = size;
    let zero = Length::ZERO;
    [
        Point { x: zero, y: zero },
        Point { x: width, y: zero },
        Point { x: width, y: height },
        Point { x: zero, y: height },
    ]
}
