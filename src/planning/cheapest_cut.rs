//! One question worked out: a list of pieces, and the cheapest way found to cut it from the sheets of one print.

use std::collections::HashMap;

use itertools::Itertools;

use crate::cutting::{self, Fit, FitAll, Kind, Layout, Proof, Sheet, Stop, Work};
use crate::length::{Area, Length};
use crate::planning::cut_print::{CutSheet, Cutting, Question, highest};
use crate::planning::holding::SheetKind;

/// More ways to open sheets than this are not tried one by one.
const MOST_OPENINGS: usize = 64;

/// Some whole sheets of a print filled, and how many pieces of each size are left.
#[derive(Clone)]
struct Filled {
    sheets: Vec<CutSheet>,
    left: Vec<u32>,
}

/// One question being worked out.
pub(crate) struct Ask<'a> {
    question: &'a Question,
    sheets: &'a [SheetKind],
    kinds: Vec<Kind>,
    counts: Vec<u32>,
    /// Area of the pieces.
    area: i64,
    /// What each single question to the cutting engine may take.
    work: Work,
}

impl<'a> Ask<'a> {
    pub(crate) fn new(question: &'a Question, stop: &Stop) -> Ask<'a> {
        let kinds: Vec<Kind> = question.pieces.iter().map(|wanted| wanted.kind).collect();
        let counts: Vec<u32> = question.pieces.iter().map(|wanted| wanted.count).collect();
        let area = area_of(&kinds, &counts);
        let work = Work::steps(question.steps).unless(stop);
        Ask { question, sheets: &question.sheets, kinds, counts, area, work }
    }

    pub(crate) fn answer(&self) -> Cutting {
        if self.question.all {
            return self.all_sheets();
        }
        let whole: Vec<usize> = (0..self.sheets.len()).filter(|&k| !self.sheets[k].by_length).collect();
        let yards: Vec<usize> = (0..self.sheets.len()).filter(|&k| self.sheets[k].by_length).collect();
        if yards.is_empty() { self.whole_sheets(&whole) } else { self.with_yardage(&whole, &yards) }
    }

    /// Ways to open sheets, cheapest first: how many of each kind in `kinds`.
    fn openings(&self, kinds: &[usize]) -> Vec<Vec<u32>> {
        let ways: usize = kinds
            .iter()
            .map(|&k| self.sheets[k].copies as usize + 1)
            .try_fold(1usize, usize::checked_mul)
            .unwrap_or(usize::MAX);
        if ways > MOST_OPENINGS {
            return self.growing(kinds);
        }
        if kinds.is_empty() {
            return vec![Vec::new()];
        }
        let mut all: Vec<Vec<u32>> =
            kinds.iter().map(|&k| 0..=self.sheets[k].copies).multi_cartesian_product().collect();
        all.sort_by_key(|open| (self.opening_cost(kinds, open), open.clone()));
        all
    }

    /// Too many ways: open one sheet more each time, in the class's order.
    fn growing(&self, kinds: &[usize]) -> Vec<Vec<u32>> {
        let mut open = vec![0; kinds.len()];
        let mut all = vec![open.clone()];
        for (place, &k) in kinds.iter().enumerate() {
            for _ in 0..self.sheets[k].copies {
                open[place] += 1;
                all.push(open.clone());
            }
        }
        all
    }

    fn opening_cost(&self, kinds: &[usize], open: &[u32]) -> i64 {
        kinds
            .iter()
            .zip(open)
            .map(|(&k, &n)| self.sheets[k].cost(self.sheets[k].sheet.height) * i64::from(n))
            .sum()
    }

    fn opening_area(&self, kinds: &[usize], open: &[u32]) -> i64 {
        kinds.iter().zip(open).map(|(&k, &n)| self.sheets[k].area() * i64::from(n)).sum()
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

    /// No way of cutting the pieces opens less: each covers its own area, from one length of yardage alone the engine's
    /// bound on the length holds, and beside whole sheets yardage takes at least what they have no room for.
    fn floor(&self) -> i64 {
        let rate = self.sheets.iter().map(|kind| kind.weight).min().unwrap_or(0);
        let by_area = self.area * rate;
        by_area.max(match self.sheets {
            [only] if only.by_length && only.copies == 1 => only.cost(self.length_bound(only.sheet)),
            _ => self.floor_beside_yardage().unwrap_or(0),
        })
    }

    fn length_bound(&self, sheet: Sheet) -> Length {
        let mut work = self.work.clone();
        cutting::shortest(sheet.width, sheet.height, &self.kinds, &self.counts, &mut work).bound
    }

    /// The least over all ways to open whole sheets: those, and yardage for the area that is left, or for the flattest piece
    /// if that is more. `None` where there is no yardage, or the ways are too many to go through.
    fn floor_beside_yardage(&self) -> Option<i64> {
        let (yards, whole): (Vec<usize>, Vec<usize>) =
            (0..self.sheets.len()).partition(|&kind| self.sheets[kind].by_length);
        let rate = yards.iter().map(|&kind| self.sheets[kind].weight).min()?;
        let side = |kind: &Kind| if kind.turn { kind.height.min(kind.width) } else { kind.height };
        let wanted = self.kinds.iter().zip(&self.counts).filter(|(_, count)| **count > 0);
        let flattest = wanted.map(|(kind, _)| side(kind)).min()?;
        let one_piece = yards.iter().map(|&kind| self.sheets[kind].cost(flattest)).min()?;
        let mut ways = whole.iter().map(|&kind| self.sheets[kind].copies as usize + 1);
        ways.try_fold(1usize, usize::checked_mul).filter(|&ways| ways <= MOST_OPENINGS)?;
        let least = |open: &Vec<u32>| {
            let left = self.area - self.opening_area(&whole, open);
            let yardage = if left > 0 { one_piece.max(left * rate) } else { 0 };
            self.opening_cost(&whole, open) + yardage
        };
        self.openings(&whole).iter().map(least).min()
    }

    fn too_little(&self) -> Proof {
        let sheets = self.sheets.iter().map(|kind| kind.area() * i64::from(kind.copies)).sum();
        Proof::Area {
            kinds: Vec::new(),
            pieces: Area::from_square_ticks(self.area),
            sheets: Area::from_square_ticks(sheets),
        }
    }

    fn fit(&self, kinds: &[usize], open: &[u32]) -> FitAll {
        let list: Vec<usize> =
            kinds.iter().zip(open).flat_map(|(&k, &n)| std::iter::repeat_n(k, n as usize)).collect();
        let mut work = self.work.clone();
        if let [only] = list[..]
            && (0..self.kinds.len()).all(|s| self.counts[s] == 0 || self.allowed(s, only))
        {
            return match cutting::fit_one(self.sheets[only].sheet, &self.kinds, &self.counts, &mut work) {
                Fit::Yes(layout) => FitAll::Yes(vec![layout]),
                Fit::No(proof) => FitAll::No(proof),
                Fit::Unknown => FitAll::Unknown,
            };
        }
        let sheets: Vec<Sheet> = list.iter().map(|&k| self.sheets[k].sheet).collect();
        let free = self.question.pieces.iter().all(|wanted| wanted.from.is_empty());
        let table: Vec<Vec<bool>> =
            (0..self.kinds.len()).map(|s| list.iter().map(|&k| self.allowed(s, k)).collect()).collect();
        cutting::fit_all(&sheets, &self.kinds, &self.counts, (!free).then_some(&table[..]), &mut work)
    }

    fn allowed(&self, size: usize, kind: usize) -> bool {
        let from = &self.question.pieces[size].from;
        from.is_empty() || from.contains(&self.sheets[kind].cut)
    }

    fn yes(&self, kinds: &[usize], open: &[u32], layouts: Vec<Layout>, least: i64) -> Cutting {
        let list = kinds.iter().zip(open).flat_map(|(&k, &n)| std::iter::repeat_n(k, n as usize));
        let sheets: Vec<CutSheet> = list
            .zip(layouts)
            .filter(|(_, layout)| !layout.pieces().is_empty())
            .map(|(kind, layout)| CutSheet { kind, used: self.used(kind, &layout), layout })
            .collect();
        let cost = sheets.iter().map(|cut| self.sheets[cut.kind].cost(cut.used)).sum();
        Cutting::Yes { cost, least: least.min(cost), sheets }
    }

    fn used(&self, kind: usize, layout: &Layout) -> Length {
        if self.sheets[kind].by_length { highest(layout) } else { layout.height() }
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

    /// No pieces of so much area together open less yardage.
    fn yardage_for(&self, yards: &[usize], area: i64) -> i64 {
        let rate = yards.iter().map(|&kind| self.sheets[kind].weight).min().unwrap_or(0);
        area.max(0) * rate
    }

    /// Nor do these; where there is one length of yardage, the quick bound on its length holds as well.
    fn yardage_least(&self, yards: &[usize], left: &[u32]) -> i64 {
        let by_area = self.yardage_for(yards, area_of(&self.kinds, left));
        match yards {
            &[only] if self.sheets[only].copies == 1 && by_area > 0 => {
                let SheetKind { sheet, .. } = self.sheets[only];
                let length = cutting::length_bound(sheet.width, &self.kinds, left);
                by_area.max(self.sheets[only].cost(length))
            }
            _ => by_area,
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

fn area_of(kinds: &[Kind], counts: &[u32]) -> i64 {
    kinds.iter().zip(counts).map(|(kind, &n)| kind.width.by(kind.height).square_ticks() * i64::from(n)).sum()
}
