//! Sheets of one size that are cut differently are given one layout where all they need has its place in it: more sheets
//! lie in one stack. Places that a sheet does not need stay as they are cut. Leftovers never get worse for it.
//!
//! Sheets may share a layout when the larger of what each needs, size by size, fits one sheet. They are joined two and two
//! while that goes, so the number of layouts reached is good, not proved least.

use std::collections::BTreeMap;

use itertools::Itertools;

use crate::cutting::{self, Kind, Layout, Node, Rect, Sheet, Stop, Work};
use crate::fabric::Family;
use crate::length::Length;
use crate::pattern::demand::Piece;
use crate::pattern::rules::Direction;
use crate::planning::Task;
use crate::planning::finish::preferences::{Look, look};
use crate::planning::plan::{Plan, SheetPlan};

/// Layouts for two kinds of sheets together that may be looked for: about a tenth of a second.
const MOST_TRIES: u32 = 100;
/// Steps for one of them.
const TRY_STEPS: u64 = 150_000;

/// Sheets cut alike, as indexes into the plan.
type Group = Vec<usize>;

/// Gives sheets the layouts of others where that makes fewer of them.
pub(crate) fn share(task: &Task<'_>, plan: &mut Plan, stop: &Stop) {
    let mut sharing =
        Sharing { task, stop, tries: MOST_TRIES * task.rules.effort.max(1) / 100, made: BTreeMap::new() };
    let mut sizes: BTreeMap<(Length, Length), BTreeMap<Look, Group>> = BTreeMap::new();
    for (index, sheet) in plan.sheets.iter().enumerate() {
        // Of yardage the length used counts, which another layout may change.
        if task.stash.lot(sheet.lot).cut.entry().family != Family::Yardage {
            let size = (sheet.layout.width(), sheet.layout.height());
            sizes.entry(size).or_default().entry(look(&sheet.layout)).or_default().push(index);
        }
    }
    for looks in sizes.into_values() {
        let mut groups: Vec<Group> = looks.into_values().collect();
        // Those with most sheets first: the others come to them.
        groups.sort_by_key(|group| (std::cmp::Reverse(group.len()), group[0]));
        let mut one = 0;
        while one < groups.len() {
            for other in (one + 1..groups.len()).rev() {
                let Some(layouts) = sharing.join(&plan.sheets, &groups[one], &groups[other]) else {
                    continue;
                };
                for (index, layout) in layouts {
                    plan.sheets[index].layout = layout;
                }
                let joined = groups.remove(other);
                groups[one].extend(joined);
            }
            one += 1;
        }
    }
}

struct Sharing<'a> {
    task: &'a Task<'a>,
    stop: &'a Stop,
    tries: u32,
    /// What was cut anew, by sheet and places.
    made: BTreeMap<(Sheet, Vec<Kind>, Vec<u32>), Option<Layout>>,
}

/// Sheets, as indexes into the plan, with their new layouts.
type Layouts = Vec<(usize, Layout)>;

