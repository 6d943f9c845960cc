//! Do these pieces come out of these sheets of one fabric?

use crate::cutting::bounds::dual_feasible;
use crate::cutting::bounds::value_table::Table;
use crate::cutting::fit::greedy;
use crate::cutting::fit::shapes::{Shapes, multisets};
use crate::cutting::fit::{Answer, fit_block, real_area, small_area};
use crate::cutting::grid::block::{Block, Namer, layout_with};
use crate::cutting::grid::order::Order;
use crate::cutting::{Kind, Layout, Proof, Sheet, Work};

/// Answer to [`fit_all`].
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FitAll {
    /// One layout a sheet, in order; a sheet that is not needed is a bare leftover.
    Yes(Vec<Layout>),
    /// They do not, and this is why.
    No(Proof),
    /// The work ended first.
    Unknown,
}

/// Thresholds a side for dual feasible functions.
const THRESHOLDS: usize = 6;

/// Whether `counts[k]` pieces of every kind can be cut from `sheets` together; `allowed[kind][sheet]` says
/// which sheets a kind may come from (all when `None`). Later sheets are left whole where that is easily found.
///
/// # Panics
/// When `counts` has not one count a kind.
pub fn fit_all(
    sheets: &[Sheet],
    kinds: &[Kind],
    counts: &[u32],
    allowed: Option<&[Vec<bool>]>,
    work: &mut Work,
) -> FitAll {
    assert_eq!(kinds.len(), counts.len(), "one count a kind");
    let order = Order::merged_if(kinds, counts, |a, b| allowed.is_none_or(|all| all[a] == all[b]));
    let may = |size: usize, sheet: usize| allowed.is_none_or(|all| all[order.members[size][0].0][sheet]);
    let instance =
        Instance { grid: sheets.iter().map(|&s| order.sheet(s)).collect(), sheets, order: &order, may: &may };
    match instance.solve(work) {
        Ok(Some(blocks)) => {
            let mut namer = Namer::new(&order, kinds);
            FitAll::Yes(
                sheets.iter().zip(&blocks).map(|(&s, b)| layout_with(b.as_ref(), s, &mut namer)).collect(),
            )
        }
        Ok(None) => FitAll::Unknown,
        Err(proof) => FitAll::No(proof),
    }
}

struct Instance<'a> {
    sheets: &'a [Sheet],
    grid: Vec<(u32, u32)>,
    order: &'a Order,
    may: &'a dyn Fn(usize, usize) -> bool,
}

