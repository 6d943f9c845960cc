//! The plan by block, for sewing: what each copy is made of, and a label for its bag.

use std::collections::BTreeMap;

use crate::pattern::{BlockId, RoleId};
use crate::report::paint::Paint;
use crate::report::situation::Situation;
use crate::report::view::card::{self, Group};
use crate::report::view::patchwork::{BlockDrawing, Draughts};
use crate::report::view::sewing::{self, StageView};
use crate::report::view::words;
use crate::stash::PrintId;

/// A kind of block.
pub(crate) struct BlockView {
    /// Its name and how many are made.
    pub(crate) heading: String,
    /// What one copy is made of.
    pub(crate) lines: Vec<BlockLine>,
    /// In which order it is sewn.
    pub(crate) stages: Vec<StageView>,
    /// Its copies as they will look.
    pub(crate) drawings: Vec<BlockDrawing>,
    /// Its roles: the headings of the columns of `copies`.
    pub(crate) roles: Vec<String>,
    /// For each role, whether all of several copies have it alike: the same pieces of the same prints and cards.
    pub(crate) alike: Vec<bool>,
    /// Every copy.
    pub(crate) copies: Vec<CopyRow>,
}

/// One piece of a block.
pub(crate) struct BlockLine {
    /// Its label.
    pub(crate) label: String,
    /// The role.
    pub(crate) role: String,
    /// Size as cut.
    pub(crate) size: String,
    /// How many in a copy.
    pub(crate) count: String,
    /// What to do with it after cutting, or nothing.
    pub(crate) then: String,
}

/// One copy of a block.
pub(crate) struct CopyRow {
    /// `Urchin 3`.
    pub(crate) name: String,
    /// `Urchin 3 of 6`.
    pub(crate) bag: String,
    /// For each role, its prints.
    pub(crate) cells: Vec<Vec<PrintUse>>,
}

/// One print in one role of one copy.
#[derive(PartialEq)]
pub(crate) struct PrintUse {
    /// The user's name of it; nothing when it is short.
    pub(crate) print: Option<String>,
    /// Its letters in the drawings; nothing where there are none.
    pub(crate) letters: Option<String>,
    /// How it is painted.
    pub(crate) paint: Paint,
    /// The pieces: `4 A1, 2 A2`.
    pub(crate) pieces: String,
    /// The cards they are cut on, such as `card 3`.
    pub(crate) cards: String,
}

