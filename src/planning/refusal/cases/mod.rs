//! A refusal that rests on a list of all plans, divided into cases that weights refute: branch and bound, kept as a
//! certificate.
//!
//! Where no weights refute everything at once, because mixtures of plans would serve it, the mixture tells what to
//! divide by: prints that are alike and serve part of a bag. Either they serve so many or fewer, or more. Bounds
//! of both kinds are rows of the linear programme, and its dual gives the weights; what is written down is
//! recomputed in whole numbers over all plans. Where every count is whole and yet a mixture of plans makes it, one print
//! of those alike is taken for itself. What a bound leaves to several no single one passes, so a print whose
//! counts are all settled has a plan for them or none: the cases come to an end.

mod alike;
mod relaxed;

use crate::pattern::demand::Demand;
use crate::planning::columns::pool::Column;
use crate::planning::instance::Instance;
use crate::planning::plan::{Case, Weighed};
use crate::planning::refusal::weighing;

use alike::{Alike, Bound, Sources};

/// Cases after which the refusal stays a claim of the search, splits among them.
const MOST_CASES: usize = 200;
/// Plans in the linear programmes, over all cases.
const MOST_ROWS: usize = 60_000;

/// A question that was refused: all plans of all prints, and what is wanted.
struct Divided<'a> {
    columns: &'a [Column],
    demands: Vec<u32>,
}

/// The cases that refute `instance`, of which `columns` are all plans; nothing where they would be too many.
pub(crate) fn cases(instance: &Instance, demand: &Demand, columns: &[Column]) -> Vec<Case> {
    let demands = instance.bags.iter().map(crate::planning::instance::Bag::demand).collect();
    let divided = Divided { columns, demands };
    let sources = Sources::new(instance);
    let mut tree = Tree { instance, demand, divided, sources, rows: MOST_ROWS, cases: Vec::new() };
    match tree.grow(Alike::classes(instance), &mut Vec::new()) {
        Some(()) => tree.cases,
        None => Vec::new(),
    }
}

struct Tree<'a> {
    instance: &'a Instance,
    demand: &'a Demand,
    divided: Divided<'a>,
    sources: Sources,
    /// Plans that linear programmes may still hold.
    rows: usize,
    /// After a split all cases within it, then all beyond it.
    cases: Vec<Case>,
}

/// A bag, prints alike, and how many these serve at most in the first of two cases.
struct Split {
    bag: usize,
    prints: usize,
    most: u32,
}

