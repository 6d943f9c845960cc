//! Do so many pieces come out of these sheets by cuts from edge to edge? "No" is a proof; "yes" only means that none
//! was found.
//!
//! Pieces are counted, then sub-multisets are joined two by two, side by side or one above the other, keeping the
//! boxes that no other box beats both ways. A cutting from edge to edge is such a joining, pushed together, so what no
//! joining brings into a sheet cannot be cut from it.

use std::collections::BTreeMap;

use super::prints::SheetKind;
use super::things::Shape;
use super::work::Work;
use crate::verifying::record::Ticks;

/// Counts whose sub-multisets are more than this are looked at by their larger pieces only.
const MOST_PARTS: u64 = 4_096;
/// More sheets than this are not divided between.
const MOST_SHEETS: u64 = 8;
/// Steps for a look at what is known of some of the pieces; joining two boxes is one.
const LOOK: u64 = 16;
/// A sheet is measured on a grid of at most so many squares.
const MOST_SQUARES: u64 = 2_000_000;

/// A box that holds some pieces: width, height.
type Held = (Ticks, Ticks);

/// Sheets, and what is known of what they hold.
pub(super) struct Room {
    shapes: Vec<Shape>,
    sheets: Vec<SheetKind>,
    has_up: bool,
    /// By shape: all sheets together yield no more.
    yields: Vec<u64>,
    /// All pieces together cover no more area, in square ticks.
    covered: i128,
    boxes: BTreeMap<Vec<u32>, Vec<Held>>,
    known: BTreeMap<Vec<u32>, bool>,
    /// Do these pieces come out of so many of the last sheets?
    shared: BTreeMap<(usize, Vec<u32>), bool>,
}

