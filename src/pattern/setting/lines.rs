//! What to cut for the setting: one line for alike pieces, strips joined where the designer asks for it.

use crate::length::Length;
use crate::pattern::layout::{Border, Layout, Sashing, Set};
use crate::pattern::seam::SeamError;
use crate::pattern::setting::{Frame, Patch, Purpose, Top};
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
            _ if strip_length(patch, layout).is_some() => joined.push(patch),
            _ => add(&mut lines, patch.purpose, patch.role, cut_size(patch, frame)?),
        }
    }
    if layout.set == Set::OnPoint {
        on_point(top, layout, frame, &mut lines)?;
    }
    join_sashing(layout, &joined, frame, &mut lines)?;
    for (index, border) in layout.borders.iter().enumerate() {
        join_border(border, index + 1, &joined, frame, &mut lines)?;
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

/// Finished size of a rectangular patch.
fn lying(patch: &Patch) -> Size {
    let (from, to) = (patch.corners[0], patch.corners[2]);
    Size { width: to.x - from.x, height: to.y - from.y }
}

/// Cut size: as it lies when the up is kept, else the long side along the grain.
fn cut_size(patch: &Patch, frame: &Frame) -> Result<Size, String> {
    let Size { width, height } = lying(patch);
    let cut = |side: Length| said(frame.sewing.patch(side));
    let (width, height) = (cut(width)?, cut(height)?);
    if frame.keeps_up[patch.role.0] {
        return Ok(Size { width, height });
    }
    Ok(Size { width: width.min(height), height: width.max(height) })
}

/// The length of the strips a patch is joined from, when it is.
fn strip_length(patch: &Patch, layout: &Layout) -> Option<Length> {
    match patch.purpose {
        Purpose::BorderSide(number) | Purpose::BorderTop(number) => layout.borders[number - 1].strip,
        Purpose::Sashing => layout.sashing.as_ref().filter(|sashing| runs_through(patch, sashing))?.strip,
        _ => None,
    }
}

/// True for sashing between rows that no cornerstone interrupts.
fn runs_through(patch: &Patch, sashing: &Sashing) -> bool {
    let size = lying(patch);
    sashing.cornerstones.is_none() && size.height == sashing.width && size.width > sashing.width
}

fn join_sashing(
    layout: &Layout,
    joined: &[&Patch],
    frame: &Frame,
    lines: &mut Vec<Line>,
) -> Result<(), String> {
    let Some(sashing) = &layout.sashing else { return Ok(()) };
    let Some(strip) = sashing.strip else { return Ok(()) };
    let long: Vec<&Patch> =
        joined.iter().copied().filter(|patch| patch.purpose == Purpose::Sashing).collect();
    if long.is_empty() {
        return Ok(());
    }
    let least = strips_for(&long, strip, frame)?;
    let count = stated_or(sashing.strips, least, least, "the long sashing")?;
    let size = strip_size(strip, sashing.width, frame)?;
    lines.push(Line { purpose: Purpose::Sashing, role: sashing.role, size, count, shape: Shape::Rectangle });
    Ok(())
}

/// Sides are joined for themselves, and so are top and bottom; the designer may say fewer strips when all four
/// can be cut from one long joined strip.
fn join_border(
    border: &Border,
    number: usize,
    joined: &[&Patch],
    frame: &Frame,
    lines: &mut Vec<Line>,
) -> Result<(), String> {
    let Some(strip) = border.strip else { return Ok(()) };
    let of = |purpose: Purpose| -> Vec<&Patch> {
        joined.iter().copied().filter(|patch| patch.purpose == purpose).collect()
    };
    let (sides, tops) = (of(Purpose::BorderSide(number)), of(Purpose::BorderTop(number)));
    let pairs = strips_for(&sides, strip, frame)? + strips_for(&tops, strip, frame)?;
    let least = strips_for(&[sides, tops].concat(), strip, frame)?;
    let count = stated_or(border.strips, pairs, least, &format!("border {number}"))?;
    let size = strip_size(strip, border.width, frame)?;
    let purpose = Purpose::BorderSide(number);
    lines.push(Line { purpose, role: border.role, size, count, shape: Shape::Rectangle });
    Ok(())
}

/// Strips joined end to end that are long enough for all patches; every join takes two seams.
fn strips_for(patches: &[&Patch], strip: Length, frame: &Frame) -> Result<u32, String> {
    let mut need = Length::ZERO;
    for patch in patches {
        let Size { width, height } = lying(patch);
        need += said(frame.sewing.patch(width.max(height)))?;
    }
    let seams = frame.sewing.seam + frame.sewing.seam;
    if strip <= seams {
        return Err(format!("strips of {} are all seam", strip.show(frame.units)));
    }
    let count = (need - seams).ticks().max(0);
    let each = (strip - seams).ticks();
    u32::try_from(count.div_euclid(each) + i64::from(count % each > 0))
        .map_err(|_| "too many strips".to_string())
}

fn stated_or(stated: Option<u32>, usual: u32, least: u32, what: &str) -> Result<u32, String> {
    match stated {
        Some(stated) if stated < least => {
            Err(format!("{stated} strips are not enough for {what}: joined end to end it takes {least}"))
        }
        Some(stated) => Ok(stated),
        None => Ok(usual),
    }
}

/// Strips run across the fabric.
fn strip_size(strip: Length, finished: Length, frame: &Frame) -> Result<Size, String> {
    let height = said(frame.sewing.patch(finished))?;
    Ok(Size { width: strip, height })
}

/// What a quilt on point takes inside its borders: squares for four side triangles or two corners each, and its
/// sashing.
fn on_point(top: &Top, layout: &Layout, frame: &Frame, lines: &mut Vec<Line>) -> Result<(), String> {
    let Some(setting) = layout.setting else { return Ok(()) };
    let Some(side) = top.blocks.first().map(|block| block.size.width) else { return Ok(()) };
    let sewing = &frame.sewing;
    let larger = |square: Length| sewing.up(square + layout.oversize);
    let squares: [(Purpose, RoleId, Result<Length, SeamError>, Shape); 2] = [
        (Purpose::SideTriangle, setting, sewing.setting_side(side).and_then(larger), Shape::CutTwice),
        (Purpose::CornerTriangle, setting, sewing.setting_corner(side).and_then(larger), Shape::CutOnce),
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

fn said(length: Result<Length, SeamError>) -> Result<Length, String> {
    length.map_err(|error| error.to_string())
}

/// Labels in words; numbered where several sizes serve one purpose.
fn labelled(lines: Vec<Line>, line: u64) -> Vec<PieceLine> {
    let names: Vec<String> = lines.iter().map(|line| name(line.purpose)).collect();
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

fn name(purpose: Purpose) -> String {
    match purpose {
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
