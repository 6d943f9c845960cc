//! Filled sheets given to prints.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use crate::cutting;
use crate::length::Length;
use crate::planning::columns::pool::Column;
use crate::planning::columns::supply::{Fill, Holds, Supplies};
use crate::planning::instance::Instance;
use crate::planning::oracle::Oracle;
use crate::planning::oracle::cut_print::CutSheet;

/// What every print is given so far.
pub(super) struct Hand<'s> {
    instance: &'s Instance,
    supplies: &'s Supplies,
    /// By bag: how many have no place yet.
    pub(super) left: Vec<u32>,
    /// By supply, by print of it.
    given: Vec<Vec<Vec<Fill>>>,
    /// What each print serves, by class and holder.
    serves: BTreeMap<(usize, usize), BTreeMap<usize, u32>>,
}

impl<'s> Hand<'s> {
    pub(super) fn new(instance: &'s Instance, supplies: &'s Supplies) -> Hand<'s> {
        let given = supplies.all.iter().map(|supply| vec![Vec::new(); supply.prints.len()]).collect();
        let left = instance.bags.iter().map(|bag| bag.demand()).collect();
        Hand { instance, supplies, left, given, serves: BTreeMap::new() }
    }

    /// Every filling so often, those over most sheets first.
    pub(super) fn take_all(&mut self, fills: &[Fill], times: &[u32]) {
        let mut order: Vec<usize> = (0..fills.len()).filter(|&fill| times[fill] > 0).collect();
        order.sort_by_key(|&fill| (Reverse(fills[fill].used()), fill));
        for fill in order {
            for _ in 0..times[fill] {
                self.take(&fills[fill]);
            }
        }
    }

    /// Gives it to a print, without what is not wanted any more; false when none has room.
    pub(super) fn take(&mut self, fill: &Fill) -> bool {
        let fill = fill.clone().within(&self.left, self.instance);
        let Some(print) = self.print_for(&fill).filter(|_| !fill.bags.is_empty()) else { return false };
        let Holds { class, holder, .. } = self.supplies.all[fill.supply].prints[print];
        let serves = self.serves.entry((class, holder)).or_default();
        for &(bag, n) in &fill.bags {
            self.left[bag] -= n;
            *serves.entry(bag).or_insert(0) += n;
        }
        self.given[fill.supply][print].push(fill);
        true
    }

    /// The first print that has room, one that is opened already before others.
    fn print_for(&self, fill: &Fill) -> Option<usize> {
        let supply = &self.supplies.all[fill.supply];
        let given = &self.given[fill.supply];
        let room = |&print: &usize| {
            let used: Length = given[print].iter().chain([fill]).map(Fill::used).sum();
            used.ticks() <= supply.all()
                && (supply.copies == 1 || !supply.kind.by_length || {
                    let fills: Vec<Fill> = given[print].iter().chain([fill]).cloned().collect();
                    self.lengths(fill.supply, &fills).is_some()
                })
        };
        let obeys = |&print: &usize| {
            let Holds { class, holder, .. } = supply.prints[print];
            let mut serves = self.serves.get(&(class, holder)).cloned().unwrap_or_default();
            fill.bags.iter().for_each(|&(bag, n)| *serves.entry(bag).or_insert(0) += n);
            self.instance.limits.is_empty() || self.instance.obeys(&serves.into_iter().collect::<Vec<_>>())
        };
        let (opened, new): (Vec<usize>, Vec<usize>) =
            (0..given.len()).partition(|&print| !given[print].is_empty());
        // Prints of one supply that hold nothing yet are alike but for what else they serve.
        opened.into_iter().chain(new).find(|print| room(print) && obeys(print))
    }

    /// The fillings of one print by sheet: of yardage as many on one sheet as it has length for, in their order.
    fn lengths(&self, supply: usize, fills: &[Fill]) -> Option<Vec<Vec<usize>>> {
        let supply = &self.supplies.all[supply];
        let mut sheets: Vec<(Length, Vec<usize>)> = vec![(Length::ZERO, Vec::new()); supply.copies as usize];
        for (number, fill) in fills.iter().enumerate() {
            let fits =
                |(used, _): &&mut (Length, Vec<usize>)| *used + fill.used() <= supply.kind.sheet.height;
            let sheet = sheets.iter_mut().find(fits)?;
            sheet.0 += fill.used();
            sheet.1.push(number);
        }
        Some(sheets.into_iter().map(|(_, fills)| fills).filter(|fills| !fills.is_empty()).collect())
    }

    /// What every print serves; the oracle remembers how that is cut.
    pub(super) fn columns(self, oracle: &mut Oracle<'_>) -> Vec<Column> {
        let mut cut: BTreeMap<(usize, usize), Vec<CutSheet>> = BTreeMap::new();
        for (number, supply) in self.supplies.all.iter().enumerate() {
            for (&Holds { class, holder, kind }, fills) in supply.prints.iter().zip(&self.given[number]) {
                let sheets = cut.entry((class, holder)).or_default();
                if supply.kind.by_length {
                    for fills_of in self.lengths(number, fills).expect("only what has room is taken") {
                        let layouts: Vec<_> = fills_of.iter().flat_map(|&fill| &fills[fill].sheets).collect();
                        let used = layouts.iter().map(|layout| layout.height()).sum();
                        let layout = cutting::stacked(supply.kind.sheet, &layouts);
                        sheets.push(CutSheet { kind, layout, used });
                    }
                } else {
                    let layouts = fills.iter().flat_map(|fill| fill.sheets.iter().cloned());
                    sheets.extend(layouts.map(|layout| CutSheet { kind, used: layout.height(), layout }));
                }
            }
        }
        let mut columns = Vec::new();
        for ((class, holder), bags) in self.serves {
            let bags: Vec<(usize, u32)> = bags.into_iter().filter(|&(_, n)| n > 0).collect();
            let mut sheets = cut.remove(&(class, holder)).unwrap_or_default();
            sheets.retain(|sheet| !sheet.layout.pieces().is_empty());
            if !bags.is_empty() {
                let cost = oracle.learn(class, &bags, sheets);
                columns.push(Column { class, bags, cost });
            }
        }
        columns
    }
}
