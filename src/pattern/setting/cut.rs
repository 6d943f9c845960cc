//! How large a piece of the setting is cut, as it lies; or in words why it has no cut size.

use crate::length::Length;
use crate::pattern::Size;
use crate::pattern::layout::{Corners, Layout};
use crate::pattern::seam::SeamError;
use crate::pattern::setting::{Frame, Patch, Purpose};

/// Cut size of a setting piece as it lies; a mitred border strip is longer by what the layout says.
pub(super) fn as_it_lies(patch: &Patch, layout: &Layout, frame: &Frame) -> Result<Size, String> {
    let Size { width, height } = patch.size();
    let extra = |number: usize| match layout.borders[number - 1].corners {
        Corners::Mitred { extra } => extra,
        Corners::Butted | Corners::Squares(_) => Length::ZERO,
    };
    let (wider, higher) = match patch.purpose {
        Purpose::BorderSide(number) => (Length::ZERO, extra(number)),
        Purpose::BorderTop(number) => (extra(number), Length::ZERO),
        _ => (Length::ZERO, Length::ZERO),
    };
    let cut = |side: Length, extra: Length| {
        let exact = frame.sewing.unfinished(side)?;
        frame.sewing.up(exact.checked_add(extra).ok_or(SeamError::TooLong)?)
    };
    Ok(Size { width: said(cut(width, wider))?, height: said(cut(height, higher))? })
}

/// A length, or in words why there is none.
pub(super) fn said(length: Result<Length, SeamError>) -> Result<Length, String> {
    length.map_err(|error| error.to_string())
}
