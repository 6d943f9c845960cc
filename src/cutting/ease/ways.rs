//! The ways of cutting a region that no other betters in worth, stages, ruler settings and cuts at once.
//!
//! A region is cut into parallel strips, widest first, each as wide as its pieces or taking what is spare. So labels are
//! carried through the shape functions of Otten (1983) and Stockmeyer (1983), from the sheet down.

use std::collections::{BTreeMap, HashMap};
use std::rc::Rc;

use crate::cutting::ease::leftover::{Wishes, leftover_value};
use crate::cutting::grid::block::Namer;
use crate::cutting::grid::order::Order;
use crate::cutting::layout::tidy::{Strip, nested};
use crate::cutting::layout::{Axis, Layout, Node, Rect};
use crate::cutting::{Kind, Sheet, Work, tidy};
use crate::length::Length;

/// Ways kept of one region: more are hardly ever different to the person who cuts.
const MOST_WAYS: usize = 8;
/// Steps that each strip tried counts: it takes so much longer than an innermost loop.
const STEPS_EACH: u64 = 40;

/// One way of cutting a region.
#[derive(Clone, Debug)]
struct Way {
    worth: i128,
    stages: u32,
    /// Ruler settings, as bits.
    settings: u64,
    cuts: u32,
    made: Made,
}

#[derive(Clone, Debug)]
enum Made {
    Leftover,
    Piece(usize),
    /// Strips with their size along the axis and their multiset, and how much is left over after them.
    Strips(Axis, Vec<(i64, usize, Rc<Way>)>, i64),
}

/// A region: both sides, the code of its multiset, and the direction its first cut may not have.
type Region = (i64, i64, usize, Option<Axis>);

/// Goes through all of them for one order.
pub(crate) struct Search<'a> {
    order: &'a Order,
    wishes: Wishes,
    work: &'a mut Work,
    weights: Vec<usize>,
    known: HashMap<Region, Rc<[Rc<Way>]>>,
    /// By multiset: every sum of sides of its pieces.
    sums: Vec<Rc<[i64]>>,
    /// By multiset, in square ticks.
    areas: Vec<i64>,
    settings: BTreeMap<i64, u32>,
}

/// The work has ended, or there are too many settings to tell apart.
struct Ended;

