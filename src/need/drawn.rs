//! The cutting of one fabric as a layout of the length bought, strips or the least length, so that it can be drawn.

use std::cmp::Reverse;

use crate::cutting::{Axis, Kind, Layout, Node, Split};
use crate::length::Length;
use crate::need::{AtWidth, Band, Wanted, Worked};

/// Which of the two amounts is cut.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Cutting {
    /// One depth of strip for each size, as patterns print it.
    #[default]
    Strips,
    /// The least length found.
    Least,
}

impl AtWidth {
    /// The amount that is cut.
    pub fn by(&self, which: Cutting) -> &Worked {
        match which {
            Cutting::Strips => &self.by_strips,
            Cutting::Least => &self.by_least,
        }
    }

    /// How `height` of the fabric is cut, squared up already; leaves name sizes of [`AtWidth::wanted`]. Strips and the
    /// least length begin at the lower edge, what is over lies above.
    ///
    /// Strips of lengthwise pieces lie lowest, then those of the longest pieces, then the deepest: so they are cut.
    pub fn layout_of(&self, which: Cutting, width: Length, height: Length) -> Layout {
        let kinds: Vec<Kind> = self.wanted.iter().map(Wanted::kind).collect();
        let mut parts: Vec<(Length, Node)> = Vec::new();
        match (which, &self.layout) {
            (Cutting::Least, Some(layout)) => {
                parts.push((self.by_least.exact, used(layout, self.by_least.exact)))
            }
            _ => {
                let mut bands: Vec<&Band> = self.strips.bands.iter().collect();
                bands.sort_by_key(|band| Reverse((band.lengthwise, self.longest(band), band.depth)));
                for band in bands {
                    let strip = (band.depth, self.strip(band, width));
                    parts.extend((0..band.times).map(|_| strip.clone()));
                }
            }
        }
        let root = side_by_side(parts, Axis::Height, height);
        Layout::new(width, height, root, &kinds).expect("strips lie inside the length they add up to")
    }

    /// The longest side of the pieces of a band.
    fn longest(&self, band: &Band) -> Length {
        let sizes = band.pieces.iter().map(|&(size, _)| &self.wanted[size]);
        sizes.map(|one| one.width.max(one.height)).max().unwrap_or_default()
    }

    /// One strip of a band: its pieces from the left, each trimmed to its own height where it is lower.
    fn strip(&self, band: &Band, width: Length) -> Node {
        let mut parts = Vec::new();
        for &(size, count) in &band.pieces {
            let one = &self.wanted[size];
            // A piece lies as it was reckoned: as deep as the strip, or along the fabric.
            let turned =
                if band.lengthwise { one.turn && one.width > one.height } else { one.height != band.depth };
            let (across, along) = if turned { (one.height, one.width) } else { (one.width, one.height) };
            let piece =
                side_by_side(vec![(along, Node::Piece { kind: size, turned })], Axis::Height, band.depth);
            parts.extend((0..count).map(|_| (across, piece.clone())));
        }
        side_by_side(parts, Axis::Width, width)
    }
}

/// The part of a layout that is used, when its first cut takes that off.
fn used(layout: &Layout, length: Length) -> Node {
    match layout.root() {
        Node::Cut(split)
            if split.axis == Axis::Height && split.at == length && split.second == Node::Leftover =>
        {
            split.first.clone()
        }
        whole => whole.clone(),
    }
}

/// Parts cut off one after the other from a region of size `side`; what they leave is left over.
fn side_by_side(parts: Vec<(Length, Node)>, axis: Axis, side: Length) -> Node {
    let taken: Length = parts.iter().map(|(size, _)| *size).sum();
    let mut parts = parts.into_iter().rev();
    let mut node =
        if taken < side { Node::Leftover } else { parts.next().map_or(Node::Leftover, |last| last.1) };
    for (size, part) in parts {
        node = Node::Cut(Box::new(Split { axis, at: size, first: part, second: node }));
    }
    node
}
