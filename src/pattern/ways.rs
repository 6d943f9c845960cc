//! Units that a pattern lets be made in several ways: which there are, and the same quilt made otherwise.

use crate::pattern::unit::Way;
use crate::pattern::{BlockId, Pattern, Unit};

/// A unit with a choice of ways.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct OpenUnit {
    /// Its block.
    pub block: BlockId,
    /// Its index among the block's units.
    pub unit: usize,
    /// How many ways there are.
    pub ways: usize,
}

impl Pattern {
    /// Every unit that the quilt has and that may be made in more than one way, in file order.
    pub fn open_units(&self) -> Vec<OpenUnit> {
        let blocks = self.blocks.iter().enumerate();
        let units = blocks.flat_map(|(block, held)| {
            held.units.iter().enumerate().map(move |(unit, described)| (BlockId(block), unit, described))
        });
        units
            .filter(|(_, _, unit)| unit.ways.len() > 1 && unit.each > 0)
            .map(|(block, index, unit)| OpenUnit { block, unit: index, ways: unit.ways.len() })
            .collect()
    }

    /// The unit itself.
    pub fn open_unit(&self, open: OpenUnit) -> &Unit {
        &self.blocks[open.block.0].units[open.unit]
    }

    /// The way an open unit is made.
    pub fn way_of(&self, open: OpenUnit) -> &Way {
        let unit = self.open_unit(open);
        &unit.ways[unit.chosen]
    }

    /// The same quilt with each of `open` made the way of that number; `None` when there is no such way.
    pub fn with_ways(&self, open: &[OpenUnit], ways: &[usize]) -> Option<Pattern> {
        let mut pattern = self.clone();
        for (open, &way) in open.iter().zip(ways) {
            if pattern.open_unit(*open).chosen != way {
                pattern = pattern.with_way(open.block, open.unit, way)?;
            }
        }
        Some(pattern)
    }
}
