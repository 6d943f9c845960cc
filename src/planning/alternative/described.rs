//! What was tried, as an alternative in the words of the plan.

use std::collections::BTreeMap;

use crate::fabric::Price;
use crate::pattern::demand::SetId;
use crate::pattern::{BlockId, RoleId};
use crate::placements;
use crate::planning::alternative::Inputs;
use crate::planning::alternative::attempt::Tried;
use crate::planning::outcome::{Alternative, Outcome};
use crate::planning::plan::Change;
use crate::stash::{LotId, PrintId};

/// The alternative that `tried` comes to.
pub(super) fn alternative(inputs: &Inputs<'_>, tried: Tried) -> Alternative {
    let mut changes = described(inputs, &tried);
    let Tried { pattern, stash, demand, mut outcome, changes: tried } = tried;
    for (index, purchase) in tried.bought.iter().enumerate() {
        let lot = LotId(inputs.stash.lots.len() + index);
        if let Some(count) = opened(&mut outcome, lot).filter(|&count| count > 0) {
            changes.push(purchase.change(&stash, count));
        }
    }
    let prices: Vec<Option<i64>> = changes
        .iter()
        .filter_map(|change| match change {
            Change::Buy { price, count, .. } => Some(price.map(|price| price.0 * i64::from(*count))),
            _ => None,
        })
        .collect();
    let price = (!prices.is_empty()).then(|| prices.into_iter().sum::<Option<i64>>()).flatten().map(Price);
    Alternative { changes, price, pattern, stash, demand, outcome }
}

/// How many sheets of a bought lot are cut from; only those need be bought, so they are numbered from 1.
fn opened(outcome: &mut Outcome, lot: LotId) -> Option<u32> {
    let sheets = outcome.plan.sheets.iter_mut().filter(|sheet| sheet.lot == lot);
    let mut count: u32 = 0;
    for sheet in sheets {
        count = count.checked_add(1)?;
        sheet.copy = count;
    }
    Some(count)
}

/// What is changed, except for what is bought. Changes that the plan makes no use of are left out.
fn described(inputs: &Inputs<'_>, tried: &Tried) -> Vec<Change> {
    let plan = &tried.outcome.plan;
    let mut changes = Vec::new();
    let used = |lot: &LotId| plan.sheets.iter().any(|sheet| sheet.lot == *lot);
    changes.extend(tried.changes.released.iter().copied().filter(used).map(|lot| Change::Release { lot }));
    // By the sets of the changed demand, whose numbers may differ from those of the demand as asked.
    let (decided, _) = placements::pins(inputs.placements, &tried.stash, &tried.pattern, &tried.demand);
    for (number, (decided, print)) in decided.into_iter().zip(&plan.prints).enumerate() {
        if let Some(decided) = decided.filter(|decided| *print != Some(*decided)) {
            changes.push(Change::OtherPrint { set: SetId(number), decided });
        }
    }
    let mut by_role: BTreeMap<(BlockId, RoleId), Vec<u32>> = BTreeMap::new();
    for &(block, copy, role) in &tried.changes.mixed {
        by_role.entry((block, role)).or_default().push(copy);
    }
    changes.extend(by_role.into_iter().map(|((block, role), copies)| Change::MixedPrints {
        block,
        copies,
        role,
    }));
    let split = |(&role, &prints): (&RoleId, &[PrintId; 2])| Change::TwoPrints { role, prints };
    changes.extend(tried.changes.two_prints.iter().map(split));
    changes.extend(tried.changes.waived.iter().map(|&rule| Change::Waive { rule }));
    let method = |(&(block, unit), &method)| Change::OtherMethod { block, unit, method };
    changes.extend(tried.changes.methods.iter().map(method));
    changes.extend(tried.changes.size.map(|size| Change::OtherSize { size }));
    changes.extend(tried.changes.left_out.iter().map(|(&block, &out)| {
        let was = tried.pattern.blocks[block.0].make;
        Change::FewerCopies { block, was, make: was - out }
    }));
    changes
}
