//! The places of a quilt and how near they are to each other.

use crate::pattern::BlockId;
use crate::pattern::layout::{Layout, Place, Set};

/// How much a likeness counts at distance 1, 2 and 3; farther apart it does not count. Our own choice, so that a
/// neighbour outweighs what two places farther out can bring.
pub const NEARNESS: [u64; 3] = [16, 4, 1];

/// The places of a quilt.
#[derive(Clone, Debug)]
pub struct Wall {
    /// Every place, in reading order.
    pub places: Vec<Place>,
    /// The kind of block that each place is for.
    pub kinds: Vec<BlockId>,
    /// Where each lies on the grid along the edges of the blocks.
    pub spots: Vec<(i64, i64)>,
    /// For each place the others that are near, with their nearness.
    pub near: Vec<Vec<(usize, u64)>>,
}

impl Wall {
    /// The places of a layout.
    pub fn of(layout: &Layout) -> Wall {
        let (places, kinds): (Vec<Place>, Vec<BlockId>) =
            layout.places().into_iter().map(|(place, cell)| (place, cell.block)).unzip();
        let spots = places.iter().map(|&place| spot(place, layout)).collect();
        Wall::new(places, kinds, spots)
    }

    /// Places with their kinds of block and where they lie on the grid.
    pub fn new(places: Vec<Place>, kinds: Vec<BlockId>, spots: Vec<(i64, i64)>) -> Wall {
        let mut wall = Wall { places, kinds, spots, near: Vec::new() };
        wall.near = (0..wall.spots.len()).map(|one| wall.neighbours(one)).collect();
        wall
    }

    /// How many places apart two places are: 1 for neighbours, also corner to corner (Chebyshev's distance).
    pub fn distance(&self, one: usize, other: usize) -> u32 {
        let ((x, y), (u, v)) = (self.spots[one], self.spots[other]);
        u32::try_from((x - u).abs().max((y - v).abs())).unwrap_or(u32::MAX)
    }

    fn neighbours(&self, one: usize) -> Vec<(usize, u64)> {
        let others = (0..self.spots.len()).filter(|&other| other != one);
        others.filter_map(|other| Some((other, nearness(self.distance(one, other))?))).collect()
    }
}

/// What a likeness counts at a distance; nothing where it does not.
fn nearness(distance: u32) -> Option<u64> {
    let index = usize::try_from(distance).ok()?.checked_sub(1)?;
    NEARNESS.get(index).copied()
}

/// On point, rows and columns of the grid run along the slanted edges of the blocks: a block's neighbours across
/// its four edges lie one step along one of them.
fn spot(place: Place, layout: &Layout) -> (i64, i64) {
    let (row, column) = (i64::from(place.row) - 1, i64::from(place.column) - 1);
    match layout.set {
        Set::Straight => (column, row),
        // A single column of blocks has no rows between.
        Set::OnPoint if layout.between.is_empty() => (column + row, column - row),
        Set::OnPoint => {
            // In half diagonals: every other row starts one to the right, so that sum and difference are even.
            let (right, down) = (2 * column + row % 2, row);
            ((right + down) / 2, (right - down) / 2)
        }
    }
}
