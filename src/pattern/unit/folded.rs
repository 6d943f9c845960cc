//! Folded corners on a square or rectangle, and the square in a square.

use crate::length::Length;
use crate::pattern::seam::SeamError;
use crate::pattern::unit::{Corner, CutPiece, Method, Recipe, Spec, Step, UnitError};
use crate::pattern::{RoleId, Shape, Size};

/// A patch with squares sewn across some corners and folded back.
///
/// The square for a corner of finished side c is cut c + 2 seams: sewn corner to corner, its seam line crosses
/// the patch at that distance from the raw corner, and the patch's own two seams take the rest.
/// Source: Scissortail Quilting, "Square in a Square" (half the finished side + 1/2 in).
pub(super) fn corners(
    base: RoleId,
    corners: &[(Corner, RoleId)],
    side: Length,
    spec: &Spec,
) -> Result<Recipe, UnitError> {
    check_corners(corners, side, spec.finished)?;
    let mut cuts = vec![CutPiece::plain(base, spec.patch_of(0)?, 1)];
    let square = spec.exact().patch(side)?;
    for &(_, role) in corners {
        let size = spec.square_of(square, 1)?;
        match cuts[1..].iter_mut().find(|cut| cut.role == role) {
            Some(cut) => cut.count += 1,
            None => cuts.push(CutPiece::plain(role, size, 1)),
        }
    }
    Ok(Recipe { makes: 1, cuts, steps: fold_steps(spec)? })
}

/// Corner triangles may touch on a side, not pass each other.
fn check_corners(corners: &[(Corner, RoleId)], side: Length, unit: Size) -> Result<(), UnitError> {
    use Corner::{LowerLeft, LowerRight, UpperLeft, UpperRight};
    if side <= Length::ZERO {
        return Err(SeamError::FinishedNotPositive.into());
    }
    let has = |corner: Corner| i64::from(corners.iter().any(|&(other, _)| other == corner));
    let edges = [
        (UpperLeft, UpperRight, unit.width),
        (LowerLeft, LowerRight, unit.width),
        (UpperLeft, LowerLeft, unit.height),
        (UpperRight, LowerRight, unit.height),
    ];
    for (one, other, on) in edges {
        if side.checked_mul(has(one) + has(other)).is_none_or(|taken| taken > on) {
            return Err(UnitError::CornersTooLarge { side, on });
        }
    }
    Ok(())
}

/// A square standing on its corner in a square.
///
/// Folded corners: a whole square and four corner squares of half its side (Scissortail Quilting, as above).
/// Cut triangles: the inner square of side finished / sqrt 2, and two squares of half the finished side with
/// the cut-once allowance, cut once each.
pub(super) fn square_in_square(centre: RoleId, corner: RoleId, spec: &Spec) -> Result<Recipe, UnitError> {
    let finished = spec.square()?;
    let half = Length::from_ticks((finished.ticks() + 1) / 2);
    if spec.method == Method::FoldedCorners {
        let small = spec.square_of(spec.exact().patch(half)?, 1)?;
        let cuts = vec![CutPiece::plain(centre, spec.patch_of(0)?, 1), CutPiece::plain(corner, small, 4)];
        return Ok(Recipe { makes: 1, cuts, steps: fold_steps(spec)? });
    }
    let inner = spec.square_of(spec.exact().inner_square(finished)?, 0)?;
    let outer = spec.square_of(spec.exact().half_square(half)?, 1)?;
    let steps = vec![
        Step::new("Cut the corner squares once corner to corner."),
        Step::new(
            "Sew triangles to two opposite sides of the inner square, middles matched; press outwards.",
        ),
        Step::new("Sew triangles to the other two sides."),
        spec.last_step(spec.unfinished()?),
    ];
    let cuts = vec![CutPiece::plain(centre, inner, 1), CutPiece::triangles(corner, outer, 2, Shape::CutOnce)];
    Ok(Recipe { makes: 1, cuts, steps })
}

fn fold_steps(spec: &Spec) -> Result<Vec<Step>, UnitError> {
    Ok(vec![
        Step::new("Draw a diagonal on the back of each corner square."),
        Step::new("Lay a square on its corner of the patch, line across it, and sew on the line."),
        Step::new("Trim one seam beyond the line and fold the corner out; go on with the next corner."),
        spec.last_step(spec.unfinished()?),
    ])
}