impl Room {
    pub(super) fn new(shapes: Vec<Shape>, sheets: Vec<SheetKind>, has_up: bool, work: &mut Work<'_>) -> Room {
        let total = |values: &[(&Shape, i64)], work: &mut Work<'_>| -> Option<i128> {
            let each = sheets.iter().map(|sheet| {
                let most = best_value(sheet, values, has_up, work)?;
                Some(i128::from(most) * i128::from(sheet.copies))
            });
            each.sum()
        };
        let yields = shapes.iter().map(|shape| {
            let most = total(&[(shape, 1)], work);
            most.and_then(|most| u64::try_from(most).ok()).unwrap_or(u64::MAX)
        });
        let yields = yields.collect();
        let areas: Vec<(&Shape, i64)> =
            shapes.iter().map(|shape| (shape, shape.width.saturating_mul(shape.height))).collect();
        let covered = total(&areas, work).unwrap_or(i128::MAX);
        Room {
            yields,
            covered,
            shapes,
            sheets,
            has_up,
            boxes: BTreeMap::new(),
            known: BTreeMap::new(),
            shared: BTreeMap::new(),
        }
    }

    pub(super) fn shapes(&self) -> usize {
        self.shapes.len()
    }

    /// False when `pieces`, counted by shape, are proved not to come out of the sheets; `None` when the work is done.
    pub(super) fn may_hold(&mut self, pieces: &[u32], work: &mut Work<'_>) -> Option<bool> {
        work.take(LOOK)?;
        if let Some(&known) = self.known.get(pieces) {
            return Some(known);
        }
        let may = self.counted(pieces) && self.joined(pieces, work)?;
        self.known.insert(pieces.to_vec(), may);
        Some(may)
    }

    fn counted(&self, pieces: &[u32]) -> bool {
        self.area_of(pieces) <= self.covered
            && pieces.iter().zip(&self.yields).all(|(&n, &most)| u64::from(n) <= most)
    }

    fn joined(&mut self, pieces: &[u32], work: &mut Work<'_>) -> Option<bool> {
        let sheets: u64 = self.sheets.iter().map(|sheet| sheet.copies).sum();
        if sheets > MOST_SHEETS {
            return Some(true);
        }
        // The larger pieces alone, where all are too many: if those do not come out, nor do all.
        let (mut parts, mut some) = (1u64, vec![0; pieces.len()]);
        for (shape, &count) in pieces.iter().enumerate() {
            let room = u32::try_from(MOST_PARTS / parts).unwrap_or(u32::MAX).saturating_sub(1);
            some[shape] = count.min(room);
            parts *= u64::from(some[shape]) + 1;
        }
        let kinds = self.sheets.iter().enumerate();
        let each: Vec<usize> = kinds
            .flat_map(|(kind, sheet)| {
                std::iter::repeat_n(kind, usize::try_from(sheet.copies).unwrap_or(usize::MAX))
            })
            .collect();
        self.divided(&some, &each, work)
    }

    /// Do the pieces come out of these sheets, some from the first and the rest from the others?
    fn divided(&mut self, pieces: &[u32], sheets: &[usize], work: &mut Work<'_>) -> Option<bool> {
        let Some((&first, others)) = sheets.split_first() else {
            return Some(pieces.iter().all(|&n| n == 0));
        };
        if others.is_empty() {
            return self.fits(pieces, first, work);
        }
        work.take(LOOK)?;
        let area = sheets.iter().map(|&kind| area(self.sheets[kind].width, self.sheets[kind].height));
        if self.area_of(pieces) > area.sum() {
            return Some(false);
        }
        let at = (sheets.len(), pieces.to_vec());
        if let Some(&known) = self.shared.get(&at) {
            return Some(known);
        }
        let mut comes_out = false;
        for part in self.fullest(pieces, first, work)? {
            let rest: Vec<u32> = pieces.iter().zip(&part).map(|(all, taken)| all - taken).collect();
            if self.divided(&rest, others, work)? {
                comes_out = true;
                break;
            }
        }
        self.shared.insert(at, comes_out);
        Some(comes_out)
    }

    /// The parts of `pieces` that fit one sheet, without those that fit with another piece as well.
    fn fullest(&mut self, pieces: &[u32], kind: usize, work: &mut Work<'_>) -> Option<Vec<Vec<u32>>> {
        let mut found = Vec::new();
        let mut part = vec![0; pieces.len()];
        loop {
            work.take(LOOK)?;
            if self.fits(&part, kind, work)? {
                let mut full = true;
                for shape in (0..pieces.len()).filter(|&shape| part[shape] < pieces[shape]) {
                    work.take(LOOK)?;
                    let mut more = part.clone();
                    more[shape] += 1;
                    full = full && !self.fits(&more, kind, work)?;
                }
                if full {
                    found.push(part.clone());
                }
            }
            if !next_part(&mut part, pieces) {
                return Some(found);
            }
        }
    }

    fn area_of(&self, pieces: &[u32]) -> i128 {
        let each = self.shapes.iter().zip(pieces);
        each.map(|(shape, &n)| area(shape.width, shape.height) * i128::from(n)).sum()
    }

    fn fits(&mut self, pieces: &[u32], kind: usize, work: &mut Work<'_>) -> Option<bool> {
        if pieces.iter().all(|&n| n == 0) {
            return Some(true);
        }
        let allowed = |shape: &Shape| shape.from.is_empty() || shape.from.contains(&self.sheets[kind].cut);
        if !self.shapes.iter().zip(pieces).all(|(shape, &n)| n == 0 || allowed(shape)) {
            return Some(false);
        }
        self.fill(pieces, work)?;
        let sheet = &self.sheets[kind];
        let held = |&(width, height): &Held| width <= sheet.width && height <= sheet.height;
        Some(self.boxes[pieces].iter().any(held))
    }

    /// Works out the least boxes of `pieces` and of all that is part of them.
    fn fill(&mut self, pieces: &[u32], work: &mut Work<'_>) -> Option<()> {
        if self.boxes.contains_key(pieces) {
            return Some(());
        }
        let total: u32 = pieces.iter().sum();
        let mut found: Vec<Held> = Vec::new();
        if total == 1 {
            let at = pieces.iter().position(|&n| n == 1).expect("one of them is there");
            let shape = &self.shapes[at];
            found.push((shape.width, shape.height));
            if !self.has_up || shape.free {
                found.push((shape.height, shape.width));
            }
            found.retain(|&held| self.is_in_some_sheet(held));
        }
        if total > 1 && self.is_too_much(pieces, work)? {
            self.boxes.insert(pieces.to_vec(), found);
            return Some(());
        }
        let mut part = vec![0; pieces.len()];
        while total > 1 && next_part(&mut part, pieces) {
            work.take(LOOK)?;
            let rest: Vec<u32> = pieces.iter().zip(&part).map(|(all, taken)| all - taken).collect();
            // Each division once, whichever of the two comes first.
            if part > rest || rest.iter().all(|&n| n == 0) {
                continue;
            }
            self.fill(&part, work)?;
            self.fill(&rest, work)?;
            for &(width, height) in &self.boxes[&part] {
                for &(other, tall) in &self.boxes[&rest] {
                    work.take(1)?;
                    for held in [(width + other, height.max(tall)), (width.max(other), height + tall)] {
                        if self.is_in_some_sheet(held) {
                            keep(&mut found, held);
                        }
                    }
                }
            }
        }
        self.boxes.insert(pieces.to_vec(), found);
        Some(())
    }

    /// Do these not go into any sheet because they are larger, or because all but one of them do not?
    fn is_too_much(&mut self, pieces: &[u32], work: &mut Work<'_>) -> Option<bool> {
        let needed = self.area_of(pieces);
        if self.sheets.iter().all(|sheet| area(sheet.width, sheet.height) < needed) {
            return Some(true);
        }
        for shape in (0..pieces.len()).filter(|&shape| pieces[shape] > 0) {
            work.take(LOOK)?;
            let mut fewer = pieces.to_vec();
            fewer[shape] -= 1;
            self.fill(&fewer, work)?;
            if self.boxes[&fewer].is_empty() {
                return Some(true);
            }
        }
        Some(false)
    }

    fn is_in_some_sheet(&self, (width, height): Held) -> bool {
        self.sheets.iter().any(|sheet| width <= sheet.width && height <= sheet.height)
    }
}

