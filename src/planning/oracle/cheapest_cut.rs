//! One question worked out: a list of pieces, and the cheapest way found to cut it from the sheets of one print.

use std::collections::HashMap;

use crate::cutting::{self, FitAll, Layout, Stop};
use crate::planning::oracle::cut_print::{CutSheet, Cutting, Question, highest};
use crate::planning::oracle::openings::{Ask, MOST_OPENINGS, area_of};

/// The answer to `question`, as far as its steps and the stop let it be worked out.
pub(crate) fn cheapest_cut(question: &Question, stop: &Stop) -> Cutting {
    Ask::new(question, stop).answer()
}

/// Some whole sheets of a print filled, and how many pieces of each size are left.
#[derive(Clone)]
struct Filled {
    sheets: Vec<CutSheet>,
    left: Vec<u32>,
}

impl Ask<'_> {
    fn answer(&self) -> Cutting {
        if self.question.all {
            return self.all_sheets();
        }
        let whole: Vec<usize> = (0..self.sheets.len()).filter(|&k| !self.sheets[k].by_length).collect();
        let yards: Vec<usize> = (0..self.sheets.len()).filter(|&k| self.sheets[k].by_length).collect();
        if yards.is_empty() { self.whole_sheets(&whole) } else { self.with_yardage(&whole, &yards) }
    }

    fn whole_sheets(&self, kinds: &[usize]) -> Cutting {
        let openings = self.openings(kinds);
        let mut unknown = false;
        let mut refusal = None;
        for open in openings {
            if self.opening_area(kinds, &open) < self.area {
                continue;
            }
            match self.fit(kinds, &open) {
                FitAll::Yes(layouts) => {
                    return self.yes(kinds, &open, layouts, if unknown { self.floor() } else { i64::MAX });
                }
                FitAll::No(proof) => refusal = Some(proof),
                FitAll::Unknown => unknown = true,
            }
        }
        if unknown {
            return Cutting::Unknown;
        }
        // The last way opens every sheet; when its area was too small, that is the proof.
        Cutting::No(refusal.unwrap_or_else(|| self.too_little()))
    }

    fn all_sheets(&self) -> Cutting {
        let kinds: Vec<usize> = (0..self.sheets.len()).collect();
        let open: Vec<u32> = self.sheets.iter().map(|kind| kind.copies).collect();
        match self.fit(&kinds, &open) {
            FitAll::Yes(layouts) => self.yes(&kinds, &open, layouts, self.floor()),
            FitAll::No(proof) => Cutting::No(proof),
            FitAll::Unknown => Cutting::Unknown,
        }
    }

    /// Small sheets first as far as that is cheaper, the rest from the yardage.
    fn with_yardage(&self, whole: &[usize], yards: &[usize]) -> Cutting {
        let mut best: Option<(i64, Vec<CutSheet>)> = None;
        let mut filled = HashMap::new();
        let yardage: i64 =
            yards.iter().map(|&kind| self.sheets[kind].area() * i64::from(self.sheets[kind].copies)).sum();
        for open in self.openings(whole).into_iter().take(MOST_OPENINGS) {
            let opened = self.opening_cost(whole, &open);
            let cheaper = |yardage: i64| best.as_ref().is_none_or(|(cost, _)| opened + yardage < *cost);
            let room = self.opening_area(whole, &open);
            if !cheaper(0) || !cheaper(self.yardage_for(yards, self.area - room)) {
                continue;
            }
            // What is left has to have room on the yardage.
            if self.area > room + yardage {
                continue;
            }
            let filled = self.filled(whole, &open, &mut filled);
            if area_of(&self.kinds, &filled.left) > yardage
                || !cheaper(self.yardage_least(yards, &filled.left))
            {
                continue;
            }
            if let Some((cost, sheets)) = self.with_rest(filled, yards)
                && best.as_ref().is_none_or(|(least, _)| cost < *least)
            {
                best = Some((cost, sheets));
            }
        }
        if let Some((cost, sheets)) = best {
            return Cutting::Yes { cost, least: self.floor().min(cost), sheets };
        }
        let everything: Vec<usize> = whole.iter().chain(yards).copied().collect();
        let open: Vec<u32> = everything.iter().map(|&k| self.sheets[k].copies).collect();
        match self.fit(&everything, &open) {
            FitAll::Yes(layouts) => self.yes(&everything, &open, layouts, self.floor()),
            FitAll::No(proof) => Cutting::No(proof),
            FitAll::Unknown => Cutting::Unknown,
        }
    }

    /// Whole sheets filled one after the other, each as full as possible. The same with one sheet less is a part of
    /// it, so what was `known` of that is not worked out again.
    fn filled(&self, whole: &[usize], open: &[u32], known: &mut HashMap<Vec<u32>, Filled>) -> Filled {
        if let Some(filled) = known.get(open) {
            return filled.clone();
        }
        let mut filled = Filled { sheets: Vec::new(), left: self.counts.clone() };
        if let Some(last) = open.iter().rposition(|&many| many > 0) {
            let mut fewer = open.to_vec();
            fewer[last] -= 1;
            filled = self.filled(whole, &fewer, known);
            if filled.left.iter().any(|&n| n > 0) {
                let kind = whole[last];
                let layout = self.fullest(kind, &mut filled.left);
                filled.sheets.push(CutSheet { kind, used: layout.height(), layout });
            }
        }
        known.insert(open.to_vec(), filled.clone());
        filled
    }

    /// The filled sheets, and what is left from yardage.
    fn with_rest(&self, filled: Filled, yards: &[usize]) -> Option<(i64, Vec<CutSheet>)> {
        let Filled { mut sheets, mut left } = filled;
        // One length of yardage that takes all that is left, the cheapest such; else several, one after the other.
        let mut lengths: Vec<(usize, u32)> = yards.iter().map(|&k| (k, self.sheets[k].copies)).collect();
        while left.iter().any(|&n| n > 0) {
            let single = lengths
                .iter()
                .filter(|&&(_, copies)| copies > 0)
                .filter_map(|&(kind, _)| self.rest(kind, &left));
            if let Some(cut) = single.min_by_key(|cut| (self.sheets[cut.kind].cost(cut.used), cut.kind)) {
                sheets.push(cut);
                left.fill(0);
                break;
            }
            // Nothing takes it all: fill the largest length and go on.
            let place = (0..lengths.len())
                .filter(|&i| lengths[i].1 > 0)
                .max_by_key(|&i| (self.sheets[lengths[i].0].area(), i))?;
            lengths[place].1 -= 1;
            let kind = lengths[place].0;
            let before = left.clone();
            let layout = self.fullest(kind, &mut left);
            if before == left {
                return None;
            }
            sheets.push(CutSheet { kind, used: highest(&layout), layout });
        }
        sheets.retain(|cut| !cut.layout.pieces().is_empty());
        Some((sheets.iter().map(|cut| self.sheets[cut.kind].cost(cut.used)).sum(), sheets))
    }

    fn rest(&self, kind: usize, left: &[u32]) -> Option<CutSheet> {
        if (0..left.len()).any(|size| left[size] > 0 && !self.allowed(size, kind)) {
            return None;
        }
        let sheet = self.sheets[kind].sheet;
        if area_of(&self.kinds, left) > self.sheets[kind].area() {
            return None;
        }
        let mut work = self.work.clone();
        let (layout, used) =
            cutting::shortest(sheet.width, sheet.height, &self.kinds, left, &mut work).found?;
        Some(CutSheet { kind, layout, used })
    }

    /// The fullest layout of one sheet; takes its pieces out of `left`.
    fn fullest(&self, kind: usize, left: &mut [u32]) -> Layout {
        let values: Vec<i64> =
            self.kinds.iter().map(|size| size.width.by(size.height).square_ticks()).collect();
        let limited: Vec<u32> =
            (0..left.len()).map(|size| if self.allowed(size, kind) { left[size] } else { 0 }).collect();
        let mut work = self.work.clone();
        let layout =
            cutting::knapsack(self.sheets[kind].sheet, &self.kinds, &values, Some(&limited), &mut work)
                .layout;
        for (size, _, _) in layout.pieces() {
            left[size] -= 1;
        }
        layout
    }
}
