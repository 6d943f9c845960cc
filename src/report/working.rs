//! The cuts of one sheet in the order in which a person makes them.
//!
//! Cuts in the same direction are taken together: strips are cut off one after the other from the left (or
//! lower) edge, each measured from the edge that the last cut made. Then each strip is cut up; strips that are
//! cut up alike are taken together, because they are stacked. Every cut has its own number, the same in every
//! file and drawing.

use std::cmp::Reverse;

use crate::cutting::{Axis, Layout, Node, Rect, holds_long};
use crate::length::Length;

/// Parallel cuts of one part of the sheet, or of several parts that are cut alike.
#[derive(Clone, Debug)]
pub(crate) struct Task {
    /// Along which side the cuts are measured.
    pub(crate) axis: Axis,
    /// What is cut, and where it comes from.
    pub(crate) regions: Vec<(Rect, Origin)>,
    /// The cuts, those with one ruler setting and one result together.
    pub(crate) runs: Vec<Run>,
    /// What is left of each region after its last cut.
    pub(crate) rest_is: Gives,
    /// True when the rest is the same as what the last run cuts off.
    pub(crate) rest_as_last: bool,
}

/// Where a part comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Origin {
    /// It is the whole sheet.
    Whole,
    /// Cut off by the cut of this number.
    CutOff(u32),
    /// Left after the cut of this number.
    RestAfter(u32),
}

/// What a part is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Gives {
    /// A piece; this one or, where regions are cut alike, one like it.
    Piece(usize),
    /// A part that is cut further.
    Strip,
    /// Left over.
    Leftover,
}

/// Cuts with one ruler setting.
#[derive(Clone, Debug)]
pub(crate) struct Run {
    /// The ruler setting: how much each cut takes off.
    pub(crate) setting: Length,
    /// How many parts it takes off each region.
    pub(crate) times: u32,
    /// Along the measured side, what remains of a region after each cut.
    pub(crate) remains: Vec<Length>,
    /// What the cuts take off.
    pub(crate) gives: Gives,
    /// The single cuts: region by region.
    pub(crate) strokes: Vec<Stroke>,
}

/// One straight cut from edge to edge of a region.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Stroke {
    /// Its number in working order, from 1.
    pub(crate) number: u32,
    /// What is cut in two.
    pub(crate) region: Rect,
    /// Along which side it is measured.
    pub(crate) axis: Axis,
    /// Distance from the left (or lower) edge of the region.
    pub(crate) at: Length,
}

impl Stroke {
    /// How long the cut itself is.
    pub(crate) fn length(&self) -> Length {
        side(self.region, across(self.axis))
    }

    /// What remains of the region when the part is taken off.
    pub(crate) fn remains(&self) -> Rect {
        self.region.split(self.axis, self.at).1
    }
}

/// The work on `layout`. `alike` tells whether two pieces are the same to the person who cuts them.
pub(crate) fn tasks(layout: &Layout, alike: &dyn Fn(usize, usize) -> bool) -> Vec<Task> {
    let mut work = Work { alike, longest: layout.width(), next: 1, tasks: Vec::new() };
    if matches!(layout.root(), Node::Cut(_)) {
        work.take(vec![(layout.whole(), Origin::Whole, layout.root())]);
    }
    work.tasks
}

/// The length of a rectangle along `axis`.
pub(crate) fn side(rect: Rect, axis: Axis) -> Length {
    match axis {
        Axis::Width => rect.width,
        Axis::Height => rect.height,
    }
}

/// The other direction.
pub(crate) fn across(axis: Axis) -> Axis {
    match axis {
        Axis::Width => Axis::Height,
        Axis::Height => Axis::Width,
    }
}

struct Work<'a> {
    alike: &'a dyn Fn(usize, usize) -> bool,
    /// What a piece may measure and still lie across the sheet.
    longest: Length,
    next: u32,
    tasks: Vec<Task>,
}

