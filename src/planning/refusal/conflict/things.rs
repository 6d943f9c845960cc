//! What can be given up, and the inputs without it.

use std::collections::BTreeSet;

use crate::pattern::demand::copies_in;
use crate::pattern::rules::{self, Waived};
use crate::pattern::{BlockId, Matching, Pattern, PieceLine, RoleId};
use crate::placements::Placements;
use crate::planning::alternative::Inputs;
use crate::planning::outcome::Outcome;
use crate::planning::plan::Thing;
use crate::stash::{LotId, PrintId, Stash};

/// Everything that can be given up, in the order in which to try it: the pieces of what is not short, then what
/// the quilter said of the fabric, then what the pattern says of it, at last the pieces that are short.
pub(crate) fn in_order(inputs: &Inputs<'_>, outcome: &Outcome) -> Vec<Vec<Thing>> {
    let short: BTreeSet<(BlockId, RoleId)> = outcome
        .plan
        .short
        .iter()
        .flat_map(|short| &inputs.demand.set(short.set).pieces)
        .map(|&piece| inputs.demand.piece(piece))
        .map(|piece| (piece.block, piece.role))
        .collect();
    let (near, far): (Vec<Thing>, Vec<Thing>) = asked(inputs.pattern)
        .into_iter()
        .partition(|thing| matches!(thing, Thing::Asked { block, role } if short.contains(&(*block, *role))));
    let stash = inputs.stash;
    let kept = stash.lots.iter().enumerate().filter(|(_, lot)| lot.keep);
    let up: BTreeSet<PrintId> =
        stash.lots.iter().filter(|lot| lot.directional).map(|lot| lot.print).collect();
    let from = inputs.pattern.roles.iter().enumerate().filter(|(_, role)| !role.from.is_empty());
    vec![
        far,
        up.into_iter().map(|print| Thing::Up { print }).collect(),
        kept.map(|(lot, _)| Thing::Kept { lot: LotId(lot) }).collect(),
        (0..inputs.placements.rows.len()).map(|row| Thing::Decided { row }).collect(),
        stated(inputs).into_iter().map(|rule| Thing::Rule { rule }).collect(),
        from.map(|(role, _)| Thing::From { role: RoleId(role) }).collect(),
        matching(inputs.pattern),
        near,
    ]
}

fn asked(pattern: &Pattern) -> Vec<Thing> {
    let mut asked = BTreeSet::new();
    for (block, of) in pattern.blocks.iter().enumerate() {
        asked.extend(of.pieces.iter().map(|line| Thing::Asked { block: BlockId(block), role: line.role }));
    }
    asked.into_iter().collect()
}

/// The matching rules that tie more than one piece.
fn matching(pattern: &Pattern) -> Vec<Thing> {
    let mut rules: BTreeSet<Thing> = BTreeSet::new();
    for (index, block) in pattern.blocks.iter().enumerate() {
        for line in &block.pieces {
            let of_block = match line.matching {
                Matching::Piece => continue,
                Matching::Block => Some(BlockId(index)),
                Matching::Quilt => None,
            };
            if tied(pattern, of_block, line) > 1 {
                rules.insert(Thing::Matching { block: of_block, role: line.role });
            }
        }
    }
    rules.into_iter().collect()
}

/// How many pieces the rule of `line` ties together, in the copy that has most.
fn tied(pattern: &Pattern, block: Option<BlockId>, line: &PieceLine) -> u64 {
    let alike = |other: &&PieceLine| other.role == line.role && other.matching == line.matching;
    match block {
        Some(block) => {
            let block = &pattern.blocks[block.0];
            let each = block.pieces.iter().filter(alike).map(|line| copies_in(line.count, block.make, 1));
            each.map(u64::from).sum()
        }
        None => {
            let blocks = pattern.blocks.iter();
            let of = |make: u32, line: &PieceLine| -> u64 {
                (1..=make).map(|copy| u64::from(copies_in(line.count, make, copy))).sum()
            };
            blocks.flat_map(|b| b.pieces.iter().filter(alike).map(move |line| of(b.make, line))).sum()
        }
    }
}

fn stated(inputs: &Inputs<'_>) -> Vec<Waived> {
    rules::stated(&inputs.demand.rules)
}

/// The inputs without some things.
pub(crate) struct Less {
    pub(crate) stash: Stash,
    pub(crate) pattern: Pattern,
    pub(crate) placements: Placements,
}

/// The inputs without these things.
pub(crate) fn without(inputs: &Inputs<'_>, given_up: &BTreeSet<Thing>) -> Less {
    let mut less = Less {
        stash: inputs.stash.clone(),
        pattern: inputs.pattern.clone(),
        placements: inputs.placements.clone(),
    };
    let mut waived = Vec::new();
    let mut rows = BTreeSet::new();
    for thing in given_up {
        match *thing {
            Thing::Asked { block, role } => {
                less.pattern.blocks[block.0].pieces.retain(|line| line.role != role);
            }
            Thing::Matching { block, role } => free(&mut less.pattern, block, role),
            Thing::From { role } => less.pattern.roles[role.0].from.clear(),
            Thing::Decided { row } => {
                rows.insert(row);
            }
            Thing::Kept { lot } => less.stash.lots[lot.0].keep = false,
            Thing::Rule { rule } => waived.push(rule),
            Thing::Up { print } => {
                let lots = less.stash.lots.iter_mut().filter(|lot| lot.print == print);
                lots.for_each(|lot| lot.directional = false);
            }
        }
    }
    let in_force = rules::in_force(&less.pattern, &waived);
    for (role, rules) in less.pattern.roles.iter_mut().zip(in_force) {
        role.rules = rules;
    }
    let mut row = 0;
    less.placements.rows.retain(|_| {
        row += 1;
        !rows.contains(&(row - 1))
    });
    less
}

/// Lets every piece that the rule ties take its own print.
fn free(pattern: &mut Pattern, block: Option<BlockId>, role: RoleId) {
    let rule = if block.is_some() { Matching::Block } else { Matching::Quilt };
    for (index, of) in pattern.blocks.iter_mut().enumerate() {
        let here = block.is_none_or(|block| block.0 == index);
        for line in of.pieces.iter_mut().filter(|line| here && line.role == role && line.matching == rule) {
            line.matching = Matching::Piece;
        }
    }
}
