//! The two copies nearest to each other that share a print.

use crate::arranging::{Feature, Likeness, Wall};
use crate::stash::PrintId;

/// Two copies that share a print.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Closest {
    /// How many places apart they lie.
    pub distance: u32,
    /// The print.
    pub print: PrintId,
    /// The copies, in reading order of their places.
    pub copies: [usize; 2],
}

/// The nearest two; of several the first in reading order. `None` when no two copies share a print.
pub fn closest(wall: &Wall, likeness: &Likeness, seats: &[usize]) -> Option<Closest> {
    let mut nearest = None;
    for (feature, copies) in likeness.shared() {
        let Feature::Print(print) = feature else { continue };
        for (index, &one) in copies.iter().enumerate() {
            for &other in &copies[index + 1..] {
                let mut pair = [one, other];
                pair.sort_by_key(|&copy| seats[copy]);
                let distance = wall.distance(seats[one], seats[other]);
                let found = (distance, pair.map(|copy| seats[copy]), print, pair);
                nearest = Some(nearest.map_or(found, |nearest| found.min(nearest)));
            }
        }
    }
    let (distance, _, print, copies) = nearest?;
    Some(Closest { distance, print, copies })
}
