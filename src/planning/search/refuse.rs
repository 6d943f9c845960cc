//! Proofs that nothing complete exists, from the plainest to the one over all listed plans.

use crate::cutting::Proof;
use crate::planning::columns::bound::{self, Fabric};
use crate::planning::columns::enumerate;
use crate::planning::columns::lp::{Covered, Goal, cover};
use crate::planning::columns::pool::Column;
use crate::planning::oracle::THOROUGH;
use crate::planning::oracle::cut_print::Cutting;
use crate::planning::search::choose::{MOST_COLUMNS, NODES, repeated};
use crate::planning::search::{ROUNDS, Search};

/// Why nothing fits.
#[derive(Clone, Debug)]
pub(crate) enum Refusal {
    /// No print can hold this bag; the argument is the one for the print with most fabric.
    Homeless { bag: usize, proof: Option<Proof> },
    /// Counted bag by bag: the prints of each class can serve at most so many of this one.
    Count { bag: usize, each: Vec<u32> },
    /// The pieces have more area than the fabric.
    Area { pieces: i128, fabric: i128 },
    /// All sheets together yield at most so many pieces of one size.
    Yield { size: usize, needed: u64, most: u64 },
    /// At these prices the bags are worth more than all prints can give (by class, per print).
    Priced { prices: Vec<i64>, most: Vec<i128> },
    /// Every plan of every print was listed and no choice of them serves everything.
    Listed { plans: Vec<Column> },
}

impl Search<'_, '_> {
    /// A bag that provably fits no print, even alone.
    pub(super) fn homeless(&mut self) -> Option<Refusal> {
        let served: Vec<bool> = (0..self.demands.len())
            .map(|bag| self.pool.columns().iter().any(|column| column.bags.iter().any(|&(b, _)| b == bag)))
            .collect();
        let instance = self.instance();
        for bag in (0..self.demands.len()).filter(|&bag| !served[bag]) {
            let pieces = instance.pieces(&[(bag, 1)]);
            let mut proved = true;
            let mut roomiest: Option<(i64, Proof)> = None;
            if !instance.obeys(&[(bag, 1)]) {
                return Some(Refusal::Homeless { bag, proof: None });
            }
            for class in (0..self.many.len()).filter(|&class| instance.classes[class].allowed[bag]) {
                match &*self.oracle.cut(&instance.classes[class], &pieces, THOROUGH) {
                    Cutting::Yes { cost, .. } => {
                        self.pool.add(Column { class, bags: vec![(bag, 1)], cost: *cost });
                        proved = false;
                    }
                    Cutting::No(proof) => {
                        let area = instance.classes[class].area();
                        if roomiest.as_ref().is_none_or(|(most, _)| area > *most) {
                            roomiest = Some((area, proof.clone()));
                        }
                    }
                    Cutting::Unknown => proved = false,
                }
            }
            if proved {
                return Some(Refusal::Homeless { bag, proof: roomiest.map(|(_, proof)| proof) });
            }
        }
        None
    }

    /// Looks for a proof that nothing complete exists.
    pub(super) fn refuse(&mut self) -> Option<Refusal> {
        let areas: Vec<i64> = self.instance().bags.iter().map(|bag| bag.area).collect();
        let prices = self.generate(&areas, Fabric::Free, ROUNDS * self.effort.max(1) / 100);
        self.begin_pricing();
        let most = self.price_all(&prices, Fabric::Free).most;
        if bound::least(self.instance(), &most, &prices) > 0 {
            return Some(Refusal::Priced { prices, most });
        }
        // Only the plans that open every sheet matter here: they contain all the others.
        let mut columns: Vec<Column> = Vec::new();
        for class in 0..self.many.len() {
            let listed = self.openings[class].last().and_then(|all| all.plans.clone());
            let whole = self.instance().classes[class].whole_sheets();
            match listed.filter(|_| whole) {
                Some(plans) => columns.extend(plans),
                None => columns.extend(enumerate::with_all_sheets(self.oracle, class, self.effort)?),
            }
        }
        if columns.len() > MOST_COLUMNS * 4 {
            return None;
        }
        match cover(
            &columns,
            &self.demands,
            &self.many,
            &Goal::LeastFabric { below: None },
            self.budget(NODES * 4),
        ) {
            Covered::None => Some(Refusal::Listed { plans: columns }),
            Covered::Found(chosen) => {
                let list = repeated(&columns, &chosen.times);
                if self.serves_all(&list) {
                    self.keep(list);
                }
                None
            }
            Covered::Unknown => None,
        }
    }

    /// The proofs a person can follow with a pencil: by area, by yield of one size, by counting one bag.
    pub(super) fn counted(&mut self) -> Option<Refusal> {
        let instance = self.instance();
        let pieces: i128 =
            instance.bags.iter().map(|bag| i128::from(bag.area) * i128::from(bag.demand())).sum();
        let fabric: i128 =
            instance.classes.iter().map(|class| i128::from(class.area()) * i128::from(class.many())).sum();
        if pieces > fabric {
            return Some(Refusal::Area { pieces, fabric });
        }
        for bag in 0..self.demands.len() {
            let each: Vec<u32> = (0..self.many.len()).map(|class| self.most_alone(class, bag)).collect();
            let total: u64 = each.iter().zip(&self.many).map(|(&n, &m)| u64::from(n) * u64::from(m)).sum();
            if total < u64::from(self.demands[bag]) {
                return Some(Refusal::Count { bag, each });
            }
        }
        (0..instance.sizes.len()).find_map(|size| {
            let needed: u64 = instance
                .bags
                .iter()
                .flat_map(|bag| {
                    bag.needs.iter().map(move |&(of, n)| (of, u64::from(n) * u64::from(bag.demand())))
                })
                .filter(|&(of, _)| of == size)
                .map(|(_, n)| n)
                .sum();
            let most: u64 = instance
                .classes
                .iter()
                .map(|class| bound::most_of_size(instance, class, size) * u64::from(class.many()))
                .sum();
            (needed > most).then_some(Refusal::Yield { size, needed, most })
        })
    }

    /// The most copies of a bag that one print of a class can serve, rounded up where the oracle is unsure.
    fn most_alone(&mut self, class: usize, bag: usize) -> u32 {
        let instance = self.instance();
        if !instance.classes[class].allowed[bag] {
            return 0;
        }
        let room = instance.classes[class].area() / instance.bags[bag].area.max(1);
        let mut most = self.demands[bag].min(u32::try_from(room).unwrap_or(u32::MAX));
        while most > 0 {
            if !instance.obeys(&[(bag, most)]) {
                most -= 1;
                continue;
            }
            let pieces = instance.pieces(&[(bag, most)]);
            match &*self.oracle.cut(&instance.classes[class], &pieces, THOROUGH) {
                Cutting::No(_) => most -= 1,
                Cutting::Yes { .. } | Cutting::Unknown => break,
            }
        }
        most
    }
}
