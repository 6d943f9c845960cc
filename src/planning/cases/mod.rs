//! A refusal that rests on a list of all plans, divided into cases that weights refute: branch and bound, kept as a
//! certificate.
//!
//! Where no weights refute everything at once, because mixtures of plans would serve it, the mixture tells what to
//! divide by: a class of prints that serves part of a bag. Either it serves so many or fewer, or more. Bounds
//! of both kinds are rows of the linear programme, and its dual gives the weights; what is written down is
//! recomputed in whole numbers over all plans.

mod relaxed;

use std::collections::BTreeSet;

use itertools::Itertools;

use crate::pattern::demand::Demand;
use crate::planning::instance::Instance;
use crate::planning::plan::{Case, Weighed};
use crate::planning::pool::Column;
use crate::planning::weighing;
use crate::stash::PrintId;

/// Cases after which the refusal stays a claim of the search, splits among them.
const MOST_CASES: usize = 200;
/// Plans in the linear programmes, over all cases.
const MOST_ROWS: usize = 60_000;

/// A question that was refused: all plans of all classes, and what is wanted.
struct Divided<'a> {
    columns: &'a [Column],
    demands: Vec<u32>,
    many: Vec<u32>,
}

/// These classes serve at most so many of a bag.
#[derive(Clone)]
struct Bound {
    bag: usize,
    classes: Vec<usize>,
    most: u32,
}

impl Bound {
    fn holds_for(&self, bag: usize, class: usize) -> bool {
        self.bag == bag && self.classes.contains(&class)
    }
}

/// The cases that refute `instance`, of which `columns` are all plans; nothing where they would be too many.
pub(super) fn cases(instance: &Instance, demand: &Demand, columns: &[Column]) -> Vec<Case> {
    let prints = |class: usize| instance.classes[class].holders.iter().map(|holder| holder.print);
    let each: Vec<BTreeSet<PrintId>> =
        (0..instance.classes.len()).map(|class| prints(class).collect()).collect();
    // Sheets of one print may stand in two classes, and then no class is a group of prints.
    let apart = each.iter().map(BTreeSet::len).sum::<usize>() == each.iter().flatten().unique().count();
    let most = MOST_CASES.min(MOST_ROWS / columns.len().max(1));
    if !apart {
        return Vec::new();
    }
    let divided = Divided {
        columns,
        demands: instance.bags.iter().map(crate::planning::instance::Bag::demand).collect(),
        many: instance.classes.iter().map(crate::planning::instance::Class::many).collect(),
    };
    let mut tree = Tree { instance, demand, divided, prints: each, most, cases: Vec::new() };
    match tree.grow(&mut Vec::new()) {
        Some(()) => tree.cases,
        None => Vec::new(),
    }
}

struct Tree<'a> {
    instance: &'a Instance,
    demand: &'a Demand,
    divided: Divided<'a>,
    /// By class.
    prints: Vec<BTreeSet<PrintId>>,
    /// Of cases.
    most: usize,
    /// After a split all cases within it, then all beyond it.
    cases: Vec<Case>,
}

impl Tree<'_> {
    /// Refutes all that `bounds` leave; `None` when it cannot.
    fn grow(&mut self, bounds: &mut Vec<Bound>) -> Option<()> {
        if self.cases.len() >= self.most {
            return None;
        }
        if let Some(weights) = relaxed::weights(&self.divided, bounds)? {
            let case = self.refuted(&weights, bounds)?;
            self.cases.push(case);
            return Some(());
        }
        let (bag, class, most) = self.split(bounds)?;
        let things: Vec<Weighed> = self.instance.bags[bag]
            .items
            .iter()
            .flat_map(|item| weighing::weighed(self.demand, item))
            .collect();
        let wanted = self.divided.demands[bag];
        if things.len() != wanted as usize {
            return None;
        }
        self.cases.push(Case::Split { things, prints: self.prints[class].iter().copied().collect(), most });
        let others = (0..self.prints.len()).filter(|&other| other != class).collect();
        for bound in [
            Bound { bag, classes: vec![class], most },
            Bound { bag, classes: others, most: wanted - most - 1 },
        ] {
            bounds.push(bound);
            self.grow(bounds)?;
            bounds.pop();
        }
        Some(())
    }

    /// A bag, a class, and how many the class serves at most in the first of two cases.
    fn split(&self, bounds: &[Bound]) -> Option<(usize, usize, u32)> {
        let served = relaxed::mixture(&self.divided, bounds)?;
        let all = (0..self.prints.len())
            .flat_map(|class| (0..self.divided.demands.len()).map(move |bag| (class, bag)));
        let broken = |&(class, bag): &(usize, usize)| (served[class][bag] % 1000 - 500).abs();
        let part = all.clone().filter(|at| broken(at) < 490).min_by_key(broken);
        if let Some((class, bag)) = part {
            return Some((bag, class, u32::try_from(served[class][bag] / 1000).ok()?));
        }
        // Whole numbers, and yet a mixture: what is still open is taken out or fixed.
        let open = all.filter(|&(class, bag)| self.instance.classes[class].allowed[bag]).filter_map(
            |(class, bag)| {
                let wanted = self.divided.demands[bag];
                let least = |only: bool| {
                    let same = |bound: &&Bound| {
                        bound.bag == bag
                            && (bound.classes == [class]) == only
                            && (only || !bound.classes.contains(&class))
                    };
                    bounds.iter().filter(same).map(|bound| bound.most).min().unwrap_or(wanted)
                };
                let (fewest, most) = (wanted - least(false), least(true));
                let here = u32::try_from((served[class][bag] + 500) / 1000).ok()?;
                let at = if here < most { here } else { here.checked_sub(1)? };
                (fewest < most && at < wanted).then_some((here == 0, bag, class, at))
            },
        );
        open.min().map(|(_, bag, class, at)| (bag, class, at))
    }

    /// The weights in whole numbers, which must refute over all plans.
    fn refuted(&self, weights: &relaxed::Weights, bounds: &[Bound]) -> Option<Case> {
        let priced = |bag: usize, class: usize| -> i64 {
            let on_it = bounds.iter().zip(&weights.bounds).filter(|(bound, _)| bound.holds_for(bag, class));
            (weights.bags[bag] - on_it.map(|(_, price)| price).sum::<i64>()).max(0)
        };
        let mut most = vec![0i128; self.prints.len()];
        for column in self.divided.columns {
            let worth =
                column.bags.iter().map(|&(bag, n)| i128::from(priced(bag, column.class)) * i128::from(n));
            most[column.class] = most[column.class].max(worth.sum());
        }
        let given: i128 =
            most.iter().zip(&self.divided.many).map(|(most, &many)| most * i128::from(many)).sum();
        let let_through: i128 = bounds
            .iter()
            .zip(&weights.bounds)
            .map(|(bound, &price)| i128::from(bound.most) * i128::from(price))
            .sum();
        let weighing = weighing::weighed_at(self.instance, self.demand, &weights.bags, given + let_through)?;
        (weighing.needed > weighing.most).then(|| Case::Refuted { prices: weights.bounds.clone(), weighing })
    }
}
