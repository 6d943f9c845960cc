//! The cuts a record lists, made again one by one from the whole sheet.

use std::collections::BTreeMap;

use super::fault::{Faults, Rule, say};
use super::record::{Across, Cut, Rect, Sheet};
use crate::length::{Length, Units};

/// Replays the cuts of `sheet`; what is left must be exactly its pieces and leftovers.
pub(super) fn check(sheet: &Sheet, place: &str, faults: &mut Faults) {
    let before = faults.count();
    let whole = Rect { x: 0, y: 0, width: sheet.width, height: sheet.height };
    // How many of each region there are: nothing but wrong cuts could make two alike, but none may be lost.
    let mut regions: BTreeMap<Rect, u32> = BTreeMap::from([(whole, 1)]);
    for (index, cut) in sheet.cuts.iter().enumerate() {
        let expected = index + 1;
        if usize::try_from(cut.order) != Ok(expected) {
            let message = format!("cut number {expected} of the list has order {}", cut.order);
            faults.add(Rule::CutOrder, place, message);
        }
        if cut.text.trim().is_empty() {
            faults.add(Rule::Reason, place, format!("cut {expected} has no text"));
        }
        let side = match cut.across {
            Across::Width => cut.region.width,
            Across::Height => cut.region.height,
        };
        if cut.at <= 0 || cut.at >= side {
            let message =
                format!("cut {expected} at {} is not inside the {} it cuts", say(cut.at), say(side));
            faults.add(Rule::CutRegion, place, message);
            continue;
        }
        match regions.get_mut(&cut.region) {
            Some(number) if *number > 0 => *number -= 1,
            _ => {
                let message =
                    format!("cut {expected} goes through {}, which is not there by then", at(&cut.region));
                faults.add(Rule::CutRegion, place, message);
                continue;
            }
        }
        for part in halves(cut.region, cut.across, cut.at) {
            *regions.entry(part).or_insert(0) += 1;
        }
    }
    // After a cut that could not be made, what is left says nothing new.
    if faults.count() > before {
        return;
    }
    texts(sheet, place, faults);
    let listed = sheet.pieces.iter().map(|piece| &piece.rect).chain(&sheet.leftovers);
    for rect in listed {
        match regions.get_mut(rect) {
            Some(number) if *number > 0 => *number -= 1,
            _ => faults.add(Rule::CutResult, place, format!("no cut leaves {}, which is listed", at(rect))),
        }
    }
    for (rect, _) in regions.iter().filter(|&(_, &number)| number > 0) {
        faults.add(Rule::CutResult, place, format!("the cuts leave {}, which is not listed", at(rect)));
    }
}

/// Checks what a person reads of each cut against its figures.
fn texts(sheet: &Sheet, place: &str, faults: &mut Faults) {
    for (cut, number) in sheet.cuts.iter().zip(1..).filter(|(cut, _)| !says_where(cut)) {
        let (at, edge) = (say(cut.at), edge(cut.across));
        let message = format!("cut {number} is {at} from the {edge}, its text says \"{}\"", cut.text);
        faults.add(Rule::CutText, place, message);
    }
}

/// Does the text of a cut begin with its place, in inches or centimetres, and name no other?
fn says_where(cut: &Cut) -> bool {
    let at = Length::from_ticks(cut.at);
    [Units::Inches, Units::Metric].into_iter().any(|units| {
        let place = format!("cut {} from the {};", at.show(units), edge(cut.across));
        cut.text.strip_prefix(&place).is_some_and(|rest| !rest.contains("from the"))
    })
}

fn edge(across: Across) -> &'static str {
    match across {
        Across::Width => "left edge",
        Across::Height => "lower edge",
    }
}

/// The two parts on either side of a cut.
pub(super) fn halves(region: Rect, across: Across, at: i64) -> [Rect; 2] {
    match across {
        Across::Width => {
            [Rect { width: at, ..region }, Rect { x: region.x + at, width: region.width - at, ..region }]
        }
        Across::Height => {
            [Rect { height: at, ..region }, Rect { y: region.y + at, height: region.height - at, ..region }]
        }
    }
}

/// A region as a person finds it on the sheet.
pub(super) fn at(rect: &Rect) -> String {
    format!(
        "the {} x {} at {} from the left, {} from below",
        say(rect.width),
        say(rect.height),
        say(rect.x),
        say(rect.y)
    )
}
