//! What to cut for the setting: one line for alike pieces, strips joined where the designer asks for it.

use crate::length::Length;
use crate::pattern::layout::{Layout, Set};
use crate::pattern::seam::SeamError;
use crate::pattern::setting::cut::{as_it_lies, said};
use crate::pattern::setting::{Frame, Patch, Purpose, Top, joined};
use crate::pattern::{Count, Matching, PieceLine, RoleId, Shape, Size};

/// A line before it gets its label.
struct Line {
    purpose: Purpose,
    role: RoleId,
    size: Size,
    count: u32,
    shape: Shape,
}

/// The lines of all setting pieces; matching is left at `piece` for the reader to set.
pub(super) fn lines(top: &Top, layout: &Layout, frame: &Frame) -> Result<Vec<PieceLine>, String> {
    let mut lines = Vec::new();
    let mut joined: Vec<&Patch> = Vec::new();
    for patch in &top.patches {
        match patch.purpose {
            Purpose::SideTriangle | Purpose::CornerTriangle | Purpose::EdgeCornerstone => {}
            Purpose::Sashing | Purpose::Cornerstone if layout.set == Set::OnPoint => {}
            _ if joined::strip_length(patch, layout).is_some() => joined.push(patch),
            _ => add(&mut lines, patch.purpose, patch.role, cut_size(patch, layout, frame)?),
        }
    }
    if layout.set == Set::OnPoint {
        on_point(top, layout, frame, &mut lines)?;
    }
    for (purpose, role, size, count) in joined::strips(layout, &joined, frame)? {
        lines.push(Line { purpose, role, size, count, shape: Shape::Rectangle });
    }
    Ok(labelled(lines, layout.line))
}

fn add(lines: &mut Vec<Line>, purpose: Purpose, role: RoleId, size: Size) {
    let alike = |line: &&mut Line| line.purpose == purpose && line.role == role && line.size == size;
    match lines.iter_mut().find(alike) {
        Some(line) => line.count += 1,
        None => lines.push(Line { purpose, role, size, count: 1, shape: Shape::Rectangle }),
    }
}

/// Cut size: as it lies when the up is kept, else the long side along the grain.
fn cut_size(patch: &Patch, layout: &Layout, frame: &Frame) -> Result<Size, String> {
    let Size { width, height } = as_it_lies(patch, layout, frame)?;
    if frame.keeps_up[patch.role.0] {
        return Ok(Size { width, height });
    }
    Ok(Size { width: width.min(height), height: width.max(height) })
}

/// What a quilt on point takes inside its borders: squares for four side triangles or two corners each, and its
/// sashing.
fn on_point(top: &Top, layout: &Layout, frame: &Frame, lines: &mut Vec<Line>) -> Result<(), String> {
    let Some(setting) = layout.setting else { return Ok(()) };
    let Some(side) = top.blocks.first().map(|block| block.size.width) else { return Ok(()) };
    let (sewing, exact) = (&frame.sewing, frame.sewing.to_the_tick());
    let larger = |square: Length| sewing.up(square + layout.oversize);
    let squares: [(Purpose, RoleId, Result<Length, SeamError>, Shape); 2] = [
        (Purpose::SideTriangle, setting, exact.setting_side(side).and_then(larger), Shape::CutTwice),
        (Purpose::CornerTriangle, setting, exact.setting_corner(side).and_then(larger), Shape::CutOnce),
    ];
    for (purpose, role, square, shape) in squares {
        add_many(top, lines, purpose, role, Size::square(said(square)?), shape);
    }
    let Some(sashing) = &layout.sashing else { return Ok(()) };
    let strip = Size { width: said(sewing.patch(sashing.width))?, height: said(sewing.patch(side))? };
    add_many(top, lines, Purpose::Sashing, sashing.role, strip, Shape::Rectangle);
    let Some(role) = sashing.cornerstones else { return Ok(()) };
    let whole = Size::square(said(sewing.patch(sashing.width))?);
    add_many(top, lines, Purpose::Cornerstone, role, whole, Shape::Rectangle);
    let halves = Size::square(said(sewing.setting_side(sashing.width))?);
    add_many(top, lines, Purpose::EdgeCornerstone, role, halves, Shape::CutTwice);
    Ok(())
}

/// As many pieces as the patches of a purpose take; nothing when there are none.
fn add_many(top: &Top, lines: &mut Vec<Line>, purpose: Purpose, role: RoleId, size: Size, shape: Shape) {
    let patches = top.patches.iter().filter(|patch| patch.purpose == purpose).count();
    let each = match shape {
        Shape::Rectangle => 1,
        Shape::CutOnce => 2,
        Shape::CutTwice => 4,
    };
    let count = u32::try_from(patches).unwrap_or(u32::MAX).div_ceil(each);
    if count > 0 {
        lines.push(Line { purpose, role, size, count, shape });
    }
}

/// Labels in words; numbered where several sizes serve one purpose.
fn labelled(lines: Vec<Line>, line: u64) -> Vec<PieceLine> {
    let names: Vec<String> = lines.iter().map(|line| line.purpose.label()).collect();
    let mut out = Vec::new();
    for (index, each) in lines.iter().enumerate() {
        let alike = names.iter().filter(|other| **other == names[index]).count();
        let before = names[..index].iter().filter(|other| **other == names[index]).count();
        let label =
            if alike > 1 { format!("{} {}", names[index], letter(before)) } else { names[index].clone() };
        out.push(PieceLine {
            label,
            role: each.role,
            width: each.size.width,
            height: each.size.height,
            count: Count::PerCopy(each.count),
            shape: each.shape,
            matching: Matching::Piece,
            line,
        });
    }
    out
}

/// `a`, `b` ... and numbers after `z`.
fn letter(index: usize) -> String {
    ('a'..='z').nth(index).map_or_else(|| index.to_string(), String::from)
}
