//! Strip sets: strips sewn together lengthwise, then cut across.

use crate::length::Length;
use crate::pattern::seam::SeamError;
use crate::pattern::unit::{CutPiece, Recipe, Spec, Step, UnitError};
use crate::pattern::{RoleId, Size};

/// One set: a strip of each line, cut across into as many units as its length gives, rounded down.
///
/// Source of the way of counting: All People Quilt, "Garden Party" (a set of 10 in gives four units of 2 1/2 in).
pub(super) fn recipe(strips: &[(RoleId, Length)], length: Length, spec: &Spec) -> Result<Recipe, UnitError> {
    spec.no_oversize()?;
    let sum = strips.iter().try_fold(Length::ZERO, |sum, &(_, width)| sum.checked_add(width));
    let sum = sum.ok_or(SeamError::TooLong)?;
    if sum != spec.finished.height {
        return Err(UnitError::StripsDoNotAddUp { strips: sum, unit: spec.finished.height });
    }
    let unfinished = spec.unfinished()?;
    let across = spec.sewing.patch(spec.finished.width)?;
    if length < across {
        return Err(UnitError::StripsTooShort { length, unit: across });
    }
    let makes = u32::try_from(length.ticks() / across.ticks()).map_err(|_| SeamError::TooLong)?;
    let mut cuts: Vec<CutPiece> = Vec::new();
    for &(role, width) in strips {
        let size = Size { width: length, height: spec.sewing.patch(width)? };
        match cuts.iter_mut().find(|cut| cut.role == role && cut.size == size) {
            Some(cut) => cut.count += 1,
            None => cuts.push(CutPiece::plain(role, size, 1)),
        }
    }
    let set = Size { width: length, height: unfinished.height };
    let steps = vec![
        Step::measured("Sew the strips together lengthwise, in order, and press.", set),
        Step::measured("Cut the set across into units.", Size { width: across, height: unfinished.height }),
    ];
    Ok(Recipe { makes, cuts, steps })
}
