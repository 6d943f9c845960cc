//! Asks the cutting engine the question an instance puts, with a budget of steps.

use cutcloth::cutting::{
    Fit, Kind, Layout, Purchasable, Sheet, Work, cheapest, fit_one, knapsack, knapsacks, two_stage_knapsack,
};
use cutcloth::length::Length;

use crate::format::{Instance, Item, Objective, Stock};
use crate::replay::{Cut, Lying};

/// Steps for one instance: about a second where a test is built without optimising.
const STEPS: u64 = 80_000_000;

/// What came back.
pub(crate) struct Answer {
    pub(crate) sheets: Vec<Cut>,
    /// What is claimed to be reached; `None` where not everything was cut.
    pub(crate) value: Option<i64>,
    pub(crate) bound: i64,
}

/// The answer, and which question it was; `None` for a kind of instance that is a question of planning.
pub(crate) fn answer(instance: &Instance) -> Option<(&'static str, Answer)> {
    if instance.items.iter().any(|item| item.group.is_some()) {
        return None;
    }
    let [sheet] = &instance.sheets[..] else {
        let any = instance.sheets.iter().all(|sheet| sheet.copies.is_none());
        return (any && instance.objective == Objective::Least && instance.stages == 0)
            .then(|| ("sheets of several sizes", bought(instance)));
    };
    match (instance.objective, sheet.copies, instance.stages) {
        (Objective::Most, Some(1), 0) => Some(("one sheet", one(instance))),
        (Objective::Most, Some(1), 2) => Some(("two stages", staged(instance))),
        (Objective::Most, Some(copies), 0) => Some(("several sheets", several(instance, copies))),
        (Objective::Least, None, 0) if instance.id.starts_with("fit-") => Some(("fit", fit(instance))),
        (Objective::Least, None, 0) => Some(("fewest sheets", bought(instance))),
        _ => None,
    }
}

fn kinds(instance: &Instance) -> Vec<Kind> {
    let length = Length::from_ticks;
    let kind = |item: &Item| Kind { width: length(item.w), height: length(item.h), turn: item.rotatable };
    instance.items.iter().map(kind).collect()
}

fn sheet(stock: &Stock) -> Sheet {
    Sheet { width: Length::from_ticks(stock.w), height: Length::from_ticks(stock.h) }
}

fn counts(instance: &Instance) -> Vec<u32> {
    instance.items.iter().map(|item| item.demand.unwrap_or(u32::MAX)).collect()
}

fn values(instance: &Instance) -> Vec<i64> {
    instance.items.iter().map(|item| item.profit).collect()
}

/// Where the pieces lie, as plain numbers.
fn cut(sheet: usize, layout: &Layout) -> Cut {
    let pieces = layout.pieces().into_iter().map(|(item, rect, _)| Lying {
        item,
        x: rect.x.ticks(),
        y: rect.y.ticks(),
        w: rect.width.ticks(),
        h: rect.height.ticks(),
    });
    Cut { sheet, pieces: pieces.collect() }
}

fn one(instance: &Instance) -> Answer {
    let limited = instance.items.iter().any(|item| item.demand.is_some());
    let counts = limited.then(|| counts(instance));
    let mut work = Work::steps(STEPS);
    let first = sheet(&instance.sheets[0]);
    let found = knapsack(first, &kinds(instance), &values(instance), counts.as_deref(), &mut work);
    Answer { sheets: vec![cut(0, &found.layout)], value: Some(found.value), bound: found.bound }
}

fn staged(instance: &Instance) -> Answer {
    let (first, mut work) = (sheet(&instance.sheets[0]), Work::steps(STEPS));
    let found = two_stage_knapsack(first, &kinds(instance), &values(instance), &counts(instance), &mut work);
    Answer { sheets: vec![cut(0, &found.layout)], value: Some(found.value), bound: found.bound }
}

fn several(instance: &Instance, copies: u32) -> Answer {
    let (first, mut work) = (sheet(&instance.sheets[0]), Work::steps(STEPS));
    let found = knapsacks(first, copies, &kinds(instance), &values(instance), &counts(instance), &mut work);
    let sheets = found.layouts.iter().map(|layout| cut(0, layout)).collect();
    Answer { sheets, value: Some(found.value), bound: found.bound }
}

fn bought(instance: &Instance) -> Answer {
    let buy = |stock: &Stock| Purchasable { sheet: sheet(stock), cost: stock.cost };
    let stock: Vec<Purchasable> = instance.sheets.iter().map(buy).collect();
    let found = cheapest(&stock, &kinds(instance), &counts(instance), &mut Work::steps(STEPS));
    let sheets = found.layouts.iter().map(|(sheet, layout)| cut(*sheet, layout)).collect();
    Answer { sheets, value: found.cost, bound: found.bound }
}

/// Does everything come out of one sheet? Undecided is an answer without a value; "no" would pass what is published.
fn fit(instance: &Instance) -> Answer {
    let first = sheet(&instance.sheets[0]);
    match fit_one(first, &kinds(instance), &counts(instance), &mut Work::steps(STEPS)) {
        Fit::Yes(layout) => Answer { sheets: vec![cut(0, &layout)], value: Some(1), bound: 1 },
        Fit::No(_) => Answer { sheets: Vec::new(), value: None, bound: 2 },
        Fit::Unknown => Answer { sheets: Vec::new(), value: None, bound: 1 },
    }
}
