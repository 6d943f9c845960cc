//! The cheapest fabric to buy that closes the gap: which cut, how many, at what price.

use crate::fabric::{Cut, Family, Price};
use crate::length::Length;
use crate::planning::alternative::Inputs;
use crate::planning::alternative::attempt::{Tried, attempt, decided};
use crate::planning::alternative::changes::{Changes, SetName};
use crate::planning::alternative::purchase::{Purchase, Which};
use crate::planning::alternative::trim::trimmed;
use crate::stash::{PrintId, Stash};

/// Yardage is sold in steps of an eighth of a yard, in eighths of an inch.
const SHOP_STEP: i64 = 36;
/// No more than this length of one print is proposed.
const LONGEST: i64 = 10 * 8;
/// No more than this many different new prints are proposed.
const MOST_PRINTS: u32 = 24;

/// What a purchase costs: money when every price is known (that is preferred), else weighted fabric.
type Cost = (bool, i64);

fn cost(inputs: &Inputs<'_>, bought: &[Purchase]) -> Cost {
    let money: Option<i64> = bought.iter().map(|p| p.price.map(|price| price.0 * i64::from(p.count))).sum();
    let weight = |p: &Purchase| i64::from(inputs.rules.weights.of(p.cut.entry().family));
    let fabric = bought.iter().map(|p| p.width.by(p.length).square_ticks() * weight(p) * i64::from(p.count));
    (money.is_none(), money.unwrap_or_else(|| fabric.sum()))
}

/// The cheapest purchase that makes `base` fit, over all cuts of fabric and yardage by length.
pub(super) fn cheapest(inputs: &Inputs<'_>, base: &Tried) -> Option<Tried> {
    let mut offers = precuts(inputs.stash);
    offers.sort_by_key(|offer| (cost(inputs, std::slice::from_ref(offer)), offer.cut));
    let mut best: Option<Tried> = None;
    for offer in &offers {
        let each: &[u32] = if offer.cut.entry().family == Family::Precut { &[1, 2] } else { &[1] };
        for &count in each {
            let offer = Purchase { count, ..offer.clone() };
            let limit = best.as_ref().map(|tried| cost(inputs, &tried.changes.bought));
            if let Some(tried) = by_count(inputs, base, &offer, limit) {
                best = Some(tried);
            }
        }
    }
    let held = wanted_print(inputs, base).map_or(Which::New(1), Which::Held);
    let limit = best.as_ref().map(|tried| cost(inputs, &tried.changes.bought));
    by_length(inputs, base, &held, limit).or(best).map(|tried| trimmed(inputs, tried))
}

/// When the quilter decided one print for what is short, more of that one is wanted.
fn wanted_print(inputs: &Inputs<'_>, base: &Tried) -> Option<PrintId> {
    let short: Vec<SetName> = base.short_sets().map(|set| SetName::of(&base.demand, set)).collect();
    let near = decided(inputs).filter(|(set, _)| short.iter().any(|short| set.holds(short)));
    let mut prints: Vec<PrintId> = near.map(|(_, print)| print).collect();
    prints.sort_unstable();
    prints.dedup();
    match prints[..] {
        [one] => Some(one),
        _ => None,
    }
}

/// Cuts that are bought by the piece, nominal sizes.
fn precuts(stash: &Stash) -> Vec<Purchase> {
    Cut::all()
        .filter(|cut| cut.entry().family != Family::Scrap)
        .filter_map(|cut| {
            let entry = cut.entry();
            let (width, length) = (entry.width?, entry.length?);
            let price = price_of(stash, cut);
            Some(Purchase { print: Which::New(1), cut, width, length, count: 1, price })
        })
        .collect()
}

fn price_of(stash: &Stash, cut: Cut) -> Option<Price> {
    stash.lots.iter().filter(|lot| lot.cut == cut).filter_map(|lot| lot.price).min()
}

/// The fewest prints of one cut that close the gap for less than `limit`.
fn by_count(inputs: &Inputs<'_>, base: &Tried, offer: &Purchase, limit: Option<Cost>) -> Option<Tried> {
    let list = |prints: i64| -> Vec<Purchase> {
        let numbers = 1..=u32::try_from(prints).unwrap_or(MOST_PRINTS);
        numbers.map(|n| Purchase { print: Which::New(n), ..offer.clone() }).collect()
    };
    let dear = |&prints: &i64| limit.is_some_and(|limit| cost(inputs, &list(prints)) >= limit);
    let most = (1..=i64::from(MOST_PRINTS)).take_while(|prints| !dear(prints)).last()?;
    fewest(most, |prints| fitting(inputs, base.with(|changes| changes.bought.extend(list(prints)))))
}

/// The shortest length of yardage, in shop steps, that closes the gap for less than `limit`.
fn by_length(inputs: &Inputs<'_>, base: &Tried, print: &Which, limit: Option<Cost>) -> Option<Tried> {
    let cut = Cut::yardage();
    let width = cut.entry().width?;
    let rate = inputs
        .stash
        .lots
        .iter()
        .filter(|lot| lot.cut == cut)
        .filter_map(|lot| Some((lot.price?.0, lot.length.ticks())))
        .min_by(|a, b| (a.0 * b.1).cmp(&(b.0 * a.1)));
    let of = |steps: i64| {
        let length = Length::from_eighths(SHOP_STEP * steps);
        // Price by length, rounded up to the hundredth.
        let price = rate.map(|(price, of)| Price((price * length.ticks() + of - 1) / of));
        Purchase { print: print.clone(), cut, width, length, count: 1, price }
    };
    let dear =
        |&steps: &i64| limit.is_some_and(|limit| cost(inputs, std::slice::from_ref(&of(steps))) >= limit);
    let most = (1..=LONGEST).take_while(|steps| !dear(steps)).last()?;
    fewest(most, |steps| fitting(inputs, base.with(|changes| changes.bought.push(of(steps)))))
}

fn fitting(inputs: &Inputs<'_>, changes: Changes) -> Option<Tried> {
    Some(attempt(inputs, changes)).filter(Tried::fits)
}

/// The smallest amount up to `most` that fits. More fabric never hurts, so the most is tried first: what does not
/// fit with that is not tried again with less. Then doubled until it fits, and halved back.
fn fewest<T>(most: i64, mut fitting: impl FnMut(i64) -> Option<T>) -> Option<T> {
    let mut best = fitting(most)?;
    let (mut fails, mut fits) = (0, most);
    let mut next = 1;
    while fits - fails > 1 {
        match fitting(next) {
            Some(less) => (fits, best) = (next, less),
            None => fails = next,
        }
        next = (fails * 2).min(fails.midpoint(fits)).max(fails + 1);
    }
    Some(best)
}

#[cfg(test)]
mod tests {
    use super::fewest;

    #[test]
    fn the_smallest_amount_is_found_and_what_does_not_fit_with_the_most_is_asked_once() {
        for most in 1..=30 {
            for least in 1..=most + 1 {
                let mut asked = Vec::new();
                let found = fewest(most, |amount| {
                    asked.push(amount);
                    (amount >= least).then_some(amount)
                });
                assert_eq!(found, (least <= most).then_some(least));
                assert!(asked.iter().all(|amount| (1..=most).contains(amount)));
                let doublings = 2 * (i64::BITS - least.leading_zeros()) as usize;
                assert!(
                    asked.len() <= if least > most { 1 } else { 1 + doublings },
                    "{least} of {most}: {asked:?}"
                );
            }
        }
    }
}
