//! Do these pieces come out of this sheet? A cascade from the cheapest argument to the full search.

use crate::cutting::bounds::dual_feasible;
use crate::cutting::bounds::outer_table::OuterTable;
use crate::cutting::bounds::value_table::Table;
use crate::cutting::fit::best_first::{AllPieces, Bound, Question};
use crate::cutting::fit::in_strips::in_strips;
use crate::cutting::fit::perfect::Perfect;
use crate::cutting::fit::shapes::{Shapes, multisets};
use crate::cutting::grid::block::{Block, layout};
use crate::cutting::grid::order::Order;
use crate::cutting::{Kind, Layout, Proof, Sheet, Work};
use crate::length::{Area, Length};

pub(crate) mod add;
pub(crate) mod best_first;
pub(crate) mod bricks;
pub(crate) mod greedy;
pub(crate) mod in_strips;
pub(crate) mod perfect;
pub(crate) mod several;
pub(crate) mod shapes;

/// Answer to [`fit_one`].
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Fit {
    /// They do, like this.
    Yes(Layout),
    /// They do not, and this is why.
    No(Proof),
    /// The work ended first.
    Unknown,
}

/// Thresholds a side that dual feasible functions are tried with: six decide nearly everything that many do.
const THRESHOLDS: usize = 6;
/// Most blocks that a short search for all pieces remembers, and the long one.
const FEW_NODES: usize = 40_000;
const MOST_NODES: usize = 400_000;
/// Short searches in varied orders before the long one.
const VARIATIONS: u64 = 12;
/// Prices tried for a proof by values.
const PRICINGS: usize = 12;

/// Whether `counts[k]` pieces of every kind `k` can be cut from `sheet` by straight cuts.
/// The leaves of a layout name kinds.
///
/// # Panics
/// When `counts` has not one count a kind.
pub fn fit_one(sheet: Sheet, kinds: &[Kind], counts: &[u32], work: &mut Work) -> Fit {
    assert_eq!(kinds.len(), counts.len(), "one count a kind");
    let order = Order::merged(kinds, counts);
    match fit_block(sheet, &order, work) {
        Answer::Yes(block) => Fit::Yes(layout(block.as_ref(), sheet, &order, kinds)),
        Answer::No(proof) => Fit::No(proof),
        Answer::Unknown => Fit::Unknown,
    }
}

/// Answer in blocks; an order of nothing needs none.
pub(crate) enum Answer {
    Yes(Option<Block>),
    No(Proof),
    Unknown,
}

/// [`fit_one`] on the grid.
pub(crate) fn fit_block(sheet: Sheet, order: &Order, work: &mut Work) -> Answer {
    let (w, h) = order.sheet(sheet);
    fit_grid(w, h, order, work)
}

