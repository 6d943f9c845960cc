//! Binding, backing and batting of a pattern that says how large its quilt is.

use crate::length::{Length, round};
use crate::need::backing::{self, Panels};
use crate::need::batting::{self, Package};
use crate::need::binding;
use crate::need::strips::times;
use crate::need::{Assumptions, Bed, NeedError, Worked, bed, bias};
use crate::pattern::layout::Set;
use crate::pattern::{Pattern, Size, geometry};

/// Whether a quilt is large enough for a bed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Covers {
    /// The bed.
    pub bed: Bed,
    /// What the quilt must measure on the bed.
    pub wanted: Size,
    /// What it must measure as made, finished, up to a mark of the ruler.
    pub made: Size,
    /// What it measures, finished.
    pub quilt: Size,
}

impl Covers {
    /// What is missing of its width and length; zero where it is enough.
    pub fn missing(&self) -> (Length, Length) {
        let missing = |made: Length, is: Length| (made - is).max(Length::ZERO);
        (missing(self.made.width, self.quilt.width), missing(self.made.height, self.quilt.height))
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
    /// The least package it comes out of.
    pub packaged: Option<Package>,
    /// How the quilt lies on the bed that was named.
    pub covers: Option<Covers>,
}

/// Binding to cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BindingNeed {
    /// Length with the extra.
    pub length: Length,
    /// Strips across the fabric; 0 on the bias.
    pub strips: u32,
    /// On the bias: the squares it is cut from.
    pub bias: Option<BiasNeed>,
    /// What it comes to.
    pub worked: Worked,
}

/// Squares for binding on the bias.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BiasNeed {
    /// How many; more than one where the fabric is not wide enough for the square it would take.
    pub count: u32,
    /// Side of each.
    pub side: Length,
    /// Strips of each.
    pub strips: i64,
    /// What they give together.
    pub gives: Length,
    /// Side of the square at hand and what it gives.
    pub at_hand: Option<(Length, Length)>,
}

/// More squares than this are not asked for.
const MOST_SQUARES: u32 = 64;

/// The finishing of `pattern`; `None` when it has no layout.
pub(super) fn finish(pattern: &Pattern, how: &Assumptions) -> Result<Option<Finish>, NeedError> {
    let Some(top) = geometry::top(pattern) else { return Ok(None) };
    let rules = &how.finish;
    let seam = pattern.sewing.unwrap_or_default().seam;
    let sewn = |side: Length| side + seam + seam;
    let finished = measured(top.size, pattern, how, round::down);
    let whole = measured(top.size, pattern, how, round::up);
    let top = Size { width: sewn(whole.width), height: sewn(whole.height) };
    let binding = if has_binding(pattern) { None } else { Some(bound(top, seam, how)?) };
    let backing = backing::size(top, rules.overage);
    let backing_width = rules.backing_width.unwrap_or(how.width);
    let loss = rules.seam_loss;
    let ways = backing::ways(backing, backing_width, loss).ok_or(NeedError::NoBacking)?;
    let panels = backing::fewest(backing, backing_width, loss).ok_or(NeedError::NoBacking)?;
    let shrinkage = how.spare.shrinkage;
    let nothing = super::Spare { squaring: Length::ZERO, percent: 0, strip_over: None, shrinkage };
    let batting = batting::size(top, rules.overage, how.units);
    let covers = rules.bed.map(|bed| covers(bed, finished, how));
    Ok(Some(Finish {
        top,
        binding,
        backing,
        backing_width,
        ways,
        panels,
        backing_amount: nothing.work_out(panels.total(), panels.length, how.step),
        batting,
        packaged: batting::least_package(batting, &rules.packages).cloned(),
        covers,
    }))
}

/// A quilt on point has no exact size: it is taken by a mark of the ruler, up where fabric must be enough.
fn measured(size: Size, pattern: &Pattern, how: &Assumptions, toward: fn(Length, Length) -> Length) -> Size {
    let on_point = pattern.layout.as_ref().is_some_and(|layout| layout.set == Set::OnPoint);
    let side = |side: Length| if on_point { toward(side, how.units.mark()) } else { side };
    Size { width: side(size.width), height: side(size.height) }
}

fn bound(top: Size, seam: Length, how: &Assumptions) -> Result<BindingNeed, NeedError> {
    let rules = &how.finish;
    let length = binding::length(top, rules.extra);
    if rules.bias {
        let bias = on_the_bias(length, seam, how).ok_or(NeedError::NoBinding)?;
        let beside = u32::try_from(how.width.ticks() / bias.side.ticks()).unwrap_or(1).max(1);
        let exact = times(bias.side, bias.count.div_ceil(beside));
        let worked = how.spare.work_out(exact, bias.side, how.step);
        return Ok(BindingNeed { length, strips: 0, bias: Some(bias), worked });
    }
    let strips = binding::strips(length, how.width, rules.strip_width, rules.join, seam)
        .ok_or(NeedError::NoBinding)?;
    let exact = times(rules.strip_width, strips);
    let worked = how.spare.work_out(exact, rules.strip_width, how.step);
    Ok(BindingNeed { length, strips, bias: None, worked })
}

/// The fewest alike squares that give `length`, each no wider than the fabric; strips of two squares are joined like
/// all others, and so lose 2 s sqrt 2 more.
fn on_the_bias(length: Length, seam: Length, how: &Assumptions) -> Option<BiasNeed> {
    let rules = &how.finish;
    let join = Length::from_ticks((8 * seam.ticks() * seam.ticks()).isqrt() + 1);
    let one = |count: u32| {
        let joined = length + times(join, count - 1);
        let each = Length::from_ticks(joined.ticks().div_euclid(i64::from(count)) + 1);
        let side = bias::square(each, rules.strip_width, seam, how.units.mark());
        (side <= how.width).then(|| BiasNeed {
            count,
            side,
            strips: bias::strips(side, rules.strip_width),
            gives: times(bias::gives(side, rules.strip_width, seam), count) - times(join, count - 1),
            at_hand: rules.bias_square.map(|side| (side, bias::gives(side, rules.strip_width, seam))),
        })
    };
    (1..=MOST_SQUARES).find_map(one)
}

/// How a quilt of `quilt` finished lies on `bed`.
fn covers(bed: Bed, quilt: Size, how: &Assumptions) -> Covers {
    let wanted = bed::quilt(bed.mattress, bed.drop, bed.tuck);
    Covers { bed, wanted, made: bed::before_shrinking(wanted, bed.shrinks, how.units.mark()), quilt }
}

/// True when the pattern itself says what to cut for the binding.
fn has_binding(pattern: &Pattern) -> bool {
    let says = |text: &str| text.to_lowercase().contains("binding");
    pattern.blocks.iter().flat_map(|block| &block.pieces).any(|line| {
        let role = &pattern.roles[line.role.0];
        says(&line.label) || says(&role.name) || says(&role.title)
    })
}
