//! Strips across the fabric (borders and sashing joined end to end) for the width at hand: a pattern states them for
//! the width its author had.

use crate::length::Length;
use crate::need::{Assumptions, Borders, Meeting, NeedError};
use crate::pattern::geometry;
use crate::pattern::layout::{Corners, MITRE_EXTRA};
use crate::pattern::setting::{Patch, Purpose, Top};
use crate::pattern::{Layout, Pattern, PieceLine, RoleId, Size};

/// `pattern` with its joined strips worked out for fabric of usable `width`, borders cut as assumed.
///
/// Strips that the pattern states for this very width stay as they are, their number included.
///
/// # Errors
/// When a border is longer than the fabric is wide, is to run across it, and joins are forbidden.
pub(super) fn at_width(pattern: &Pattern, width: Length, how: &Assumptions) -> Result<Pattern, NeedError> {
    let (Some(layout), Some(before)) = (&pattern.layout, geometry::top(pattern)) else {
        return Ok(pattern.clone());
    };
    let mut changed = pattern.clone();
    let met = meeting(layout, how);
    changed.layout = Some(met.clone());
    // A border in strips must be long enough under the corners asked for, not under those of the pattern.
    let Some(laid) = geometry::top(&changed) else { return Ok(pattern.clone()) };
    let wanted = restated(&met, &laid, pattern, width, how)?;
    if layout.borders == wanted.borders && layout.sashing == wanted.sashing {
        return Ok(pattern.clone());
    }
    changed.layout = Some(wanted);
    // What cannot be joined for this width stays as the pattern has it.
    let Some(after) = geometry::top(&changed) else { return Ok(pattern.clone()) };
    replace(&mut changed, &before.lines, after.lines);
    Ok(changed)
}

/// True when strips of `role` are to be joined, so that their number is fixed before anything is cut.
pub(super) fn joins_strips(pattern: &Pattern, role: RoleId, how: &Assumptions) -> bool {
    pattern.layout.as_ref().is_some_and(|layout| {
        let sashing = layout.sashing.as_ref();
        let across = |strip: Option<Length>| how.borders != Borders::Lengthwise && strip.is_some();
        let crosswise = how.borders == Borders::Crosswise && how.joins;
        sashing.is_some_and(|sashing| sashing.role == role && sashing.strip.is_some())
            || layout.borders.iter().any(|border| border.role == role && (crosswise || across(border.strip)))
    })
}

/// True when the pieces are others on fabric of another width.
pub(super) fn follows_width(pattern: &Pattern, how: &Assumptions) -> bool {
    pattern.layout.as_ref().is_some_and(|layout| {
        how.borders == Borders::Crosswise
            || layout.sashing.as_ref().is_some_and(|sashing| sashing.strip.is_some())
            || layout.borders.iter().any(|border| border.strip.is_some())
    })
}

/// `layout` with its borders meeting and joined as assumed; corner squares stay, for they are in the pattern's pieces.
fn meeting(layout: &Layout, how: &Assumptions) -> Layout {
    let mut layout = layout.clone();
    for border in &mut layout.borders {
        let corners = match (how.corners, border.corners) {
            (_, Corners::Squares(_)) | (None, _) => border.corners,
            (Some(Meeting::Butted), _) => Corners::Butted,
            (Some(Meeting::Mitred), Corners::Butted) => Corners::Mitred { extra: MITRE_EXTRA },
            (Some(Meeting::Mitred), mitred) => mitred,
        };
        let join = how.border_join.unwrap_or(border.join);
        if (corners, join) != (border.corners, border.join) {
            // The number that the designer states was for the other way.
            border.strips = None;
        }
        (border.corners, border.join) = (corners, join);
    }
    layout
}

fn restated(
    layout: &Layout,
    top: &Top,
    pattern: &Pattern,
    width: Length,
    how: &Assumptions,
) -> Result<Layout, NeedError> {
    let mut layout = layout.clone();
    if let Some(sashing) = &mut layout.sashing
        && sashing.strip.is_some_and(|strip| strip != width)
    {
        (sashing.strip, sashing.strips) = (Some(width), None);
    }
    for (index, border) in layout.borders.iter_mut().enumerate() {
        let across = match how.borders {
            Borders::AsWritten => border.strip.is_some(),
            Borders::Crosswise => true,
            Borders::Lengthwise => false,
        };
        if !across {
            (border.strip, border.strips) = (None, None);
        } else if how.joins {
            if border.strip != Some(width) {
                (border.strip, border.strips) = (Some(width), None);
            }
        } else {
            let extra = match border.corners {
                Corners::Mitred { extra } => extra,
                Corners::Butted | Corners::Squares(_) => Length::ZERO,
            };
            let (sides, tops) = lengths(top, index + 1, extra, pattern);
            if sides.max(tops) > width {
                return Err(NeedError::NoJoins { border: index + 1, sides, tops, width });
            }
            (border.strip, border.strips) = (None, None);
        }
    }
    Ok(layout)
}

/// Cut lengths of a border's sides and of its top and bottom.
fn lengths(top: &Top, number: usize, extra: Length, pattern: &Pattern) -> (Length, Length) {
    let sewing = pattern.sewing.unwrap_or_default();
    let cut = |purpose: Purpose| {
        let patch =
            top.patches.iter().find(|patch| patch.purpose == purpose).map(Patch::size).unwrap_or_default();
        let length = match purpose {
            Purpose::BorderSide(_) => patch.height,
            _ => patch.width,
        };
        let length = length + sewing.seam + sewing.seam + extra;
        sewing.up(length).unwrap_or(length)
    };
    (cut(Purpose::BorderSide(number)), cut(Purpose::BorderTop(number)))
}

/// Puts the setting pieces `new` where `old` were; each role keeps its matching.
fn replace(pattern: &mut Pattern, old: &[PieceLine], new: Vec<PieceLine>) {
    let alike = |one: &PieceLine, other: &PieceLine| {
        let size = |line: &PieceLine| Size { width: line.width, height: line.height };
        one.label == other.label && one.role == other.role && size(one) == size(other)
    };
    // The pieces of the quilt itself are the last block's.
    let Some(block) = pattern.blocks.last_mut() else { return };
    let matching: Vec<_> = block.pieces.iter().map(|line| (line.role, line.matching)).collect();
    block.pieces.retain(|line| !old.iter().any(|gone| alike(gone, line)));
    block.pieces.extend(new.into_iter().map(|mut line| {
        let known = matching.iter().find(|(role, _)| *role == line.role);
        line.matching = known.map_or(line.matching, |(_, matching)| *matching);
        line
    }));
}
