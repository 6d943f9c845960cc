//! How large a piece of the setting is cut, as it lies; or in words why it has no cut size.

use crate::length::Length;
use crate::pattern::Size;
use crate::pattern::layout::{Corners, Layout};
use crate::pattern::seam::SeamError;
use crate::pattern::setting::{Frame, Patch, Purpose};

/// Cut size of a setting piece as it lies; a mitred border strip is longer by what the layout says.
pub(super) fn as_it_lies(patch: &Patch, layout: &Layout, frame: &Frame) -> Result<Size, String> {
    let Size { width, height } = patch.size();
    let cut = |side: Length| said(frame.sewing.patch(side));
    let longer = |side: Length, extra: Length| said(frame.sewing.up(side + extra));
    let (width, height) = (cut(width)?, cut(height)?);
    let extra = |number: usize| match layout.borders[number - 1].corners {
        Corners::Mitred { extra } => extra,
        Corners::Butted | Corners::Squares(_) => Length::ZERO,
    };
    Ok(match patch.purpose {
        Purpose::BorderSide(number) => Size { width, height: longer(height, extra(number))? },
        Purpose::BorderTop(number) => Size { width: longer(width, extra(number))?, height },
        _ => Size { width, height },
    })
}

/// A length, or in words why there is none.
pub(super) fn said(length: Result<Length, SeamError>) -> Result<Length, String> {
    length.map_err(|error| error.to_string())
}
