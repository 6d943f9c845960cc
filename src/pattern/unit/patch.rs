//! Squares, rectangles and strips of one fabric.

use crate::pattern::RoleId;
use crate::pattern::Size;
use crate::pattern::unit::{CutPiece, Recipe, Spec, UnitError};

/// One piece, cut one seam larger on every edge.
pub(super) fn recipe(role: RoleId, spec: &Spec) -> Result<Recipe, UnitError> {
    spec.no_oversize()?;
    let width = spec.sewing.patch(spec.finished.width)?;
    let size = Size { width, height: spec.sewing.patch(spec.finished.height)? };
    Ok(Recipe { makes: 1, cuts: vec![CutPiece::plain(role, size, 1)], steps: Vec::new() })
}
