//! Sheets filled with sets whose pieces lie anywhere in them, for a few sets at a time (`cutting/knapsack/whole_sets.rs`). A set in
//! a box of its own, as `supply.rs` has it, is quicker found; here several sheets of one print may share it as well.

use rand::SeedableRng;
use rand::rngs::SmallRng;

use crate::cutting::{self, Lacks, Layout, Set, SetTable};
use crate::planning::columns::supply::{Fill, Supplies, counted};
use crate::planning::instance::Instance;
use crate::planning::side_by_side;

/// Elements of the group, and turns of inner loops that one table may take for them: so many for every sheet, and in all.
const MOST_ELEMENTS: usize = 32;
const TURNS: u64 = 2_000_000;
const MOST_TURNS: u64 = 15_000_000;
/// How often in a round some sets are drawn.
const DRAWS: u32 = 2;
/// Sheets of one print that are filled together.
const MOST_TOGETHER: u32 = 4;

impl Supplies {
    /// Turns of inner loops that one round takes.
    pub(crate) fn turns_anywhere(&self) -> u64 {
        let turns = |number: usize| {
            let steps = self.tables[number].as_ref()?.lock().expect("no table panics").steps();
            Some(steps * (self.elements(number, steps) as u64).pow(2) * u64::from(DRAWS))
        };
        (0..self.tables.len()).filter_map(turns).sum()
    }

    /// Elements that a table has, of so many steps for one: more where it is for more sheets.
    fn elements(&self, number: usize, steps: u64) -> usize {
        let supplies = self.all.iter().filter(|supply| supply.filling == number);
        let sheets: u64 = supplies.map(|supply| supply.prints.len() as u64 * u64::from(supply.copies)).sum();
        let turns = sheets.saturating_mul(TURNS).min(MOST_TURNS);
        usize::try_from((turns / steps.max(1)).isqrt()).unwrap_or(1).min(MOST_ELEMENTS)
    }

    /// The best ways to fill one or several whole sheets of a print at `prices` with sets that lie anywhere in them, of
    /// which a few are drawn for this `round`.
    pub(crate) fn price_anywhere(
        &self,
        instance: &Instance,
        prices: &[i64],
        round: u64,
        threads: usize,
    ) -> Vec<Fill> {
        let area = |size: usize| instance.sizes[size].width.by(instance.sizes[size].height).square_ticks();
        let values = |(bag, set): (usize, &Set)| -> Vec<i64> {
            let part = |&(size, _): &(usize, u32)| {
                i128::from(prices[bag]) * i128::from(area(size)) / i128::from(instance.bags[bag].area.max(1))
            };
            set.iter().map(|need| i64::try_from(part(need)).unwrap_or(i64::MAX)).collect()
        };
        let values: Vec<Vec<i64>> = self.sets.iter().enumerate().map(values).collect();
        let numbers: Vec<usize> =
            (0..self.tables.len()).filter(|&number| self.tables[number].is_some()).collect();
        let found = side_by_side::each(threads, &numbers, |&number| {
            let table = self.tables[number].as_ref().expect("only those there are");
            let mut table = table.lock().expect("no table panics");
            let elements = self.elements(number, table.steps());
            let mut random = SmallRng::seed_from_u64(round * 1_000 + number as u64);
            let mut found = Vec::new();
            for _ in 0..if elements > 1 { DRAWS } else { 0 } {
                let lacks = Lacks::of_some(&self.sets, elements, &mut random);
                table.fill(&lacks, &values);
                let supplies = (0..self.all.len()).filter(|&supply| self.all[supply].filling == number);
                found.extend(supplies.flat_map(|supply| self.anywhere(instance, &table, &lacks, supply)));
            }
            found
        });
        let gains = |fill: &Fill| fill.worth(prices) > i128::from(fill.cost);
        found.into_iter().flatten().filter(gains).collect()
    }

    /// One sheet, and as many together as make each of them worth more.
    fn anywhere(&self, instance: &Instance, table: &SetTable, lacks: &Lacks, number: usize) -> Vec<Fill> {
        let supply = &self.all[number];
        let one = i128::from(supply.kind.cost(supply.kind.sheet.height));
        let gains: Vec<Option<i128>> = table.whole().iter().map(|worth| Some((*worth)? - one)).collect();
        let mut levels = vec![gains.iter().map(|gain| Some(((*gain)?, 0))).collect::<Vec<_>>()];
        let mut found = Vec::new();
        let mut best = 0;
        for sheets in 1..=supply.copies.min(MOST_TOGETHER) {
            if sheets > 1 {
                let before: Vec<Option<i128>> =
                    levels[levels.len() - 1].iter().map(|way| Some((*way)?.0)).collect();
                levels.push(lacks.join(&before, &gains));
            }
            let Some(Some((gain, _))) = levels.last().map(|level| level[0]) else { continue };
            if gain <= best * i128::from(sheets) {
                continue;
            }
            best = gain / i128::from(sheets);
            // What each sheet lacks, from the last.
            let (mut parts, mut all) = (Vec::new(), 0);
            for level in levels[1..].iter().rev() {
                let before = level[all].map_or(0, |(_, before)| before);
                parts.push(lacks.rest_of(all, before));
                all = before;
            }
            parts.push(all);
            found.extend(self.of_parts(instance, table, lacks, number, &parts));
        }
        found
    }

    /// Sheets that lack so much, without pieces of sets that are not whole.
    fn of_parts(
        &self,
        instance: &Instance,
        table: &SetTable,
        lacks: &Lacks,
        number: usize,
        parts: &[usize],
    ) -> Option<Fill> {
        let cut: Vec<(Layout, Vec<u32>)> = parts.iter().map(|&part| table.best(lacks, part)).collect();
        let needs = table.needs();
        let mut counts: Vec<Vec<u32>> = self.sets.iter().map(|set| vec![0; set.len()]).collect();
        let mut surplus = vec![0; instance.sizes.len()];
        for (_, pieces) in &cut {
            for (&(set, need), &n) in needs.iter().zip(pieces) {
                counts[set][need] += n;
                surplus[self.sets[set][need].0] += n;
            }
        }
        let whole = |(set, counts): (&Set, &Vec<u32>)| {
            set.iter().zip(counts).map(|(&(_, each), &n)| n / each).min().unwrap_or(0)
        };
        let bags: Vec<u32> = self.sets.iter().zip(&counts).map(whole).collect();
        let bags = counted(&bags);
        for (all, whole) in surplus.iter_mut().zip(instance.pieces(&bags)) {
            *all -= whole;
        }
        let size = |need: usize| {
            let (set, need) = needs[need];
            self.sets[set][need].0
        };
        let sheets = cut.iter().map(|(layout, _)| cutting::cut_back(&layout.renamed(size), &mut surplus));
        let sheets: Vec<Layout> = sheets.filter(|layout| !layout.pieces().is_empty()).collect();
        let kind = &self.all[number].kind;
        let cost = kind.cost(kind.sheet.height) * i64::try_from(sheets.len()).ok()?;
        (!sheets.is_empty()).then_some(Fill { supply: number, bags, cost, sheets })
    }
}
