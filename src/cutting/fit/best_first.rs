//! Best-first search over blocks, from the pieces up: take the most promising block, join it beside and above
//! every block taken before, keep what fits and may still matter.
//!
//! Wang (1983) builds from the bottom; Viswanathan and Bagchi (1993) order by an upper bound; Hifi (1997) and
//! Cung, Hifi and Le Cun (2000) add dominance. The bounds here are priced: any prices p and demands d give
//! p(block) + O_p(block) + (v - p) d as an upper bound, Lagrange's for the limits on counts.

use std::collections::{BinaryHeap, HashMap};

use crate::cutting::bounds::outer_table::OuterTable;
use crate::cutting::grid::block::Block;
use crate::cutting::grid::counts::{Counts, CountsMap, Fields};
use crate::cutting::grid::order::Size;
use crate::cutting::{Axis, Work};

/// One bound on what a block can grow into.
pub(crate) struct Bound<'a> {
    /// Price of one piece of each size.
    pub(crate) prices: &'a [i64],
    /// O for these prices.
    pub(crate) outer: &'a OuterTable,
    /// A block is dropped when prices inside + O are below this.
    pub(crate) need: i64,
}

/// What is asked.
pub(crate) struct Question<'a> {
    pub(crate) w: u32,
    pub(crate) h: u32,
    pub(crate) sizes: &'a [Size],
    /// Most pieces of each size.
    pub(crate) limits: &'a [u32],
    /// One or two bounds; a block must pass each.
    pub(crate) bounds: Vec<Bound<'a>>,
    /// Most blocks to remember.
    pub(crate) most_nodes: usize,
    /// Varies the order in which a search for all pieces takes blocks; 0 is the plain order.
    pub(crate) variation: u64,
}

/// How a search for all pieces ended.
pub(crate) enum AllPieces {
    /// All pieces in one block.
    Found(Block),
    /// Every join was tried: there is none. With the number of joins.
    None(u64),
    /// Work or memory ended.
    Unknown,
}

/// How a search for the greatest worth ended.
pub(crate) struct Greatest {
    /// A block worth more than was known, if one was found.
    pub(crate) block: Option<Block>,
    /// Its worth, or what was known.
    pub(crate) worth: i64,
    /// No block is worth more than this.
    pub(crate) bound: i64,
}

/// How a node came about.
#[derive(Clone, Copy)]
enum From {
    Piece(u32),
    Join(Axis, u32, u32),
}

struct Node<const N: usize> {
    counts: Counts<N>,
    w: u32,
    h: u32,
    /// Prices inside, one for each bound.
    priced: [i64; 2],
    from: From,
}

/// Blocks of equal sides already taken, dearest first (by the first bound's prices).
struct Group {
    w: u32,
    h: u32,
    members: Vec<(i64, u32)>,
}

/// The search itself: blocks, the heap of those not yet taken, the groups of those taken.
struct Search<'a, const N: usize> {
    ask: &'a Question<'a>,
    fields: Fields<N>,
    nodes: Vec<Node<N>>,
    heap: BinaryHeap<(i64, std::cmp::Reverse<u32>)>,
    groups: Vec<Group>,
    group_at: HashMap<(u32, u32), usize>,
    /// Boxes known for each multiset of pieces, none inside another.
    known: CountsMap<N, Vec<(u32, u32, u32)>>,
    joins: u64,
}

/// Looks for a block of all the pieces that `ask` allows.
pub(crate) fn all_pieces(ask: &Question, work: &mut Work) -> AllPieces {
    match words(ask.limits) {
        1..=2 => all_with::<2>(ask, work),
        3..=4 => all_with::<4>(ask, work),
        5..=8 => all_with::<8>(ask, work),
        _ => AllPieces::Unknown,
    }
}

/// Looks for the block of greatest `worth`, above `known`; `scale` of the bounds' prices make one of worth,
/// and every `need` stands for `known + 1`.
pub(crate) fn greatest(
    ask: &Question,
    worth: &[i64],
    known: i64,
    scale: i64,
    work: &mut Work,
) -> Option<Greatest> {
    match words(ask.limits) {
        1..=2 => greatest_with::<2>(ask, worth, known, scale, work),
        3..=4 => greatest_with::<4>(ask, worth, known, scale, work),
        5..=8 => greatest_with::<8>(ask, worth, known, scale, work),
        _ => None,
    }
}

/// Blocks that pass their first bound's `need` by what they hold, as far as the search goes.
pub(crate) fn all_above(ask: &Question, work: &mut Work) -> Vec<Block> {
    match words(ask.limits) {
        1..=2 => above_with::<2>(ask, work),
        3..=4 => above_with::<4>(ask, work),
        5..=8 => above_with::<8>(ask, work),
        _ => Vec::new(),
    }
}

/// True when counts up to these limits do not fit the widest words: no search can be had.
pub(crate) fn too_many(limits: &[u32]) -> bool {
    words(limits) > 8
}

