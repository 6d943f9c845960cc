//! The numbers behind a refusal, for a check that does not know the search: what weighs how much, what all of it
//! weighs, and the most that all fabric can serve.

use crate::pattern::demand::Demand;
use crate::planning::columns::bound;
use crate::planning::instance::{Instance, Item};
use crate::planning::plan::{Weighed, Weighing};
use crate::planning::search::Refusal;

/// The weights on which `refusal` rests; `None` for the one that lists plans, which is divided into cases.
pub(crate) fn weighing(instance: &Instance, demand: &Demand, refusal: &Refusal) -> Option<Weighing> {
    let bags = 0..instance.bags.len();
    let only = |which: usize| bags.clone().map(move |bag| i64::from(bag == which)).collect::<Vec<i64>>();
    let all_prints = |each: &dyn Fn(usize) -> i128| -> i128 {
        let classes = instance.classes.iter().enumerate();
        classes.map(|(class, prints)| each(class) * i128::from(prints.many())).sum()
    };
    match refusal {
        Refusal::Homeless { bag, .. } => {
            // One of them is enough.
            let item = instance.bags[*bag].items.first()?;
            Some(Weighing { items: vec![(1, weighed(demand, item))], needed: 1, most: 0 })
                .filter(|weighing| weighing.items[0].1.len() == 1)
        }
        Refusal::Count { bag, each } => {
            weighed_at(instance, demand, &only(*bag), all_prints(&|class| i128::from(each[class])))
        }
        Refusal::Area { fabric, .. } => {
            let areas: Vec<i64> = instance.bags.iter().map(|bag| bag.area).collect();
            weighed_at(instance, demand, &areas, *fabric)
        }
        Refusal::Yield { size, .. } => {
            let of_size = |bag: usize| {
                let needs = instance.bags[bag].needs.iter().find(|(of, _)| of == size);
                needs.map_or(0, |&(_, n)| i64::from(n))
            };
            let counts: Vec<i64> = bags.clone().map(of_size).collect();
            let most = all_prints(&|class| {
                i128::from(bound::most_of_size(instance, &instance.classes[class], *size))
            });
            weighed_at(instance, demand, &counts, most)
        }
        Refusal::Priced { prices, most } => {
            weighed_at(instance, demand, prices, all_prints(&|class| most[class]))
        }
        Refusal::Listed { .. } => None,
    }
}

pub(crate) fn weighed_at(
    instance: &Instance,
    demand: &Demand,
    weights: &[i64],
    most: i128,
) -> Option<Weighing> {
    let bags = instance.bags.iter().zip(weights).filter(|&(_, &weight)| weight > 0);
    let needed: i128 = bags.clone().map(|(bag, &weight)| i128::from(weight) * i128::from(bag.demand())).sum();
    let items = bags
        .map(|(bag, &weight)| (weight, bag.items.iter().flat_map(|item| weighed(demand, item)).collect()));
    Some(Weighing {
        items: items.collect(),
        needed: i64::try_from(needed).ok()?,
        most: i64::try_from(most).ok()?,
    })
}

/// A set as a whole, or its pieces where the instance lets them go free.
pub(crate) fn weighed(demand: &Demand, item: &Item) -> Vec<Weighed> {
    if item.pieces.len() == demand.set(item.set).pieces.len() {
        return vec![Weighed::Set(item.set)];
    }
    item.pieces.iter().map(|&piece| Weighed::Piece(piece)).collect()
}
