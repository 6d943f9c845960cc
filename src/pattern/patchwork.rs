//! Which piece every patch of a block copy is sewn from, so that a drawing shows each patch in its own print.
//!
//! A patch that is a piece of its own takes the next piece of its line. A patch of a unit takes the piece of the
//! batch its unit is made in: two half-square triangles from one pair of squares share both squares. Batches are
//! begun in reading order, and where they may mix block copies they run on from copy to copy.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use crate::length::Length;
use crate::pattern::demand::{Demand, Piece, PieceId};
use crate::pattern::expand::{RoleUse, within_copy};
use crate::pattern::geometry::{self, Source};
use crate::pattern::setting::{Patch, Point, Purpose, Top};
use crate::pattern::unit::{Corner, CutPiece, Kind, Method, Way};
use crate::pattern::{Block, BlockId, Count, Pattern, PieceLine, RoleId, Size};

/// For one block copy, the piece of each patch in the order of [`geometry::block`]. `None` where there is none: the
/// inside of a free unit, or pieces that an alternative does not make.
pub type CopyPieces = Vec<Option<PieceId>>;

/// The piece of every patch of every block copy of `demand`; kinds of block without rows have none.
pub fn pieces(pattern: &Pattern, demand: &Demand) -> BTreeMap<(BlockId, u32), CopyPieces> {
    let mut all = BTreeMap::new();
    for (index, block) in pattern.blocks.iter().enumerate().filter(|(_, block)| !block.rows.is_empty()) {
        let id = BlockId(index);
        let patches: Vec<Option<Source>> = geometry::block(block).iter().map(|patch| patch.source).collect();
        let uses = pattern.role_uses(id);
        let mut shelf = Shelf::of(block, id, demand);
        let mut benches: Vec<Option<Batch>> = block.units.iter().map(|_| None).collect();
        for copy in 1..=shelf.copies {
            for (unit, bench) in block.units.iter().zip(&mut benches) {
                if unit.way().is_some_and(|way| within_copy(&way.recipe, &uses)) {
                    *bench = None;
                }
            }
            let mut made = BTreeMap::new();
            let found = patches.iter().map(|source| match (*source)? {
                Source::Piece(line) => shelf.take(line, copy),
                Source::Unit { unit, number, part, turned } => {
                    let way = block.units[unit].way()?;
                    let place = *made.entry((unit, number)).or_insert_with(|| {
                        sit(&mut benches[unit], way, turned, copy, &uses, block, &mut shelf)
                    });
                    benches[unit].as_ref()?.piece(&block.units[unit].kind, way, place, part)
                }
            });
            let found: CopyPieces = found.collect();
            all.insert((id, copy), found);
        }
    }
    all
}

/// The piece of every setting piece of the quilt top, in the order of [`Top::patches`]. Of triangles, several come
/// from one square; of a border joined from strips, the strip that lies there if they are sewn end to end in order.
pub fn setting(pattern: &Pattern, demand: &Demand, top: &Top) -> Vec<Option<PieceId>> {
    let in_layout: BTreeSet<BlockId> = top.blocks.iter().map(|placed| placed.cell.block).collect();
    let others = pattern.blocks.iter().enumerate().filter(|(index, _)| !in_layout.contains(&BlockId(*index)));
    let lines: Vec<(BlockId, &PieceLine)> = others
        .flat_map(|(index, block)| block.pieces.iter().map(move |line| (BlockId(index), line)))
        .collect();
    let seams = pattern.sewing.map_or(Length::ZERO, |sewing| sewing.seam + sewing.seam);
    let wanted: Vec<Vec<usize>> = top.patches.iter().map(|patch| lines_for(patch, &lines, seams)).collect();
    // Patches of one kind share the pieces of its lines evenly, in order.
    let mut sharing: BTreeMap<&[usize], usize> = BTreeMap::new();
    for patch in &wanted {
        *sharing.entry(patch).or_default() += 1;
    }
    let pieces: BTreeMap<&[usize], Vec<PieceId>> =
        sharing.keys().map(|&of| (of, pieces_of(of, &lines, demand))).collect();
    let mut taken: BTreeMap<&[usize], usize> = BTreeMap::new();
    let found = wanted.iter().map(|patch| {
        let number = taken.entry(patch).or_default();
        *number += 1;
        let pieces = pieces.get(patch.as_slice())?;
        pieces.get((*number - 1) * pieces.len() / sharing.get(patch.as_slice())?).copied()
    });
    found.collect()
}