impl Sharing<'_> {
    /// One layout for the sheets of both groups: that of either, or a new one.
    fn join(&mut self, sheets: &[SheetPlan], one: &Group, other: &Group) -> Option<Layouts> {
        if self.stop.seen() {
            return None;
        }
        let all: Group = one.iter().chain(other).copied().collect();
        let models = [&sheets[one[0]].layout, &sheets[other[0]].layout];
        let known = models.into_iter().find_map(|model| self.cut_as(model, sheets, &all));
        known.or_else(|| self.cut_anew(sheets, &all))
    }

    /// All these sheets from a layout for what any of them needs.
    fn cut_anew(&mut self, sheets: &[SheetPlan], all: &Group) -> Option<Layouts> {
        let whole = &sheets[all[0]].layout;
        let sheet = Sheet { width: whole.width(), height: whole.height() };
        let (kinds, counts) = self.places(sheets, all);
        let asked = (sheet, kinds, counts);
        if !self.made.contains_key(&asked) {
            let model = self.model(&asked);
            self.made.insert(asked.clone(), model);
        }
        self.cut_as(self.made[&asked].as_ref()?, sheets, all)
    }

    fn model(&mut self, (sheet, kinds, counts): &(Sheet, Vec<Kind>, Vec<u32>)) -> Option<Layout> {
        let area =
            |(kind, &count): (&Kind, &u32)| kind.width.by(kind.height).square_ticks() * i64::from(count);
        let needed: i64 = kinds.iter().zip(counts).map(area).sum();
        if needed > sheet.width.by(sheet.height).square_ticks() || self.tries == 0 {
            return None;
        }
        self.tries -= 1;
        let mut work = Work::steps(TRY_STEPS).unless(self.stop);
        cutting::kindest(*sheet, kinds, counts, self.task.rules.wishes(), &mut work)
    }

    /// All these sheets cut as `model` is; `None` where a piece has no place or the leftovers are worth less.
    fn cut_as(&self, model: &Layout, sheets: &[SheetPlan], all: &Group) -> Option<Layouts> {
        let mut worth = 0;
        let mut layouts = Vec::new();
        for &index in all {
            let layout = self.on(model, &sheets[index])?;
            worth += self.worth(&layout) - self.worth(&sheets[index].layout);
            layouts.push((index, layout));
        }
        (worth >= 0).then_some(layouts)
    }

    fn worth(&self, layout: &Layout) -> i128 {
        let useful = self.task.rules.useful_side;
        layout.leftovers().into_iter().map(|rect| cutting::leftover_value(rect, useful)).sum()
    }

    /// The pieces of a sheet, each with leave to lie turned.
    fn needs(&self, sheet: &SheetPlan) -> Vec<(usize, bool)> {
        let up = self.task.stash.lot(sheet.lot).directional;
        let free = |piece: &Piece| {
            let rules = self.task.demand.rules.get(piece.role.0);
            rules.is_some_and(|rules| rules.direction == Direction::Free)
        };
        let turn = |index: usize| !up || free(&self.task.demand.pieces[index]);
        let pieces = sheet.layout.pieces().into_iter().map(|(index, _, _)| (index, turn(index)));
        pieces.sorted_unstable().collect()
    }

    /// Places for what any of these sheets needs: by size and leave to turn, how many.
    fn places(&self, sheets: &[SheetPlan], all: &Group) -> (Vec<Kind>, Vec<u32>) {
        let each: Vec<BTreeMap<Kind, u32>> = all
            .iter()
            .map(|&index| {
                let mut counts = BTreeMap::new();
                for (piece, turn) in self.needs(&sheets[index]) {
                    *counts.entry(self.kind(piece, turn)).or_insert(0) += 1;
                }
                counts
            })
            .collect();
        let mut places: BTreeMap<Kind, u32> = BTreeMap::new();
        for (&kind, &count) in each.iter().flatten().filter(|(kind, _)| !kind.turn) {
            let most = places.entry(kind).or_insert(0);
            *most = count.max(*most);
        }
        let fixed = places.clone();
        for counts in &each {
            for (&kind, &count) in counts.iter().filter(|(kind, _)| kind.turn) {
                // Places for pieces that may not be turned, and of which this sheet has fewer, do as well.
                let both = [(kind.width, kind.height), (kind.height, kind.width)];
                let spare: u32 = both
                    .into_iter()
                    .unique()
                    .map(|(width, height)| Kind { width, height, turn: false })
                    .map(|kind| fixed.get(&kind).unwrap_or(&0) - counts.get(&kind).unwrap_or(&0))
                    .sum();
                let most = places.entry(kind).or_insert(0);
                *most = count.saturating_sub(spare).max(*most);
            }
        }
        places.into_iter().filter(|&(_, count)| count > 0).unzip()
    }

    /// What a piece is to whoever cuts it: its size, the longer side first where it may be turned.
    fn kind(&self, piece: usize, turn: bool) -> Kind {
        let Piece { width, height, .. } = self.task.demand.pieces[piece];
        if turn {
            Kind { width: width.max(height), height: width.min(height), turn }
        } else {
            Kind { width, height, turn }
        }
    }

    /// The pieces of a sheet in the places of `model`, alike ones where they lay; what is not needed is left over.
    fn on(&self, model: &Layout, sheet: &SheetPlan) -> Option<Layout> {
        let mut waiting = self.needs(sheet);
        // Those that may not be turned choose first.
        waiting.sort_by_key(|&(_, turn)| turn);
        let mut places: Vec<(Rect, Option<usize>)> =
            model.pieces().into_iter().map(|(_, rect, _)| (rect, None)).collect();
        for (index, turn) in waiting {
            let piece = &self.task.demand.pieces[index];
            let lies = |rect: &Rect| {
                (rect.width, rect.height) == (piece.width, piece.height)
                    || (turn && (rect.height, rect.width) == (piece.width, piece.height))
            };
            let place = places.iter_mut().find(|(rect, taken)| taken.is_none() && lies(rect))?;
            place.1 = Some(index);
        }
        let mut taken = places.into_iter();
        let demand = self.task.demand;
        let root = filled(model.root(), &mut || {
            let (rect, piece) = taken.next()?;
            let piece = piece?;
            Some((piece, rect.width != demand.pieces[piece].width))
        });
        Some(model.rearranged(root))
    }
}

/// The tree with its pieces, in order, as `piece` names them; left over where it names none.
fn filled(node: &Node, piece: &mut impl FnMut() -> Option<(usize, bool)>) -> Node {
    match node {
        Node::Leftover => Node::Leftover,
        Node::Piece { .. } => piece().map_or(Node::Leftover, |(kind, turned)| Node::Piece { kind, turned }),
        Node::Cut(split) => {
            let (first, second) = (filled(&split.first, piece), filled(&split.second, piece));
            Node::Cut(Box::new(cutting::Split { axis: split.axis, at: split.at, first, second }))
        }
    }
}
