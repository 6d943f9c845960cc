//! The borders of a fabric step by step: what each side is cut to from the size it goes round, and the strips that
//! takes.

use crate::length::{Length, Units};
use crate::need::joins::{Join, strips_joined};
use crate::need::ruler;
use crate::need::strips::times;
use crate::pattern::layout::{Border, Corners};
use crate::pattern::setting::{Patch, Purpose, Top};
use crate::pattern::{Count, Pattern, RoleId, Sewing, geometry};

/// A border and the lengths of its strips.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BorderNeed {
    /// Its number, from 1, innermost first.
    pub border: usize,
    /// Finished width.
    pub width: Length,
    /// How its strips meet.
    pub corners: Corners,
    /// What both seams add to a finished length.
    pub seams: Length,
    /// Left and right.
    pub sides: BorderSide,
    /// Top and bottom.
    pub tops: BorderSide,
    /// How it is joined from strips across the fabric; `None` when each side is one piece.
    pub joined: Option<JoinedBorder>,
}

/// Two strips opposite each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BorderSide {
    /// What the quilt measures there inside the border, finished.
    pub inside: Length,
    /// What the strip measures, finished; a mitred one to its outer edge.
    pub finished: Length,
    /// What each is cut to: seams and what mitred strips are cut longer added, up to a mark of the ruler.
    pub cut: Length,
    /// Both joined from strips, for themselves.
    pub joined: Option<JoinedPair>,
}

/// Two strips of one length joined from strips across the fabric in the way that takes the fewest, then fewest joins.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct JoinedPair {
    /// Strips for both.
    pub strips: u32,
    /// True when both are cut off one length, false when each is joined for itself.
    pub together: bool,
    /// What one joined length comes to.
    pub gives: Length,
}

/// How a border is joined from strips.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct JoinedBorder {
    /// Usable length of a strip.
    pub strip: Length,
    /// How strips are joined.
    pub join: Join,
    /// What a join takes.
    pub loss: Length,
    /// Strips counted for it.
    pub strips: u32,
    /// True when that is how many the pattern states.
    pub stated: bool,
    /// The fewest from which its four sides can be joined and cut in any way.
    pub fewest: u32,
}

impl JoinedPair {
    fn of(cut: Length, strip: Length, loss: Length) -> Option<JoinedPair> {
        let alone = strips_joined(cut, strip, loss)?;
        let both = strips_joined(cut + cut, strip, loss)?;
        let together = both < 2 * alone;
        let (strips, one) = if together { (both, both) } else { (2 * alone, alone) };
        Some(JoinedPair { strips, together, gives: times(strip, one) - times(loss, one.saturating_sub(1)) })
    }

    /// How many joins.
    pub fn joins(self) -> u32 {
        self.strips.saturating_sub(if self.together { 1 } else { 2 })
    }
}

/// The borders that a role is cut for, of a pattern whose strips are worked out.
pub(super) fn borders(pattern: &Pattern, role: RoleId, units: Units) -> Vec<BorderNeed> {
    let (Some(layout), Some(top)) = (&pattern.layout, geometry::top(pattern)) else { return Vec::new() };
    let of_role = layout.borders.iter().enumerate().filter(|(_, border)| border.role == role);
    of_role.filter_map(|(index, border)| one(pattern, border, index, &top, units)).collect()
}

fn one(pattern: &Pattern, border: &Border, index: usize, top: &Top, units: Units) -> Option<BorderNeed> {
    let sewing = pattern.sewing.unwrap_or_default();
    let joined = border.strip.and_then(|strip| joined(pattern, border, index, strip, top));
    let side = |purpose: Purpose| {
        let mut side = side(border, purpose, joined.as_ref(), sewing, top)?;
        if joined.is_none() {
            // A piece like any other.
            side.cut = ruler::up(side.cut, units);
        }
        Some(side)
    };
    Some(BorderNeed {
        border: index + 1,
        width: border.width,
        corners: border.corners,
        seams: sewing.seam + sewing.seam,
        sides: side(Purpose::BorderSide(index + 1))?,
        tops: side(Purpose::BorderTop(index + 1))?,
        joined,
    })
}

fn side(
    border: &Border,
    purpose: Purpose,
    joined: Option<&JoinedBorder>,
    sewing: Sewing,
    top: &Top,
) -> Option<BorderSide> {
    let size = top.patches.iter().find(|patch| patch.purpose == purpose).map(Patch::size)?;
    let upright = matches!(purpose, Purpose::BorderSide(_));
    let finished = if upright { size.height } else { size.width };
    let both = border.width + border.width;
    let (extra, inside) = match border.corners {
        Corners::Mitred { extra } => (extra, finished - both),
        Corners::Butted if !upright => (Length::ZERO, finished - both),
        Corners::Butted | Corners::Squares(_) => (Length::ZERO, finished),
    };
    let cut = sewing.up(sewing.unfinished(finished).ok()? + extra).ok()?;
    let joined = joined.and_then(|one| JoinedPair::of(cut, one.strip, one.loss));
    Some(BorderSide { inside, finished, cut, joined })
}

fn joined(
    pattern: &Pattern,
    border: &Border,
    index: usize,
    strip: Length,
    top: &Top,
) -> Option<JoinedBorder> {
    let label = Purpose::BorderSide(index + 1).label();
    let line = top.lines.iter().find(|line| line.label == label)?;
    let Count::PerCopy(strips) = line.count else { return None };
    let loss = border.join.loss(line.height, pattern.sewing.unwrap_or_default().seam);
    // A number of strips that is too small is refused, so the fewest are the last that are not.
    let stands = |strips: u32| {
        let mut fewer = pattern.clone();
        let layout = fewer.layout.as_mut().expect("it has borders");
        layout.borders[index].strips = Some(strips);
        geometry::top(&fewer).is_some()
    };
    let fewest = (1..strips).rev().take_while(|&fewer| stands(fewer)).last().unwrap_or(strips);
    let stated = border.strips.is_some();
    Some(JoinedBorder { strip, join: border.join, loss, strips, stated, fewest })
}