/// The pieces of some lines, in order.
fn pieces_of(of: &[usize], lines: &[(BlockId, &PieceLine)], demand: &Demand) -> Vec<PieceId> {
    let is = |piece: &Piece| {
        of.iter().any(|&at| (lines[at].0, lines[at].1.label.as_str()) == (piece.block, piece.label.as_str()))
    };
    let all = (0..).map(PieceId).zip(&demand.pieces);
    all.filter(|(_, piece)| is(piece)).map(|(id, _)| id).collect()
}

/// The lines whose pieces a setting piece may be: those of its purpose and role, of its size where one is.
fn lines_for(patch: &Patch, lines: &[(BlockId, &PieceLine)], seams: Length) -> Vec<usize> {
    let named = |label: &str| -> Vec<usize> {
        let is = |line: &PieceLine| {
            let rest = line.label.strip_prefix(label);
            let counted = |rest: &str| rest.strip_prefix(' ').is_some_and(|sign| sign.chars().count() == 1);
            line.role == patch.role && rest.is_some_and(|rest| rest.is_empty() || counted(rest))
        };
        (0..lines.len()).filter(|&at| is(lines[at].1)).collect()
    };
    let mut of_purpose = named(&patch.purpose.label());
    if let (true, Purpose::BorderTop(number)) = (of_purpose.is_empty(), patch.purpose) {
        of_purpose = named(&Purpose::BorderSide(number).label());
    }
    let sides = |one: Length, other: Length| (one.min(other), one.max(other));
    let across = |of: fn(&Point) -> Length| {
        let all = || patch.corners.iter().map(of);
        all().max().unwrap_or_default() - all().min().unwrap_or_default() + seams
    };
    let lying = sides(across(|at| at.x), across(|at| at.y));
    let is_alike = |at: &usize| sides(lines[*at].1.width, lines[*at].1.height) == lying;
    let alike: Vec<usize> = of_purpose.iter().copied().filter(is_alike).collect();
    if alike.is_empty() { of_purpose } else { alike }
}

/// The pieces of a kind of block that no patch has taken yet.
struct Shelf {
    /// By line of the block.
    lines: Vec<BTreeMap<u32, VecDeque<PieceId>>>,
    /// How many copies are made.
    copies: u32,
}

impl Shelf {
    fn of(block: &Block, id: BlockId, demand: &Demand) -> Shelf {
        // Where batches mix all copies, some have no piece counted for them alone.
        let shared = block.pieces.iter().all(|line| matches!(line.count, Count::Total(_)));
        let copies = if shared { block.make } else { 0 };
        let mut shelf = Shelf { lines: vec![BTreeMap::new(); block.pieces.len()], copies };
        for (index, piece) in demand.pieces.iter().enumerate().filter(|(_, piece)| piece.block == id) {
            shelf.copies = shelf.copies.max(piece.copy);
            if let Some(line) = block.pieces.iter().position(|line| line.label == piece.label) {
                shelf.lines[line].entry(piece.copy).or_default().push_back(PieceId(index));
            }
        }
        shelf
    }

    /// The next piece of a line, one counted for this copy if there is any.
    fn take(&mut self, line: usize, copy: u32) -> Option<PieceId> {
        let copies = self.lines.get_mut(line)?;
        let from = if copies.contains_key(&copy) { copy } else { *copies.keys().next()? };
        let pieces = copies.get_mut(&from)?;
        let piece = pieces.pop_front();
        if pieces.is_empty() {
            copies.remove(&from);
        }
        piece
    }
}

/// The batch of a unit that is being made.
struct Batch {
    /// By cut of the recipe, its pieces.
    cuts: Vec<Vec<Option<PieceId>>>,
    /// How many units are taken from it.
    taken: u32,
}

/// Gives a unit its place in a batch of its kind, a new one where the last is used up.
fn sit(
    bench: &mut Option<Batch>,
    way: &Way,
    turned: bool,
    copy: u32,
    uses: &[RoleUse],
    block: &Block,
    shelf: &mut Shelf,
) -> u32 {
    let makes = way.recipe.makes.max(1);
    let batch = match bench {
        Some(batch) if batch.taken < makes => batch,
        _ => {
            let cuts = way.recipe.cuts.iter().map(|cut| {
                let line = line_of(block, cut, turned && makes == 1 && uses[cut.role.0].keeps_up);
                (0..cut.count).map(|_| shelf.take(line?, copy)).collect()
            });
            bench.insert(Batch { cuts: cuts.collect(), taken: 0 })
        }
    };
    batch.taken += 1;
    batch.taken - 1
}

