//! Rules of contrast: a role must stand out from a fabric of the whole quilt.
//!
//! Which prints a role may take hangs on the print that the other fabric takes, so each print which can be that fabric is a
//! question of its own, with the prints that would not stand out left out; the best answer is taken. That is exact where all are
//! asked, and there are few: one print must hold the whole of it.

use itertools::Itertools;

use crate::looks::{Sight, Thresholds};
use crate::pattern::demand::{Demand, Loosened};
use crate::pattern::rules::Choice;
use crate::pattern::{Pattern, RoleId};
use crate::placements::Placements;
use crate::planning::permitted;
use crate::stash::{PrintId, Stash};

/// More combinations than these are not all asked.
const MOST: usize = 12;

/// The questions that rules of contrast come to.
pub(super) struct Questions {
    /// The pattern, once for each choice of the fabrics to stand out from; itself where it has no such rule.
    pub(super) patterns: Vec<Pattern>,
    /// Whether these are all.
    pub(super) every: bool,
}

/// What is to be asked of a pattern.
pub(super) fn questions(stash: &Stash, pattern: &Pattern, placements: &Placements) -> Questions {
    let backgrounds: Vec<RoleId> = pattern
        .roles
        .iter()
        .filter_map(|role| role.rules.contrast.as_ref())
        .flat_map(|contrast| contrast.with.iter().copied())
        .sorted()
        .dedup()
        .collect();
    if backgrounds.is_empty() {
        return Questions { patterns: vec![pattern.clone()], every: true };
    }
    // Thresholds have no part in a ratio.
    let sight = Sight::of(stash, Thresholds::default());
    let choices = backgrounds.iter().map(|&role| candidates(stash, pattern, placements, role));
    let mut patterns: Vec<(usize, Pattern)> = choices
        .multi_cartesian_product()
        .take(MOST * MOST)
        .map(|prints| with(stash, pattern, &sight, &backgrounds, &prints))
        .collect();
    // Those that leave the most prints first.
    patterns.sort_by_key(|(excluded, _)| *excluded);
    let every = patterns.len() <= MOST;
    patterns.truncate(MOST);
    Questions { patterns: patterns.into_iter().map(|(_, pattern)| pattern).collect(), every }
}

/// The prints that a fabric of the whole quilt can be: the one decided, else those with enough area; all that the rules
/// allow where none has, so that what is lacking is found out and told.
fn candidates(stash: &Stash, pattern: &Pattern, placements: &Placements, role: RoleId) -> Vec<PrintId> {
    let named = &pattern.roles[role.0];
    let decided = placements.whole_quilt(&named.name);
    let all = (0..stash.prints.len()).map(PrintId);
    let allowed = permitted(&named.rules, stash);
    let may = |print: &PrintId| allowed.as_ref().is_none_or(|allowed| allowed.contains(print));
    if let Some(name) = decided {
        let choice = Choice { prints: vec![name.to_owned()], ..Choice::default() };
        let print = all.clone().find(|&print| choice.names(&stash.print(print).name));
        if let Some(print) = print {
            return vec![print];
        }
    }
    let demand = Demand::expand(pattern, &Loosened::default());
    let needed: i128 = demand
        .pieces
        .iter()
        .filter(|piece| piece.role == role)
        .map(|piece| i128::from(piece.area().square_ticks()))
        .sum();
    let held = |print: PrintId| -> i128 {
        let lots = stash.lots_of(print).filter(|lot| !lot.keep);
        let lots = lots.filter(|lot| named.from.is_empty() || named.from.contains(&lot.cut));
        let area = |lot: &crate::stash::Lot| {
            i128::from(lot.sheet_width().by(lot.sheet_length()).square_ticks()) * i128::from(lot.count)
        };
        lots.map(area).sum()
    };
    let allowed: Vec<PrintId> = all.filter(may).collect();
    let enough: Vec<PrintId> = allowed.iter().copied().filter(|&print| held(print) >= needed).collect();
    if enough.is_empty() { allowed } else { enough }
}

/// The pattern with `prints` for `backgrounds`, and how many prints its rules leave out.
fn with(
    stash: &Stash,
    pattern: &Pattern,
    sight: &Sight,
    backgrounds: &[RoleId],
    prints: &[PrintId],
) -> (usize, Pattern) {
    let mut asked = pattern.clone();
    let mut count = 0;
    for (index, role) in asked.roles.iter_mut().enumerate() {
        let own = backgrounds.iter().position(|&background| background.0 == index).map(|at| prints[at]);
        let stands_out = |print: PrintId| {
            let Some(contrast) = &role.rules.contrast else { return true };
            contrast.with.iter().all(|with| {
                let beside = backgrounds.iter().position(|background| background == with);
                let ratio = beside.and_then(|at| sight.contrast(print, prints[at]));
                ratio.is_some_and(|ratio| ratio >= contrast.at_least)
            })
        };
        let out = (0..stash.prints.len())
            .map(PrintId)
            .filter(|&print| own.is_some_and(|own| own != print) || !stands_out(print));
        let out: Vec<String> = out.map(|print| stash.print(print).name.clone()).collect();
        count += out.len();
        role.rules.excluded = out;
    }
    (count, asked)
}
