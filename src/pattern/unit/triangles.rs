//! Loose triangles: for setting a quilt on point, and for whatever a designer sews them into.

use crate::length::Length;
use crate::pattern::unit::{CutPiece, Recipe, Spec, Step, UnitError};
use crate::pattern::{RoleId, Shape};

/// Two triangles with the short sides `side` finished, straight grain on the short sides.
pub(super) fn cut_once(role: RoleId, side: Length, spec: &Spec) -> Result<Recipe, UnitError> {
    let square = spec.square_of(spec.exact().half_square(side)?, 0)?;
    Ok(Recipe {
        makes: 2,
        cuts: vec![CutPiece::triangles(role, square, 1, Shape::CutOnce)],
        steps: vec![Step::new("Cut every square once corner to corner.")],
    })
}

/// Four triangles with the long side `side` finished, straight grain on the long side.
pub(super) fn cut_twice(role: RoleId, side: Length, spec: &Spec) -> Result<Recipe, UnitError> {
    let square = spec.square_of(spec.exact().quarter_square(side)?, 0)?;
    Ok(Recipe {
        makes: 4,
        cuts: vec![CutPiece::triangles(role, square, 1, Shape::CutTwice)],
        steps: vec![Step::new("Cut every square on both diagonals, without moving it between the cuts.")],
    })
}
