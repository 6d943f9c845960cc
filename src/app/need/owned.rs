//! What is still to buy when a stash serves what it can.
//!
//! The stash is planned like any other (`app::run`), so what it serves has passed the independent check. What the
//! plan leaves out is a pattern of its own, and is worked out like one.

use std::collections::BTreeMap;

use serde_json::Value;

use crate::app::given::Given;
use crate::app::need::more::{self, More};
use crate::app::need::{Asked, Assumptions};
use crate::app::options::Options;
use crate::app::run::{self, Failure, Request};
use crate::app::summary::Verdict;
use crate::diagnostic::{Diagnostic, Place};
use crate::length::Length;
use crate::need::{Need, need_left};
use crate::pattern::demand::{Demand, Loosened, Piece, Set};
use crate::pattern::{Block, Count, Matching, Pattern, PieceLine, RoleId};
use crate::planning::{Rules, Stop};
use crate::stash::{self, Stash};

/// Fabric that is owned, and how it is planned.
#[derive(Clone, Copy, Debug)]
pub struct Owned<'a> {
    /// The stash.
    pub stash: &'a Given,
    /// What squaring up takes off the width and off the length, for lots that do not give an allowance of their own.
    pub allowance: Length,
    /// How much searching the plan may do, in hundredths of the usual.
    pub effort: u32,
}

/// What the stash serves and what is left to buy.
#[derive(Clone, Debug)]
pub(super) struct Shopping {
    /// Name of the stash file.
    pub(super) file: String,
    /// Whether all of it fits.
    pub(super) verdict: Verdict,
    /// Rows of the stash that are kept back.
    pub(super) kept: u32,
    /// The most that squaring up takes off the width and off the length of what is owned.
    pub(super) allowance: Length,
    /// Fabric by fabric, in the pattern's order.
    pub(super) served: Vec<Served>,
    /// What the pieces that are left need; without fabrics when nothing is to be bought.
    pub(super) rest: Need,
    /// For fabrics that must be one print throughout: more of a print that is held.
    pub(super) more: Vec<More>,
}

/// One fabric's pieces and the prints they come from.
#[derive(Clone, Debug)]
pub(super) struct Served {
    /// The role.
    pub(super) role: RoleId,
    /// How many pieces it has.
    pub(super) pieces: usize,
    /// How many of them each print gives.
    pub(super) prints: Vec<(String, usize)>,
}

impl Served {
    /// Pieces that come from the stash.
    pub(super) fn owned(&self) -> usize {
        self.prints.iter().map(|(_, pieces)| pieces).sum()
    }
}

/// Plans the stash and works out what it leaves to buy.
///
/// # Errors
/// When the stash cannot be read, when the plan does not pass the check, or when what is left has no answer.
pub(super) fn shopping(asked: &Asked<'_>, owned: &Owned<'_>) -> Result<(Shopping, Vec<Diagnostic>), Failure> {
    let how = asked.how;
    let rules = Rules { alternatives: false, conflicts: false, effort: owned.effort, ..Rules::default() };
    let options = Options {
        allowance: owned.allowance,
        rules,
        check_effort: owned.effort,
        units: how.units,
        size: asked.size.map(str::to_owned),
        ..Options::default()
    };
    let request =
        Request { pattern: asked.pattern.clone(), stash: owned.stash.clone(), placements: None, options };
    let planned = run::plan(&request, &Stop::never(), &mut |_| {})?;
    let record = record(&planned.files).ok_or_else(|| Failure::Internal(vec!["no record".to_owned()]))?;
    let pattern = &planned.pattern;
    let demand = Demand::expand(pattern, &Loosened::default());
    let prints: Vec<Option<String>> = placed(&record, pattern, &demand);
    let short = |set: &Set| set.pieces.iter().any(|&piece| prints[demand.piece(piece).set.0].is_none());
    let left: Vec<&Set> = demand.sets.iter().filter(|set| short(set)).collect();
    let rest = without(pattern, &demand, &left);
    let refuse = |wrong: Vec<crate::need::NeedError>| {
        let place = || Place::file(&asked.pattern.name);
        let said = wrong.iter().map(|e| Diagnostic::error("N100", place(), e.message(how.units), e.help()));
        Failure::Inputs(said.collect())
    };
    let (stash, _) = stash::read(&owned.stash.name, &owned.stash.bytes, owned.allowance);
    let shopping = Shopping {
        file: owned.stash.name.clone(),
        verdict: planned.summary.verdict,
        served: served(pattern, &demand, &prints),
        rest: need_left(&rest, pattern, how).map_err(refuse)?,
        allowance: stash.lots.iter().map(|lot| lot.allowance).max().unwrap_or_default(),
        kept: u32::try_from(stash.lots.iter().filter(|lot| lot.keep).count()).unwrap_or(u32::MAX),
        more: more_of_one(pattern, &demand, &left, &stash, &record, how),
    };
    Ok((shopping, planned.said))
}

fn record(files: &[(String, Vec<u8>)]) -> Option<Value> {
    let (_, bytes) = files.iter().find(|(name, _)| name == crate::app::folder::RECORD)?;
    serde_json::from_slice(bytes).ok()
}

