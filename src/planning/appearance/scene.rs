//! What a choice of prints costs the eye, kept up to date set by set, and the rules it must keep.

use std::collections::{BTreeMap, BTreeSet};

use crate::looks::{Sight, Touches, WHOLE};
use crate::pattern::Matching;
use crate::pattern::demand::{Demand, SetId};
use crate::planning::instance::limits::Governed;
use crate::stash::PrintId;

/// What a whole meeting counts when its two prints look so, by [`Pair::index`](crate::looks::Pair::index): one print beside itself, a blend, alike in light and
/// dark only, not known, fine. Common practice, no source.
const LOOKS: [i64; 5] = [1000, 100, 10, 10, 0];
/// What two copies of one block with one print in one role count: a hundredth of a blend.
const COPIES_ALIKE: i64 = WHOLE;

/// Sets and their prints, seen beside each other.
pub(super) struct Scene {
    /// How many prints there are.
    prints: usize,
    /// What two prints beside each other count, row by row.
    prices: Vec<i64>,
    /// By set: what it meets, and what that counts.
    partners: Vec<Vec<(usize, i64)>>,
    /// By set: among which others it should not repeat a print, and whether these are copies of a block, not loose pieces.
    groups: Vec<Option<(usize, bool)>>,
    /// How often a group has a print, row by row.
    alike: Vec<i64>,
    /// How many sets have a print.
    times: Vec<u32>,
    /// By set: those that must have another print.
    differ: Vec<Vec<usize>>,
    /// By set: the rule on repeating that it stands under.
    capped: Vec<Option<usize>>,
    /// The most block copies with one print, and the sets with their copies.
    caps: Vec<(usize, Vec<(usize, u32)>)>,
    shown: Vec<Option<usize>>,
    /// What meetings and repeats among the copies of a block count.
    pub(super) cost: i64,
    /// What matters less than fabric: pairs of loose pieces alike in a block copy, less the number of prints used.
    pub(super) extra: i64,
}

impl Scene {
    /// Nothing has a print yet.
    pub(super) fn new(touches: &Touches, demand: &Demand, sight: &Sight) -> Scene {
        let (sets, prints) = (demand.sets.len(), sight.prints());
        let ids = || (0..prints).map(PrintId);
        let price = |one, other| LOOKS[sight.pair(one, other).index()];
        let mut scene = Scene {
            prints,
            prices: ids().flat_map(|one| ids().map(move |other| price(one, other))).collect(),
            partners: vec![Vec::new(); sets],
            groups: vec![None; sets],
            alike: Vec::new(),
            times: vec![0; prints],
            differ: vec![Vec::new(); sets],
            capped: vec![None; sets],
            caps: Vec::new(),
            shown: vec![None; sets],
            cost: 0,
            extra: 0,
        };
        scene.meet(touches);
        scene.group(demand);
        scene.rule(demand);
        scene
    }

    fn meet(&mut self, touches: &Touches) {
        let all: i64 = touches.list.iter().map(|touch| touch.weight).sum();
        let number = i64::try_from(touches.list.len()).unwrap_or(i64::MAX);
        for touch in &touches.list {
            // On the average a meeting counts whole.
            let whole = i128::from(touch.weight) * i128::from(WHOLE) * i128::from(number);
            let whole = whole / i128::from(all.max(1));
            let pairs = i128::try_from(touch.sets[0].len() * touch.sets[1].len()).unwrap_or(i128::MAX);
            let share = i64::try_from((whole / pairs.max(1)).max(1)).unwrap_or(i64::MAX);
            for (SetId(one), SetId(other)) in touch.pairs() {
                self.partners[one].push((other, share));
                self.partners[other].push((one, share));
            }
        }
    }

