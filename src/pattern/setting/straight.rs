//! Straight sets: rows of blocks, sashing between them.

use crate::length::Length;
use crate::pattern::assembly::{self, Place, solve};
use crate::pattern::layout::Sashing;
use crate::pattern::setting::{Frame, Patch, PlacedBlock, Point, Purpose, Top, rectangle};
use crate::pattern::{BlockCell, Layout, RoleId, Size};

/// Everything inside the borders.
pub(super) fn centre(layout: &Layout, frame: &Frame) -> Result<Top, String> {
    if !layout.between.is_empty() || layout.setting.is_some() {
        return Err("rows between and setting triangles belong to a quilt on point".to_string());
    }
    let heights = check_rows(layout, frame)?;
    let mut top = Top::default();
    let mut y = Length::ZERO;
    let columns = columns(layout, frame)?;
    let around = layout.sashing.as_ref().filter(|sashing| sashing.around);
    if let Some(sashing) = around {
        y += cross(&mut top, y, sashing, &columns);
    }
    for (index, (row, &height)) in layout.rows.iter().zip(&heights).enumerate() {
        if index > 0
            && let Some(sashing) = &layout.sashing
        {
            y += cross(&mut top, y, sashing, &columns);
        }
        along(&mut top, row, Size { width: y, height }, layout.sashing.as_ref(), frame)?;
        y += height;
    }
    if let Some(sashing) = around {
        y += cross(&mut top, y, sashing, &columns);
    }
    top.size = Size { width: columns.width, height: y };
    Ok(top)
}

/// Row heights, after checking that every row is as wide as the first and its blocks equally high.
fn check_rows(layout: &Layout, frame: &Frame) -> Result<Vec<Length>, String> {
    let mut rows = Vec::new();
    for row in &layout.rows {
        let mut places: Vec<Place> = Vec::new();
        let mut height = None;
        for cell in row {
            let size = frame.size(cell)?;
            let height = *height.get_or_insert(size.height);
            if let Some(sashing) =
                layout.sashing.as_ref().filter(|sashing| !places.is_empty() || sashing.around)
            {
                let size = Some(Size { width: sashing.width, height });
                places.push(Place { name: "sashing".to_string(), size });
            }
            places.push(Place { name: frame.blocks[cell.block.0].name.clone(), size: Some(size) });
        }
        if let (Some(sashing), Some(height)) =
            (layout.sashing.as_ref().filter(|sashing| sashing.around), height)
        {
            let size = Some(Size { width: sashing.width, height });
            places.push(Place { name: "sashing".to_string(), size });
        }
        rows.push(places);
    }
    let plain = assembly::Frame { whole: None, sewing: frame.sewing, units: frame.units };
    let solved = solve(&rows, &plain).map_err(|mismatch| match mismatch.row {
        Some(row) => format!("row {row}: {}", mismatch.text),
        None => mismatch.text,
    })?;
    Ok(solved.sizes.iter().map(|row| row.first().map_or(Length::ZERO, |size| size.height)).collect())
}

/// What runs across between two rows.
struct Columns {
    /// Finished widths of the blocks of the first row.
    blocks: Vec<Length>,
    /// Width of the whole.
    width: Length,
}

/// Columns of the first row; with cornerstones every other row must have the same.
fn columns(layout: &Layout, frame: &Frame) -> Result<Columns, String> {
    let widths = |row: &[BlockCell]| -> Result<Vec<Length>, String> {
        row.iter().map(|cell| frame.size(cell).map(|size| size.width)).collect()
    };
    let blocks = widths(layout.rows.first().map_or(&[], Vec::as_slice))?;
    if layout.sashing.as_ref().is_some_and(|sashing| sashing.cornerstones.is_some()) {
        for (index, row) in layout.rows.iter().enumerate() {
            if widths(row)? != blocks {
                return Err(format!(
                    "the columns of row {} are not those of row 1, so its cornerstones would not meet the sashing",
                    index + 1
                ));
            }
        }
    }
    let between = layout.sashing.as_ref().map_or(Length::ZERO, |sashing| {
        let strips = if sashing.around { blocks.len() + 1 } else { blocks.len().saturating_sub(1) };
        (0..strips).map(|_| sashing.width).sum()
    });
    let width = blocks.iter().copied().sum::<Length>() + between;
    Ok(Columns { blocks, width })
}

/// One row of blocks with the sashing between; `row_at` is its y and height.
fn along(
    top: &mut Top,
    row: &[BlockCell],
    row_at: Size,
    sashing: Option<&Sashing>,
    frame: &Frame,
) -> Result<(), String> {
    let (y, height) = (row_at.width, row_at.height);
    let mut x = Length::ZERO;
    for (index, cell) in row.iter().enumerate() {
        if let Some(sashing) = sashing.filter(|sashing| index > 0 || sashing.around) {
            x += lay(
                top,
                Point { x, y },
                Size { width: sashing.width, height },
                sashing.role,
                Purpose::Sashing,
            )
            .width;
        }
        let size = frame.size(cell)?;
        top.blocks.push(PlacedBlock { cell: *cell, at: Point { x, y }, size });
        x += size.width;
    }
    if let Some(sashing) = sashing.filter(|sashing| sashing.around) {
        lay(top, Point { x, y }, Size { width: sashing.width, height }, sashing.role, Purpose::Sashing);
    }
    Ok(())
}

/// The sashing between two rows; returns its width.
fn cross(top: &mut Top, y: Length, sashing: &Sashing, columns: &Columns) -> Length {
    let Some(cornerstones) = sashing.cornerstones else {
        let size = Size { width: columns.width, height: sashing.width };
        lay(top, Point { x: Length::ZERO, y }, size, sashing.role, Purpose::Sashing);
        return sashing.width;
    };
    let mut x = Length::ZERO;
    let post = Size::square(sashing.width);
    for (index, &width) in columns.blocks.iter().enumerate() {
        if index > 0 || sashing.around {
            x += lay(top, Point { x, y }, post, cornerstones, Purpose::Cornerstone).width;
        }
        let size = Size { width, height: sashing.width };
        x += lay(top, Point { x, y }, size, sashing.role, Purpose::Sashing).width;
    }
    if sashing.around {
        lay(top, Point { x, y }, post, cornerstones, Purpose::Cornerstone);
    }
    sashing.width
}

fn lay(top: &mut Top, at: Point, size: Size, role: RoleId, purpose: Purpose) -> Size {
    top.patches.push(Patch { purpose, role, corners: rectangle(at, size) });
    size
}
