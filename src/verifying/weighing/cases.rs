//! A refusal divided into cases, where no weights refute all of it at once.
//!
//! A split asks how many of some sets come from some prints: at most so many, or more. Of any complete plan one of the
//! two is true, so all plans are refuted when each case is. "More" says as well that the other prints serve at most
//! the rest, so a case is known by bounds of one kind only. Weights refute a case when a complete plan that keeps its
//! bounds would have to weigh more than it can: what one of these prints serves of these sets may count less, by the
//! price of the bound, where the price is added for as many as the bound lets through.

use std::collections::BTreeSet;
use std::rc::Rc;

use super::bags::{Name, Pieces};
use super::{Asked, WORK, holds_in};
use crate::stash::PrintId;
use crate::verifying::fault::Rule;
use crate::verifying::record::{Case, Split};

/// No record divides a refusal further.
const MOST_CASES: usize = 400;

/// Of these things these prints serve at most so many.
pub(super) struct Bound {
    pub(super) things: Rc<BTreeSet<Name>>,
    pub(super) prints: Rc<BTreeSet<PrintId>>,
    pub(super) most: u64,
}

/// Checks that the cases are all there are, and refutes each.
///
/// # Errors
/// The rule that is broken, and how.
pub(in crate::verifying) fn hold(cases: &[Case], asked: &Asked<'_>) -> Result<(), (Rule, String)> {
    let wrong = |message: String| (Rule::Proof, message);
    if cases.len() > MOST_CASES {
        return Err(wrong(format!(
            "it is divided into {} cases, no more than {MOST_CASES} are looked at",
            cases.len()
        )));
    }
    let refuted = cases.iter().filter(|case| case.weighing.is_some()).count();
    let work = WORK / u64::try_from(refuted.max(1)).unwrap_or(u64::MAX);
    // What leads to each case still to come, the next one last.
    let mut open: Vec<Vec<Rc<Bound>>> = vec![Vec::new()];
    for (index, case) in cases.iter().enumerate() {
        let at = |message: String| (Rule::Proof, format!("case {}: {message}", index + 1));
        let Some(path) = open.pop() else {
            return Err(at("all cases are refuted before".to_owned()));
        };
        match (&case.split, &case.weighing) {
            (Some(split), None) => {
                let (within, beyond) = divided(split, asked).map_err(at)?;
                open.push(path.iter().cloned().chain([Rc::new(beyond)]).collect());
                open.push(path.into_iter().chain([Rc::new(within)]).collect());
            }
            (None, Some(weighing)) => {
                let prices: Option<Vec<i64>> =
                    case.prices.iter().map(|&price| i64::try_from(price).ok()).collect();
                let prices = prices.filter(|prices| prices.len() == path.len());
                let prices = prices.ok_or_else(|| {
                    at(format!("{} splits lead to it, {} prices are given", path.len(), case.prices.len()))
                })?;
                let bounds: Vec<(&Bound, i64)> = path.iter().map(|bound| &**bound).zip(prices).collect();
                holds_in(weighing, &bounds, asked, work)
                    .map_err(|(rule, message)| (rule, format!("case {}: {message}", index + 1)))?;
            }
            _ => return Err(at("it is neither divided nor refuted, or both".to_owned())),
        }
    }
    if open.is_empty() {
        return Ok(());
    }
    Err(wrong(format!("{} cases are left open", open.len())))
}

/// The two bounds of a split: these prints serve at most so many, or the others at most the rest.
fn divided(split: &Split, asked: &Asked<'_>) -> Result<(Bound, Bound), String> {
    let named = Pieces::of(asked.wanted).named(&split.sets, &split.pieces)?;
    let all = named.len();
    let things: BTreeSet<Name> = named.iter().map(super::bags::One::name).collect();
    if things.len() < all {
        return Err("a set is named twice".to_owned());
    }
    let all = u64::try_from(all).unwrap_or(u64::MAX);
    if split.most >= all {
        return Err(format!("it divides {all} sets at {}", split.most));
    }
    let stash = &asked.question.stash;
    let found = split.prints.iter().map(|name| {
        let found = stash.prints.iter().position(|print| print.name == *name).map(PrintId);
        found.ok_or_else(|| format!("the stash has no print {name}"))
    });
    let prints: BTreeSet<PrintId> = found.collect::<Result<_, _>>()?;
    let others = (0..stash.prints.len()).map(PrintId).filter(|print| !prints.contains(print)).collect();
    let things = Rc::new(things);
    let within = Bound { things: things.clone(), prints: Rc::new(prints), most: split.most };
    Ok((within, Bound { things, prints: Rc::new(others), most: all - split.most - 1 }))
}
