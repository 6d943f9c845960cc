//! What is said of an alternative beside its plan: that it is one, what is bought, what it costs.

use super::changes::Changes;
use super::fault::{Faults, Rule};
use super::record::{Alternative, Purchase, Record, Verdict};
use super::supply::Origin;
use crate::stash::Stash;

/// Checks that the purchases of `record` are those of its changes, and that each is cut from.
pub(super) fn purchases(
    record: &Record,
    changes: &Changes,
    origins: &[Origin],
    stash: &Stash,
    faults: &mut Faults,
) {
    let (mut listed, mut changed) = (record.purchases.clone(), changes.bought.clone());
    listed.sort();
    changed.sort();
    if listed != changed {
        let message =
            format!("the list of purchases is {}, the changes buy {}", shopping(&listed), shopping(&changed));
        faults.add(Rule::Purchases, "", message);
    }
    for (index, purchase) in changes.bought.iter().enumerate() {
        if purchase.price.is_some_and(|price| !follows(price, purchase, stash)) {
            let bought = shopping(std::slice::from_ref(purchase));
            let message =
                format!("{} each for {bought} is no price that the stash gives", money(purchase.price));
            faults.add(Rule::Cost, "", message);
        }
        let opened = origins.iter().filter(|origin| origin.purchase == Some(index)).count();
        let opened = u64::try_from(opened).unwrap_or(u64::MAX);
        if opened < purchase.count {
            let bought = shopping(std::slice::from_ref(purchase));
            let message = format!("{bought} is bought, {opened} of it is cut from");
            faults.add(Rule::Purchases, "", message);
        }
    }
}

/// True when a lot of the same cut has this price, or this price for its length, rounded up to the hundredth.
fn follows(price: i128, purchase: &Purchase, stash: &Stash) -> bool {
    let same_cut = stash.lots.iter().filter(|lot| lot.cut.entry().name == purchase.cut);
    let mut known =
        same_cut.filter_map(|lot| Some((i128::from(lot.price?.0), i128::from(lot.length.ticks()))));
    known.any(|(of_lot, length)| {
        let by_length = of_lot * i128::from(purchase.length);
        price == of_lot || (length > 0 && price == (by_length + length - 1).div_euclid(length))
    })
}

fn shopping(purchases: &[Purchase]) -> String {
    if purchases.is_empty() {
        return "nothing".to_owned();
    }
    let parts: Vec<String> = purchases
        .iter()
        .map(|bought| format!("{} x {} of {}", bought.count, bought.cut, bought.print))
        .collect();
    parts.join(", ")
}

/// Checks what stands around the plan of alternative `alternative` of `main`.
pub(super) fn frame(alternative: &Alternative, main: &Record, whose: &str, faults: &mut Faults) {
    let plan = &alternative.plan;
    if plan.relaxed.is_empty() {
        faults.add(
            Rule::Alternative,
            whose,
            "it changes nothing, so the plan itself should have been it".to_owned(),
        );
    }
    if plan.verdict != Verdict::Fits {
        let message = format!("its verdict is {}, it must fit", plan.verdict.word());
        faults.add(Rule::Alternative, whose, message);
    }
    if plan.rules != main.rules || plan.inputs != main.inputs {
        let message = "its rules or inputs are not those of the run".to_owned();
        faults.add(Rule::Alternative, whose, message);
    }
    if !plan.alternatives.is_empty() {
        let message = format!("it has {} alternatives of its own", plan.alternatives.len());
        faults.add(Rule::Alternative, whose, message);
    }
    if alternative.changes.is_empty() || alternative.changes.iter().any(|text| text.trim().is_empty()) {
        faults.add(Rule::Reason, whose, "a change is not put in words".to_owned());
    }
    if alternative.text.trim().is_empty() {
        faults.add(Rule::Reason, whose, "the cost is not put in words".to_owned());
    }
    let due = cost(&plan.purchases);
    if alternative.amount != due {
        let message =
            format!("it is said to cost {}, the prices make {}", money(alternative.amount), money(due));
        faults.add(Rule::Cost, whose, message);
    }
}

/// The sum, when something is bought and every price is known.
fn cost(purchases: &[Purchase]) -> Option<i128> {
    if purchases.is_empty() {
        return None;
    }
    purchases.iter().map(|bought| bought.price.map(|price| price * i128::from(bought.count))).sum()
}

fn money(hundredths: Option<i128>) -> String {
    match hundredths {
        None => "an unknown amount".to_owned(),
        Some(amount) => {
            let sign = if amount < 0 { "-" } else { "" };
            format!("{sign}{}.{:02}", amount.unsigned_abs() / 100, amount.unsigned_abs() % 100)
        }
    }
}
