//! The search for a plan: prices, columns, an integer master, and a bound that holds whatever was missed.
//!
//! Column generation in the manner of Gilmore and Gomory (1961) with a column for all that one print does,
//! so that no set is ever split over prints; the integer master over the columns found (a restricted master
//! heuristic) is exact where the plans of every class could be listed.

use rand::SeedableRng;
use rand::rngs::SmallRng;

use crate::cutting::Proof;
use crate::planning::bound::{self, Fabric};
use crate::planning::enumerate::{self, Opening};
use crate::planning::instance::Instance;
use crate::planning::lp::{Covered, Goal, Prices, cover};
use crate::planning::oracle::{Cutting, Oracle, THOROUGH};
use crate::planning::pool::{Column, Pool};
use crate::planning::price::{self, Taste};

/// Fixed, so that the same input gives the same plan.
const SEED: u64 = 0x71DE_9001;
/// Rounds of pricing before the integer master is tried.
const ROUNDS: u32 = 60;
/// Passes that build a whole plan greedily, each with other shaken prices.
const PASSES: u32 = 12;
/// Nodes of the integer master; each is an LP of a few milliseconds at most.
const NODES: u64 = 4_000;
/// Columns given to the integer master: beyond a few thousand it finds nothing in its nodes.
const MOST_COLUMNS: usize = 3_000;
/// Plans given to the master at once when there are no more: each costs one warm step of the LP.
const SHORT_LIST: usize = 400;
/// New columns taken from a list of plans in one round.
const NEW_PER_ROUND: usize = 4;

/// What each print is to serve: by class, by holder, (bag, count).
pub(crate) type Assignment = Vec<Vec<Vec<(usize, u32)>>>;

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
    Listed { plans: usize },
}

/// What the search ends with.
pub(crate) struct Found {
    /// The best plan reached.
    pub(crate) assignment: Assignment,
    /// True when it serves everything.
    pub(crate) complete: bool,
    /// No complete plan opens less weighted fabric.
    pub(crate) bound: i128,
    /// The proof that no complete plan exists.
    pub(crate) refusal: Option<Refusal>,
}

/// Searches for a complete plan or a proof that there is none.
pub(crate) fn search(
    oracle: &mut Oracle<'_>,
    effort: u32,
    progress: &mut dyn FnMut(Option<i64>, i128),
) -> Found {
    Search::new(oracle, effort).run(progress)
}

/// Searches for the plan that serves most. `blocks` gives, per block kind, its copies and what one copy
/// needs of each bag.
pub(crate) fn most_placed(
    oracle: &mut Oracle<'_>,
    blocks: &[(u32, Vec<(usize, u32)>)],
    effort: u32,
) -> Found {
    let mut search = Search::new(oracle, effort);
    if search.demands.is_empty() {
        return search.found(Vec::new(), None);
    }
    search.seed();
    search.list();
    let areas: Vec<i64> = search.instance().bags.iter().map(|bag| bag.area).collect();
    let prices = search.generate(&areas, Fabric::Free, ROUNDS);
    search.passes(&prices);
    let partial = search.most_placed(blocks);
    search.found(partial, None)
}

struct Search<'a, 'b> {
    oracle: &'a mut Oracle<'b>,
    demands: Vec<u32>,
    many: Vec<u32>,
    openings: Vec<Vec<Opening>>,
    pool: Pool,
    random: SmallRng,
    effort: u32,
    /// The best complete plan and its fabric.
    best: Option<(i64, Vec<Column>)>,
    bound: i128,
    /// True when no choice of plans beats the best one; the bound may still be lower for yardage.
    closed: bool,
}

impl<'a, 'b> Search<'a, 'b> {
    fn new(oracle: &'a mut Oracle<'b>, effort: u32) -> Search<'a, 'b> {
        let instance = oracle.instance;
        Search {
            demands: instance.bags.iter().map(|bag| bag.demand()).collect(),
            many: instance.classes.iter().map(|class| class.many()).collect(),
            openings: Vec::new(),
            pool: Pool::default(),
            random: SmallRng::seed_from_u64(SEED),
            effort,
            oracle,
            best: None,
            bound: 0,
            closed: false,
        }
    }

