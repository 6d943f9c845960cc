//! Sets on point: blocks corner to corner, blocks between them, triangles round the edge.

use crate::length::Length;
use crate::pattern::seam::diagonal;
use crate::pattern::setting::{Frame, Patch, PlacedBlock, Point, Purpose, Top};
use crate::pattern::{BlockCell, Layout, RoleId, Size};

/// Everything inside the borders.
pub(super) fn centre(layout: &Layout, frame: &Frame) -> Result<Top, String> {
    if layout.sashing.is_some() {
        return Err("sashing on point is not worked out: give its pieces with [[piece]] instead".to_string());
    }
    let (across, down) = check_shape(layout)?;
    let side = block_side(layout, frame)?;
    let setting = layout.setting.ok_or("a quilt on point needs setting = the role of its edge triangles")?;
    let step = diagonal(side).map_err(|error| error.to_string())?;
    let mut top =
        Top { size: Size { width: times(step, across), height: times(step, down) }, ..Top::default() };
    let half = Length::from_ticks(step.ticks() / 2);
    for (row, cells) in layout.rows.iter().enumerate() {
        for (column, &cell) in cells.iter().enumerate() {
            let at = Point { x: times(step, column) + half, y: times(step, row) };
            top.blocks.push(PlacedBlock { cell, at, size: Size::square(side) });
        }
    }
    for (row, cells) in layout.between.iter().enumerate() {
        for (column, &cell) in cells.iter().enumerate() {
            let at = Point { x: times(step, column + 1), y: times(step, row) + half };
            top.blocks.push(PlacedBlock { cell, at, size: Size::square(side) });
        }
    }
    edge(&mut top, setting, across, down, step);
    Ok(top)
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
    let right = layout.between.len() == down - 1 && layout.between.iter().all(|row| row.len() == across - 1);
    if !right && across > 1 && down > 1 {
        let found: Vec<String> = layout.between.iter().map(|row| row.len().to_string()).collect();
        return Err(format!(
            "{across} x {down} blocks on point have {} rows of {} between them; between has rows of: {}",
            down - 1,
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

/// Triangles at sides and corners.
fn edge(top: &mut Top, role: RoleId, across: usize, down: usize, step: Length) {
    let half = Length::from_ticks(step.ticks() / 2);
    let Size { width: right, height: bottom } = top.size;
    let point = |x: Length, y: Length| Point { x, y };
    let zero = Length::ZERO;
    let mut triangle = |purpose: Purpose, corners: [Point; 3]| {
        top.patches.push(Patch { purpose, role, corners: corners.to_vec() });
    };
    for column in 1..across {
        let x = times(step, column);
        let (left_end, right_end) = (x - half, x + half);
        triangle(Purpose::SideTriangle, [point(left_end, zero), point(right_end, zero), point(x, half)]);
        triangle(
            Purpose::SideTriangle,
            [point(left_end, bottom), point(right_end, bottom), point(x, bottom - half)],
        );
    }
    for row in 1..down {
        let y = times(step, row);
        let (upper, lower) = (y - half, y + half);
        triangle(Purpose::SideTriangle, [point(zero, upper), point(zero, lower), point(half, y)]);
        triangle(Purpose::SideTriangle, [point(right, upper), point(right, lower), point(right - half, y)]);
    }
    for (x, inward) in [(zero, half), (right, right - half)] {
        triangle(Purpose::CornerTriangle, [point(x, zero), point(inward, zero), point(x, half)]);
        triangle(Purpose::CornerTriangle, [point(x, bottom), point(inward, bottom), point(x, bottom - half)]);
    }
}

fn times(length: Length, by: usize) -> Length {
    (0..by).map(|_| length).sum()
}