fn area(width: Ticks, height: Ticks) -> i128 {
    i128::from(width) * i128::from(height)
}

/// Keeps a box unless another is no larger either way; drops those that it beats.
fn keep(found: &mut Vec<Held>, held: Held) {
    if found.iter().any(|other| other.0 <= held.0 && other.1 <= held.1) {
        return;
    }
    found.retain(|other| held.0 > other.0 || held.1 > other.1);
    found.push(held);
}

/// The next of all ways to take some of `pieces`, like an odometer; false after the last.
fn next_part(part: &mut [u32], pieces: &[u32]) -> bool {
    for (taken, &all) in part.iter_mut().zip(pieces) {
        if *taken < all {
            *taken += 1;
            return true;
        }
        *taken = 0;
    }
    false
}

/// The most that one sheet is worth when cut into pieces of these values, as many as there is room for; `None` when
/// its grid is too fine or the work is done. Plainly: every rectangle on the grid of all sides, every cut through it.
pub(super) fn best_value(
    sheet: &SheetKind,
    values: &[(&Shape, i64)],
    has_up: bool,
    work: &mut Work<'_>,
) -> Option<i64> {
    let mut pieces: Vec<(Ticks, Ticks, i64)> = Vec::new();
    for &(shape, value) in values {
        if !shape.from.is_empty() && !shape.from.contains(&sheet.cut) {
            continue;
        }
        pieces.push((shape.width, shape.height, value));
        if !has_up || shape.free {
            pieces.push((shape.height, shape.width, value));
        }
    }
    pieces.retain(|&(width, height, _)| width <= sheet.width && height <= sheet.height);
    // All sides are whole steps of this, and so is every place worth cutting at, pushed together.
    let step = pieces.iter().flat_map(|&(width, height, _)| [width, height]).fold(0, gcd);
    if step == 0 {
        return Some(0);
    }
    let size = |side: Ticks| usize::try_from(side / step).ok();
    let (columns, rows) = (size(sheet.width)?, size(sheet.height)?);
    let squares = u64::try_from(columns).ok()?.checked_mul(u64::try_from(rows).ok()?)?;
    if squares > MOST_SQUARES {
        return None;
    }
    let each_column = u64::try_from(rows).ok()? * u64::try_from(columns + rows).ok()? / 32;
    let at = |x: usize, y: usize| x * (rows + 1) + y;
    let mut best = vec![0i64; (columns + 1) * (rows + 1)];
    for &(width, height, value) in &pieces {
        let place = at(size(width)?, size(height)?);
        best[place] = best[place].max(value);
    }
    for x in 1..=columns {
        work.take(each_column)?;
        for y in 1..=rows {
            let mut most = best[at(x, y)].max(best[at(x - 1, y)]).max(best[at(x, y - 1)]);
            for cut in 1..=x / 2 {
                most = most.max(best[at(cut, y)] + best[at(x - cut, y)]);
            }
            for cut in 1..=y / 2 {
                most = most.max(best[at(x, cut)] + best[at(x, y - cut)]);
            }
            best[at(x, y)] = most;
        }
    }
    Some(best[at(columns, rows)])
}

fn gcd(a: Ticks, b: Ticks) -> Ticks {
    if b == 0 { a } else { gcd(b, a % b) }
}
