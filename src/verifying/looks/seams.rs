//! Lengths of seam between patches, by projecting their sides onto the axis they run along most.

use std::collections::{BTreeMap, BTreeSet};

use crate::pattern::setting::Point;

/// How far apart two sides of one seam may lie, and the shortest seam: corners on point are rounded to a tick.
const SLACK: i64 = 8;

/// A patch as it lies.
pub(super) struct Patch {
    pub(super) role: usize,
    /// Block and copy; `None` for a piece of the setting.
    pub(super) owner: Option<(usize, u32)>,
    corners: Vec<(i64, i64)>,
}

impl Patch {
    pub(super) fn new(role: usize, owner: Option<(usize, u32)>, corners: &[Point]) -> Patch {
        Patch { role, owner, corners: corners.iter().map(|at| (at.x.ticks(), at.y.ticks())).collect() }
    }

    /// From the left, from above, to the right, down to.
    fn frame(&self) -> [i64; 4] {
        let xs = || self.corners.iter().map(|corner| corner.0);
        let ys = || self.corners.iter().map(|corner| corner.1);
        [xs().min(), ys().min(), xs().max(), ys().max()].map(Option::unwrap_or_default)
    }

    fn near(&self, other: &Patch) -> bool {
        let ([left, top, right, bottom], [x, y, to, down]) = (self.frame(), other.frame());
        left <= to + SLACK && x <= right + SLACK && top <= down + SLACK && y <= bottom + SLACK
    }

    fn sides(&self) -> impl Iterator<Item = [(i64, i64); 2]> {
        let count = self.corners.len();
        (0..count).map(move |at| [self.corners[at], self.corners[(at + 1) % count]])
    }

    fn seam(&self, other: &Patch) -> i64 {
        self.sides().map(|side| other.sides().map(|near| shared(side, near)).sum::<i64>()).sum()
    }
}

/// The seams between roles within one block, the lower role first.
pub(super) fn inside(patches: &[Patch]) -> BTreeMap<(usize, usize), i64> {
    let mut seams = BTreeMap::new();
    for (at, one) in patches.iter().enumerate() {
        for other in patches[at + 1..].iter().filter(|other| other.role != one.role && other.near(one)) {
            let seam = one.seam(other);
            if seam > 0 {
                *seams.entry((one.role.min(other.role), one.role.max(other.role))).or_insert(0) += seam;
            }
        }
    }
    seams
}

/// The seams between patches of different owners, or of the setting, by their numbers.
pub(super) fn between(patches: &[Patch]) -> Vec<(usize, usize, i64)> {
    // Patches by the fields of a coarse net that they touch, so that not every two are compared.
    let largest = patches.iter().map(|patch| {
        let [left, top, right, bottom] = patch.frame();
        (right - left).min(bottom - top)
    });
    let step = largest.max().unwrap_or(1).max(1) * 2;
    let mut net: BTreeMap<(i64, i64), Vec<usize>> = BTreeMap::new();
    for (number, patch) in patches.iter().enumerate() {
        let [left, top, right, bottom] = patch.frame();
        for x in (left - SLACK).div_euclid(step)..=(right + SLACK).div_euclid(step) {
            for y in (top - SLACK).div_euclid(step)..=(bottom + SLACK).div_euclid(step) {
                net.entry((x, y)).or_default().push(number);
            }
        }
    }
    let mut pairs: BTreeSet<(usize, usize)> = BTreeSet::new();
    for numbers in net.values() {
        for (at, &one) in numbers.iter().enumerate() {
            for &other in &numbers[at + 1..] {
                let (here, there) = (&patches[one], &patches[other]);
                let apart = here.owner.is_none() || here.owner != there.owner;
                if apart && here.role != there.role && here.near(there) {
                    pairs.insert((one.min(other), one.max(other)));
                }
            }
        }
    }
    let seams = pairs.into_iter().map(|(one, other)| (one, other, patches[one].seam(&patches[other])));
    seams.filter(|(_, _, seam)| *seam > 0).collect()
}

/// How much two sides share, along the first.
fn shared([from, to]: [(i64, i64); 2], [start, end]: [(i64, i64); 2]) -> i64 {
    let (x, y) = (i128::from(to.0 - from.0), i128::from(to.1 - from.1));
    let length = (x * x + y * y).isqrt();
    if length == 0 {
        return 0;
    }
    // Twice the area of the triangle over its base is how far a corner lies from the first side.
    let off = |point: (i64, i64)| {
        let (right, down) = (i128::from(point.0 - from.0), i128::from(point.1 - from.1));
        (x * down - y * right).abs()
    };
    if off(start).max(off(end)) > i128::from(SLACK) * length + length - 1 {
        return 0;
    }
    let upright = y.abs() > x.abs();
    let along = |point: (i64, i64)| if upright { point.1 } else { point.0 };
    let ((a, b), (c, d)) = ((along(from), along(to)), (along(start), along(end)));
    let overlap = a.max(b).min(c.max(d)) - a.min(b).max(c.min(d));
    let run = if upright { y.abs() } else { x.abs() };
    let length = i128::from(overlap.max(0)) * length / run.max(1);
    if length <= i128::from(SLACK) { 0 } else { i64::try_from(length).unwrap_or(i64::MAX) }
}
