//! Half-square triangles: squares of two triangles.

use crate::length::Length;
use crate::pattern::seam::SeamError;
use crate::pattern::unit::{CutPiece, Method, Recipe, Spec, Step, UnitError};
use crate::pattern::{RoleId, Shape, Size};

/// One square of either fabric; the method says how large, how sewn, and how many units come of it.
pub(super) fn recipe(roles: [RoleId; 2], spec: &Spec) -> Result<Recipe, UnitError> {
    let finished = spec.square()?;
    let unfinished = spec.unfinished()?;
    let (side, makes, shape) = match spec.method {
        Method::FourAtATime => (spec.exact().four_at_a_time(finished)?, 4, Shape::Rectangle),
        Method::EightAtATime => (spec.exact().eight_at_a_time(finished)?, 8, Shape::Rectangle),
        Method::CutTriangles => (spec.exact().half_square(finished)?, 2, Shape::CutOnce),
        _ => (spec.exact().half_square(finished)?, 2, Shape::Rectangle),
    };
    let sizes = [spec.square_of(side, 0)?, spec.square_of(side, 1)?];
    let smaller = sizes[0].width.min(sizes[1].width);
    let mut steps = steps_before_pressing(spec.method, smaller)?;
    steps.push(spec.last_step(unfinished));
    let cuts = roles.into_iter().zip(sizes).map(|(role, size)| CutPiece::triangles(role, size, 1, shape));
    Ok(Recipe { makes, cuts: cuts.collect(), steps })
}

fn steps_before_pressing(method: Method, side: Length) -> Result<Vec<Step>, UnitError> {
    Ok(match method {
        Method::FourAtATime => vec![
            Step::new("Lay the two squares face to face and sew all round, one seam from the edge."),
            Step::new("Cut on both diagonals. Handle the units gently: their edges are on the bias."),
        ],
        Method::EightAtATime => {
            let half = Length::from_ticks(side.ticks() / 2);
            if half <= Length::ZERO {
                return Err(SeamError::FinishedNotPositive.into());
            }
            vec![
                Step::new("Draw both diagonals on the back of one square and lay the two face to face."),
                Step::new("Sew one seam from each line, on both sides of it."),
                Step::measured("Cut across the middle, both ways.", Size::square(half)),
                Step::new("Cut on the drawn lines."),
            ]
        }
        Method::CutTriangles => vec![
            Step::new("Cut every square once corner to corner."),
            Step::new("Sew one triangle of either fabric together along the long sides."),
        ],
        _ => vec![
            Step::new("Draw a diagonal on the back of one square and lay the two face to face."),
            Step::new("Sew one seam from the line, on both sides of it, and cut on the line."),
        ],
    })
}