impl Tree<'_> {
    /// Refutes all that `bounds` leave; `None` when it cannot.
    fn grow(&mut self, mut alike: Vec<Alike>, bounds: &mut Vec<Bound>) -> Option<()> {
        if self.cases.len() >= MOST_CASES {
            return None;
        }
        let split = loop {
            let plans = relaxed::plans(&self.divided, &alike, bounds);
            self.rows = self.rows.checked_sub(plans.len())?;
            if let Some(weights) = relaxed::weights(&self.divided, &alike, &plans, bounds)? {
                let case = self.refuted(&weights, &alike, &plans, bounds)?;
                self.cases.push(case);
                return Some(());
            }
            let mixture = relaxed::mixture(&self.divided, &alike, &plans, bounds)?;
            match self.split(&alike, &mixture, bounds) {
                Some(split) => break split,
                None => apart(&mut alike, &mixture)?,
            }
        };
        let Split { bag, prints, most } = split;
        let items = self.instance.bags[bag].items.iter();
        let things: Vec<Weighed> = items.flat_map(|item| weighing::weighed(self.demand, item)).collect();
        let wanted = self.divided.demands[bag];
        if things.len() != wanted as usize {
            return None;
        }
        let (whole, sheets) = self.sources.named(&alike[prints]);
        self.cases.push(Case::Split { things, prints: whole, sheets, most });
        let others = alike.iter().enumerate().filter(|&(other, _)| other != prints);
        let others = others.flat_map(|(_, alike)| alike.each()).collect();
        for bound in [
            Bound { bag, prints: alike[prints].each().collect(), most },
            Bound { bag, prints: others, most: wanted - most - 1 },
        ] {
            bounds.push(bound);
            self.grow(alike.clone(), bounds)?;
            bounds.pop();
        }
        Some(())
    }

    fn split(&self, alike: &[Alike], mixture: &relaxed::Mixture, bounds: &[Bound]) -> Option<Split> {
        let all =
            (0..alike.len()).flat_map(|prints| (0..self.divided.demands.len()).map(move |bag| (prints, bag)));
        let broken = |&(prints, bag): &(usize, usize)| (mixture.served[prints][bag] % 1000 - 500).abs();
        let part = all.clone().filter(|at| broken(at) < 490).min_by_key(broken);
        if let Some((prints, bag)) = part {
            let most = u32::try_from(mixture.served[prints][bag] / 1000).ok()?;
            return Some(Split { bag, prints, most });
        }
        // Whole numbers, and yet a mixture: what is still open is taken out or fixed.
        let may = |prints: usize, bag: usize| self.instance.classes[alike[prints].class].allowed[bag];
        let open = all.filter(|&(prints, bag)| may(prints, bag)).filter_map(|(prints, bag)| {
            let others = (0..alike.len()).filter(|&other| other != prints && may(other, bag));
            let others: Vec<&Alike> = others.map(|other| &alike[other]).collect();
            let wanted = self.divided.demands[bag];
            let (fewest, most) = alike::range(bag, wanted, &alike[prints], &others, bounds);
            let here = u32::try_from((mixture.served[prints][bag] + 500) / 1000).ok()?;
            let at = if here < most { here } else { here.checked_sub(1)? };
            (fewest <= at && at < most).then_some((!mixture.mixed[prints], here == 0, bag, prints, at))
        });
        open.min().map(|(_, _, bag, prints, most)| Split { bag, prints, most })
    }

    /// The weights in whole numbers, which must refute over all plans.
    fn refuted(
        &self,
        weights: &relaxed::Weights,
        alike: &[Alike],
        plans: &[relaxed::Plan],
        bounds: &[Bound],
    ) -> Option<Case> {
        let priced = |bag: usize, prints: usize| -> i64 {
            let on_it = bounds.iter().zip(&weights.bounds);
            let on_it = on_it.filter(|(bound, _)| bound.holds_for(bag, &alike[prints]));
            (weights.bags[bag] - on_it.map(|(_, price)| price).sum::<i64>()).max(0)
        };
        let mut most = vec![0i128; alike.len()];
        for plan in plans {
            let worth =
                plan.bags.iter().map(|&(bag, n)| i128::from(priced(bag, plan.prints)) * i128::from(n));
            most[plan.prints] = most[plan.prints].max(worth.sum());
        }
        let given: i128 = most.iter().zip(alike).map(|(most, alike)| most * i128::from(alike.many())).sum();
        let let_through: i128 = bounds
            .iter()
            .zip(&weights.bounds)
            .map(|(bound, &price)| i128::from(bound.most) * i128::from(price))
            .sum();
        let weighing = weighing::weighed_at(self.instance, self.demand, &weights.bags, given + let_through)?;
        (weighing.needed > weighing.most).then(|| Case::Refuted { prices: weights.bounds.clone(), weighing })
    }
}

/// Takes one print for itself, of those alike that follow no whole plans; `None` when there are none.
fn apart(alike: &mut Vec<Alike>, mixture: &relaxed::Mixture) -> Option<()> {
    let mixed = (0..alike.len()).filter(|&prints| alike[prints].many() > 1);
    let first = mixed.min_by_key(|&prints| !mixture.mixed[prints])?;
    let one = alike[first].without_one();
    alike.push(one);
    Some(())
}
