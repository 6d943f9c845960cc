//! `plan.json`: the exact record of a plan, lengths in ticks, which `verify` recomputes from the inputs.

use crate::arranging::{Arrangement, Crowding};
use crate::length::Length;
use crate::pattern::demand::{Demand, Loosened};
use crate::pattern::layout::Place;
use crate::pattern::rules::Waived;
use crate::pattern::{BlockId, Pattern, RoleId};
use crate::planning::{Change, Plan, SheetPlan, Verdict};
use crate::report::set_name::SetName;
use crate::report::situation::Situation;
use crate::report::view::proof::proof;
use crate::report::view::{changes, choices, preferences, words};
use crate::report::{Digest, Job, ReportError, Total, working};

mod shape;
mod weighing;

use shape::*;
use weighing::Names;

/// The record of a whole run as text, in JSON, with the files that are written beside it.
///
/// Field by field it is described in data/plan-format.md. Every field is always present, in a fixed order.
///
/// # Errors
/// When the totals of the plan or of an alternative do not close.
pub fn plan_json(job: &Job<'_>, files: Vec<Digest>) -> Result<String, ReportError> {
    let record = PlanRecord { files, ..Situation::main(job).record()? };
    let mut text = serde_json::to_string_pretty(&record)
        .map_err(|fault| ReportError::Write(format!("plan.json cannot be composed: {fault}")))?;
    text.push('\n');
    Ok(text)
}