impl<'a> Search<'a> {
    pub(crate) fn new(order: &'a Order, wishes: Wishes, work: &'a mut Work) -> Search<'a> {
        let mut weights = Vec::new();
        let mut total = 1;
        for &count in &order.counts {
            weights.push(total);
            total *= count as usize + 1;
        }
        let mut search = Search {
            order,
            wishes,
            work,
            weights,
            known: HashMap::new(),
            sums: vec![Rc::from([0])],
            areas: vec![0],
            settings: BTreeMap::new(),
        };
        for code in 1..total {
            let size = (0..search.weights.len())
                .find(|&size| search.digit(code, size) > 0)
                .expect("it holds a piece");
            let (w, h) = search.sides(size);
            let less = &search.sums[code - search.weights[size]];
            let mut all: Vec<i64> = less.iter().flat_map(|&sum| [sum, sum + w, sum + h]).collect();
            all.sort_unstable();
            all.dedup();
            search.sums.push(all.into());
            search.areas.push(search.areas[code - search.weights[size]] + w * h);
        }
        search
    }

    fn digit(&self, code: usize, size: usize) -> usize {
        code / self.weights[size] % (self.order.counts[size] as usize + 1)
    }

    fn sides(&self, size: usize) -> (i64, i64) {
        let size = self.order.sizes[size];
        (self.order.length(size.w).ticks(), self.order.length(size.h).ticks())
    }

    /// The best of a sheet: worth most, then kindest. `None` when the work ended first.
    pub(crate) fn run(mut self, sheet: Sheet, kinds: &[Kind]) -> Option<Layout> {
        let (w, h) = (sheet.width.ticks(), sheet.height.ticks());
        let ways = self.region((w, h, self.sums.len() - 1, None)).ok()?;
        let lengths: Vec<Length> = {
            let mut lengths = vec![Length::ZERO; self.settings.len()];
            self.settings.iter().for_each(|(&at, &bit)| lengths[bit as usize] = Length::from_ticks(at));
            lengths
        };
        let off = |settings: u64| {
            let set = lengths.iter().enumerate().filter(|(bit, _)| settings >> bit & 1 == 1);
            set.filter(|(_, at)| !at.is_on_mark(self.wishes.units)).count()
        };
        let best = ways.iter().min_by_key(|way| {
            (-way.worth, way.stages, way.settings.count_ones(), off(way.settings), way.cuts)
        })?;
        let mut namer = Namer::new(self.order, kinds);
        let root = self.node(best, w, h, &mut namer);
        Some(tidy(
            &Layout::new(sheet.width, sheet.height, root, kinds).expect("strips lie inside their region"),
        ))
    }

    fn node(&self, way: &Way, w: i64, h: i64, namer: &mut Namer<'_>) -> Node {
        match &way.made {
            Made::Leftover => Node::Leftover,
            Made::Piece(size) => namer.piece(*size, Length::from_ticks(w), Length::from_ticks(h)),
            Made::Strips(axis, strips, left) => {
                let mut all: Vec<Strip> = strips
                    .iter()
                    .map(|(size, _, way)| {
                        let (w, h) = if *axis == Axis::Width { (*size, h) } else { (w, *size) };
                        Strip { size: Length::from_ticks(*size), node: self.node(way, w, h, namer) }
                    })
                    .collect();
                if *left > 0 {
                    all.push(Strip { size: Length::from_ticks(*left), node: Node::Leftover });
                }
                nested(all, *axis)
            }
        }
    }

    /// The ways of a region that no other of its ways betters in everything.
    fn region(&mut self, region: Region) -> Result<Rc<[Rc<Way>]>, Ended> {
        if let Some(known) = self.known.get(&region) {
            return Ok(Rc::clone(known));
        }
        let (w, h, code, not) = region;
        let mut ways: Vec<Rc<Way>> = Vec::new();
        let plain = |worth, made| Rc::new(Way { worth, stages: 0, settings: 0, cuts: 0, made });
        if code == 0 {
            ways.push(plain(self.left_over(w, h), Made::Leftover));
        } else if let Some(size) = self.one_piece(w, h, code) {
            ways.push(plain(0, Made::Piece(size)));
        } else if self.has_room(w, h, code) {
            for axis in [Axis::Width, Axis::Height].into_iter().filter(|&axis| Some(axis) != not) {
                let (along, across) = if axis == Axis::Width { (w, h) } else { (h, w) };
                let cut = Cutting { axis, across, filled: false };
                let nothing = Way {
                    worth: 0,
                    stages: 1,
                    settings: 0,
                    cuts: 0,
                    made: Made::Strips(axis, Vec::new(), 0),
                };
                self.strips(cut, along, code, &nothing, &mut ways)?;
            }
        }
        let ways: Rc<[Rc<Way>]> = ways.into();
        self.known.insert(region, Rc::clone(&ways));
        Ok(ways)
    }

    /// Cuts the rest of a region, `left` long and holding `code`, into strips that are no wider than the last of `before`.
    fn strips(
        &mut self,
        cut: Cutting,
        left: i64,
        code: usize,
        before: &Way,
        ways: &mut Vec<Rc<Way>>,
    ) -> Result<(), Ended> {
        let Made::Strips(_, strips, _) = &before.made else { unreachable!("strips are added to strips") };
        let (widest, last) = strips.last().map_or((left, usize::MAX), |&(size, part, _)| (size, part));
        let first = strips.is_empty();
        for part in self.parts(code) {
            let rest = code - part;
            let mut sizes: Vec<i64> = self.sums[part].to_vec();
            if !cut.filled {
                // Or it takes what is spare, so that the strips fill the region.
                sizes.extend(self.sums[rest].iter().map(|sum| left - sum));
                sizes.sort_unstable();
                sizes.dedup();
            }
            if !self.work.spend(u64::try_from(sizes.len()).unwrap_or(u64::MAX)) {
                return Err(Ended);
            }
            for size in sizes {
                let over = left - size;
                let has_room = size * cut.across >= self.areas[part] && over * cut.across >= self.areas[rest];
                // Equal strips come in one order only.
                let in_order = size < widest || (size == widest && part <= last);
                if size <= 0 || over < 0 || !in_order || !has_room || (over == 0 && first) {
                    continue;
                }
                if !self.work.spend(STEPS_EACH) {
                    return Err(Ended);
                }
                let filled = cut.filled || !self.sums[part].contains(&size);
                let (w, h) = cut.region(size);
                for child in self.region((w, h, part, Some(cut.axis)))?.iter() {
                    let mut way = Way {
                        worth: before.worth + child.worth,
                        stages: before.stages.max(child.stages + 1),
                        settings: before.settings | child.settings,
                        cuts: before.cuts + child.cuts,
                        made: Made::Leftover,
                    };
                    if over > 0 {
                        way.settings |= self.setting(size)?;
                        way.cuts += 1;
                    }
                    let strips = strips.iter().cloned().chain([(size, part, Rc::clone(child))]).collect();
                    if rest == 0 {
                        way.made = Made::Strips(cut.axis, strips, over);
                        let (w, h) = cut.region(over);
                        way.worth += self.left_over(w, h);
                        offer(ways, way);
                    } else {
                        way.made = Made::Strips(cut.axis, strips, 0);
                        let uncut = over * cut.across - self.areas[rest];
                        let hoped = way.worth + i128::from(uncut) * i128::from(over.min(cut.across));
                        if !ways.iter().any(|known| {
                            betters(known, &Way { worth: hoped, made: Made::Leftover, ..way.clone() })
                        }) {
                            self.strips(Cutting { filled, ..cut }, over, rest, &way, ways)?;
                        }
                    }
                }
            }
        }
        Ok(())
    }

    /// Every multiset within `code` but the empty one.
    fn parts(&self, code: usize) -> Vec<usize> {
        let mut parts = vec![0];
        for (size, weight) in self.weights.iter().enumerate() {
            let most = self.digit(code, size);
            parts = parts.iter().flat_map(|&part| (0..=most).map(move |n| part + n * weight)).collect();
        }
        parts.retain(|&part| part > 0);
        parts
    }

    fn setting(&mut self, at: i64) -> Result<u64, Ended> {
        let next = u32::try_from(self.settings.len()).map_err(|_| Ended)?;
        let bit = *self.settings.entry(at).or_insert(next);
        1u64.checked_shl(bit).ok_or(Ended)
    }

    /// The size of which `code` is one piece that fills the region.
    fn one_piece(&self, w: i64, h: i64, code: usize) -> Option<usize> {
        let size = self.weights.iter().position(|&weight| weight == code)?;
        let ways = self.order.sizes[size].ways();
        let lies = |(x, y)| (self.order.length(x).ticks(), self.order.length(y).ticks()) == (w, h);
        ways.into_iter().any(lies).then_some(size)
    }

    fn has_room(&self, w: i64, h: i64, code: usize) -> bool {
        let lies = |(x, y)| self.order.length(x).ticks() <= w && self.order.length(y).ticks() <= h;
        let held = (0..self.weights.len()).filter(|&size| self.digit(code, size) > 0);
        self.areas[code] <= w * h && held.into_iter().all(|size| self.order.sizes[size].ways().any(lies))
    }

    fn left_over(&self, w: i64, h: i64) -> i128 {
        let (width, height) = (Length::from_ticks(w), Length::from_ticks(h));
        leftover_value(Rect { x: Length::ZERO, y: Length::ZERO, width, height }, self.wishes.useful_side)
    }
}

/// A region being cut into strips.
#[derive(Clone, Copy)]
struct Cutting {
    axis: Axis,
    /// Its side that every strip has.
    across: i64,
    /// A strip has taken what is spare.
    filled: bool,
}

impl Cutting {
    /// Width and height of a strip.
    fn region(self, size: i64) -> (i64, i64) {
        if self.axis == Axis::Width { (size, self.across) } else { (self.across, size) }
    }
}

/// Is `one` as good as `other` in everything?
fn betters(one: &Way, other: &Way) -> bool {
    one.worth >= other.worth
        && one.stages <= other.stages
        && one.settings & !other.settings == 0
        && one.cuts <= other.cuts
}

/// Keeps `way` unless another is as good in everything, and drops those it betters.
fn offer(ways: &mut Vec<Rc<Way>>, way: Way) {
    if ways.iter().any(|known| betters(known, &way)) {
        return;
    }
    ways.retain(|known| !betters(&way, known));
    ways.push(Rc::new(way));
    if ways.len() > MOST_WAYS {
        ways.sort_by_key(|way| (-way.worth, way.stages, way.settings.count_ones(), way.cuts));
        ways.pop();
    }
}