/// The line a cut of a unit is counted in, as it lies or turned.
fn line_of(block: &Block, cut: &CutPiece, turned: bool) -> Option<usize> {
    let size = if turned { Size { width: cut.size.height, height: cut.size.width } } else { cut.size };
    let of_units = block.pieces.iter().enumerate().skip(block.given);
    let mut alike = of_units.filter(|(_, line)| {
        (line.role, line.width, line.height, line.shape) == (cut.role, size.width, size.height, cut.shape)
    });
    alike.next().map(|(index, _)| index)
}

impl Batch {
    /// The piece behind patch `part` of the unit that came out of the batch at `place`.
    fn piece(&self, kind: &Kind, way: &Way, place: u32, part: usize) -> Option<PieceId> {
        let of = part_of(kind, part)?;
        let pieces = self.cuts.get(of.cut)?;
        let (place, makes) = (usize::try_from(place).ok()?, usize::try_from(way.recipe.makes.max(1)).ok()?);
        let index = match (kind, way.method) {
            // Every strip runs through all units of the set.
            (Kind::StripSet { .. }, _) => of.number,
            // Two squares are halved with the large one, so that each goose has a half of one of them; each of the
            // other two is shared by the two geese of a half.
            (Kind::Geese { .. }, Method::FourAtATime) if of.cut == 1 => match of.number {
                0 => place % 2,
                _ => 2 + place / 2,
            },
            _ => (place * of.parts + of.number) * pieces.len() / (makes * of.parts),
        };
        pieces.get(index).copied().flatten()
    }
}

/// What a patch of a unit is cut from.
struct PartOf {
    /// Index of the cut in the recipe.
    cut: usize,
    /// Which of the patches of that cut, from 0.
    number: usize,
    /// How many patches of a unit are of that cut.
    parts: usize,
}

/// By kind of unit; the order of the patches is that in which [`geometry`] draws them, the order of the cuts that of
/// the unit's recipe.
fn part_of(kind: &Kind, part: usize) -> Option<PartOf> {
    let only = |cut: usize| Some(PartOf { cut, number: 0, parts: 1 });
    match kind {
        Kind::Patch { .. } => only(0),
        Kind::HalfSquare { .. } => only(part),
        Kind::QuarterSquare { roles } if roles.len() == 2 => {
            Some(PartOf { cut: part % 2, number: part / 2, parts: 2 })
        }
        Kind::QuarterSquare { .. } => only(part),
        Kind::Geese { left, right, .. } if left == right && part > 0 => {
            Some(PartOf { cut: 1, number: part - 1, parts: 2 })
        }
        Kind::Geese { .. } => only(part),
        Kind::SquareInSquare { .. } if part > 0 => Some(PartOf { cut: 1, number: part - 1, parts: 4 }),
        Kind::SquareInSquare { .. } => only(0),
        Kind::FoldedCorners { .. } if part == 0 => only(0),
        Kind::FoldedCorners { corners, .. } => {
            let mut drawn = corners.clone();
            drawn.sort_by_key(|(corner, _)| *corner);
            let roles =
                |corners: &[(Corner, RoleId)]| corners.iter().map(|(_, role)| *role).collect::<Vec<_>>();
            let given = corners.iter().position(|corner| Some(corner) == drawn.get(part - 1))?;
            let cut = 1 + among(&roles(corners), given)?.cut;
            Some(PartOf { cut, ..among(&roles(&drawn), part - 1)? })
        }
        Kind::StripSet { strips, .. } => among(strips, part),
        Kind::Free { .. }
        | Kind::TrianglesCutOnce { .. }
        | Kind::TrianglesCutTwice { .. }
        | Kind::Rows { .. } => None,
    }
}

/// Parts of which equal ones are one cut, in order of first appearance.
fn among<T: PartialEq>(parts: &[T], part: usize) -> Option<PartOf> {
    let this = parts.get(part)?;
    let first = parts.iter().position(|other| other == this)?;
    let cut = (0..first).filter(|&at| !parts[..at].contains(&parts[at])).count();
    Some(PartOf {
        cut,
        number: parts[..part].iter().filter(|other| *other == this).count(),
        parts: parts.iter().filter(|other| *other == this).count(),
    })
}