/// Every kind of block that is made.
pub(crate) fn blocks(
    here: &Situation<'_>,
    groups: &[Group<'_>],
    draughts: Option<&Draughts>,
) -> Vec<BlockView> {
    let mut copies: BTreeMap<BlockId, BTreeMap<u32, Vec<usize>>> = BTreeMap::new();
    for (index, piece) in here.demand.pieces.iter().enumerate() {
        copies.entry(piece.block).or_default().entry(piece.copy).or_default().push(index);
    }
    // Where batches mix all copies, some have no piece counted for them alone.
    for (block, copy) in draughts.into_iter().flat_map(|draughts| draughts.pieces.keys()) {
        copies.entry(*block).or_default().entry(*copy).or_default();
    }
    let cards = cards(groups);
    copies.into_iter().map(|(block, copies)| block_view(here, &cards, draughts, block, &copies)).collect()
}

/// On which card each piece is cut.
fn cards(groups: &[Group<'_>]) -> BTreeMap<usize, u32> {
    let mut cards = BTreeMap::new();
    for (group, number) in groups.iter().zip(1..) {
        for sheet in &group.sheets {
            cards.extend(sheet.layout.pieces().into_iter().map(|(index, _, _)| (index, number)));
        }
    }
    cards
}

fn block_view(
    here: &Situation<'_>,
    cards: &BTreeMap<usize, u32>,
    draughts: Option<&Draughts>,
    block: BlockId,
    copies: &BTreeMap<u32, Vec<usize>>,
) -> BlockView {
    let pattern = here.pattern;
    let made = copies.len();
    let name = &pattern.blocks[block.0].name;
    let numbers: Vec<u32> = copies.keys().copied().collect();
    let mut roles: Vec<RoleId> = Vec::new();
    for &index in copies.values().flatten() {
        let role = here.piece(index).role;
        if !roles.contains(&role) {
            roles.push(role);
        }
    }
    let rows: Vec<CopyRow> = copies
        .iter()
        .map(|(&copy, pieces)| CopyRow {
            name: words::copy_name(here, block, copy),
            bag: if made == 1 { name.clone() } else { format!("{name} {copy} of {made}") },
            cells: roles.iter().map(|&role| cell(here, cards, draughts, pieces, role)).collect(),
        })
        .collect();
    let alike = |role: usize| made > 1 && rows.iter().all(|row| row.cells[role] == rows[0].cells[role]);
    BlockView {
        alike: (0..roles.len()).map(alike).collect(),
        heading: if made == 1 { name.clone() } else { format!("{name}: {made} blocks") },
        lines: lines(here, copies),
        stages: sewing::stages(&pattern.blocks[block.0], here.job.settings.units),
        drawings: draughts.map_or(Vec::new(), |draughts| draughts.blocks(here, block, &numbers)),
        copies: rows,
        roles: roles.iter().map(|role| format!("Role {}", pattern.roles[role.0].name)).collect(),
    }
}

/// What one copy is made of; where copies differ, the count says so.
fn lines(here: &Situation<'_>, copies: &BTreeMap<u32, Vec<usize>>) -> Vec<BlockLine> {
    let mut models: Vec<usize> = Vec::new();
    for &index in copies.values().flatten() {
        if !models.iter().any(|&model| here.alike(model, index)) {
            models.push(index);
        }
    }
    models
        .into_iter()
        .map(|model| {
            let count = |pieces: &Vec<usize>| pieces.iter().filter(|&&p| here.alike(model, p)).count();
            let most = copies.values().map(count).max().unwrap_or(0);
            let fewest = copies.values().map(count).min().unwrap_or(0);
            let piece = here.piece(model);
            BlockLine {
                label: piece.label.clone(),
                role: here.role_name(piece).to_owned(),
                size: words::size(piece.width, piece.height, here.job.settings.units),
                count: if most == fewest { most.to_string() } else { format!("{fewest} or {most}") },
                then: card::then(piece.shape).to_owned(),
            }
        })
        .collect()
}

fn cell(
    here: &Situation<'_>,
    cards: &BTreeMap<usize, u32>,
    draughts: Option<&Draughts>,
    pieces: &[usize],
    role: RoleId,
) -> Vec<PrintUse> {
    let mut prints: Vec<(Option<PrintId>, Vec<usize>)> = Vec::new();
    for &index in pieces {
        let piece = here.piece(index);
        if piece.role != role {
            continue;
        }
        let print = here.print_of(piece);
        match prints.iter_mut().find(|(known, _)| *known == print) {
            Some((_, all)) => all.push(index),
            None => prints.push((print, vec![index])),
        }
    }
    prints
        .into_iter()
        .map(|(print, indexes)| {
            let mut on: Vec<u32> = indexes.iter().filter_map(|index| cards.get(index).copied()).collect();
            on.sort_unstable();
            on.dedup();
            PrintUse {
                print: print.map(|id| here.stash.print(id).name.clone()),
                letters: draughts.zip(print).map(|(draughts, id)| draughts.letters.print(id).to_owned()),
                paint: print.map(|id| here.paint(id)).unwrap_or_default(),
                pieces: words::labels(here, &indexes),
                cards: match on.len() {
                    0 => String::new(),
                    1 => format!("card {}", on[0]),
                    _ => format!("cards {}", words::ranges(&on)),
                },
            }
        })
        .collect()
}
