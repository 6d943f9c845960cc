//! From a kind of unit and its finished size to the recipe of one batch.

use crate::pattern::unit::{
    Kind, Method, Recipe, Spec, UnitError, folded, geese, half_square, patch, quarter_square, strip_set,
    triangles,
};

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