    fn group(&mut self, demand: &Demand) {
        let mut known = BTreeMap::new();
        for (index, set) in demand.sets.iter().enumerate() {
            let Some((block, copy)) = set.block else { continue };
            let (copy, copies) = match set.matching {
                Matching::Block => (0, true),
                Matching::Piece => (copy, false),
                Matching::Quilt => continue,
            };
            let number = known.len();
            let group = *known.entry((block, copy, set.role)).or_insert(number);
            self.groups[index] = Some((group, copies));
        }
        self.alike = vec![0; known.len() * self.prints];
    }

    fn rule(&mut self, demand: &Demand) {
        let governed = Governed::new(demand, &BTreeSet::new());
        let mut caps = BTreeMap::new();
        for (&(block, copy), roles) in &governed.copies {
            for (role, sets) in roles {
                let rules = &demand.rules[role.0];
                for other in rules.different.iter().filter_map(|other| roles.get(other)).flatten() {
                    for set in sets {
                        self.differ[set.0].push(other.0);
                        self.differ[other.0].push(set.0);
                    }
                }
                let Some(most) = rules.at_most else { continue };
                for set in sets.iter().filter(|set| demand.set(**set).block.is_some()) {
                    let number = *caps.entry((block, *role)).or_insert_with(|| {
                        self.caps.push((most as usize, Vec::new()));
                        self.caps.len() - 1
                    });
                    self.capped[set.0] = Some(number);
                    self.caps[number].1.push((set.0, copy));
                }
            }
        }
        for differ in &mut self.differ {
            differ.sort_unstable();
            differ.dedup();
        }
    }

    /// What two prints count where they meet whole.
    fn price(&self, one: usize, other: usize) -> i64 {
        self.prices[one * self.prints + other]
    }

    /// What is to be small where fabric stays as it is.
    pub(super) fn worth(&self) -> (i64, i64) {
        (self.cost, self.extra)
    }

    /// Gives a set a print, or takes it.
    pub(super) fn put(&mut self, set: usize, print: Option<usize>) {
        let before = std::mem::take(&mut self.shown[set]);
        if let Some(old) = before {
            self.cost -= self.beside(set, old);
            if let Some((group, copies)) = self.groups[set] {
                let times = &mut self.alike[group * self.prints + old];
                *times -= 1;
                let (cost, extra) = repeats(copies, *times);
                self.cost -= cost;
                self.extra -= extra;
            }
            self.times[old] -= 1;
            self.extra += i64::from(self.times[old] == 0);
        }
        if let Some(new) = print {
            self.cost += self.beside(set, new);
            if let Some((group, copies)) = self.groups[set] {
                let times = &mut self.alike[group * self.prints + new];
                let (cost, extra) = repeats(copies, *times);
                self.cost += cost;
                self.extra += extra;
                *times += 1;
            }
            self.extra -= i64::from(self.times[new] == 0);
            self.times[new] += 1;
        }
        self.shown[set] = print;
    }

    fn beside(&self, set: usize, print: usize) -> i64 {
        let seen = self.partners[set].iter().filter_map(|&(other, share)| Some((self.shown[other]?, share)));
        seen.map(|(other, share)| share * self.price(print, other)).sum()
    }

    /// May a set have this print, as far as those that must differ have theirs?
    pub(super) fn differs(&self, set: usize, print: usize) -> bool {
        self.differ[set].iter().all(|&other| self.shown[other] != Some(print))
    }

    /// Does a set keep the rules between fabrics?
    pub(super) fn keeps(&self, set: usize) -> bool {
        let Some(print) = self.shown[set] else { return true };
        let repeats = |cap: usize| {
            let (most, sets) = &self.caps[cap];
            let with = sets.iter().filter(|(other, _)| self.shown[*other] == Some(print));
            let copies: BTreeSet<u32> = with.map(|&(_, copy)| copy).collect();
            copies.len() <= *most
        };
        self.differs(set, print) && self.capped[set].is_none_or(repeats)
    }
}

/// What one more of `times` alike counts, before fabric and after it.
fn repeats(copies: bool, times: i64) -> (i64, i64) {
    if copies { (COPIES_ALIKE * times, 0) } else { (0, times) }
}
