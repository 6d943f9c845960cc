//! From a kind of unit and its finished size to the recipe of one batch.

use crate::length::{Length, Units};
use crate::pattern::seam::{SeamError, Sewing};
use crate::pattern::unit::{
    CutPiece, Kind, Method, Recipe, Step, folded, geese, half_square, patch, quarter_square, strip_set,
    triangles,
};
use crate::pattern::{RoleId, Shape, Size};

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

/// Why a unit cannot be made as asked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum UnitError {
    /// A cut size cannot be computed.
    Seam(SeamError),
    /// The unit is square by nature and was given two different sides.
    NotSquare(Size),
    /// Flying geese must be twice as wide as high.
    NotTwoToOne(Size),
    /// The corner triangles of this side meet or pass each other.
    CornersTooLarge {
        /// Finished short side of the triangles.
        side: Length,
        /// The side of the unit they must fit on.
        on: Length,
    },
    /// The finished strips add up to another height than the unit's.
    StripsDoNotAddUp {
        /// Sum of the finished strips.
        strips: Length,
        /// Finished height of the unit.
        unit: Length,
    },
    /// The strips are shorter than one unit is wide, seams included.
    StripsTooShort {
        /// Length of the strips.
        length: Length,
        /// What one unit takes.
        unit: Length,
    },
    /// The kind is not made by this method.
    NoSuchMethod(Method),
    /// A kind that is cut exactly was given an extra.
    NoOversize,
}

impl From<SeamError> for UnitError {
    fn from(error: SeamError) -> UnitError {
        UnitError::Seam(error)
    }
}

impl UnitError {
    /// What is wrong, as one clause, with lengths in the given units.
    pub fn describe(&self, units: Units) -> String {
        let show = |length: &Length| length.show(units);
        match self {
            UnitError::Seam(error) => error.to_string(),
            UnitError::NotSquare(size) => format!("{} is not square, and this unit is", size.show(units)),
            UnitError::NotTwoToOne(size) => {
                format!("{} is not twice as wide as high, and flying geese are", size.show(units))
            }
            UnitError::CornersTooLarge { side, on } => {
                format!("corner triangles of {} do not fit on a side of {}", show(side), show(on))
            }
            UnitError::StripsDoNotAddUp { strips, unit } => {
                format!("the finished strips add up to {}, and the unit is {} high", show(strips), show(unit))
            }
            UnitError::StripsTooShort { length, unit } => {
                format!("strips of {} are shorter than the {} that one unit takes", show(length), show(unit))
            }
            UnitError::NoSuchMethod(method) => format!("this unit is not made \"{}\"", method.name()),
            UnitError::NoOversize => "this unit is cut exactly, so there is nothing to trim".to_string(),
        }
    }
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

    /// A square of `side`, larger by the extra of the role at `index` and up to a mark.
    pub(super) fn square_of(&self, side: Length, index: usize) -> Result<Size, UnitError> {
        let side = side.checked_add(self.extra(index)).ok_or(SeamError::TooLong)?;
        Ok(Size::square(self.sewing.up(side)?))
    }

    /// The unit as one patch with its seams, larger by the extra of the role at `index` and up to a mark.
    pub(super) fn patch_of(&self, index: usize) -> Result<Size, UnitError> {
        let extra = self.extra(index);
        let larger = |side: Length| {
            let cut = self.sewing.patch(side)?.checked_add(extra).ok_or(SeamError::TooLong)?;
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

impl Step {
    /// A step without a checkpoint.
    pub(super) fn new(text: &str) -> Step {
        Step { text: text.to_string(), measures: None }
    }

    /// A step whose result is measured.
    pub(super) fn measured(text: &str, measures: Size) -> Step {
        Step { text: text.to_string(), measures: Some(measures) }
    }
}

impl CutPiece {
    /// `count` pieces that stay as cut.
    pub(super) fn plain(role: RoleId, size: Size, count: u32) -> CutPiece {
        CutPiece { role, size, count, shape: Shape::Rectangle }
    }

    /// `count` squares that become triangles.
    pub(super) fn triangles(role: RoleId, size: Size, count: u32, shape: Shape) -> CutPiece {
        CutPiece { role, size, count, shape }
    }
}

impl Kind {
    /// The methods there are for it, the usual one first; none for rows of other units.
    pub fn methods(&self) -> &'static [Method] {
        match self {
            Kind::Rows { .. } => &[],
            Kind::HalfSquare { .. } => {
                &[Method::TwoAtATime, Method::FourAtATime, Method::EightAtATime, Method::CutTriangles]
            }
            Kind::QuarterSquare { roles } if roles.len() == 2 => &[Method::TwoAtATime, Method::CutTriangles],
            Kind::QuarterSquare { .. } => &[Method::FourAtATime, Method::CutTriangles],
            Kind::Geese { left, right, .. } if left == right => {
                &[Method::FoldedCorners, Method::FourAtATime, Method::CutTriangles]
            }
            Kind::Geese { .. } => &[Method::FoldedCorners, Method::CutTriangles],
            Kind::SquareInSquare { .. } => &[Method::FoldedCorners, Method::CutTriangles],
            _ => &[Method::Plain],
        }
    }

    /// What one batch takes and makes.
    ///
    /// # Errors
    /// [`UnitError`] when the finished size, the method or the extra does not suit the kind.
    ///
    /// # Example
    /// Half-square triangles of 4 in finished, eight at a time: one square of 9 3/4 in of either fabric.
    ///
    /// ```
    /// use cutcloth::length::Length;
    /// use cutcloth::pattern::{RoleId, Sewing, Size, unit::{Kind, Method, Spec}};
    /// let kind = Kind::HalfSquare { roles: [RoleId(0), RoleId(1)] };
    /// let recipe = kind.recipe(&Spec {
    ///     finished: Size::square(Length::from_inches(4)),
    ///     method: Method::EightAtATime,
    ///     oversize: &[],
    ///     sewing: Sewing::default(),
    /// })?;
    /// assert_eq!(recipe.makes, 8);
    /// assert_eq!(recipe.cuts[0].size.width, Length::from_eighths(78));
    /// # Ok::<(), cutcloth::pattern::unit::UnitError>(())
    /// ```
    pub fn recipe(&self, spec: &Spec) -> Result<Recipe, UnitError> {
        if !self.methods().contains(&spec.method) {
            return Err(UnitError::NoSuchMethod(spec.method));
        }
        match self {
            Kind::Patch { role } => patch::recipe(*role, spec),
            Kind::HalfSquare { roles } => half_square::recipe(*roles, spec),
            Kind::QuarterSquare { roles } => quarter_square::recipe(roles, spec),
            Kind::Geese { goose, left, right } => geese::recipe(*goose, [*left, *right], spec),
            Kind::FoldedCorners { base, corners, side } => folded::corners(*base, corners, *side, spec),
            Kind::SquareInSquare { centre, corners } => folded::square_in_square(*centre, *corners, spec),
            Kind::TrianglesCutOnce { role, side } => triangles::cut_once(*role, *side, spec),
            Kind::TrianglesCutTwice { role, side } => triangles::cut_twice(*role, *side, spec),
            Kind::StripSet { strips, length } => strip_set::recipe(strips, *length, spec),
            Kind::Free { recipe } => Ok(recipe.clone()),
            Kind::Rows { .. } => Err(UnitError::NoSuchMethod(spec.method)),
        }
    }
}