impl Situation<'_> {
    fn record(&self) -> Result<PlanRecord, ReportError> {
        let (job, outcome) = (self.job, self.outcome);
        let totals = self.totals()?;
        Ok(PlanRecord {
            format: "cutcloth-plan",
            version: 1,
            ticks_per_inch: Length::TICKS_PER_INCH,
            verdict: match outcome.verdict {
                Verdict::Fits => "fits",
                Verdict::Impossible => "impossible",
                Verdict::Undecided => "undecided",
            },
            proof: proof(outcome),
            reasons: outcome
                .reasons
                .iter()
                .map(|reason| ReasonRecord {
                    code: reason.code,
                    text: reason.text.clone(),
                    weighing: reason.weighing.as_ref().map(|weighing| self.names().weighing(weighing)),
                    cases: reason.cases.iter().map(|case| self.names().case(case)).collect(),
                })
                .collect(),
            inputs: InputsRecord {
                stash: job.settings.stash_file.clone(),
                pattern: job.settings.pattern_file.clone(),
                placements: job.settings.placements_file.clone(),
                size: job.pattern.size_name().map(str::to_owned),
            },
            files: Vec::new(),
            rules: self.rules(),
            fabric: FabricRecord {
                opened: outcome.fabric.opened,
                bound: outcome.fabric.bound,
                least_met: outcome.least_met,
                proved: outcome.fabric.opened == outcome.fabric.bound,
            },
            preferences: self.preferences(),
            upright: self.upright(),
            methods: self.methods(),
            totals: totals.iter().map(|total| self.total(total)).collect(),
            sets: self.sets(&outcome.plan),
            sheets: outcome.plan.sheets.iter().map(|sheet| self.sheet(sheet)).collect(),
            short: self.short(&outcome.plan),
            places: self.arrangement.map(|arrangement| self.places(arrangement)),
            purchases: self.purchases(),
            alternatives: outcome
                .alternatives
                .iter()
                .enumerate()
                .map(|(index, alternative)| {
                    let there = Situation::alternative(job, index);
                    Ok(AlternativeRecord {
                        changes: changes::changes(job, alternative),
                        cost: CostRecord {
                            amount: alternative.price.map(words::amount),
                            text: changes::cost(alternative),
                        },
                        plan: there.record()?,
                    })
                })
                .collect::<Result<_, ReportError>>()?,
        })
    }

    fn rules(&self) -> RulesRecord {
        let rules = self.job.rules;
        RulesRecord {
            weights: WeightsRecord {
                scrap: rules.weights.scrap,
                precut: rules.weights.precut,
                fat_quarter: rules.weights.fat_quarter,
                yardage: rules.weights.yardage,
            },
            useful_side: rules.useful_side.ticks(),
            allowance: self.job.settings.allowance.ticks(),
            aim: rules.aim.name(),
            extra_fabric: rules.extra_fabric,
            effort: rules.effort,
            solver: rules.solver.name(),
            cutting: rules.cutting.name(),
            stopped: self.job.settings.stopped.map(words::cause),
            relaxed: self.changes.iter().map(|change| self.relaxed(change)).collect(),
        }
    }

    fn preferences(&self) -> PreferencesRecord {
        let (measures, bounds) = (self.measures(), self.outcome.preferences);
        let whole = |number: usize| i128::try_from(number).expect("a plan has few sheets");
        let bounded = |reached, bound| BoundedRecord { reached, bound, proved: bound == Some(reached) };
        PreferencesRecord {
            leftovers: bounded(measures.leftovers, bounds.leftovers),
            layouts: bounded(whole(measures.layouts), bounds.layouts.map(whole)),
            settings: measures.settings,
            off_ruler: measures.off_ruler,
            stages: measures.stages,
            ruler_mark: self.job.rules.units.mark().ticks(),
            text: preferences::preferences(self),
        }
    }

    fn upright(&self) -> Option<UprightRecord> {
        let upright = self.outcome.upright?;
        Some(UprightRecord {
            prints: upright.prints,
            opened: upright.freed.opened,
            bound: upright.freed.bound,
            cut_into: upright.cut_into,
            pieces: upright.pieces,
            text: choices::upright(self)?,
        })
    }

    fn names(&self) -> Names<'_> {
        Names { stash: self.stash, pattern: self.pattern, demand: self.demand }
    }

    fn methods(&self) -> MethodsRecord {
        let units = |pattern: &Pattern| {
            let made = choices::made(pattern).into_iter();
            made.map(|made| MadeRecord { block: made.block, unit: made.unit, method: made.method }).collect()
        };
        let methods = self.outcome.methods.as_ref();
        let refused = methods.into_iter().flat_map(|methods| &methods.refused).map(|ways| {
            let demand = Demand::expand(&ways.pattern, &Loosened::default());
            let names = Names { stash: self.stash, pattern: &ways.pattern, demand: &demand };
            RefusedRecord {
                units: units(&ways.pattern),
                weighing: ways.weighing.as_ref().map(|weighing| names.weighing(weighing)),
                cases: ways.cases.iter().map(|case| names.case(case)).collect(),
            }
        });
        MethodsRecord {
            units: units(self.pattern),
            settled: methods.is_none_or(|methods| methods.settled),
            text: choices::methods(self),
            refused: refused.collect(),
        }
    }

    fn relaxed(&self, change: &Change) -> RelaxedRecord {
        let pattern = self.pattern;
        match change {
            Change::OtherPrint { set, decided } => {
                let name = SetName::of(pattern, self.demand, self.demand.set(*set));
                RelaxedRecord::OtherPrint {
                    block: name.block,
                    copy: name.copy,
                    role: name.role,
                    label: name.label,
                    piece: name.piece,
                    decided: self.stash.print(*decided).name.clone(),
                }
            }
            Change::Release { lot } => RelaxedRecord::Release { lot: self.stash.lot(*lot).row },
            Change::MixedPrints { block, copies, role } => RelaxedRecord::MixedPrints {
                block: pattern.blocks[block.0].name.clone(),
                copies: copies.clone(),
                role: pattern.roles[role.0].name.clone(),
            },
            Change::TwoPrints { role, prints } => RelaxedRecord::TwoPrints {
                role: pattern.roles[role.0].name.clone(),
                prints: prints.map(|print| self.stash.print(print).name.clone()),
            },
            Change::Waive { rule } => {
                let name = |role: RoleId| pattern.roles[role.0].name.clone();
                let (rule, role, other) = match *rule {
                    Waived::Different(role, other) => ("different", role, Some(name(other))),
                    Waived::AtMost(role) => ("at most", role, None),
                    Waived::Only(role) => ("only", role, None),
                    Waived::Never(role) => ("never", role, None),
                };
                RelaxedRecord::Rule { rule, role: name(role), other }
            }
            Change::OtherMethod { block, unit, method } => RelaxedRecord::Method {
                block: pattern.blocks[block.0].name.clone(),
                unit: pattern.blocks[block.0].units[*unit].name.clone(),
                method: method.name(),
            },
            Change::OtherSize { .. } => {
                RelaxedRecord::Size { size: pattern.size_name().unwrap_or_default().to_owned() }
            }
            Change::FewerCopies { block, was, make } => RelaxedRecord::FewerCopies {
                block: pattern.blocks[block.0].name.clone(),
                was: *was,
                make: *make,
            },
            Change::Buy { .. } => {
                RelaxedRecord::Buy(self.purchase(change).expect("a buy is written as a purchase"))
            }
        }
    }

    fn purchases(&self) -> Vec<PurchaseRecord> {
        self.changes.iter().filter_map(|change| self.purchase(change)).collect()
    }

    fn purchase(&self, change: &Change) -> Option<PurchaseRecord> {
        let Change::Buy { print, cut, width, length, count, price } = change else {
            return None;
        };
        Some(PurchaseRecord {
            print: self.stash.print(*print).name.clone(),
            cut: cut.entry().name.clone(),
            width: width.ticks(),
            length: length.ticks(),
            count: *count,
            price: price.map(|p| p.0),
        })
    }

    fn total(&self, total: &Total) -> TotalRecord {
        let pattern = self.pattern;
        TotalRecord {
            block: pattern.blocks[total.block.0].name.clone(),
            label: total.label.clone(),
            role: pattern.roles[total.role.0].name.clone(),
            width: total.width.ticks(),
            height: total.height.ticks(),
            need: total.need,
            cut: total.cut,
            short: total.short,
        }
    }

    fn sets(&self, plan: &Plan) -> Vec<SetRecord> {
        let placed = self.demand.sets.iter().zip(&plan.prints);
        placed
            .filter_map(|(set, print)| {
                let name = SetName::of(self.pattern, self.demand, set);
                let print = self.stash.print((*print)?).name.clone();
                let SetName { block, copy, role, label, piece } = name;
                Some(SetRecord { block, copy, role, label, piece, print })
            })
            .collect()
    }

    fn short(&self, plan: &Plan) -> Vec<ShortRecord> {
        plan.short
            .iter()
            .map(|short| {
                let set = self.demand.set(short.set);
                let SetName { block, copy, role, label, piece } = SetName::of(self.pattern, self.demand, set);
                ShortRecord { block, copy, role, label, piece, reason: short.reason.clone() }
            })
            .collect()
    }

    fn places(&self, arrangement: &Arrangement) -> PlacesRecord {
        let name = |block: BlockId| self.pattern.blocks[block.0].name.clone();
        let placed = |place: Place, block, copy| PlaceRecord {
            block: name(block),
            copy,
            row: place.row,
            column: place.column,
        };
        let crowding =
            |Crowding { reached, bound }| CrowdingRecord { reached, bound, proved: reached == bound };
        PlacesRecord {
            copies: arrangement
                .places
                .iter()
                .map(|&(place, block, copy)| placed(place, block, copy))
                .collect(),
            prints: crowding(arrangement.prints),
            colors: crowding(arrangement.colors),
            closest: arrangement.closest.map(|closest| ClosestRecord {
                distance: closest.distance,
                print: self.stash.print(closest.print).name.clone(),
                copies: closest.copies.map(|(block, copy, place)| placed(place, block, copy)),
            }),
        }
    }

    fn sheet(&self, sheet: &SheetPlan) -> SheetRecord {
        let lot = self.stash.lot(sheet.lot);
        let units = self.job.settings.units;
        let layout = &sheet.layout;
        let tasks = working::tasks(layout, &|one, other| self.alike(one, other));
        SheetRecord {
            lot: lot.row,
            bought: lot.row.is_none().then(|| words::held(lot, units)),
            print: self.stash.print(lot.print).name.clone(),
            cut: lot.cut.entry().name.clone(),
            copy: sheet.copy,
            width: layout.width().ticks(),
            height: layout.height().ticks(),
            used: sheet.used.ticks(),
            instead_of: sheet
                .instead_of
                .map(|tighter| TighterRecord { used: tighter.used.ticks(), cuts: tighter.cuts }),
            pieces: layout
                .pieces()
                .into_iter()
                .map(|(index, rect, turned)| {
                    let piece = self.piece(index);
                    PieceRecord {
                        label: piece.label.clone(),
                        block: self.block_name(piece).to_owned(),
                        copy: piece.copy,
                        role: self.role_name(piece).to_owned(),
                        x: rect.x.ticks(),
                        y: rect.y.ticks(),
                        width: rect.width.ticks(),
                        height: rect.height.ticks(),
                        turned,
                    }
                })
                .collect(),
            leftovers: layout
                .leftovers()
                .into_iter()
                .map(|rect| RectRecord {
                    x: rect.x.ticks(),
                    y: rect.y.ticks(),
                    width: rect.width.ticks(),
                    height: rect.height.ticks(),
                })
                .collect(),
            cuts: working::strokes(&tasks)
                .into_iter()
                .map(|stroke| CutRecord {
                    order: stroke.number,
                    x: stroke.region.x.ticks(),
                    y: stroke.region.y.ticks(),
                    width: stroke.region.width.ticks(),
                    height: stroke.region.height.ticks(),
                    across: words::across(stroke.axis),
                    at: stroke.at.ticks(),
                    text: words::stroke(&stroke, units),
                })
                .collect(),
        }
    }
}
