//! The sheets of one question: the ways to open them, what comes out of some of them, and what no way goes below.

use itertools::Itertools;

use crate::cutting::{self, Fit, FitAll, Kind, Layout, Proof, Sheet, Stop, Work};
use crate::length::{Area, Length};
use crate::planning::instance::holding::SheetKind;
use crate::planning::oracle::cut_print::{CutSheet, Cutting, Question, highest};

/// More ways to open sheets than this are not tried one by one.
pub(crate) const MOST_OPENINGS: usize = 64;

/// One question being worked out: its sheets and its pieces.
pub(crate) struct Ask<'a> {
    pub(crate) question: &'a Question,
    pub(crate) sheets: &'a [SheetKind],
    pub(crate) kinds: Vec<Kind>,
    pub(crate) counts: Vec<u32>,
    /// Area of the pieces.
    pub(crate) area: i64,
    /// What each single question to the cutting engine may take.
    pub(crate) work: Work,
}

impl<'a> Ask<'a> {
    pub(crate) fn new(question: &'a Question, stop: &Stop) -> Ask<'a> {
        let kinds: Vec<Kind> = question.pieces.iter().map(|wanted| wanted.kind).collect();
        let counts: Vec<u32> = question.pieces.iter().map(|wanted| wanted.count).collect();
        let area = area_of(&kinds, &counts);
        let work = Work::steps(question.steps).unless(stop);
        Ask { question, sheets: &question.sheets, kinds, counts, area, work }
    }

    /// Ways to open sheets, cheapest first: how many of each kind in `kinds`.
    pub(crate) fn openings(&self, kinds: &[usize]) -> Vec<Vec<u32>> {
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

    pub(crate) fn opening_cost(&self, kinds: &[usize], open: &[u32]) -> i64 {
        kinds
            .iter()
            .zip(open)
            .map(|(&k, &n)| self.sheets[k].cost(self.sheets[k].sheet.height) * i64::from(n))
            .sum()
    }

    pub(crate) fn opening_area(&self, kinds: &[usize], open: &[u32]) -> i64 {
        kinds.iter().zip(open).map(|(&k, &n)| self.sheets[k].area() * i64::from(n)).sum()
    }

    pub(crate) fn fit(&self, kinds: &[usize], open: &[u32]) -> FitAll {
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

    pub(crate) fn allowed(&self, size: usize, kind: usize) -> bool {
        let from = &self.question.pieces[size].from;
        from.is_empty() || from.contains(&self.sheets[kind].cut)
    }

    pub(crate) fn yes(&self, kinds: &[usize], open: &[u32], layouts: Vec<Layout>, least: i64) -> Cutting {
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

    /// No way of cutting the pieces opens less: each covers its own area, from one length of yardage alone the engine's
    /// bound on the length holds, and beside whole sheets yardage takes at least what they have no room for.
    pub(crate) fn floor(&self) -> i64 {
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

    pub(crate) fn too_little(&self) -> Proof {
        let sheets = self.sheets.iter().map(|kind| kind.area() * i64::from(kind.copies)).sum();
        Proof::Area {
            kinds: Vec::new(),
            pieces: Area::from_square_ticks(self.area),
            sheets: Area::from_square_ticks(sheets),
        }
    }

    /// No pieces of so much area together open less yardage.
    pub(crate) fn yardage_for(&self, yards: &[usize], area: i64) -> i64 {
        let rate = yards.iter().map(|&kind| self.sheets[kind].weight).min().unwrap_or(0);
        area.max(0) * rate
    }

    /// Nor do these; where there is one length of yardage, the quick bound on its length holds as well.
    pub(crate) fn yardage_least(&self, yards: &[usize], left: &[u32]) -> i64 {
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
}

pub(crate) fn area_of(kinds: &[Kind], counts: &[u32]) -> i64 {
    kinds.iter().zip(counts).map(|(kind, &n)| kind.width.by(kind.height).square_ticks() * i64::from(n)).sum()
}