impl Work<'_> {
    /// Cuts up regions that are all alike, then their strips.
    fn take(&mut self, regions: Vec<(Rect, Origin, &Node)>) {
        let parted: Vec<(Axis, Vec<(Rect, &Node)>)> =
            regions.iter().map(|&(rect, _, node)| parts(node, rect)).collect();
        let axis = parted[0].0;
        let model = &parted[0].1;
        let last = model.len() - 1;
        let mut origins = vec![vec![Origin::Whole; model.len()]; regions.len()];
        let mut runs = Vec::new();
        let mut from = 0;
        while from < last {
            let mut to = from + 1;
            while to < last && self.same(model[from], model[to]) {
                to += 1;
            }
            let mut strokes = Vec::new();
            for (region, (_, parts)) in parted.iter().enumerate() {
                for part in from..to {
                    strokes.push(stroke(self.next, regions[region].0, axis, parts[part].0));
                    origins[region][part] = Origin::CutOff(self.next);
                    origins[region][last] = Origin::RestAfter(self.next);
                    self.next += 1;
                }
            }
            runs.push(Run {
                setting: side(model[from].0, axis),
                times: u32::try_from(to - from).expect("a sheet has few cuts"),
                remains: strokes[..to - from].iter().map(|s| side(s.remains(), axis)).collect(),
                gives: gives(model[from].1),
                strokes,
            });
            from = to;
        }
        self.tasks.push(Task {
            axis,
            regions: regions.iter().map(|&(rect, origin, _)| (rect, origin)).collect(),
            runs,
            rest_is: gives(model[last].1),
            rest_as_last: self.same(model[last - 1], model[last]),
        });
        for group in self.strips(model) {
            let strips = (0..parted.len())
                .flat_map(|region| group.iter().map(move |&part| (region, part)))
                .map(|(region, part)| {
                    let (rect, node) = parted[region].1[part];
                    (rect, origins[region][part], node)
                })
                .collect();
            self.take(strips);
        }
    }

    /// The parts that are cut further, those cut alike together.
    fn strips(&self, parts: &[(Rect, &Node)]) -> Vec<Vec<usize>> {
        let mut groups: Vec<Vec<usize>> = Vec::new();
        for (index, &part) in parts.iter().enumerate() {
            if !matches!(part.1, Node::Cut(_)) {
                continue;
            }
            match groups.iter_mut().find(|group| self.same(parts[group[0]], part)) {
                Some(group) => group.push(index),
                None => groups.push(vec![index]),
            }
        }
        // Long pieces first, nothing can replace them; then the largest: what is spoiled early is still large
        // enough for something else.
        groups.sort_by_key(|group| {
            let (rect, node) = parts[group[0]];
            let long = holds_long(node, rect.width, rect.height, self.longest);
            Reverse((long, rect.width.by(rect.height)))
        });
        groups
    }

    fn same(&self, one: (Rect, &Node), other: (Rect, &Node)) -> bool {
        one.0.width == other.0.width
            && one.0.height == other.0.height
            && same_tree(one.1, other.1, self.alike)
    }
}

/// True when two trees are cut alike and give pieces that are alike.
pub(crate) fn same_tree(one: &Node, other: &Node, alike: &dyn Fn(usize, usize) -> bool) -> bool {
    match (one, other) {
        (Node::Leftover, Node::Leftover) => true,
        (Node::Piece { kind: a, turned: s }, Node::Piece { kind: b, turned: t }) => s == t && alike(*a, *b),
        (Node::Cut(a), Node::Cut(b)) => {
            a.axis == b.axis
                && a.at == b.at
                && same_tree(&a.first, &b.first, alike)
                && same_tree(&a.second, &b.second, alike)
        }
        _ => false,
    }
}

fn stroke(number: u32, whole: Rect, axis: Axis, part: Rect) -> Stroke {
    let region = match axis {
        Axis::Width => Rect { x: part.x, width: whole.x + whole.width - part.x, ..whole },
        Axis::Height => Rect { y: part.y, height: whole.y + whole.height - part.y, ..whole },
    };
    Stroke { number, region, axis, at: side(part, axis) }
}

fn gives(node: &Node) -> Gives {
    match node {
        Node::Leftover => Gives::Leftover,
        Node::Piece { kind, .. } => Gives::Piece(*kind),
        Node::Cut(_) => Gives::Strip,
    }
}

/// The parts into which cuts in one direction divide a region, from the left (or lower) edge on.
fn parts(node: &Node, rect: Rect) -> (Axis, Vec<(Rect, &Node)>) {
    let Node::Cut(split) = node else {
        unreachable!("only regions that are cut are taken");
    };
    let mut found = Vec::new();
    flatten(node, rect, split.axis, &mut found);
    (split.axis, found)
}

fn flatten<'n>(node: &'n Node, rect: Rect, axis: Axis, found: &mut Vec<(Rect, &'n Node)>) {
    match node {
        Node::Cut(split) if split.axis == axis => {
            let (first, second) = rect.split(axis, split.at);
            flatten(&split.first, first, axis, found);
            flatten(&split.second, second, axis, found);
        }
        _ => found.push((rect, node)),
    }
}

/// Every cut of `tasks` in working order.
pub(crate) fn strokes(tasks: &[Task]) -> Vec<Stroke> {
    tasks.iter().flat_map(|task| &task.runs).flat_map(|run| run.strokes.iter().copied()).collect()
}