/// The same for a sheet of `w` x `h` grid steps.
pub(crate) fn fit_grid(w: u32, h: u32, order: &Order, work: &mut Work) -> Answer {
    if order.sizes.is_empty() {
        return Answer::Yes(None);
    }
    if let Some(proof) = quick_refusal(w, h, order) {
        return Answer::No(proof);
    }
    if let Some(block) = constructed(w, h, order, work).or_else(|| in_strips(w, h, order, work)) {
        return Answer::Yes(Some(block));
    }
    if let Some((pieces, sheets)) = dual_feasible::excess(w, h, 1, &order.sizes, &order.counts, THRESHOLDS) {
        return Answer::No(Proof::DualFeasible { pieces, sheets });
    }
    if multisets(&order.counts).is_some_and(|n| n <= 600) {
        return by_shapes(w, h, order, work);
    }
    if order.area() == u64::from(w) * u64::from(h) {
        match without_waste(w, h, order, work) {
            Answer::Unknown => {}
            answer => return answer,
        }
    }
    if let Some(proof) = by_values(w, h, order, work) {
        return Answer::No(proof);
    }
    let areas: Vec<i64> = order.sizes.iter().map(|s| small_area(s.area())).collect();
    let table = Table::full(w, h, &order.sizes, Some(&order.counts))
        .filter(|t| t.steps() + OuterTable::steps(t) < work.left() / 2);
    let Some(mut table) = table else {
        return if multisets(&order.counts).is_some() {
            by_shapes(w, h, order, work)
        } else {
            Answer::Unknown
        };
    };
    work.spend(table.steps() + OuterTable::steps(&table));
    table.fill(&areas);
    let need: i64 = small_area(order.area());
    if table.whole() < need {
        return Answer::No(Proof::Exhausted { steps: table.steps() });
    }
    let outer = OuterTable::of(&table);
    if multisets(&order.counts).is_some() {
        return by_shapes(w, h, order, work);
    }
    // A plain search, then short ones that take blocks in other orders, then a long plain one: a yes is a matter of luck,
    // a no takes the whole search.
    let plain = [(0, FEW_NODES)];
    let varied = (1..=VARIATIONS).map(|v| (v, FEW_NODES));
    let long = [(0, MOST_NODES)];
    let further = VARIATIONS + 1..u64::MAX;
    for (variation, most_nodes) in
        plain.into_iter().chain(varied).chain(long).chain(further.map(|v| (v, FEW_NODES)))
    {
        let ask = Question {
            w,
            h,
            sizes: &order.sizes,
            limits: &order.counts,
            bounds: vec![Bound { prices: &areas, outer: &outer, need }],
            most_nodes,
            variation,
        };
        match best_first::all_pieces(&ask, work) {
            AllPieces::Found(block) => return Answer::Yes(Some(block)),
            AllPieces::None(steps) => return Answer::No(Proof::Exhausted { steps }),
            AllPieces::Unknown if work.left() == 0 => break,
            AllPieces::Unknown => {}
        }
        if variation == 0 && best_first::too_many(&order.counts) {
            break;
        }
    }
    Answer::Unknown
}

/// An area on the grid as a value.
pub(crate) fn small_area(area: u64) -> i64 {
    i64::try_from(area).expect("areas of real fabric stay far below 64 bits")
}

/// Too long, too much area, or too high a stack of wide pieces.
fn quick_refusal(w: u32, h: u32, order: &Order) -> Option<Proof> {
    if let Some(at) = order.sizes.iter().position(|size| !size.fits(w, h)) {
        return Some(Proof::TooLong { kind: order.members[at][0].0 });
    }
    let usable = u64::from(w) * u64::from(h);
    if order.area() > usable {
        return Some(Proof::Area {
            kinds: Vec::new(),
            pieces: real_area(order.area(), order.unit),
            sheets: real_area(usable, order.unit),
        });
    }
    stacked(w, h, order, |&(a, b)| (a, b)).or_else(|| stacked(h, w, order, |&(a, b)| (b, a)))
}

/// Pieces that take more than half of `across` whichever way they fit, and together more than `along`.
fn stacked(across: u32, along: u32, order: &Order, lie: impl Fn(&(u32, u32)) -> (u32, u32)) -> Option<Proof> {
    let (mut kinds, mut pieces) = (Vec::new(), 0u64);
    for (s, size) in order.sizes.iter().enumerate() {
        let fitting = || size.ways().map(|way| lie(&way)).filter(|&(a, b)| a <= across && b <= along);
        if fitting().all(|(a, _)| 2 * u64::from(a) > u64::from(across)) {
            let least = fitting().map(|(_, b)| b).min()?;
            kinds.extend(order.members[s].iter().map(|m| m.0));
            pieces += u64::from(least) * u64::from(order.counts[s]);
        }
    }
    let length =
        |steps: u64| Length::from_ticks(i64::try_from(steps).expect("few pieces").saturating_mul(order.unit));
    (pieces > u64::from(along)).then(|| Proof::Stacked {
        kinds,
        pieces: length(pieces),
        sheets: length(u64::from(along)),
    })
}

