//! Blocks as they will look: every patch in the print its piece is cut from.

use std::collections::{BTreeMap, BTreeSet};

use crate::length::Length;
use crate::pattern::patchwork::CopyPieces;
use crate::pattern::setting::Point;
use crate::pattern::{BlockId, RoleId, Size, geometry};
use crate::report::paint::{Paint, Paints};
use crate::report::situation::Situation;
use crate::report::view::letters::Letters;
use crate::report::view::words;
use crate::stash::PrintId;

/// A drawing of patches.
pub(crate) struct Patchwork {
    /// What it shows, for those who cannot see it.
    pub(crate) title: String,
    /// Finished size.
    pub(crate) size: Size,
    /// Its patches.
    pub(crate) patches: Vec<PatchView>,
    /// What is drawn round with a heavier line: the blocks of a quilt.
    pub(crate) outlines: Vec<Vec<Point>>,
}

/// A patch as drawn.
pub(crate) struct PatchView {
    /// Its corners, finished sizes, from the upper left.
    pub(crate) corners: Vec<Point>,
    /// How it is painted.
    pub(crate) paint: Paint,
    /// The letters of its print, or what stands there instead.
    pub(crate) letters: String,
}

/// Copies of a block that look alike.
pub(crate) struct BlockDrawing {
    /// `Urchin 1`, `Limpet 3 and 5`.
    pub(crate) name: String,
    /// Letters and names of their prints, without those that every copy has.
    pub(crate) prints: Vec<(String, String)>,
    /// How they look.
    pub(crate) drawing: Patchwork,
}

/// What drawings are made from.
pub(crate) struct Draughts {
    /// The letters of the prints.
    pub(crate) letters: Letters,
    /// The piece of every patch of every copy.
    pub(crate) pieces: BTreeMap<(BlockId, u32), CopyPieces>,
    /// How the prints are painted.
    paints: Paints,
}

impl Draughts {
    /// Nothing for a pattern that does not say how any block is put together, such as a cutting chart.
    pub(crate) fn of(here: &Situation<'_>) -> Option<Draughts> {
        let pieces = crate::pattern::patchwork::pieces(here.pattern, here.demand);
        (!pieces.is_empty()).then(|| Draughts {
            letters: Letters::of(here),
            pieces,
            paints: Paints::of(here.stash),
        })
    }

    /// The print of each patch of a copy.
    pub(crate) fn prints(&self, here: &Situation<'_>, block: BlockId, copy: u32) -> Vec<Option<PrintId>> {
        let pieces = self.pieces.get(&(block, copy));
        let print = |piece: &Option<_>| here.print_of(here.demand.piece((*piece)?));
        pieces.map_or(Vec::new(), |pieces| pieces.iter().map(print).collect())
    }

    /// How a print is painted.
    pub(crate) fn paint(&self, print: PrintId) -> Paint {
        self.paints.print(print)
    }

    /// A patch of a print; of none when its piece is short or the inside of its unit is not described.
    pub(crate) fn patch(
        &self,
        corners: Vec<Point>,
        role: Option<RoleId>,
        print: Option<PrintId>,
    ) -> PatchView {
        let letters = match (role, print) {
            (_, Some(print)) => self.letters.print(print),
            (Some(_), None) => "?",
            (None, None) => "",
        };
        let paint = print.map(|print| self.paints.print(print)).unwrap_or_default();
        PatchView { corners, paint, letters: letters.to_owned() }
    }

    /// The copies of one kind of block, alike ones together; nothing when its pattern has no rows.
    pub(crate) fn blocks(&self, here: &Situation<'_>, block: BlockId, copies: &[u32]) -> Vec<BlockDrawing> {
        let kind = &here.pattern.blocks[block.0];
        let Some(size) = kind.finished.filter(|_| !kind.rows.is_empty()) else { return Vec::new() };
        let mut looks: Vec<(Vec<Option<PrintId>>, Vec<u32>)> = Vec::new();
        for &copy in copies {
            let prints = self.prints(here, block, copy);
            match looks.iter_mut().find(|(other, _)| *other == prints) {
                Some((_, alike)) => alike.push(copy),
                None => looks.push((prints, vec![copy])),
            }
        }
        let patches = geometry::block(kind);
        let everywhere = |print: PrintId| looks.iter().all(|(prints, _)| prints.contains(&Some(print)));
        let common: BTreeSet<PrintId> = match looks.as_slice() {
            [] | [_] => BTreeSet::new(),
            [(prints, _), ..] => {
                prints.iter().flatten().copied().filter(|&print| everywhere(print)).collect()
            }
        };
        let drawings = looks.iter().map(|(prints, alike)| {
            let name = match (copies.len(), alike.as_slice()) {
                (1, _) => kind.name.clone(),
                _ => format!("{} {}", kind.name, words::ranges(alike)),
            };
            let drawn = patches
                .iter()
                .zip(prints)
                .map(|(patch, &print)| self.patch(patch.corners.clone(), patch.role, print));
            let mut named: Vec<PrintId> = Vec::new();
            for &print in prints.iter().flatten() {
                if !named.contains(&print) && !common.contains(&print) {
                    named.push(print);
                }
            }
            BlockDrawing {
                drawing: Patchwork {
                    title: format!("{name} as it will look"),
                    size,
                    patches: drawn.collect(),
                    outlines: vec![frame(size)],
                },
                name,
                prints: named
                    .into_iter()
                    .map(|print| (self.letters.print(print).to_owned(), here.stash.print(print).name.clone()))
                    .collect(),
            }
        });
        drawings.collect()
    }
}

/// The corners of a whole of this size.
fn frame(size: Size) -> Vec<Point> {
    let zero = Length::ZERO;
    [(zero, zero), (size.width, zero), (size.width, size.height), (zero, size.height)]
        .map(|(x, y)| Point { x, y })
        .to_vec()
}
