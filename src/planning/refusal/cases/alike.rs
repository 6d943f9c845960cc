//! Prints that are alike within a case, and what bounds say of them.

use std::collections::{BTreeMap, BTreeSet};

use crate::cutting::Sheet;
use crate::fabric::Cut;
use crate::planning::instance::{Holder, Instance};
use crate::planning::plan::OneSheet;
use crate::stash::PrintId;

/// A print of a class, or a sheet that stands for itself: the class, and which of its holders.
type Place = (usize, usize);

/// Prints of one class of which a case knows the same.
#[derive(Clone)]
pub(crate) struct Alike {
    pub(crate) class: usize,
    holders: Vec<usize>,
}

impl Alike {
    /// Class by class.
    pub(crate) fn classes(instance: &Instance) -> Vec<Alike> {
        let all = instance.classes.iter().enumerate();
        all.map(|(class, prints)| Alike { class, holders: (0..prints.holders.len()).collect() }).collect()
    }

    pub(crate) fn many(&self) -> u32 {
        u32::try_from(self.holders.len()).expect("fewer than four thousand million prints")
    }

    pub(crate) fn each(&self) -> impl Iterator<Item = Place> {
        self.holders.iter().map(|&holder| (self.class, holder))
    }

    /// Takes one out.
    pub(crate) fn without_one(&mut self) -> Alike {
        let rest = self.holders.split_off(1);
        Alike { class: self.class, holders: std::mem::replace(&mut self.holders, rest) }
    }
}

/// These prints serve at most so many of a bag.
pub(crate) struct Bound {
    pub(crate) bag: usize,
    pub(crate) prints: BTreeSet<Place>,
    pub(crate) most: u32,
}

impl Bound {
    /// Does it bound what these serve of the bag? It holds for all of them or for none.
    pub(crate) fn holds_for(&self, bag: usize, prints: &Alike) -> bool {
        self.bag == bag && prints.each().all(|print| self.prints.contains(&print))
    }
}

/// The fewest and the most of a bag that bounds leave to some prints, where `others` may serve it besides.
pub(crate) fn range(
    bag: usize,
    wanted: u32,
    prints: &Alike,
    others: &[&Alike],
    bounds: &[Bound],
) -> (u32, u32) {
    let least = |all: &[&Alike]| {
        let over = bounds.iter().filter(|bound| all.iter().all(|prints| bound.holds_for(bag, prints)));
        over.map(|bound| bound.most).fold(wanted, u32::min)
    };
    let rest = if others.is_empty() { 0 } else { least(others) };
    (wanted - rest, least(&[prints]))
}

/// What prints and sheets are called.
pub(crate) struct Sources {
    /// How many holders a print has in all classes.
    parts: BTreeMap<PrintId, usize>,
    /// Of each holder by class: its print, and the sheet if it is one of several that stand for themselves.
    known: Vec<Vec<(PrintId, OneSheet)>>,
}

impl Sources {
    pub(crate) fn new(instance: &Instance) -> Sources {
        let mut parts = BTreeMap::new();
        let mut numbers: BTreeMap<(PrintId, Sheet, Cut), u32> = BTreeMap::new();
        let mut known = Vec::new();
        for class in &instance.classes {
            let kind = &class.sheets[0];
            let mut name = |holder: &Holder| {
                *parts.entry(holder.print).or_insert(0) += 1;
                let number = numbers.entry((holder.print, kind.sheet, kind.cut)).or_insert(0);
                *number += 1;
                let sheet =
                    OneSheet { print: holder.print, cut: kind.cut, sheet: kind.sheet, number: *number };
                (holder.print, sheet)
            };
            known.push(class.holders.iter().map(&mut name).collect());
        }
        Sources { parts, known }
    }

    /// Whole prints where they are whole, else sheets.
    pub(crate) fn named(&self, alike: &Alike) -> (Vec<PrintId>, Vec<OneSheet>) {
        let all: Vec<&(PrintId, OneSheet)> =
            alike.each().map(|(class, holder)| &self.known[class][holder]).collect();
        let whole =
            |print: &PrintId| all.iter().filter(|(other, _)| other == print).count() == self.parts[print];
        let prints: BTreeSet<PrintId> = all.iter().map(|(print, _)| *print).filter(whole).collect();
        let sheets = all.iter().filter(|(print, _)| !prints.contains(print)).map(|(_, sheet)| *sheet);
        let sheets = sheets.collect();
        (prints.into_iter().collect(), sheets)
    }
}