/// Words that counts up to these limits need.
fn words(limits: &[u32]) -> usize {
    (1..=8)
        .find(|&n| match n {
            1 | 2 => Fields::<2>::new(limits).is_some(),
            3 | 4 => Fields::<4>::new(limits).is_some(),
            _ => Fields::<8>::new(limits).is_some(),
        })
        .unwrap_or(9)
}

fn all_with<const N: usize>(ask: &Question, work: &mut Work) -> AllPieces {
    let Some(fields) = Fields::<N>::new(ask.limits) else { return AllPieces::Unknown };
    let full = (0..ask.limits.len()).fold(Counts([0; N]), |mut all, size| {
        for _ in 0..ask.limits[size] {
            all = fields.add(all, fields.one(size)).expect("limits are within limits");
        }
        all
    });
    let mut search = Search::new(ask, fields);
    // Dive into large blocks with little waste inside: waste weighs three times what area does.
    let key = |node: &Node<N>| {
        let boxed = i64::from(node.w) * i64::from(node.h);
        let plain = 4 * node.priced[0] - 12 * (boxed - node.priced[0]);
        // Up to a half more or less, fixed for a block: another order, another part of the search.
        plain
            + plain / 16 * (i64::from(node.counts.mixed(ask.variation) % 16) - 8) / 8
                * i64::from(ask.variation > 0)
    };
    let mut found = None;
    let done = search.run(work, key, |search, id, _| {
        if search.nodes[id as usize].counts == full {
            found = Some(id);
        }
        found.is_some()
    });
    match (found, done) {
        (Some(id), _) => AllPieces::Found(search.block(id)),
        (None, true) => AllPieces::None(search.joins),
        (None, false) => AllPieces::Unknown,
    }
}

fn greatest_with<const N: usize>(
    ask: &Question,
    worth: &[i64],
    known: i64,
    scale: i64,
    work: &mut Work,
) -> Option<Greatest> {
    let fields = Fields::<N>::new(ask.limits)?;
    let mut search = Search::new(ask, fields);
    let mut best = Greatest { block: None, worth: known, bound: known };
    let mut best_id = None;
    let first = &ask.bounds[0];
    let key = |node: &Node<N>| node.priced[0] + first.outer.at(node.w, node.h).expect("a kept block fits");
    let done = search.run(work, key, |search, id, raised| {
        let node = &search.nodes[id as usize];
        let value: i64 = (0..worth.len())
            .map(|s| worth[s] * i64::try_from(search.fields.get(node.counts, s)).expect("counts are small"))
            .sum();
        if value > best.worth {
            *raised += (value - best.worth) * scale;
            best.worth = value;
            best_id = Some(id);
        }
        false
    });
    best.block = best_id.map(|id| search.block(id));
    best.bound = best.worth;
    if !done {
        // The heap's best key bounds everything not yet tried.
        let top = search.heap.peek().map_or(i64::MIN, |top| top.0);
        let above = (top - first.need).div_euclid(scale);
        best.bound = best.bound.max(known.saturating_add(1).saturating_add(above));
    }
    Some(best)
}

fn above_with<const N: usize>(ask: &Question, work: &mut Work) -> Vec<Block> {
    let Some(fields) = Fields::<N>::new(ask.limits) else { return Vec::new() };
    let mut search = Search::new(ask, fields);
    let first = &ask.bounds[0];
    let key = |node: &Node<N>| node.priced[0] + first.outer.at(node.w, node.h).expect("a kept block fits");
    let mut found = Vec::new();
    search.run(work, key, |search, id, _| {
        if search.nodes[id as usize].priced[0] >= first.need {
            found.push(id);
        }
        false
    });
    found.into_iter().map(|id| search.block(id)).collect()
}