/// By set: the print that the checked record gives it.
fn placed(record: &Value, pattern: &Pattern, demand: &Demand) -> Vec<Option<String>> {
    let field = |set: &Value, name: &str| set[name].to_string();
    let key = |set: &Value| ["block", "copy", "role", "label", "piece"].map(|name| field(set, name));
    let sets = record["sets"].as_array().map(Vec::as_slice).unwrap_or_default();
    let known: BTreeMap<[String; 5], &str> =
        sets.iter().filter_map(|set| Some((key(set), set["print"].as_str()?))).collect();
    let named = demand.sets.iter().map(|set| {
        let piece = (set.matching == Matching::Piece).then(|| demand.piece(set.pieces[0]));
        serde_json::json!({
            "block": set.block.map(|(block, _)| pattern.blocks[block.0].name.as_str()),
            "copy": set.block.map(|(_, copy)| copy),
            "role": pattern.roles[set.role.0].name,
            "label": piece.map(|piece| piece.label.as_str()),
            "piece": piece.map(|piece| piece.number),
        })
    });
    named.map(|name| known.get(&key(&name)).map(|print| (*print).to_owned())).collect()
}

fn served(pattern: &Pattern, demand: &Demand, prints: &[Option<String>]) -> Vec<Served> {
    let mut all = Vec::new();
    for role in (0..pattern.roles.len()).map(RoleId) {
        let mut by_print: BTreeMap<&str, usize> = BTreeMap::new();
        let mut pieces = 0;
        for piece in demand.pieces.iter().filter(|piece| piece.role == role) {
            pieces += 1;
            if let Some(print) = &prints[piece.set.0] {
                *by_print.entry(print).or_default() += 1;
            }
        }
        if pieces > 0 {
            let prints = by_print.into_iter().map(|(name, count)| (name.to_owned(), count)).collect();
            all.push(Served { role, pieces, prints });
        }
    }
    all
}

/// The pattern of the sets that are left: each block copy they belong to, alike copies counted together.
fn without(pattern: &Pattern, demand: &Demand, left: &[&Set]) -> Pattern {
    let mut places: BTreeMap<Option<(usize, u32)>, Vec<&Piece>> = BTreeMap::new();
    for set in left {
        let place = set.block.map(|(block, copy)| (block.0, copy));
        places.entry(place).or_default().extend(set.pieces.iter().map(|&id| demand.piece(id)));
    }
    let mut blocks: Vec<Block> = Vec::new();
    for (place, pieces) in places {
        let name = place.map_or("quilt", |(block, _)| pattern.blocks[block].name.as_str());
        let lines = lines(pieces, demand);
        let alike = |block: &&mut Block| block.name == name && same(&block.pieces, &lines);
        match blocks.iter_mut().find(alike) {
            Some(block) => block.make += 1,
            None => {
                blocks.push(Block { name: name.to_owned(), make: 1, pieces: lines, ..Block::default() });
            }
        }
    }
    Pattern {
        name: pattern.name.clone(),
        roles: pattern.roles.clone(),
        blocks,
        sewing: pattern.sewing,
        ..Pattern::default()
    }
}

fn lines(pieces: Vec<&Piece>, demand: &Demand) -> Vec<PieceLine> {
    let mut lines: Vec<PieceLine> = Vec::new();
    for piece in pieces {
        let matching = demand.set(piece.set).matching;
        let alike = |line: &&mut PieceLine| {
            (&line.label, line.role, line.width, line.height, line.matching)
                == (&piece.label, piece.role, piece.width, piece.height, matching)
        };
        match lines.iter_mut().find(alike) {
            Some(PieceLine { count: Count::PerCopy(count), .. }) => *count += 1,
            _ => lines.push(PieceLine {
                label: piece.label.clone(),
                role: piece.role,
                width: piece.width,
                height: piece.height,
                count: Count::PerCopy(1),
                shape: piece.shape,
                matching,
                line: 1,
            }),
        }
    }
    lines
}

fn same(one: &[PieceLine], other: &[PieceLine]) -> bool {
    let key = |line: &PieceLine| (line.label.clone(), line.role, line.width, line.height, line.count);
    one.iter().map(key).eq(other.iter().map(key))
}

/// For every fabric that must be one print over the whole quilt and has no print that is enough.
fn more_of_one(
    pattern: &Pattern,
    demand: &Demand,
    left: &[&Set],
    stash: &Stash,
    record: &Value,
    how: &Assumptions,
) -> Vec<More> {
    let mut opened: BTreeMap<u64, u32> = BTreeMap::new();
    for sheet in record["sheets"].as_array().map(Vec::as_slice).unwrap_or_default() {
        *opened.entry(sheet["lot"].as_u64().unwrap_or(0)).or_default() += 1;
    }
    let quilt = left.iter().filter(|set| set.matching == Matching::Quilt);
    quilt.filter_map(|set| more::more(pattern, demand, set, stash, &opened, how)).collect()
}
