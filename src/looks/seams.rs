//! Shared edges of patches, from the drawing of the quilt.
//!
//! Two edges share a seam where they lie on one line. On point the corners are rounded to the nearest tick, so a
//! line is known within [`SLACK`].

use std::collections::BTreeMap;

use crate::length::Length;
use crate::pattern::geometry;
use crate::pattern::setting::Point;
use crate::pattern::{Block, BlockId, Pattern, RoleId};

/// Two roles -> the seam they share, finished; the lower number first.
pub(super) type Seams = BTreeMap<(RoleId, RoleId), Length>;

/// How many ticks off one line two edges may lie, and how short a seam is none: far below what a needle is wide, above what
/// rounding to a tick does.
const SLACK: i64 = 8;

/// A seam between two blocks or pieces of the setting.
pub(super) struct Between {
    /// The kinds of block on both sides; `None` for a piece of the setting.
    pub(super) blocks: [Option<BlockId>; 2],
    /// The roles on both sides.
    pub(super) roles: [RoleId; 2],
    /// Their seams over the whole quilt.
    pub(super) seam: Length,
}

/// The seams inside one copy of a block.
pub(super) fn of_block(block: &Block) -> Seams {
    let patches = geometry::block(block);
    let edges: Vec<(RoleId, Vec<Edge>)> =
        patches.iter().filter_map(|patch| Some((patch.role?, Edge::all(&patch.corners)))).collect();
    let mut seams = Seams::new();
    for (index, (one, ours)) in edges.iter().enumerate() {
        for (other, theirs) in edges[index + 1..].iter().filter(|(other, _)| other != one) {
            let shared = ours.iter().flat_map(|edge| theirs.iter().map(|near| edge.shared(near)));
            let shared: i64 = shared.sum();
            if shared > 0 {
                let sum = seams.entry((*one.min(other), *one.max(other))).or_default();
                *sum += Length::from_ticks(shared);
            }
        }
    }
    seams
}

/// The seams between block copies, sashing, setting triangles and borders; `None` when the pattern has no layout that can be drawn.
pub(super) fn between(pattern: &Pattern) -> Option<Vec<Between>> {
    /// An edge with whose it is: the block copy, or the number of a piece of the setting.
    type Owned = (Option<(BlockId, u32)>, usize, RoleId, Edge);
    let mut lines: BTreeMap<(u8, i64), Vec<Owned>> = BTreeMap::new();
    for (number, patch) in geometry::quilt(pattern)?.into_iter().enumerate() {
        let Some(role) = patch.patch.role else { continue };
        for edge in Edge::all(&patch.patch.corners) {
            // Seams between blocks run level, upright or at 45 degrees.
            if let Some(line) = edge.line() {
                lines.entry(line).or_default().push((patch.block, number, role, edge));
            }
        }
    }
    let mut seams: BTreeMap<([Option<BlockId>; 2], [RoleId; 2]), i64> = BTreeMap::new();
    let mut meet = |(block, number, role, edge): &Owned, (there, other, beside, near): &Owned| {
        let apart = number != other && (block.is_none() || block != there) && role != beside;
        let shared = if apart { edge.shared(near) } else { 0 };
        if shared > 0 {
            let (one, two) = ((block.map(|copy| copy.0), *role), (there.map(|copy| copy.0), *beside));
            let ((here, role), (there, beside)) = if one.1 < two.1 { (one, two) } else { (two, one) };
            *seams.entry(([here, there], [role, beside])).or_default() += shared;
        }
    };
    for (&(direction, at), edges) in &lines {
        for (index, edge) in edges.iter().enumerate() {
            edges[index + 1..].iter().for_each(|near| meet(edge, near));
            // The next bundle of lines, which rounding may have put the other side into.
            lines.get(&(direction, at + 1)).into_iter().flatten().for_each(|near| meet(edge, near));
        }
    }
    let between = seams.into_iter().map(|((blocks, roles), seam)| Between {
        blocks,
        roles,
        seam: Length::from_ticks(seam),
    });
    Some(between.collect())
}

/// One side of a patch, in ticks.
#[derive(Clone, Copy)]
struct Edge {
    from: (i64, i64),
    to: (i64, i64),
}

impl Edge {
    fn all(corners: &[Point]) -> Vec<Edge> {
        let ticks = |point: &Point| (point.x.ticks(), point.y.ticks());
        let next = corners.iter().cycle().skip(1);
        corners.iter().zip(next).map(|(from, to)| Edge { from: ticks(from), to: ticks(to) }).collect()
    }

    fn run(&self) -> (i64, i64) {
        (self.to.0 - self.from.0, self.to.1 - self.from.1)
    }

    /// Its length, rounded down.
    fn length(&self) -> i64 {
        let (x, y) = self.run();
        i64::try_from((i128::from(x).pow(2) + i128::from(y).pow(2)).isqrt()).unwrap_or(i64::MAX)
    }

    /// For a level, upright or 45-degree edge: which of these, and the bundle of lines its own is in.
    fn line(&self) -> Option<(u8, i64)> {
        let (x, y) = self.run();
        let near = |size: i64| size.abs() <= SLACK;
        let (direction, at) = match () {
            () if near(y) => (0, self.from.1),
            () if near(x) => (1, self.from.0),
            () if near(x - y) => (2, self.from.0 - self.from.1),
            () if near(x + y) => (3, self.from.0 + self.from.1),
            () => return None,
        };
        Some((direction, at.div_euclid(4 * SLACK)))
    }

    /// How much of it another edge shares, in ticks.
    fn shared(&self, other: &Edge) -> i64 {
        let length = self.length();
        if length == 0 {
            return 0;
        }
        let (x, y) = self.run();
        let along = |point: (i64, i64)| {
            let (right, down) = (i128::from(point.0 - self.from.0), i128::from(point.1 - self.from.1));
            let dot = right * i128::from(x) + down * i128::from(y);
            let cross = right * i128::from(y) - down * i128::from(x);
            (dot / i128::from(length), cross.abs() / i128::from(length))
        };
        let ((start, off), (end, away)) = (along(other.from), along(other.to));
        if off.max(away) > i128::from(SLACK) {
            return 0;
        }
        let overlap = start.max(end).min(i128::from(length)) - start.min(end).max(0);
        if overlap <= i128::from(SLACK) { 0 } else { i64::try_from(overlap).unwrap_or(i64::MAX) }
    }
}
