//! A refusal divided into cases, where no weights refute all of it at once.
//!
//! A split asks how many of some sets come from some prints: at most so many, or more. Of any complete plan one of the
//! two is true, so all plans are refuted when each case is. "More" says as well that the other prints serve at most
//! the rest, so a case is known by bounds of one kind only. Weights refute a case when a complete plan that keeps its
//! bounds would have to weigh more than it can: what one of these prints serves of these sets may count less, by the
//! price of the bound, where the price is added for as many as the bound lets through. And no single print serves more
//! than a bound leaves to all of its prints.
//!
//! A split may name sheets besides whole prints, by what they are and by number: sheets that are alike can be numbered
//! in any order, so whichever sheets a plan cuts, they have these names. For the two cases to be all there are, each
//! thing must come from one source only. A set comes from one print, but perhaps from several of its sheets; so where
//! a split names sheets, everything it speaks of must be a single piece. When a bound speaks of some sheets of a print,
//! the bound is used only where these sheets stand for themselves: where every bag that may come from the print is a
//! single piece, since what the print serves is then what its sheets serve one by one. Elsewhere such a bound
//! does not hold for the print at all, which is never too little.

use std::collections::BTreeSet;
use std::rc::Rc;

use super::bound::{Bound, Sources};
use super::prints::{self, SheetKind};
use super::things::{Name, One, Pieces};
use super::work::Work;
use super::{Asked, holds_in};
use crate::fabric::Cut;
use crate::stash::PrintId;
use crate::verifying::fault::Rule;
use crate::verifying::record::{Case, Split};

/// No record divides a refusal further.
const MOST_CASES: usize = 400;

/// Checks that the cases are all there are, and refutes each.
///
/// # Errors
/// The rule that is broken, and how.
pub(in crate::verifying) fn hold(
    cases: &[Case],
    asked: &Asked<'_>,
    work: &mut Work<'_>,
) -> Result<(), (Rule, String)> {
    let wrong = |message: String| (Rule::Proof, message);
    if cases.len() > MOST_CASES {
        return Err(wrong(format!(
            "it is divided into {} cases, no more than {MOST_CASES} are looked at",
            cases.len()
        )));
    }
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
                let bounds: Vec<(Rc<Bound>, i64)> = path.into_iter().zip(prices).collect();
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
    let things: BTreeSet<Name> = named.iter().map(One::name).collect();
    if things.len() < all {
        return Err("a set is named twice".to_owned());
    }
    if !split.sheets.is_empty() && !named.iter().all(One::is_single) {
        return Err("it names sheets, and sets of several pieces may lie in more than one".to_owned());
    }
    let all = u64::try_from(all).unwrap_or(u64::MAX);
    if split.most >= all {
        return Err(format!("it divides {all} sets at {}", split.most));
    }
    let (things, named) = (Rc::new(things), Rc::new(sources(split, asked)?));
    let within = Bound { things: things.clone(), named: named.clone(), others: false, most: split.most };
    Ok((within, Bound { things, named, others: true, most: all - split.most - 1 }))
}

fn sources(split: &Split, asked: &Asked<'_>) -> Result<Sources, String> {
    let stash = &asked.question.stash;
    let print = |name: &String| {
        let found = stash.find(name);
        found.ok_or_else(|| format!("the stash has no print {name}"))
    };
    let prints = split.prints.iter().map(print).collect::<Result<BTreeSet<PrintId>, String>>()?;
    let mut sheets = BTreeSet::new();
    let held = if split.sheets.is_empty() { Vec::new() } else { prints::prints(stash, asked.changes) };
    for named in &split.sheets {
        let id = print(&named.print)?;
        let kinds = held.iter().filter(|print| print.id == id).flat_map(|print| &print.sheets);
        let alike = |kind: &&SheetKind| {
            (kind.width, kind.height, Some(kind.cut)) == (named.width, named.height, Cut::find(&named.cut))
        };
        let kind = kinds.into_iter().find(alike);
        for &number in &named.numbers {
            let kind = kind.filter(|kind| (1..=kind.copies).contains(&number)).ok_or_else(|| {
                format!("{} has no sheet number {number} of {} of this size", named.print, named.cut)
            })?;
            sheets.insert((id, SheetKind { copies: 1, ..kind.clone() }, number));
        }
    }
    Ok(Sources { prints, sheets })
}
