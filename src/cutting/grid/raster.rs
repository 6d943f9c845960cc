//! The positions at which cutting can matter.
//!
//! Normal patterns (Herz 1972; Christofides and Whitlock 1977): every cut may be pushed until it touches
//! a sum of piece sides. Reduced raster points (Terno, Lindemann and Scheithauer 1987): seen from the far edge as well.

use crate::cutting::grid::order::Size;

/// Which side of a piece lies along the axis.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Along {
    /// Widths.
    Width,
    /// Heights.
    Height,
}

/// Positions in ascending order, 0 first, with rounding down to them.
#[derive(Clone, Debug)]
pub(crate) struct Raster {
    pub(crate) points: Vec<u32>,
    /// Rounding down by look-up, for sides short enough to list.
    floors: Vec<u32>,
}

/// Longest side whose roundings are listed (4 bytes a step).
const LONGEST_LISTED: u32 = 1 << 18;

impl Raster {
    /// A raster of `points`, ascending from 0.
    pub(crate) fn new(points: Vec<u32>) -> Raster {
        let last = points.last().copied().expect("0 is always a point");
        let mut floors = Vec::new();
        if last <= LONGEST_LISTED {
            for (i, &next) in points.iter().skip(1).chain([&(last + 1)]).enumerate() {
                floors.resize(next as usize, u32::try_from(i).expect("a raster has few points"));
            }
        }
        Raster { points, floors }
    }

    /// Index of the largest point not above `x`.
    pub(crate) fn floor(&self, x: u32) -> usize {
        if self.floors.is_empty() {
            return self.points.partition_point(|&p| p <= x) - 1;
        }
        self.floors.get(x as usize).map_or(self.points.len() - 1, |&i| i as usize)
    }

    /// Index of the smallest point not below `x`, if there is one.
    pub(crate) fn ceil(&self, x: u32) -> Option<usize> {
        let at = self.points.partition_point(|&p| p < x);
        (at < self.points.len()).then_some(at)
    }

    /// The last point: how much of the side can be used at all.
    pub(crate) fn last(&self) -> u32 {
        *self.points.last().expect("0 is always a point")
    }

    pub(crate) fn len(&self) -> usize {
        self.points.len()
    }
}

/// All sums, up to `total`, of sides of pieces that fit a `total` x `across` sheet, each piece used at most its
/// `count` (unlimited when `None`). `None` when there are more than `most`.
pub(crate) fn normal_patterns(
    sizes: &[Size],
    counts: Option<&[u32]>,
    along: Along,
    total: u32,
    across: u32,
    most: usize,
) -> Option<Raster> {
    let mut points = vec![0];
    for (i, size) in sizes.iter().enumerate() {
        let mut sides: Vec<u32> = size
            .ways()
            .map(|(w, h)| if along == Along::Width { (w, h) } else { (h, w) })
            .filter(|&(side, other)| side <= total && other <= across)
            .map(|(side, _)| side)
            .collect();
        sides.sort_unstable();
        sides.dedup();
        let Some(&least) = sides.first() else { continue };
        let copies = counts.map_or(u32::MAX, |c| c[i]).min(total / least);
        for _ in 0..copies {
            let before = points.len();
            points = with_one_more(&points, &sides, total);
            if points.len() > most {
                return None;
            }
            if points.len() == before {
                break;
            }
        }
    }
    Some(Raster::new(points))
}

/// The points together with every point plus one of `sides`.
fn with_one_more(points: &[u32], sides: &[u32], total: u32) -> Vec<u32> {
    let mut all = points.to_vec();
    for &side in sides {
        all.extend(points.iter().map(|p| p + side).take_while(|&p| p <= total));
    }
    // Runs already in order: the stable sort merges them, which is quicker than sorting anew.
    all.sort();
    all.dedup();
    all
}

/// The reduced raster of `normal` on a side of length `total`: its points seen from both ends.
pub(crate) fn reduced(normal: &Raster, total: u32) -> Raster {
    let total = normal.points[normal.floor(total)];
    let mut points: Vec<u32> =
        normal.points.iter().map(|&x| normal.points[normal.floor(total - x)]).collect();
    points.push(0);
    points.push(total);
    points.sort_unstable();
    points.dedup();
    Raster::new(points)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sums_respect_counts_and_what_fits_across() {
        let sizes = [Size { w: 4, h: 3, turn: false }, Size { w: 5, h: 9, turn: false }];
        let all = normal_patterns(&sizes, None, Along::Width, 13, 10, 99).unwrap();
        assert_eq!(all.points, [0, 4, 5, 8, 9, 10, 12, 13]);
        let once = normal_patterns(&sizes, Some(&[1, 1]), Along::Width, 13, 10, 99).unwrap();
        assert_eq!(once.points, [0, 4, 5, 9]);
        let low = normal_patterns(&sizes, None, Along::Width, 13, 8, 99).unwrap();
        assert_eq!(low.points, [0, 4, 8, 12]);
        assert!(normal_patterns(&sizes, None, Along::Width, 13, 10, 3).is_none());
    }

    #[test]
    fn the_reduced_raster_keeps_only_points_seen_from_both_ends() {
        let normal = Raster::new(vec![0, 4, 5, 8, 9, 10, 12, 13]);
        assert_eq!(reduced(&normal, 13).points, [0, 4, 5, 8, 9, 13]);
    }
}
