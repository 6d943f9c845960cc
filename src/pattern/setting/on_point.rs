//! Sets on point: blocks corner to corner, blocks between them, triangles round the edge.
//!
//! With sashing the blocks stand one sashing apart, and the edge of the quilt runs through the middles of the outer
//! cornerstones. Of the distance between two of these, p x sqrt 2 for p = block + sashing, each takes half its own
//! diagonal: (p - sashing) x sqrt 2 is left, so the side triangles are those of the block without sashing. A corner
//! of the quilt is p away from the middle of its block, of which half the block and the sashing are covered: the
//! long side of the corner triangle is twice the rest, again the side of the block. Derived here; no source.

use crate::length::Length;
use crate::pattern::layout::Sashing;
use crate::pattern::seam::diagonal;
use crate::pattern::setting::{Frame, Patch, PlacedBlock, Point, Purpose, Top};
use crate::pattern::{BlockCell, Layout, RoleId, Size};

/// Everything inside the borders.
pub(super) fn centre(layout: &Layout, frame: &Frame) -> Result<Top, String> {
    let (across, down) = check_shape(layout)?;
    let side = block_side(layout, frame)?;
    let setting = layout.setting.ok_or("a quilt on point needs setting = the role of its edge triangles")?;
    let sashing = layout.sashing.as_ref();
    let between = sashing.map_or(Length::ZERO, |sashing| sashing.width);
    let pitch = side + between;
    let step = diagonal(pitch).map_err(|error| error.to_string())?;
    let mut top =
        Top { size: Size { width: times(step, across), height: times(step, down) }, ..Top::default() };
    let half = half(step);
    let main = layout.rows.iter().enumerate().flat_map(|(row, cells)| {
        let middle = move |column| Point { x: times(step, column) + half, y: times(step, row) + half };
        cells.iter().enumerate().map(move |(column, &cell)| (middle(column), cell))
    });
    let others = layout.between.iter().enumerate().flat_map(|(row, cells)| {
        let middle = move |column| Point { x: times(step, column), y: times(step, row + 1) };
        cells.iter().enumerate().map(move |(column, &cell)| (middle(column + 1), cell))
    });
    let frame = Slanted { pitch, step };
    let up = Length::from_ticks(-side.ticks() / 2);
    for (middle, cell) in main.chain(others) {
        top.blocks.push(PlacedBlock { cell, at: frame.point(middle, up, up), size: Size::square(side) });
    }
    if let Some(sashing) = sashing {
        let Some(cornerstones) = sashing.cornerstones else {
            return Err("sashing on point needs cornerstones = the role of its squares".to_string());
        };
        lay_sashing(&mut top, side, sashing, &frame, (across, down));
        lay_cornerstones(&mut top, cornerstones, sashing.width, &frame, (across, down));
    }
    edge(&mut top, setting, across, down, step, side);
    Ok(top)
}

/// Lengths along the slanted edges of blocks, as a drawing needs them.
struct Slanted {
    /// Distance from block to block along an edge.
    pitch: Length,
    /// Its diagonal: distance from block to block across.
    step: Length,
}

impl Slanted {
    /// The point that lies `along` to the lower right and `down` to the lower left of `from`.
    fn point(&self, from: Point, along: Length, down: Length) -> Point {
        let scaled = |ticks: i64| -> Length {
            let numerator = i128::from(ticks) * i128::from(self.step.ticks());
            let denominator = 2 * i128::from(self.pitch.ticks().max(1));
            let nearest = (2 * numerator + denominator).div_euclid(2 * denominator);
            Length::from_ticks(i64::try_from(nearest).unwrap_or_default())
        };
        let (along, down) = (along.ticks(), down.ticks());
        Point { x: from.x + scaled(along - down), y: from.y + scaled(along + down) }
    }
}

/// Four strips round every block of the main rows; the blocks between share them.
fn lay_sashing(
    top: &mut Top,
    side: Length,
    sashing: &Sashing,
    frame: &Slanted,
    (across, down): (usize, usize),
) {
    let near = Length::from_ticks(side.ticks() / 2);
    let far = near + sashing.width;
    let minus = |length: Length| Length::ZERO - length;
    for row in 0..down {
        for column in 0..across {
            let half = half(frame.step);
            let middle = Point { x: times(frame.step, column) + half, y: times(frame.step, row) + half };
            let strips = [
                [
                    (minus(near), minus(far)),
                    (near, minus(far)),
                    (near, minus(near)),
                    (minus(near), minus(near)),
                ],
                [(near, minus(near)), (far, minus(near)), (far, near), (near, near)],
                [(minus(near), near), (near, near), (near, far), (minus(near), far)],
                [
                    (minus(far), minus(near)),
                    (minus(near), minus(near)),
                    (minus(near), near),
                    (minus(far), near),
                ],
            ];
            for strip in strips {
                let corners = strip.map(|(along, down)| frame.point(middle, along, down)).to_vec();
                top.patches.push(Patch { purpose: Purpose::Sashing, role: sashing.role, corners });
            }
        }
    }
}