    fn instance(&self) -> &'b Instance {
        self.oracle.instance
    }

    fn run(&mut self, progress: &mut dyn FnMut(Option<i64>, i128)) -> Found {
        if self.demands.is_empty() {
            return self.found(Vec::new(), None);
        }
        self.seed();
        if let Some(refusal) = self.homeless() {
            return self.found(Vec::new(), Some(refusal));
        }
        self.list();
        let caps = self.caps();
        let prices = self.generate(&caps, Fabric::Weighted, ROUNDS * self.effort.max(1) / 100);
        progress(None, self.bound);
        self.choose(&prices);
        if self.best.is_none()
            && let Some(refusal) = self.counted()
        {
            return self.found(Vec::new(), Some(refusal));
        }
        if !self.closed {
            self.passes(&prices);
            self.choose(&prices);
        }
        progress(self.best.as_ref().map(|(cost, _)| *cost), self.bound);
        let mut refusal = None;
        if self.best.is_none() {
            refusal = self.refuse();
            // Columns found while proving may be what was missing.
            self.choose(&prices);
        }
        match self.best.clone() {
            Some((_, columns)) => self.found(columns, None),
            None => self.found(Vec::new(), refusal),
        }
    }

    /// Lists the plans of small classes.
    fn list(&mut self) {
        self.openings =
            (0..self.many.len()).map(|class| enumerate::maximal_plans(self.oracle, class)).collect();
        self.take_short_lists();
    }

    /// One column for every bag alone on every class that may hold it.
    fn seed(&mut self) {
        for class in 0..self.many.len() {
            for bag in 0..self.demands.len() {
                if !self.instance().classes[class].allowed[bag] {
                    continue;
                }
                let area = self.instance().bags[bag].area.max(1);
                let room = u32::try_from(self.instance().classes[class].area() / area).unwrap_or(u32::MAX);
                let most = self.demands[bag].min(room);
                for count in [1, price::most_of(self.oracle, class, &[], bag, most).0] {
                    self.add(class, &[(bag, count)]);
                }
            }
        }
    }

    /// Short lists of plans go to the master whole: that saves rounds of pricing.
    fn take_short_lists(&mut self) {
        let plans = || self.openings.iter().flatten().filter_map(|opening| opening.plans.as_ref()).flatten();
        if plans().count() <= SHORT_LIST {
            let all: Vec<Column> = plans().cloned().collect();
            for plan in all {
                self.pool.add(plan);
            }
        }
    }

    fn add(&mut self, class: usize, bags: &[(usize, u32)]) {
        if bags.iter().any(|&(_, count)| count == 0) {
            return;
        }
        let pieces = self.instance().pieces(bags);
        let answer = self.oracle.cut(&self.instance().classes[class], &pieces, price::STEPS);
        if let Some(cost) = answer.cost() {
            self.pool.add(Column { class, bags: bags.to_vec(), cost });
        }
    }

    /// A bag that provably fits no print, even alone.
    fn homeless(&mut self) -> Option<Refusal> {
        let served: Vec<bool> = (0..self.demands.len())
            .map(|bag| self.pool.columns().iter().any(|column| column.bags.iter().any(|&(b, _)| b == bag)))
            .collect();
        let instance = self.instance();
        for bag in (0..self.demands.len()).filter(|&bag| !served[bag]) {
            let pieces = instance.pieces(&[(bag, 1)]);
            let mut proved = true;
            let mut roomiest: Option<(i64, Proof)> = None;
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

    /// What leaving a bag out counts at most: far above the fabric of any print that holds it alone.
    fn caps(&self) -> Vec<i64> {
        let dearest = self.pool.columns().iter().map(|column| column.cost).max().unwrap_or(1);
        vec![dearest.saturating_mul(8); self.demands.len()]
    }

    /// Column generation. Returns the last prices; keeps the best bound.
    fn generate(&mut self, caps: &[i64], fabric: Fabric, rounds: u32) -> Vec<i64> {
        let mut master = Prices::new(&self.demands, &self.many, caps);
        let mut given = 0;
        let mut best_bound = i128::MIN;
        let mut best_prices = caps.to_vec();
        for _ in 0..rounds {
            while given < self.pool.columns().len() {
                let mut column = self.pool.columns()[given].clone();
                if fabric == Fabric::Free {
                    column.cost = 0;
                }
                given += 1;
                if !master.add(&column) {
                    return best_prices;
                }
            }
            let prices = master.prices().to_vec();
            let most = bound::most_by_class(self.instance(), &self.openings, &prices, fabric);
            let least = bound::least(self.instance(), &most, &prices);
            if least > best_bound {
                best_bound = least;
                best_prices.clone_from(&prices);
            }
            if fabric == Fabric::Weighted {
                self.bound = self.bound.max(self.rounded_up(least));
            } else if least > 0 {
                return best_prices;
            }
            if !self.price_all(&prices, fabric) {
                best_prices = prices;
                break;
            }
        }
        best_prices
    }

    /// Looks for columns that gain more than any known column of their class. False when there was none.
    fn price_all(&mut self, prices: &[i64], fabric: Fabric) -> bool {
        let before = self.pool.columns().len();
        let worth = |column: &Column| match fabric {
            Fabric::Weighted => column.gain(prices),
            Fabric::Free => column.worth(prices),
        };
        let mut known = vec![0i128; self.many.len()];
        for column in self.pool.columns() {
            known[column.class] = known[column.class].max(worth(column));
        }
        let demands = self.demands.clone();
        for (class, &known) in known.iter().enumerate() {
            let mut better: Vec<(i128, Column)> = self.openings[class]
                .iter()
                .filter_map(|opening| opening.plans.as_ref())
                .flatten()
                .filter(|plan| worth(plan) > known)
                .map(|plan| (-worth(plan), plan.clone()))
                .collect();
            better.sort();
            better.truncate(NEW_PER_ROUND);
            if !self.is_listed(class) {
                for taste in [Taste::Plain, Taste::Shaken] {
                    let columns =
                        price::greedy(self.oracle, class, prices, &demands, fabric, taste, &mut self.random);
                    better.extend(
                        columns
                            .into_iter()
                            .filter(|column| worth(column) > known)
                            .map(|column| (-worth(&column), column)),
                    );
                }
            }
            for (_, column) in better {
                self.pool.add(column);
            }
        }
        self.pool.columns().len() > before
    }

    /// Are all maximal plans of a class known?
    fn is_listed(&self, class: usize) -> bool {
        let openings = &self.openings[class];
        !openings.is_empty() && openings.iter().all(|opening| opening.plans.is_some())
    }

    /// Bounds may be rounded up to the next amount of fabric that can be opened at all.
    fn rounded_up(&self, least: i128) -> i128 {
        let whole = self.instance().classes.iter().all(|class| class.whole_sheets());
        if !whole || least <= 0 {
            return least.max(0);
        }
        let step = self
            .instance()
            .classes
            .iter()
            .flat_map(|class| &class.sheets)
            .map(|kind| i128::from(kind.cost(kind.sheet.height)))
            .fold(0, gcd);
        if step == 0 { least } else { (least + step - 1) / step * step }
    }

    /// Builds whole plans greedily: always the print that gains most for its fabric on what is still left.
    fn passes(&mut self, prices: &[i64]) {
        for pass in 0..PASSES {
            let taste = if pass == 0 { Taste::Plain } else { Taste::Shaken };
            // Without a price a bag would never be taken: the floor is the fabric it covers, twice.
            let floor: Vec<i64> = self
                .instance()
                .bags
                .iter()
                .zip(prices)
                .map(|(bag, &price)| price.max(bag.area.saturating_mul(400)))
                .collect();
            let mut left = self.demands.clone();
            let mut free = self.many.clone();
            let mut taken = Vec::new();
            while left.iter().any(|&n| n > 0) {
                let Some(column) = self.best_next(&floor, &left, &free, taste) else { break };
                free[column.class] -= 1;
                for &(bag, count) in &column.bags {
                    left[bag] -= count;
                }
                self.pool.add(column.clone());
                taken.push(column);
            }
            if left.iter().all(|&n| n == 0) {
                self.keep(taken);
            }
        }
    }

    fn best_next(&mut self, prices: &[i64], left: &[u32], free: &[u32], taste: Taste) -> Option<Column> {
        let mut best: Option<(i128, Column)> = None;
        for class in (0..free.len()).filter(|&class| free[class] > 0) {
            for column in
                price::greedy(self.oracle, class, prices, left, Fabric::Weighted, taste, &mut self.random)
            {
                let rate = column.worth(prices) * 1_000 / i128::from(column.cost.max(1));
                if best.as_ref().is_none_or(|(most, _)| rate > *most) {
                    best = Some((rate, column));
                }
            }
        }
        best.map(|(_, column)| column)
    }

    fn keep(&mut self, columns: Vec<Column>) {
        let cost = columns.iter().map(|column| column.cost).sum();
        if self.best.as_ref().is_none_or(|(least, _)| cost < *least) {
            self.best = Some((cost, columns));
        }
    }

    /// The integer master over the columns that could be part of a better plan.
    fn choose(&mut self, prices: &[i64]) {
        if self.closed || self.best.as_ref().is_some_and(|(cost, _)| i128::from(*cost) <= self.bound) {
            return;
        }
        let (columns, every) = self.candidates(prices);
        let below = self.best.as_ref().map(|(cost, _)| cost - 1);
        match cover(&columns, &self.demands, &self.many, &Goal::LeastFabric { below }, NODES) {
            Covered::Found(chosen) => {
                let list = repeated(&columns, &chosen.times);
                if self.serves_all(&list) {
                    self.keep(list);
                    if chosen.best && every {
                        self.close();
                    }
                }
            }
            Covered::None if every && self.best.is_some() => self.close(),
            Covered::None | Covered::Unknown => {}
        }
    }

    /// Over all plans of all prints nothing better exists; only yardage may still be cut shorter than it was.
    /// The same choice with every plan at its bound says by how much.
    fn close(&mut self) {
        let Some((cost, _)) = self.best else { return };
        self.closed = true;
        let plans = self.openings.iter().flatten();
        let at_least: Vec<Column> = plans
            .flat_map(|opening| {
                let floor = |plan: &Column| Column { cost: opening.least, ..plan.clone() };
                opening.plans.iter().flatten().map(floor)
            })
            .collect();
        let exact = self
            .openings
            .iter()
            .flatten()
            .all(|opening| opening.plans.iter().flatten().all(|plan| plan.cost == opening.least));
        if exact {
            self.bound = i128::from(cost);
            return;
        }
        let goal = Goal::LeastFabric { below: None };
        if let Covered::Found(chosen) = cover(&at_least, &self.demands, &self.many, &goal, NODES)
            && chosen.best
        {
            let floor: i64 = repeated(&at_least, &chosen.times).iter().map(|column| column.cost).sum();
            self.bound = self.bound.max(i128::from(floor));
        }
    }

    /// Columns by reduced cost; true when every column that a better plan could use is among them:
    /// one whose reduced cost passes the gap cannot (reduced cost fixing).
    fn candidates(&self, prices: &[i64]) -> (Vec<Column>, bool) {
        let most = bound::most_by_class(self.instance(), &self.openings, prices, Fabric::Weighted);
        let least = bound::least(self.instance(), &most, prices);
        let gap = self.best.as_ref().map(|(cost, _)| i128::from(*cost) - least);
        // Where every plan of a class is listed, what was found on the way adds nothing.
        let mut listed: Vec<Column> =
            self.pool.columns().iter().filter(|column| !self.is_listed(column.class)).cloned().collect();
        let mut every = true;
        for openings in &self.openings {
            every &= !openings.is_empty();
            for opening in openings {
                match &opening.plans {
                    Some(plans) => listed.extend(plans.iter().cloned()),
                    None => every = false,
                }
            }
        }
        listed.sort();
        listed.dedup();
        let mut rated: Vec<(i128, Column)> =
            listed.into_iter().map(|column| (most[column.class] - column.gain(prices), column)).collect();
        if let Some(gap) = gap {
            rated.retain(|(reduced, _)| *reduced < gap);
        }
        rated.sort();
        if rated.len() > MOST_COLUMNS {
            rated.truncate(MOST_COLUMNS);
            every = false;
        }
        (rated.into_iter().map(|(_, column)| column).collect(), every)
    }

    fn serves_all(&self, columns: &[Column]) -> bool {
        let mut left: Vec<i64> = self.demands.iter().map(|&n| i64::from(n)).collect();
        let mut free: Vec<i64> = self.many.iter().map(|&n| i64::from(n)).collect();
        for column in columns {
            free[column.class] -= 1;
            for &(bag, count) in &column.bags {
                left[bag] -= i64::from(count);
            }
        }
        left.iter().all(|&n| n <= 0) && free.iter().all(|&n| n >= 0)
    }

    /// Looks for a proof that nothing complete exists.
    fn refuse(&mut self) -> Option<Refusal> {
        let areas: Vec<i64> = self.instance().bags.iter().map(|bag| bag.area).collect();
        let prices = self.generate(&areas, Fabric::Free, ROUNDS * self.effort.max(1) / 100);
        let most = bound::most_by_class(self.instance(), &self.openings, &prices, Fabric::Free);
        if bound::least(self.instance(), &most, &prices) > 0 {
            return Some(Refusal::Priced { prices, most });
        }
        // Only the plans that open every sheet matter here: they contain all the others.
        let full: Option<Vec<&Vec<Column>>> =
            self.openings.iter().map(|openings| openings.last().and_then(|all| all.plans.as_ref())).collect();
        let columns: Vec<Column> = full?.into_iter().flatten().cloned().collect();
        if columns.len() > MOST_COLUMNS * 4 {
            return None;
        }
        match cover(&columns, &self.demands, &self.many, &Goal::LeastFabric { below: None }, NODES * 4) {
            Covered::None => Some(Refusal::Listed { plans: columns.len() }),
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
    fn counted(&mut self) -> Option<Refusal> {
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
            let pieces = instance.pieces(&[(bag, most)]);
            match &*self.oracle.cut(&instance.classes[class], &pieces, THOROUGH) {
                Cutting::No(_) => most -= 1,
                Cutting::Yes { .. } | Cutting::Unknown => break,
            }
        }
        most
    }

    /// The most of the quilt that the known columns serve, with the least fabric for it.
    fn most_placed(&mut self, blocks: &[(u32, Vec<(usize, u32)>)]) -> Vec<Column> {
        let mut columns = self.pool.columns().to_vec();
        columns.sort_by_key(|column| (column.class, column.cost, column.bags.clone()));
        let Covered::Found(most) =
            cover(&columns, &self.demands, &self.many, &Goal::MostPlaced { blocks }, NODES)
        else {
            return Vec::new();
        };
        let list = repeated(&columns, &most.times);
        let mut missing = self.demands.clone();
        for column in &list {
            for &(bag, count) in &column.bags {
                missing[bag] = missing[bag].saturating_sub(count);
            }
        }
        match cover(&columns, &self.demands, &self.many, &Goal::LeastFabricShort { missing: &missing }, NODES)
        {
            Covered::Found(cheap) => repeated(&columns, &cheap.times),
            Covered::None | Covered::Unknown => list,
        }
    }

    fn found(&self, columns: Vec<Column>, refusal: Option<Refusal>) -> Found {
        let complete = self.serves_all(&columns);
        Found { assignment: self.hand_out(columns), complete, bound: self.bound, refusal }
    }

    /// Columns to holders, cut back to what is needed; equal columns next to each other.
    fn hand_out(&self, columns: Vec<Column>) -> Assignment {
        let instance = self.instance();
        let mut assignment: Assignment =
            instance.classes.iter().map(|class| vec![Vec::new(); class.holders.len()]).collect();
        let mut next = vec![0; instance.classes.len()];
        let mut left = self.demands.clone();
        for column in columns {
            let mut bags = Vec::new();
            for (bag, count) in column.bags {
                let taken = count.min(left[bag]);
                left[bag] -= taken;
                if taken > 0 {
                    bags.push((bag, taken));
                }
            }
            if !bags.is_empty() {
                assignment[column.class][next[column.class]] = bags;
                next[column.class] += 1;
            }
        }
        assignment
    }
}

fn repeated(columns: &[Column], times: &[u32]) -> Vec<Column> {
    columns
        .iter()
        .zip(times)
        .flat_map(|(column, &many)| std::iter::repeat_n(column.clone(), many as usize))
        .collect()
}

fn gcd(a: i128, b: i128) -> i128 {
    if b == 0 { a } else { gcd(b, a % b) }
}