/// Grid squares as a real area.
pub(crate) fn real_area(squares: u64, unit: i64) -> Area {
    Area::from_square_ticks(small_area(squares).saturating_mul(unit.saturating_mul(unit)))
}

/// Tries every order and manner of the constructive step.
fn constructed(w: u32, h: u32, order: &Order, work: &mut Work) -> Option<Block> {
    let pieces = u64::from(order.pieces());
    for sequence in greedy::sequences(&order.sizes, &order.counts) {
        for manner in greedy::MANNERS {
            let packed = greedy::pack(&[(w, h)], &order.sizes, &sequence, &|_, _| true, manner);
            if let Some(blocks) = packed {
                return blocks.into_iter().next().flatten();
            }
            if !work.spend(pieces * pieces) {
                return None;
            }
        }
    }
    None
}

/// Exact, by shapes of all sub-multisets.
fn by_shapes(w: u32, h: u32, order: &Order, work: &mut Work) -> Answer {
    let slack = u64::from(w) * u64::from(h) - order.area();
    let before = work.left();
    let Some(shapes) = Shapes::of(&order.sizes, &order.counts, &[(w, h)], slack, work) else {
        return Answer::Unknown;
    };
    match shapes.blocks(shapes.len() - 1, w, h).into_iter().next() {
        Some(block) => Answer::Yes(Some(block)),
        None => Answer::No(Proof::Exhausted { steps: before - work.left() }),
    }
}

/// Pieces that fill the sheet to the last corner, within half of the work.
fn without_waste(w: u32, h: u32, order: &Order, work: &mut Work) -> Answer {
    let share = work.horizon() / 2;
    let mut part = work.share(share);
    let found = perfect::fill(w, h, order, &mut part);
    work.charge(share, &part);
    match found {
        Perfect::Found(block) => Answer::Yes(Some(block)),
        Perfect::None(steps) => Answer::No(Proof::Exhausted { steps }),
        Perfect::Unknown => Answer::Unknown,
    }
}

/// Looks for values that prove the pieces too many: Lagrange prices of the limits on counts, moved towards what the best
/// cutting lacks.
fn by_values(w: u32, h: u32, order: &Order, work: &mut Work) -> Option<Proof> {
    let mut table = Table::reduced(w, h, &order.sizes)?;
    let mut values: Vec<i64> = order.sizes.iter().map(|s| small_area(s.area())).collect();
    for round in 0..PRICINGS {
        if work.left() / 4 < table.steps() {
            return None;
        }
        work.spend(table.steps());
        table.fill(&values);
        let pieces: i64 = values.iter().zip(&order.counts).map(|(v, &n)| v * i64::from(n)).sum();
        if table.whole() < pieces {
            return Some(values_proof(order, &values, pieces, table.whole()));
        }
        let cut = table.block(&values, &order.sizes).map_or_else(Vec::new, |b| b.counts(order.sizes.len()));
        // Cheaper where the best cutting takes too many, dearer where it takes too few.
        let step = 24 / (i64::try_from(round).expect("few rounds") + 4) + 1;
        for (s, value) in values.iter_mut().enumerate() {
            let taken = cut.get(s).copied().unwrap_or(0);
            match taken.cmp(&order.counts[s]) {
                std::cmp::Ordering::Greater => *value -= (*value * step / 32).min(*value),
                std::cmp::Ordering::Less => *value += *value * step / 32,
                std::cmp::Ordering::Equal => {}
            }
        }
    }
    None
}

/// The proof with a value for each of the caller's kinds.
pub(crate) fn values_proof(order: &Order, values: &[i64], pieces: i64, sheets: i64) -> Proof {
    let kinds = order.members.iter().flatten().map(|m| m.0 + 1).max().unwrap_or(0);
    let mut by_kind = vec![0; kinds];
    for (members, &value) in order.members.iter().zip(values) {
        for &(kind, _) in members {
            by_kind[kind] = value;
        }
    }
    Proof::Values { values: by_kind, pieces, sheets }
}
