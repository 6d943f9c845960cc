//! The page for a pattern's cover: the requirement, and every length of fabric it buys as if it were owned and planned.

use std::collections::VecDeque;

use crate::app::need::cover_words::words;
use crate::app::need::{Assumptions, Cutting, Requirement};
use crate::arranging::Arranged;
use crate::fabric::Cut;
use crate::need::{RoleNeed, for_width, told_apart};
use crate::pattern::demand::{Demand, Loosened, PieceId};
use crate::planning::{Outcome, Plan, Rules, SheetPlan, Verdict};
use crate::report::{self, Job, ReportError, Settings};
use crate::stash::{Lot, LotId, Print, PrintId, Stash};

/// The page as HTML.
///
/// # Errors
/// When the pieces of the drawings do not add up to those of the pattern.
pub(super) fn cover(answer: &Requirement, which: Cutting, date: Option<&str>) -> Result<String, ReportError> {
    let Requirement { how, need, .. } = answer;
    // What was reckoned is what is drawn: borders joined for this width.
    let pattern = told_apart(for_width(&answer.pattern, how));
    let demand = Demand::expand(&pattern, &Loosened::default());
    // The cards follow the fabrics as the page lists them.
    let roles: Vec<&RoleNeed> = need.roles.iter().collect();
    let stash = stash(&roles, which, how);
    let plan = plan(&roles, which, &demand, &stash);
    let outcome = Outcome { verdict: Verdict::Fits, plan, ..Outcome::undecided() };
    let rules = Rules { units: how.units, ..Rules::default() };
    let settings = Settings {
        units: how.units,
        revision: answer.revision(which),
        allowance: how.spare.squaring,
        date: date.map(str::to_owned),
        ..Settings::default()
    };
    let job = Job {
        stash: &stash,
        pattern: &pattern,
        demand: &demand,
        outcome: &outcome,
        arranged: &Arranged::default(),
        rules: &rules,
        settings: &settings,
    };
    report::cover::page(&words(answer, which, date), &job)
}

/// One length of each fabric, as the shop cuts it.
fn stash(roles: &[&RoleNeed], which: Cutting, how: &Assumptions) -> Stash {
    let mut stash = Stash::default();
    for (index, role) in roles.iter().enumerate() {
        let worked = role.at.by(which);
        let what = if role.title.is_empty() { &role.name } else { &role.title };
        let washed = if how.prewash.is_some() { " before washing" } else { "" };
        stash.prints.push(Print { name: format!("{what}, {}{washed}", worked.amount.show()) });
        // What is cut was left by washing, even where it ends between two marks.
        let length = how.left_of(worked.amount.length).max(worked.exact + worked.squaring);
        stash.lots.push(Lot {
            allowance: how.spare.squaring,
            directional: role.at.wanted.iter().any(|one| !one.turn),
            ..Lot::plain(PrintId(index), Cut::yardage(), how.width, length)
        });
    }
    stash
}

/// Every piece on the length of its fabric.
fn plan(roles: &[&RoleNeed], which: Cutting, demand: &Demand, stash: &Stash) -> Plan {
    let mut plan = Plan { prints: vec![None; demand.sets.len()], ..Plan::default() };
    for (index, role) in roles.iter().enumerate() {
        for (set, print) in demand.sets.iter().zip(&mut plan.prints) {
            if set.role == role.role {
                *print = Some(PrintId(index));
            }
        }
        let lot = stash.lot(LotId(index));
        let mut waiting: Vec<VecDeque<PieceId>> = role
            .at
            .wanted
            .iter()
            .map(|one| {
                let alike = |id: &PieceId| {
                    let piece = demand.piece(*id);
                    piece.role == role.role && (piece.width, piece.height) == (one.width, one.height)
                };
                (0..demand.pieces.len()).map(PieceId).filter(alike).collect()
            })
            .collect();
        let layout = role.at.layout_of(which, lot.sheet_width(), lot.sheet_length());
        // A layout holds as many of each size as are wanted; were it otherwise, the totals would not close.
        let layout = layout.renamed(|size| waiting[size].pop_front().map_or(usize::MAX, |piece| piece.0));
        let used = layout.pieces().iter().map(|(_, rect, _)| rect.y + rect.height).max();
        plan.sheets.push(SheetPlan {
            lot: LotId(index),
            copy: 1,
            used: used.unwrap_or_default(),
            layout,
            instead_of: None,
        });
    }
    plan
}
