//! Quarter-square triangles: squares of three or four triangles.

use crate::length::{Length, round};
use crate::pattern::seam::SeamError;
use crate::pattern::unit::{CutPiece, Method, Recipe, Spec, Step, UnitError};
use crate::pattern::{RoleId, Shape, Size};

/// Squares of finished + 1 1/4 in for the quarters; with three fabrics the third gives a half square.
///
/// * two fabrics: one square of each makes two units;
/// * three: one square of the first and second and two of the third make four;
/// * four: one square of each makes four.
pub(super) fn recipe(roles: &[RoleId], spec: &Spec) -> Result<Recipe, UnitError> {
    let finished = spec.square()?;
    let unfinished = spec.unfinished()?;
    let quarter = spec.exact().quarter_square(finished)?;
    let half = spec.exact().half_square(finished)?;
    let loose = spec.method == Method::CutTriangles;
    let has_half = roles.len() == 3;
    let mut cuts = Vec::new();
    for (index, &role) in roles.iter().enumerate() {
        let (side, count, shape) = match (has_half && index == 2, loose) {
            (true, true) => (half, 2, Shape::CutOnce),
            (true, false) => (half, 2, Shape::Rectangle),
            (false, true) => (quarter, 1, Shape::CutTwice),
            (false, false) => (quarter, 1, Shape::Rectangle),
        };
        cuts.push(CutPiece::triangles(role, spec.square_of(side, index)?, count, shape));
    }
    let mut steps = if loose { loose_steps(has_half) } else { layered_steps(&cuts, has_half, spec)? };
    steps.push(spec.last_step(unfinished));
    Ok(Recipe { makes: if roles.len() == 2 { 2 } else { 4 }, cuts, steps })
}

fn loose_steps(has_half: bool) -> Vec<Step> {
    let mut steps = vec![Step::new("Cut the quarter squares on both diagonals.")];
    if has_half {
        steps.push(Step::new("Cut the half squares once corner to corner."));
        steps.push(Step::new("Sew quarters in pairs along their short sides, then each pair to a half."));
    } else {
        steps.push(Step::new(
            "Sew quarters in pairs along their short sides, then pairs along the long side.",
        ));
    }
    steps
}

fn layered_steps(cuts: &[CutPiece], has_half: bool, spec: &Spec) -> Result<Vec<Step>, UnitError> {
    let quarters = cuts.iter().take(if has_half { 2 } else { cuts.len() });
    let smallest = quarters.map(|cut| cut.size.width).min().unwrap_or_default();
    let half = if has_half { cuts.last().map(|cut| cut.size.width) } else { None };
    let pair = pair_side(smallest, half, spec)?;
    let pairs = Step::measured(
        "Make half-square triangles of the quarter squares, two at a time, and trim them.",
        Size::square(pair),
    );
    let across = if has_half {
        "Lay each face to face with a square of the third fabric. Draw the diagonal across its seam."
    } else {
        "Lay two face to face, seams along each other, fabrics opposite. Draw the diagonal across the seam."
    };
    let sew = Step::new("Sew one seam from the line, on both sides of it, and cut on the line.");
    Ok(vec![pairs, Step::new(across), sew])
}

/// The side to which the half-square triangles made of two quarter squares of side `quarter` are trimmed, when they are
/// sewn to squares of side `half`.
///
/// Two squares of side q give half-square triangles of q - seam x sqrt 2: the cut takes seam x (2 + sqrt 2), and two
/// seams stay. What they are then made into needs [`Sewing::half_square`] of the finished side. The largest mark between
/// the two is taken, no larger than `half`; where marks are too wide apart, they are halved, three times at most: of a
/// finished side that lies on no mark an eighth of one may then be missing, which is less than a thread.
/// Source: All People Quilt, "Half-square and quarter-square triangles": 3 3/4 in gives 3 3/8 in.
///
/// [`Sewing::half_square`]: crate::pattern::seam::Sewing::half_square
fn pair_side(quarter: Length, half: Option<Length>, spec: &Spec) -> Result<Length, UnitError> {
    let exact = spec.exact();
    let needed = exact.half_square(spec.square()?)?;
    let lost = exact.half_square(needed)? - exact.unfinished(needed)?;
    let given = quarter.checked_sub(lost).ok_or(SeamError::TooLong)?;
    let most = half.map_or(given, |half| half.min(given));
    let ruler = spec.sewing.ruler.ticks();
    let marks = [1, 2, 4, 8].map(|part| Length::from_ticks((ruler / part).max(1)));
    let down = marks.map(|mark| round::down(most, mark));
    Ok(down.into_iter().find(|&side| side >= needed).unwrap_or(down[3]))
}
