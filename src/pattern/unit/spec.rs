//! What a recipe is worked out for, and the sizes that follow from it whatever the kind of unit.

use crate::length::Length;
use crate::pattern::Size;
use crate::pattern::seam::{SeamError, Sewing};
use crate::pattern::unit::{Method, Step, UnitError};

/// What a recipe is worked out for.
#[derive(Clone, Copy, Debug)]
pub struct Spec<'a> {
    /// Size in the quilt, without seams.
    pub finished: Size,
    /// How it is made.
    pub method: Method,
    /// What squares are cut larger by, to be trimmed after sewing: nothing (exact), one length for all roles, or
    /// one for each role in the order of the unit.
    pub oversize: &'a [Length],
    /// Seam and ruler.
    pub sewing: Sewing,
}

impl Spec<'_> {
    /// Finished width, when the unit is square.
    pub(super) fn square(&self) -> Result<Length, UnitError> {
        if self.finished.width == self.finished.height {
            Ok(self.finished.width)
        } else {
            Err(UnitError::NotSquare(self.finished))
        }
    }

    /// What squares of the role at `index` of the unit are cut larger by.
    pub(super) fn extra(&self, index: usize) -> Length {
        match self.oversize {
            [all] => *all,
            each => each.get(index).copied().unwrap_or(Length::ZERO),
        }
    }

    /// Cut sizes that are not yet rounded to a mark: what [`Spec::square_of`] takes, so that it alone rounds.
    pub(super) fn exact(&self) -> Sewing {
        self.sewing.to_the_tick()
    }

    /// A square of `side`, larger by the extra of the role at `index` and up to a mark.
    pub(super) fn square_of(&self, side: Length, index: usize) -> Result<Size, UnitError> {
        let side = side.checked_add(self.extra(index)).ok_or(SeamError::TooLong)?;
        Ok(Size::square(self.sewing.up(side)?))
    }

    /// The unit as one patch with its seams, larger by the extra of the role at `index` and up to a mark.
    pub(super) fn patch_of(&self, index: usize) -> Result<Size, UnitError> {
        let extra = self.extra(index);
        let larger = |side: Length| {
            let cut = self.sewing.unfinished(side)?.checked_add(extra).ok_or(SeamError::TooLong)?;
            self.sewing.up(cut)
        };
        Ok(Size { width: larger(self.finished.width)?, height: larger(self.finished.height)? })
    }

    /// What the unit measures before it is joined to others.
    pub(super) fn unfinished(&self) -> Result<Size, UnitError> {
        self.unfinished_of(self.finished)
    }

    /// What something of `finished` size measures before it is joined to others.
    pub(super) fn unfinished_of(&self, finished: Size) -> Result<Size, UnitError> {
        let width = self.sewing.unfinished(finished.width)?;
        Ok(Size { width, height: self.sewing.unfinished(finished.height)? })
    }

    /// Refuses an extra for a kind that has nothing to trim.
    pub(super) fn no_oversize(&self) -> Result<(), UnitError> {
        let none = self.oversize.iter().all(|&extra| extra == Length::ZERO);
        if none { Ok(()) } else { Err(UnitError::NoOversize) }
    }

    /// The closing step: what the unit measures, trimmed when it was cut larger than needed.
    pub(super) fn last_step(&self, unfinished: Size) -> Step {
        let exact = self.oversize.iter().all(|&extra| extra == Length::ZERO);
        let text = if exact { "Press, and measure each unit." } else { "Press, and trim each unit." };
        Step { text: text.to_string(), measures: Some(unfinished) }
    }
}
