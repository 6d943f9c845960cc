//! The outcome as words, tables and drawings: what every format then merely writes down.
//!
//! One file a part of the sheet: [`front`] (verdict, numbers, cautions), [`card`] (one way of cutting, with its
//! [`stacks`], [`steps`], [`drawing`] and [`rest`]), [`blocks`] (for [`sewing`] and bagging), [`patchwork`] (blocks
//! as they will look, with the [`letters`] of the prints), [`quilt`] (all of them in their places), [`fabrics`] (key,
//! prints held), [`back`] (totals, leftovers), [`choices`] (ways of making units, the up of prints), [`preferences`]
//! (what comes after the fabric), [`looks`] (what blends, how often prints come), [`changes`] (alternatives, with what is [`bought`]). [`words`] holds the phrases they share.

use crate::report::situation::Situation;
use crate::report::{Job, ReportError};

pub(crate) mod back;
pub(crate) mod bars;
pub(crate) mod blocks;
pub(crate) mod bought;
pub(crate) mod card;
pub(crate) mod changes;
pub(crate) mod choices;
pub(crate) mod cover;
pub(crate) mod drawing;
pub(crate) mod fabrics;
pub(crate) mod front;
pub(crate) mod letters;
pub(crate) mod looks;
pub(crate) mod patchwork;
pub(crate) mod preferences;
pub(crate) mod proof;
pub(crate) mod quilt;
pub(crate) mod rest;
pub(crate) mod sewing;
pub(crate) mod stacks;
pub(crate) mod steps;
pub(crate) mod words;

pub(crate) use front::Front;

/// The whole print sheet.
pub(crate) struct View {
    /// The first page: verdict, numbers, cautions, assumptions.
    pub(crate) front: Front,
    /// The main plan; nothing when no piece is placed.
    pub(crate) plan: PlanView,
    /// What would make it fit, each with its own plan.
    pub(crate) alternatives: Vec<AlternativeView>,
}

/// An alternative: its changes, its cost and its own plan.
pub(crate) struct AlternativeView {
    /// Its number, from 1.
    pub(crate) number: usize,
    /// What changes.
    pub(crate) changes: Vec<String>,
    /// What it costs.
    pub(crate) cost: String,
    /// The few numbers that matter.
    pub(crate) numbers: String,
    /// Its plan.
    pub(crate) plan: PlanView,
}

/// One plan: for cutting, for sewing, and its counts.
pub(crate) struct PlanView {
    /// Put before every anchor, so that those of two plans differ.
    pub(crate) prefix: String,
    /// The ways of cutting, in working order.
    pub(crate) cards: Vec<card::Card>,
    /// Which prints take which role.
    pub(crate) key: Vec<fabrics::KeyRow>,
    /// Which prints are held how often.
    pub(crate) held: Vec<fabrics::HeldRow>,
    /// What is bought.
    pub(crate) bought: Vec<String>,
    /// The whole quilt, when its blocks have their places.
    pub(crate) quilt: Option<quilt::QuiltView>,
    /// Its blocks as bars, where it cannot be drawn.
    pub(crate) bars: Option<bars::BarsView>,
    /// How it looks.
    pub(crate) looks: Option<looks::LooksView>,
    /// For sewing.
    pub(crate) blocks: Vec<blocks::BlockView>,
    /// Counts by piece, which close.
    pub(crate) totals: Vec<back::TotalRow>,
    /// What is left.
    pub(crate) left: Vec<back::LeftRow>,
    /// How much of it is too small to go back to the stash.
    pub(crate) too_small: Option<String>,
}

impl View {
    /// The sheet of a run.
    ///
    /// # Errors
    /// When the totals of the plan or of an alternative do not close.
    pub(crate) fn of(job: &Job<'_>) -> Result<View, ReportError> {
        let mut alternatives = Vec::new();
        for (index, alternative) in job.outcome.alternatives.iter().enumerate() {
            let there = Situation::alternative(job, index);
            alternatives.push(AlternativeView {
                number: index + 1,
                changes: changes::changes(job, alternative),
                cost: changes::cost(alternative),
                numbers: front::numbers(&there),
                plan: PlanView::of(&there, format!("alternative-{}-", index + 1))?,
            });
        }
        let here = Situation::main(job);
        Ok(View { front: Front::of(&here), plan: PlanView::of(&here, String::new())?, alternatives })
    }
}

impl PlanView {
    /// The plan of a situation, its anchors beginning with `prefix`.
    ///
    /// # Errors
    /// When its totals do not close.
    pub(crate) fn of(here: &Situation<'_>, prefix: String) -> Result<PlanView, ReportError> {
        let totals = here.totals()?;
        let groups = card::groups(here);
        let draughts = patchwork::Draughts::of(here);
        let draughts = draughts.as_ref();
        let leftovers = back::leftovers(here);
        let cards: Vec<card::Card> = groups
            .iter()
            .enumerate()
            .map(|(index, group)| {
                let like = card::like(here, &groups[..index], group);
                card::Card::of(here, &prefix, index + 1, group, like)
            })
            .collect();
        let quilt = quilt::quilt(here, draughts);
        Ok(PlanView {
            bars: if quilt.is_some() { None } else { bars::bars(here) },
            looks: looks::LooksView::of(here),
            key: fabrics::key(here, &groups, draughts),
            held: fabrics::held(here),
            bought: fabrics::bought(here),
            quilt,
            blocks: blocks::blocks(here, &groups, draughts),
            totals: back::totals(here, &totals),
            too_small: back::too_small(here, &leftovers),
            left: back::by_size(&leftovers),
            cards,
            prefix,
        })
    }
}