impl<'a, const N: usize> Search<'a, N> {
    fn new(ask: &'a Question<'a>, fields: Fields<N>) -> Search<'a, N> {
        Search {
            ask,
            fields,
            nodes: Vec::new(),
            heap: BinaryHeap::new(),
            groups: Vec::new(),
            group_at: HashMap::new(),
            known: CountsMap::default(),
            joins: 0,
        }
    }

    /// Runs until nothing is left (true) or work or memory ends (false). `see` is told of every kept block; it may raise
    /// what blocks need, and stops the search by answering true.
    fn run(
        &mut self,
        work: &mut Work,
        key: impl Fn(&Node<N>) -> i64,
        mut see: impl FnMut(&Self, u32, &mut i64) -> bool,
    ) -> bool {
        let ask = self.ask;
        let mut raised = 0;
        for (s, size) in ask.sizes.iter().enumerate() {
            for (w, h) in size.ways() {
                let mut priced = [0; 2];
                for (price, bound) in priced.iter_mut().zip(&ask.bounds) {
                    *price = bound.prices[s];
                }
                let from = From::Piece(u32::try_from(s).expect("few sizes"));
                let node = Node { counts: self.fields.one(s), w, h, priced, from };
                if let Some(id) = self.keep(node, raised, &key)
                    && see(self, id, &mut raised)
                {
                    return false;
                }
            }
        }
        while let Some((top, std::cmp::Reverse(id))) = self.heap.pop() {
            if self.dropped(id, raised) {
                continue;
            }
            self.take(id);
            if !self.expand(id, &mut raised, work, &key, &mut see) {
                self.heap.push((top, std::cmp::Reverse(id)));
                return false;
            }
        }
        true
    }

    /// True when a waiting block need not be expanded: a bound has risen, or a smaller box holds the same pieces.
    fn dropped(&self, id: u32, raised: i64) -> bool {
        let node = &self.nodes[id as usize];
        !self.promising(node.w, node.h, &node.priced, raised)
            || !self.known[&node.counts].iter().any(|&(_, _, known)| known == id)
    }

    fn promising(&self, w: u32, h: u32, priced: &[i64; 2], raised: i64) -> bool {
        self.ask.bounds.iter().zip(priced).all(|(bound, inside)| {
            bound.outer.at(w, h).is_some_and(|outer| inside + outer >= bound.need + raised)
        })
    }

    /// Remembers a block unless it is hopeless or a known box with the same pieces is no larger.
    fn keep(&mut self, node: Node<N>, raised: i64, key: &impl Fn(&Node<N>) -> i64) -> Option<u32> {
        if node.w > self.ask.w || node.h > self.ask.h || !self.promising(node.w, node.h, &node.priced, raised)
        {
            return None;
        }
        let id = u32::try_from(self.nodes.len()).ok()?;
        let boxes = self.known.entry(node.counts).or_default();
        if boxes.iter().any(|&(w, h, _)| w <= node.w && h <= node.h) {
            return None;
        }
        boxes.retain(|&(w, h, _)| w < node.w || h < node.h);
        boxes.push((node.w, node.h, id));
        self.heap.push((key(&node), std::cmp::Reverse(id)));
        self.nodes.push(node);
        Some(id)
    }

    /// Moves a block to the groups of those taken.
    fn take(&mut self, id: u32) {
        let node = &self.nodes[id as usize];
        let (sides, price) = ((node.w, node.h), node.priced[0]);
        let groups = &mut self.groups;
        let at = *self.group_at.entry(sides).or_insert_with(|| {
            groups.push(Group { w: sides.0, h: sides.1, members: Vec::new() });
            groups.len() - 1
        });
        let members = &mut groups[at].members;
        let place = members.partition_point(|&(p, _)| p >= price);
        members.insert(place, (price, id));
    }

    /// Joins a block with every one taken. False when work or memory ends or `see` stops the search.
    fn expand(
        &mut self,
        id: u32,
        raised: &mut i64,
        work: &mut Work,
        key: &impl Fn(&Node<N>) -> i64,
        see: &mut impl FnMut(&Self, u32, &mut i64) -> bool,
    ) -> bool {
        let ask = self.ask;
        let (w, h, counts, priced) = {
            let node = &self.nodes[id as usize];
            (node.w, node.h, node.counts, node.priced)
        };
        for g in 0..self.groups.len() {
            let (gw, gh) = (self.groups[g].w, self.groups[g].h);
            let mut steps = 1;
            for axis in [Axis::Width, Axis::Height] {
                let (jw, jh) = match axis {
                    Axis::Width => (w + gw, h.max(gh)),
                    Axis::Height => (w.max(gw), h + gh),
                };
                if jw > ask.w || jh > ask.h {
                    continue;
                }
                let Some(outer) = ask.bounds[0].outer.at(jw, jh) else { continue };
                for m in 0..self.groups[g].members.len() {
                    let (price, other) = self.groups[g].members[m];
                    if priced[0] + price + outer < ask.bounds[0].need + *raised {
                        break;
                    }
                    steps += 1;
                    let Some(sum) = self.fields.add(counts, self.nodes[other as usize].counts) else {
                        continue;
                    };
                    let second = priced[1] + self.nodes[other as usize].priced[1];
                    let from = From::Join(axis, id, other);
                    let node = Node { counts: sum, w: jw, h: jh, priced: [priced[0] + price, second], from };
                    if let Some(kept) = self.keep(node, *raised, key)
                        && see(self, kept, raised)
                    {
                        return false;
                    }
                }
            }
            self.joins += steps;
            if !work.spend(2 * steps) || self.nodes.len() > ask.most_nodes {
                return false;
            }
        }
        true
    }

    /// The block a node stands for.
    fn block(&self, id: u32) -> Block {
        let node = &self.nodes[id as usize];
        match node.from {
            From::Piece(size) => Block::piece(size as usize, node.w, node.h),
            From::Join(Axis::Width, a, b) => Block::beside(self.block(a), self.block(b)),
            From::Join(Axis::Height, a, b) => Block::above(self.block(a), self.block(b)),
        }
    }
}
