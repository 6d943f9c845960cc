//! What is left of a sheet, and how small it might have been.

use crate::cutting::{Layout, Sheet, least_sheet};
use crate::fabric::{Family, Trued};
use crate::length::{Length, Units};
use crate::report::view::words;
use crate::stash::Lot;

/// What is left of each sheet, in one sentence.
pub(crate) fn left(lot: &Lot, layout: &Layout, useful: Length, units: Units) -> String {
    let mut sizes: Vec<(Length, Length, usize)> = Vec::new();
    for rect in layout.leftovers() {
        match sizes.iter_mut().find(|(w, h, _)| (*w, *h) == (rect.width, rect.height)) {
            Some((_, _, number)) => *number += 1,
            None => sizes.push((rect.width, rect.height, 1)),
        }
    }
    if sizes.is_empty() {
        return "Nothing is left over.".to_owned();
    }
    let yardage = lot.cut.entry().family == Family::Yardage;
    let parts: Vec<String> = sizes
        .into_iter()
        .map(|(width, height, number)| {
            let times = if number == 1 { String::new() } else { format!("{number} of ") };
            let what = if yardage && width == layout.width() && height >= useful {
                " uncut across the whole width"
            } else if width.min(height) < useful {
                " (small)"
            } else {
                ""
            };
            format!("{times}{}{what}", words::fabric_size(width, height, units))
        })
        .collect();
    format!("Left over: {}.", parts.join("; "))
}

/// The least size on which the same cuts still give every piece, in one sentence.
pub(crate) fn least(lot: &Lot, layout: &Layout, units: Units) -> String {
    let Sheet { width, height } = least_sheet(layout);
    let entry = lot.cut.entry();
    let tight = width == layout.width() && height == layout.height();
    let mut text = if tight {
        format!(
            "Needs the whole of its {}: nothing to spare either way",
            words::fabric_size(width, height, units)
        )
    } else {
        format!("Works if your piece measures at least {}", words::fabric_size(width, height, units))
    };
    if lot.allowance > Length::ZERO {
        let (mut held_width, mut held_length) = (width, height);
        if matches!(entry.trued, Trued::Both | Trued::Width) {
            held_width += lot.allowance;
        }
        if matches!(entry.trued, Trued::Both | Trued::Length) {
            held_length += lot.allowance;
        }
        text.push_str(&format!(
            " once trued up, so on {} before",
            words::fabric_size(held_width, held_length, units)
        ));
    }
    text.push('.');
    text
}