/// Squares where sashing crosses, halved by the edge of the quilt.
fn lay_cornerstones(
    top: &mut Top,
    role: RoleId,
    width: Length,
    frame: &Slanted,
    (across, down): (usize, usize),
) {
    let half_step = half(frame.step);
    let half_width = half(width);
    let minus = Length::ZERO - half_width;
    let Size { width: right, height: bottom } = top.size;
    let beside = (0..down).flat_map(|row| (0..=across).map(move |column| (2 * column, 2 * row + 1)));
    let above = (0..=down).flat_map(|row| (0..across).map(move |column| (2 * column + 1, 2 * row)));
    for (x, y) in beside.chain(above) {
        let middle = Point { x: times(half_step, x), y: times(half_step, y) };
        let middle = Point {
            x: if x == 2 * across { right } else { middle.x },
            y: if y == 2 * down { bottom } else { middle.y },
        };
        // Upper, right, lower and left corner of the square on its point.
        let [upper, to_right, lower, to_left] =
            [(minus, minus), (half_width, minus), (half_width, half_width), (minus, half_width)]
                .map(|(along, down)| frame.point(middle, along, down));
        let (purpose, corners) = match (x, y) {
            (0, _) => (Purpose::EdgeCornerstone, vec![upper, to_right, lower]),
            (_, 0) => (Purpose::EdgeCornerstone, vec![to_right, lower, to_left]),
            (x, _) if x == 2 * across => (Purpose::EdgeCornerstone, vec![upper, lower, to_left]),
            (_, y) if y == 2 * down => (Purpose::EdgeCornerstone, vec![upper, to_right, to_left]),
            _ => (Purpose::Cornerstone, vec![upper, to_right, lower, to_left]),
        };
        top.patches.push(Patch { purpose, role, corners });
    }
}

/// Blocks across and down, after checking that both kinds of row have the right number.
fn check_shape(layout: &Layout) -> Result<(usize, usize), String> {
    let (across, down) = (layout.rows.first().map_or(0, Vec::len), layout.rows.len());
    if across == 0 {
        return Err("there are no rows of blocks".to_string());
    }
    if let Some(row) = layout.rows.iter().position(|row| row.len() != across) {
        return Err(format!("row {} has {} blocks, and row 1 has {across}", row + 1, layout.rows[row].len()));
    }
    let rows_between = if across > 1 { down - 1 } else { 0 };
    let right =
        layout.between.len() == rows_between && layout.between.iter().all(|row| row.len() == across - 1);
    if !right {
        let found: Vec<String> = layout.between.iter().map(|row| row.len().to_string()).collect();
        return Err(format!(
            "{across} x {down} blocks on point have {rows_between} rows of {} between them; between has rows of: {}",
            across - 1,
            if found.is_empty() { "nothing".to_string() } else { found.join(", ") }
        ));
    }
    Ok((across, down))
}

/// The finished side that all blocks share.
fn block_side(layout: &Layout, frame: &Frame) -> Result<Length, String> {
    let cells = layout.rows.iter().chain(&layout.between).flatten();
    let mut first: Option<(&BlockCell, Length)> = None;
    for cell in cells {
        let size = frame.size(cell)?;
        let name = &frame.blocks[cell.block.0].name;
        if size.width != size.height {
            return Err(format!("\"{name}\" is not square, and blocks on point are"));
        }
        match first {
            Some((other, side)) if side != size.width => {
                return Err(format!(
                    "\"{}\" is {} finished and \"{name}\" {}, and blocks on point are alike",
                    frame.blocks[other.block.0].name,
                    side.show(frame.units),
                    size.width.show(frame.units)
                ));
            }
            Some(_) => {}
            None => first = Some((cell, size.width)),
        }
    }
    first.map(|(_, side)| side).ok_or_else(|| "there are no blocks".to_string())
}

/// Triangles at sides and corners. Their long side is the block's diagonal or side, sashed or not.
fn edge(top: &mut Top, role: RoleId, across: usize, down: usize, step: Length, side: Length) {
    let long = diagonal(side).unwrap_or_default();
    let reach = half(long);
    let Size { width: right, height: bottom } = top.size;
    let point = |x: Length, y: Length| Point { x, y };
    let zero = Length::ZERO;
    let mut triangle = |purpose: Purpose, corners: [Point; 3]| {
        top.patches.push(Patch { purpose, role, corners: corners.to_vec() });
    };
    for column in 1..across {
        let x = times(step, column);
        let (from, to) = (x - reach, x + reach);
        triangle(Purpose::SideTriangle, [point(from, zero), point(to, zero), point(x, reach)]);
        triangle(Purpose::SideTriangle, [point(from, bottom), point(to, bottom), point(x, bottom - reach)]);
    }
    for row in 1..down {
        let y = times(step, row);
        let (from, to) = (y - reach, y + reach);
        triangle(Purpose::SideTriangle, [point(zero, from), point(zero, to), point(reach, y)]);
        triangle(Purpose::SideTriangle, [point(right, from), point(right, to), point(right - reach, y)]);
    }
    for (x, inward) in [(zero, reach), (right, right - reach)] {
        triangle(Purpose::CornerTriangle, [point(x, zero), point(inward, zero), point(x, reach)]);
        triangle(
            Purpose::CornerTriangle,
            [point(x, bottom), point(inward, bottom), point(x, bottom - reach)],
        );
    }
}

fn half(length: Length) -> Length {
    Length::from_ticks(length.ticks() / 2)
}

fn times(length: Length, by: usize) -> Length {
    (0..by).map(|_| length).sum()
}