impl Instance<'_> {
    /// Blocks, or none found, or a proof that there are none.
    fn solve(&self, work: &mut Work) -> Result<Option<Vec<Option<Block>>>, Proof> {
        if self.order.sizes.is_empty() {
            return Ok(Some(vec![None; self.sheets.len()]));
        }
        self.refuse_by_area()?;
        if let Some(blocks) = self.construct(work) {
            return Ok(Some(blocks));
        }
        if let [sheet] = self.sheets {
            return match fit_block(*sheet, self.order, work) {
                Answer::Yes(block) => Ok(Some(vec![block])),
                Answer::No(proof) => Err(proof),
                Answer::Unknown => Ok(None),
            };
        }
        self.refuse_by_measure()?;
        self.refuse_by_value(work)?;
        self.exhaust(work)
    }

    /// Sheets a size may come from and fits on.
    fn homes(&self, size: usize) -> Vec<bool> {
        let fits = |sheet: usize| {
            let (w, h) = self.grid[sheet];
            (self.may)(size, sheet) && self.order.sizes[size].ways().any(|(a, b)| a <= w && b <= h)
        };
        (0..self.grid.len()).map(fits).collect()
    }

    /// Pieces that fit nowhere, and sets of pieces with more area than all the sheets they fit on.
    fn refuse_by_area(&self) -> Result<(), Proof> {
        let homes: Vec<Vec<bool>> = (0..self.order.sizes.len()).map(|s| self.homes(s)).collect();
        if let Some(size) = homes.iter().position(|home| !home.contains(&true)) {
            return Err(Proof::TooLong { kind: self.order.members[size][0].0 });
        }
        let mut sets = homes.clone();
        sets.push(vec![true; self.grid.len()]);
        sets.sort_unstable();
        sets.dedup();
        for set in sets {
            let inside = |home: &Vec<bool>| home.iter().zip(&set).all(|(h, s)| !h || *s);
            let held: Vec<usize> = (0..homes.len()).filter(|&s| inside(&homes[s])).collect();
            let pieces: u64 =
                held.iter().map(|&s| self.order.sizes[s].area() * u64::from(self.order.counts[s])).sum();
            let sheets: u64 = self
                .grid
                .iter()
                .zip(&set)
                .filter(|(_, inside)| **inside)
                .map(|((w, h), _)| u64::from(*w) * u64::from(*h))
                .sum();
            if pieces > sheets {
                let all = held.len() == homes.len();
                let kinds = held.iter().flat_map(|&s| self.order.members[s].iter().map(|m| m.0)).collect();
                return Err(Proof::Area {
                    kinds: if all { Vec::new() } else { kinds },
                    pieces: real_area(pieces, self.order.unit),
                    sheets: real_area(sheets, self.order.unit),
                });
            }
        }
        Ok(())
    }

    /// Constructive, with as few of the first sheets as work.
    fn construct(&self, work: &mut Work) -> Option<Vec<Option<Block>>> {
        let sequences = greedy::sequences(&self.order.sizes, &self.order.counts);
        let pieces = u64::from(self.order.pieces());
        let mut room = 0;
        for used in 1..=self.grid.len() {
            room += u64::from(self.grid[used - 1].0) * u64::from(self.grid[used - 1].1);
            if room < self.order.area() {
                continue;
            }
            for sequence in &sequences {
                for manner in greedy::MANNERS {
                    let packed =
                        greedy::pack(&self.grid[..used], &self.order.sizes, sequence, self.may, manner);
                    if let Some(mut blocks) = packed {
                        blocks.resize(self.grid.len(), None);
                        return Some(blocks);
                    }
                    if !work.spend(pieces * pieces) {
                        return None;
                    }
                }
            }
        }
        None
    }

    /// Dual feasible functions, when all sheets are equal.
    fn refuse_by_measure(&self) -> Result<(), Proof> {
        let (w, h) = self.grid[0];
        if self.grid.iter().any(|&sheet| sheet != (w, h)) {
            return Ok(());
        }
        let sheets = self.grid.len() as u64;
        match dual_feasible::excess(w, h, sheets, &self.order.sizes, &self.order.counts, THRESHOLDS) {
            Some((pieces, sheets)) => Err(Proof::DualFeasible { pieces, sheets }),
            None => Ok(()),
        }
    }

    /// Value tables of all sheets together, with area as value.
    fn refuse_by_value(&self, work: &mut Work) -> Result<(), Proof> {
        let areas: Vec<i64> = self.order.sizes.iter().map(|s| small_area(s.area())).collect();
        let mut most = 0;
        let mut known: Vec<((u32, u32), i64)> = Vec::new();
        for &(w, h) in &self.grid {
            let value = match known.iter().find(|k| k.0 == (w, h)) {
                Some(k) => k.1,
                None => {
                    let Some(mut table) = Table::reduced(w, h, &self.order.sizes) else {
                        return Ok(());
                    };
                    if work.left() / 4 < table.steps() {
                        return Ok(());
                    }
                    work.spend(table.steps());
                    table.fill(&areas);
                    known.push(((w, h), table.whole()));
                    table.whole()
                }
            };
            most += value;
        }
        let pieces = small_area(self.order.area());
        if most < pieces {
            return Err(crate::cutting::fit::values_proof(self.order, &areas, pieces, most));
        }
        Ok(())
    }

    /// Exact, when the multisets are few: which multisets can be left after each sheet, by the largest that it can give.
    fn exhaust(&self, work: &mut Work) -> Result<Option<Vec<Option<Block>>>, Proof> {
        if multisets(&self.order.counts).is_none() {
            return Ok(None);
        }
        let before = work.left();
        let slack: u64 =
            self.grid.iter().map(|(w, h)| u64::from(*w) * u64::from(*h)).sum::<u64>() - self.order.area();
        let Some(shapes) = Shapes::of(&self.order.sizes, &self.order.counts, &self.grid, slack, work) else {
            return Ok(None);
        };
        let counts: Vec<Vec<u32>> = (0..shapes.len()).map(|code| shapes.counts(code)).collect();
        // came[sheet][rest] = the multiset cut from `sheet` that leaves `rest`.
        let mut came: Vec<Vec<Option<usize>>> = Vec::new();
        let mut rests = vec![false; shapes.len()];
        rests[shapes.len() - 1] = true;
        for (sheet, &(w, h)) in self.grid.iter().enumerate() {
            let fitting: Vec<usize> = (0..shapes.len())
                .filter(|&code| {
                    shapes.fits(code, w, h)
                        && counts[code].iter().enumerate().all(|(s, &n)| n == 0 || (self.may)(s, sheet))
                })
                .collect();
            let mut from = vec![None; shapes.len()];
            let mut next = vec![false; shapes.len()];
            for rest in (0..shapes.len()).filter(|&rest| rests[rest]) {
                for &cut in &fitting {
                    if counts[cut].iter().zip(&counts[rest]).all(|(c, r)| c <= r) {
                        next[rest - cut] = true;
                        from[rest - cut] = Some(cut);
                    }
                }
                if !work.spend(fitting.len() as u64) {
                    return Ok(None);
                }
            }
            came.push(from);
            rests = next;
        }
        if !rests[0] {
            return Err(Proof::Exhausted { steps: before - work.left() });
        }
        let mut rest = 0;
        let mut blocks = Vec::new();
        for (sheet, from) in came.iter().enumerate().rev() {
            let cut = from[rest].expect("a rest that was reached has a way to it");
            let (w, h) = self.grid[sheet];
            blocks.push(shapes.blocks(cut, w, h).into_iter().next());
            rest += cut;
        }
        blocks.reverse();
        Ok(Some(blocks))
    }
}
