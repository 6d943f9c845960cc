//! Borders and long sashing joined from strips across the fabric: how many strips that takes.

use crate::length::Length;
use crate::pattern::layout::{Border, Corners, Join, Layout, Sashing};
use crate::pattern::setting::lines::said;
use crate::pattern::setting::{Frame, Patch, Purpose};
use crate::pattern::{RoleId, Size};

/// What strips are for, their role, their size and how many.
type Strips = (Purpose, RoleId, Size, u32);

/// The strips of everything in `patches`, which are joined.
pub(super) fn strips(layout: &Layout, patches: &[&Patch], frame: &Frame) -> Result<Vec<Strips>, String> {
    let ask = Ask { layout, patches, frame };
    let mut strips = Vec::new();
    if let Some(sashing) = &layout.sashing {
        strips.extend(ask.sashing(sashing)?);
    }
    for (index, border) in layout.borders.iter().enumerate() {
        strips.extend(ask.border(border, index + 1)?);
    }
    Ok(strips)
}

/// The length of the strips a patch is joined from, when it is.
pub(super) fn strip_length(patch: &Patch, layout: &Layout) -> Option<Length> {
    match patch.purpose {
        Purpose::BorderSide(number) | Purpose::BorderTop(number) => layout.borders[number - 1].strip,
        Purpose::Sashing => layout.sashing.as_ref().filter(|sashing| runs_through(patch, sashing))?.strip,
        _ => None,
    }
}

/// Cut size of a setting piece as it lies; a mitred border strip is longer by what the layout says.
pub(super) fn cut_size(patch: &Patch, layout: &Layout, frame: &Frame) -> Result<Size, String> {
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

/// True for sashing between rows that no cornerstone interrupts.
fn runs_through(patch: &Patch, sashing: &Sashing) -> bool {
    let size = patch.size();
    sashing.cornerstones.is_none() && size.height == sashing.width && size.width > sashing.width
}

/// What is asked: the layout, its joined patches, and what they are worked out for.
struct Ask<'a> {
    layout: &'a Layout,
    patches: &'a [&'a Patch],
    frame: &'a Frame<'a>,
}

impl<'a> Ask<'a> {
    fn of(&self, purpose: Purpose) -> Vec<&'a Patch> {
        self.patches.iter().copied().filter(|patch| patch.purpose == purpose).collect()
    }

    fn sashing(&self, sashing: &Sashing) -> Result<Option<Strips>, String> {
        let Some(strip) = sashing.strip else { return Ok(None) };
        let long = self.of(Purpose::Sashing);
        if long.is_empty() {
            return Ok(None);
        }
        let size = self.strip_size(strip, sashing.width)?;
        let least = self.fewest(&long, size, sashing.join)?;
        let count = stated_or(sashing.strips, least, least, "the long sashing")?;
        Ok(Some((Purpose::Sashing, sashing.role, size, count)))
    }

    /// Sides are joined for themselves, and so are top and bottom; the designer may say fewer strips when all four
    /// can be cut from one long joined strip.
    fn border(&self, border: &Border, number: usize) -> Result<Option<Strips>, String> {
        let Some(strip) = border.strip else { return Ok(None) };
        let (sides, tops) = (self.of(Purpose::BorderSide(number)), self.of(Purpose::BorderTop(number)));
        let size = self.strip_size(strip, border.width)?;
        let pairs = self.fewest(&sides, size, border.join)? + self.fewest(&tops, size, border.join)?;
        let least = self.count(&[sides, tops].concat(), size, border.join)?.min(pairs);
        let count = stated_or(border.strips, pairs, least, &format!("border {number}"))?;
        Ok(Some((Purpose::BorderSide(number), border.role, size, count)))
    }

    /// Strips for alike patches: joined into one length that all are cut from, or each joined for itself, whichever
    /// takes fewer. Where whole strips fit one patch, a joined length would pay for a seam that nobody sews.
    fn fewest(&self, patches: &[&Patch], strip: Size, join: Join) -> Result<u32, String> {
        let together = self.count(patches, strip, join)?;
        let mut apart = 0u32;
        for patch in patches {
            apart = apart.saturating_add(self.count(&[patch], strip, join)?);
        }
        Ok(together.min(apart))
    }

    /// Strips joined end to end that are long enough for all patches.
    fn count(&self, patches: &[&Patch], strip: Size, join: Join) -> Result<u32, String> {
        let loss = join.loss(strip.height, self.frame.sewing.seam);
        let mut need = Length::ZERO;
        for patch in patches {
            let Size { width, height } = cut_size(patch, self.layout, self.frame)?;
            need += width.max(height);
        }
        if strip.width <= loss {
            return Err(format!(
                "strips of {} are used up by their joins",
                strip.width.show(self.frame.units)
            ));
        }
        let count = (need - loss).ticks().max(0);
        let each = (strip.width - loss).ticks();
        u32::try_from(count.div_euclid(each) + i64::from(count % each > 0))
            .map_err(|_| "too many strips".to_string())
    }

    /// Strips run across the fabric.
    fn strip_size(&self, strip: Length, finished: Length) -> Result<Size, String> {
        Ok(Size { width: strip, height: said(self.frame.sewing.patch(finished))? })
    }
}

fn stated_or(stated: Option<u32>, usual: u32, least: u32, what: &str) -> Result<u32, String> {
    match stated {
        Some(stated) if stated < least => {
            Err(format!("{stated} strips are not enough for {what}: joined end to end it takes {least}"))
        }
        Some(stated) => Ok(stated),
        None => Ok(usual),
    }
}
