//! Flying geese: a large triangle between two small ones, twice as wide as high.

use crate::length::Length;
use crate::pattern::unit::{CutPiece, Method, Recipe, Spec, Step, UnitError};
use crate::pattern::{RoleId, Shape, Size};

/// One goose with folded corners, or four from one large and four small squares, or from loose triangles.
///
/// Sources of the sizes: Beverly's Quilting Page, "Fast Flying Geese" (four at a time: width + 1 1/4 in and
/// height + 7/8 in); All People Quilt, table topper pattern of 2013 (folded corners: 2 1/2 x 4 1/2 in and
/// 2 1/2 in for 4 x 2 in).
pub(super) fn recipe(goose: RoleId, wings: [RoleId; 2], spec: &Spec) -> Result<Recipe, UnitError> {
    let Size { width, height } = spec.finished;
    if height.checked_mul(2) != Some(width) {
        return Err(UnitError::NotTwoToOne(spec.finished));
    }
    let unfinished = spec.unfinished()?;
    match spec.method {
        Method::FoldedCorners => folded(goose, wings, spec, unfinished),
        Method::FourAtATime => four(goose, wings[0], spec, unfinished),
        _ => loose(goose, wings, spec, unfinished),
    }
}

fn folded(goose: RoleId, wings: [RoleId; 2], spec: &Spec, unfinished: Size) -> Result<Recipe, UnitError> {
    let side = spec.exact().patch(spec.finished.height)?;
    let mut cuts = vec![CutPiece::plain(goose, spec.patch_of(0)?, 1)];
    cuts.extend(wing_cuts(wings, side, 1, Shape::Rectangle, spec)?);
    let steps = vec![
        Step::new("Draw a diagonal on the back of each square."),
        Step::new(
            "Lay a square on one end of the rectangle, sew on the line, trim one seam beyond it, fold out.",
        ),
        Step::new("Do the same at the other end, with the line the other way."),
        spec.last_step(unfinished),
    ];
    Ok(Recipe { makes: 1, cuts, steps })
}

fn four(goose: RoleId, wing: RoleId, spec: &Spec, unfinished: Size) -> Result<Recipe, UnitError> {
    let large = spec.square_of(spec.exact().quarter_square(spec.finished.width)?, 0)?;
    let small = spec.square_of(spec.exact().half_square(spec.finished.height)?, 1)?;
    let steps = vec![
        Step::new("Draw a diagonal on the back of each small square."),
        Step::new(
            "Lay two small squares on opposite corners of the large one, lines in one line, tips overlapping.",
        ),
        Step::new(
            "Sew one seam from the line, on both sides of it, cut on the line, and press the small pieces out.",
        ),
        Step::new(
            "Lay a small square on the free corner of each half, line towards the middle; sew and cut as before.",
        ),
        spec.last_step(unfinished),
    ];
    let cuts = vec![CutPiece::plain(goose, large, 1), CutPiece::plain(wing, small, 4)];
    Ok(Recipe { makes: 4, cuts, steps })
}

fn loose(goose: RoleId, wings: [RoleId; 2], spec: &Spec, unfinished: Size) -> Result<Recipe, UnitError> {
    let large = spec.square_of(spec.exact().quarter_square(spec.finished.width)?, 0)?;
    let side = spec.exact().half_square(spec.finished.height)?;
    let mut cuts = vec![CutPiece::triangles(goose, large, 1, Shape::CutTwice)];
    cuts.extend(wing_cuts(wings, side, 2, Shape::CutOnce, spec)?);
    let steps = vec![
        Step::new("Cut the large square on both diagonals and the small ones once corner to corner."),
        Step::new("Sew a small triangle to either short side of a large one."),
        spec.last_step(unfinished),
    ];
    Ok(Recipe { makes: 4, cuts, steps })
}

/// The squares of both wings: one line when they are of one fabric.
fn wing_cuts(
    wings: [RoleId; 2],
    side: Length,
    each: u32,
    shape: Shape,
    spec: &Spec,
) -> Result<Vec<CutPiece>, UnitError> {
    let [left, right] = wings;
    if left == right {
        return Ok(vec![CutPiece::triangles(left, spec.square_of(side, 1)?, 2 * each, shape)]);
    }
    let first = CutPiece::triangles(left, spec.square_of(side, 1)?, each, shape);
    Ok(vec![first, CutPiece::triangles(right, spec.square_of(side, 2)?, each, shape)])
}
