//! Binding, backing and batting of a pattern that says how large its quilt is.

use crate::length::Length;
use crate::need::backing::{self, Panels};
use crate::need::binding;
use crate::need::joins::Join;
use crate::need::strips::times;
use crate::need::{Assumptions, NeedError, Worked, batting};
use crate::pattern::{Pattern, Size, geometry};

/// How a quilt is finished.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rules {
    /// Cut width of the binding strips. Usual are 2 1/4 and 2 1/2 in (common practice, no source).
    pub strip_width: Length,
    /// How they are joined.
    pub join: Join,
    /// What is added to the perimeter.
    pub extra: Length,
    /// True for binding on the bias.
    pub bias: bool,
    /// What backing and batting are larger than the top, both sides together.
    pub overage: Length,
    /// Usable width of the backing fabric; that of all fabric when not said.
    pub backing_width: Option<Length>,
}

impl Default for Rules {
    fn default() -> Rules {
        Rules {
            strip_width: Length::from_eighths(20),
            join: Join::Diagonal,
            extra: binding::USUAL_EXTRA,
            bias: false,
            overage: backing::USUAL_OVERAGE,
            backing_width: None,
        }
    }
}

/// What finishing needs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finish {
    /// The quilt top as sewn: finished size and the outer seam allowances.
    pub top: Size,
    /// Binding; `None` when the pattern has pieces of that name.
    pub binding: Option<BindingNeed>,
    /// Size of the backing.
    pub backing: Size,
    /// Usable width it is pieced from.
    pub backing_width: Length,
    /// Both ways of piecing it.
    pub ways: [Panels; 2],
    /// The way that takes less.
    pub panels: Panels,
    /// What it comes to; squaring up is within the overage, so nothing more is added.
    pub backing_amount: Worked,
    /// Size of the batting.
    pub batting: Size,
    /// The packaged size it comes out of.
    pub packaged: Option<&'static str>,
}

/// Binding to cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BindingNeed {
    /// Length with the extra.
    pub length: Length,
    /// Strips across the fabric; 0 on the bias.
    pub strips: u32,
    /// On the bias: side of the square it is cut from.
    pub square: Option<Length>,
    /// What it comes to.
    pub worked: Worked,
}

/// What one author adds to the side of the square for bias binding; others add nothing.
const BIAS_MARGIN: Length = Length::from_inches(2);

/// The finishing of `pattern`; `None` when it has no layout.
pub(super) fn finish(pattern: &Pattern, how: &Assumptions) -> Result<Option<Finish>, NeedError> {
    let Some(top) = geometry::top(pattern) else { return Ok(None) };
    let rules = &how.finish;
    let seam = pattern.sewing.unwrap_or_default().seam;
    let sewn = |side: Length| side + seam + seam;
    let top = Size { width: sewn(top.size.width), height: sewn(top.size.height) };
    let binding = if has_binding(pattern) { None } else { Some(bound(top, seam, how)?) };
    let backing = backing::size(top, rules.overage);
    let backing_width = rules.backing_width.unwrap_or(how.width);
    let loss = backing::USUAL_SEAM_LOSS;
    let ways = backing::ways(backing, backing_width, loss).ok_or(NeedError::NoBacking)?;
    let panels = backing::fewest(backing, backing_width, loss).ok_or(NeedError::NoBacking)?;
    let shrinkage = how.spare.shrinkage;
    let nothing = super::Spare { squaring: Length::ZERO, percent: 0, strip_over: None, shrinkage };
    let batting = batting::size(top, rules.overage);
    Ok(Some(Finish {
        top,
        binding,
        backing,
        backing_width,
        ways,
        panels,
        backing_amount: nothing.work_out(panels.total(), panels.length, how.step),
        batting,
        packaged: batting::packaged(batting),
    }))
}

fn bound(top: Size, seam: Length, how: &Assumptions) -> Result<BindingNeed, NeedError> {
    let rules = &how.finish;
    let length = binding::length(top, rules.extra);
    if rules.bias {
        let mark = how.units.mark();
        let side = binding::bias_square(length, rules.strip_width, BIAS_MARGIN, mark);
        let worked = how.spare.work_out(side, side, how.step);
        return Ok(BindingNeed { length, strips: 0, square: Some(side), worked });
    }
    let strips = binding::strips(length, how.width, rules.strip_width, rules.join, seam)
        .ok_or(NeedError::NoBinding)?;
    let exact = times(rules.strip_width, strips);
    let worked = how.spare.work_out(exact, rules.strip_width, how.step);
    Ok(BindingNeed { length, strips, square: None, worked })
}

/// True when the pattern itself says what to cut for the binding.
fn has_binding(pattern: &Pattern) -> bool {
    let says = |text: &str| text.to_lowercase().contains("binding");
    pattern.blocks.iter().flat_map(|block| &block.pieces).any(|line| {
        let role = &pattern.roles[line.role.0];
        says(&line.label) || says(&role.name) || says(&role.title)
    })
}
