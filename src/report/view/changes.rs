//! An alternative in words: what it changes and what that costs.

use std::collections::BTreeMap;

use crate::pattern::rules::Waived;
use crate::pattern::{BlockId, RoleId};
use crate::planning::{Alternative, Change};
use crate::report::Job;
use crate::report::set_name::SetName;
use crate::report::view::{bought, words};
use crate::stash::PrintId;

/// What an alternative changes, one sentence a change.
pub(crate) fn changes(job: &Job<'_>, alternative: &Alternative) -> Vec<String> {
    alternative.changes.iter().map(|change| self::change(job, alternative, change)).collect()
}

fn change(job: &Job<'_>, alternative: &Alternative, change: &Change) -> String {
    let stash = &alternative.stash;
    let units = job.settings.units;
    match change {
        Change::OtherPrint { set, decided } => {
            let name = SetName::of(&alternative.pattern, &alternative.demand, alternative.demand.set(*set));
            let new = alternative.outcome.plan.prints.get(set.0).copied().flatten();
            let new = new.map_or("another print", |print| stash.print(print).name.as_str());
            format!("{}: take {new} instead of {}", words::set(&name), stash.print(*decided).name)
        }
        Change::Release { lot } => {
            let lot = stash.lot(*lot);
            let row = lot.line.map(|line| format!(", line {line} of your list")).unwrap_or_default();
            format!(
                "use the {} that you keep back ({}{row})",
                stash.print(lot.print).name,
                words::held(lot, units)
            )
        }
        Change::MixedPrints { block, copies, role } => format!(
            "make {} {} with mixed prints for fabric {}",
            alternative.pattern.blocks[block.0].name,
            words::ranges(copies),
            alternative.pattern.roles[role.0].name
        ),
        Change::TwoPrints { role, prints } => two_prints(alternative, *role, prints),
        Change::Waive { rule } => waive(alternative, *rule),
        Change::OtherMethod { block, unit, method } => {
            let block = &alternative.pattern.blocks[block.0];
            format!(
                "make {} of {} {}: the same when sewn",
                block.units[*unit].name,
                block.name,
                method.name()
            )
        }
        Change::OtherSize { size } => {
            let sizes = &alternative.pattern.sizes;
            let name = &sizes[*size].name;
            match (sizes[*size].finished, sizes.get(job.pattern.size).and_then(|was| was.finished)) {
                (Some(now), Some(was)) => {
                    format!("make the size {name}, {} instead of {}", now.show(units), was.show(units))
                }
                _ => format!("make the size {name}"),
            }
        }
        Change::FewerCopies { block, was, make } => {
            format!("make {make} {} instead of {was}", alternative.pattern.blocks[block.0].name)
        }
        Change::Buy { print, cut, width, length, count, price } => {
            let price = match price {
                Some(price) => format!(", {} each", words::money(*price)),
                None => String::new(),
            };
            let must_be = bought::must_be(alternative, *print)
                .map_or(String::new(), |what| format!("; it must be {what}"));
            format!(
                "buy {} of {} ({}{price}{must_be})",
                words::cuts(*count, *cut),
                stash.print(*print).name,
                words::fabric_size(*width, *length, units)
            )
        }
    }
}

/// Which block copies take which of the two prints.
fn two_prints(alternative: &Alternative, role: RoleId, prints: &[PrintId; 2]) -> String {
    let parts = prints.map(|print| {
        let mut copies: BTreeMap<BlockId, Vec<u32>> = BTreeMap::new();
        let placed = alternative.demand.sets.iter().zip(&alternative.outcome.plan.prints);
        for (set, _) in placed.filter(|(set, taken)| set.role == role && **taken == Some(print)) {
            if let Some((block, copy)) = set.block {
                copies.entry(block).or_default().push(copy);
            }
        }
        let blocks = copies.into_iter().map(|(block, copies)| {
            let block = &alternative.pattern.blocks[block.0];
            if block.make == 1 {
                block.name.clone()
            } else {
                format!("{} {}", block.name, words::ranges(&copies))
            }
        });
        let name = &alternative.stash.print(print).name;
        format!("{name} in {}", words::list(&blocks.collect::<Vec<_>>()))
    });
    format!(
        "cut fabric {} from two prints, whole blocks from one: {}",
        alternative.pattern.roles[role.0].name,
        parts.join("; ")
    )
}

/// The rule that is given up, as a person would say it.
fn waive(alternative: &Alternative, rule: Waived) -> String {
    let name = |role: RoleId| &alternative.pattern.roles[role.0].name;
    match rule {
        Waived::Different(one, other) => {
            format!("let fabrics {} and {} share a print within a block", name(one), name(other))
        }
        Waived::AtMost(role) => {
            let most = alternative.pattern.roles[role.0].rules.at_most.unwrap_or_default();
            format!(
                "let one print be fabric {} in more than {most} {} of a block",
                name(role),
                if most == 1 { "copy" } else { "copies" }
            )
        }
        Waived::Only(role) => {
            format!("let fabric {} be a print that the pattern does not list for it", name(role))
        }
        Waived::Never(role) => {
            format!("let fabric {} be a print that the pattern rules out for it", name(role))
        }
    }
}

/// What an alternative costs: money where it is known, else what is given up.
pub(crate) fn cost(alternative: &Alternative) -> String {
    let mut parts = Vec::new();
    let mut bought = 0;
    for change in &alternative.changes {
        match change {
            Change::Buy { count, cut, .. } => {
                bought += 1;
                parts.push(format!("{} to buy", words::cuts(*count, *cut)));
            }
            Change::OtherPrint { .. } => parts.push("one decided print changed".to_owned()),
            Change::Release { lot } => {
                let name = &alternative.stash.print(alternative.stash.lot(*lot).print).name;
                parts.push(format!("{name} no longer kept back"));
            }
            Change::MixedPrints { copies, .. } => parts.push(format!(
                "{} without one print throughout",
                words::count(copies.len(), "block copy", "block copies")
            )),
            Change::TwoPrints { role, .. } => {
                parts.push(format!("fabric {} from two prints", alternative.pattern.roles[role.0].name));
            }
            Change::Waive { .. } => parts.push("one rule between fabrics given up".to_owned()),
            Change::OtherMethod { .. } => parts.push("one unit made another way".to_owned()),
            Change::OtherSize { .. } => parts.push("a smaller quilt".to_owned()),
            Change::FewerCopies { was, make, block } => parts.push(format!(
                "{} fewer of {}",
                was.saturating_sub(*make),
                alternative.pattern.blocks[block.0].name
            )),
        }
    }
    let what = words::list(&parts);
    match (alternative.price, bought) {
        (Some(price), _) => format!("{}: {what}", words::money(price)),
        (None, 0) => format!("free: {what}"),
        (None, _) => format!("price not given: {what}"),
    }
}
