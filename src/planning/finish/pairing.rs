//! Which block copy takes which of the prints: a search copy by copy that keeps the rules between fabrics.
//!
//! An assignment says how many sets of each bag a print serves. Where rules tie the sets of a block copy
//! together, the copies are filled one after the other, and after each the limits must still hold for the
//! copies that are left. Where these limits are enough for a pairing (see `limits`) no copy is ever taken back.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use crate::pattern::BlockId;
use crate::pattern::RoleId;
use crate::pattern::demand::Demand;
use crate::planning::instance::limits::{Governed, Group, Limit};
use crate::planning::instance::{Instance, Item};
use crate::planning::search::Assignment;
use crate::stash::PrintId;

/// Choices looked at for one block before its copies are told apart instead.
const MOST_STEPS: u32 = 200_000;

/// Items by class and holder.
pub(crate) type Given = Vec<Vec<Vec<Item>>>;

/// What `ask` makes of it with as few blocks as possible that have their copies told apart: at first none, then each
/// block more that it says it cannot pair.
pub(crate) fn with_copies_apart<T>(mut ask: impl FnMut(&BTreeSet<BlockId>) -> Result<T, BlockId>) -> T {
    let mut apart = BTreeSet::new();
    loop {
        match ask(&apart) {
            Ok(answer) => return answer,
            Err(block) => assert!(apart.insert(block), "copies told apart need no pairing"),
        }
    }
}

/// Gives every holder its items, first copies first.
///
/// # Errors
/// A block whose prints cannot be paired into its copies, or not within the steps allowed.
pub(crate) fn pair(instance: &Instance, demand: &Demand, assignment: &Assignment) -> Result<Given, BlockId> {
    let mut chosen: BTreeMap<&Item, (usize, usize)> = BTreeMap::new();
    let mut shelves: Vec<Shelf> = Vec::new();
    for bag in 0..instance.bags.len() {
        shelves.push(Shelf::new(instance, assignment, bag));
    }
    let all: BTreeSet<_> =
        instance.bags.iter().flat_map(|bag| bag.items.iter().map(|item| item.set)).collect();
    let without = (0..demand.sets.len()).map(crate::pattern::demand::SetId).filter(|set| !all.contains(set));
    let governed = Governed::new(demand, &without.collect());
    let mut paired: Vec<bool> = vec![false; instance.bags.len()];
    for block in governed.blocks() {
        let copies = Copies::new(instance, demand, &governed, block, &shelves);
        if copies.slots.is_empty() {
            continue;
        }
        let picks = copies.fill(&shelves).ok_or(block)?;
        for (slots, picks) in copies.slots.iter().zip(picks) {
            for (slot, pick) in slots.iter().zip(picks) {
                paired[slot.bag] = true;
                if let Some(pick) = pick {
                    chosen.insert(slot.item, shelves[slot.bag].holders[pick]);
                }
            }
        }
    }
    let mut given: Given =
        instance.classes.iter().map(|class| vec![Vec::new(); class.holders.len()]).collect();
    for (bag, shelf) in shelves.iter().enumerate().filter(|&(bag, _)| !paired[bag]) {
        let mut waiting: VecDeque<&Item> = instance.bags[bag].items.iter().collect();
        for (&holder, &count) in shelf.holders.iter().zip(&shelf.counts) {
            for item in waiting.drain(..count as usize) {
                chosen.insert(item, holder);
            }
        }
    }
    for (item, (class, holder)) in chosen {
        given[class][holder].push(item.clone());
    }
    Ok(given)
}

/// The prints that serve one bag.
struct Shelf {
    /// Class and holder.
    holders: Vec<(usize, usize)>,
    prints: Vec<PrintId>,
    counts: Vec<u32>,
    /// Sets of the bag that no print serves.
    missing: u32,
}

impl Shelf {
    fn new(instance: &Instance, assignment: &Assignment, bag: usize) -> Shelf {
        let mut shelf = Shelf {
            holders: Vec::new(),
            prints: Vec::new(),
            counts: Vec::new(),
            missing: instance.bags[bag].demand(),
        };
        for (class, holders) in assignment.iter().enumerate() {
            for (holder, bags) in holders.iter().enumerate() {
                let count: u32 = bags.iter().filter(|(other, _)| *other == bag).map(|&(_, n)| n).sum();
                if count > 0 {
                    shelf.holders.push((class, holder));
                    shelf.prints.push(instance.classes[class].holders[holder].print);
                    shelf.counts.push(count);
                    shelf.missing -= count;
                }
            }
        }
        shelf
    }
}

/// A set of a block copy that waits for its print.
struct Slot<'a> {
    bag: usize,
    role: RoleId,
    item: &'a Item,
}

/// The copies of one block, whose sets are counted together.
struct Copies<'a> {
    demand: &'a Demand,
    /// By copy.
    slots: Vec<Vec<Slot<'a>>>,
    /// By copy: prints already there, of roles that have one over the whole quilt.
    fixed: Vec<Vec<(RoleId, PrintId)>>,
    /// By copy: what must hold for the copies after it.
    after: Vec<Vec<Limit>>,
}

/// How far the filling has come.
struct State {
    /// By bag and place on its shelf: how many are left.
    left: BTreeMap<usize, Vec<u32>>,
    /// By bag: how many may still go without.
    missing: BTreeMap<usize, u32>,
    /// How many copies take a print for a role.
    used: BTreeMap<(RoleId, PrintId), u32>,
    /// By copy, by slot.
    picks: Vec<Vec<Option<usize>>>,
    steps: u32,
}

impl<'a> Copies<'a> {
    fn new(
        instance: &'a Instance,
        demand: &'a Demand,
        governed: &Governed<'_>,
        block: BlockId,
        shelves: &[Shelf],
    ) -> Copies<'a> {
        let mut by_copy: BTreeMap<u32, Vec<Slot<'a>>> = BTreeMap::new();
        let mut groups: BTreeMap<Group, Vec<usize>> = BTreeMap::new();
        let mut quilt: BTreeMap<RoleId, PrintId> = BTreeMap::new();
        for (bag, all) in instance.bags.iter().enumerate() {
            let Some(group) = all.group else { continue };
            groups.entry(group).or_default().push(bag);
            if group.block.is_none() {
                quilt.extend(shelves[bag].prints.first().map(|&print| (group.role, print)));
            }
            if group.block != Some(block) || group.copy.is_some() {
                continue; // one print over the quilt, or told apart: the limits were the rules themselves
            }
            for item in &all.items {
                let (_, copy) = demand.set(item.set).block.expect("the set is in the block");
                by_copy.entry(copy).or_default().push(Slot { bag, role: group.role, item });
            }
        }
        let fixed = |copy: &u32| -> Vec<(RoleId, PrintId)> {
            let roles = governed.copies.get(&(block, *copy)).into_iter().flat_map(|roles| roles.keys());
            roles.filter_map(|role| quilt.get(role).map(|&print| (*role, print))).collect()
        };
        Copies {
            demand,
            fixed: by_copy.keys().map(fixed).collect(),
            after: by_copy.keys().map(|&copy| governed.limits(block, copy, false, &groups)).collect(),
            slots: by_copy.into_values().collect(),
        }
    }

    /// The print of every slot as a place on its bag's shelf; `None` when there is none to be found.
    fn fill(&self, shelves: &[Shelf]) -> Option<Vec<Vec<Option<usize>>>> {
        let bags: BTreeSet<usize> = self.slots.iter().flatten().map(|slot| slot.bag).collect();
        let mut state = State {
            left: bags.iter().map(|&bag| (bag, shelves[bag].counts.clone())).collect(),
            missing: bags.iter().map(|&bag| (bag, shelves[bag].missing)).collect(),
            used: BTreeMap::new(),
            picks: vec![Vec::new(); self.slots.len()],
            steps: 0,
        };
        self.next(0, &mut state, shelves).then_some(state.picks)
    }

    /// Fills the next slot of `copy`, or goes on to the next copy.
    fn next(&self, copy: usize, state: &mut State, shelves: &[Shelf]) -> bool {
        let Some(slots) = self.slots.get(copy) else { return true };
        let Some(slot) = slots.get(state.picks[copy].len()) else {
            return self.rest_holds(copy, state, shelves) && self.next(copy + 1, state, shelves);
        };
        for place in self.choices(copy, slot, state, shelves) {
            state.steps += 1;
            if state.steps > MOST_STEPS {
                return false;
            }
            let is_new = place.is_some_and(|place| self.take(copy, slot, place, state, shelves));
            if place.is_none() {
                *state.missing.entry(slot.bag).or_default() -= 1;
            }
            state.picks[copy].push(place);
            if self.next(copy, state, shelves) {
                return true;
            }
            state.picks[copy].pop();
            match place {
                None => *state.missing.entry(slot.bag).or_default() += 1,
                Some(place) => {
                    state.left.get_mut(&slot.bag).expect("its shelf")[place] += 1;
                    if is_new {
                        *state.used.entry((slot.role, shelves[slot.bag].prints[place])).or_default() -= 1;
                    }
                }
            }
        }
        false
    }

    /// Takes a print from the shelf; true when this copy did not have it for the role yet.
    fn take(&self, copy: usize, slot: &Slot<'_>, place: usize, state: &mut State, shelves: &[Shelf]) -> bool {
        state.left.get_mut(&slot.bag).expect("its shelf")[place] -= 1;
        let print = shelves[slot.bag].prints[place];
        let is_new =
            !self.here(copy, state, shelves).any(|(role, other)| role == slot.role && other == print);
        if is_new {
            *state.used.entry((slot.role, print)).or_default() += 1;
        }
        is_new
    }

    /// Roles and prints that the copy has so far.
    fn here<'s>(
        &'s self,
        copy: usize,
        state: &'s State,
        shelves: &'s [Shelf],
    ) -> impl Iterator<Item = (RoleId, PrintId)> + 's {
        let picked = self.slots[copy].iter().zip(&state.picks[copy]);
        let picked =
            picked.filter_map(|(slot, place)| Some((slot.role, shelves[slot.bag].prints[(*place)?])));
        self.fixed[copy].iter().copied().chain(picked)
    }

    /// What the slot may take, the print that is hardest to place later first; nothing at all comes last.
    fn choices(&self, copy: usize, slot: &Slot<'_>, state: &State, shelves: &[Shelf]) -> Vec<Option<usize>> {
        let rules = &self.demand.rules[slot.role.0];
        let shelf = &shelves[slot.bag];
        let left = &state.left[&slot.bag];
        // Slots of one bag and copy are alike: they take their prints in order.
        let mut alike =
            self.slots[copy].iter().zip(&state.picks[copy]).filter(|(other, _)| other.bag == slot.bag);
        let from = alike.next_back().map_or(Some(0), |(_, place)| *place);
        let may = |place: &usize| {
            let print = shelf.prints[*place];
            let mut apart = true;
            let mut again = false;
            for (role, other) in self.here(copy, state, shelves).filter(|(_, other)| *other == print) {
                apart &= !rules.different.contains(&role);
                again |= role == slot.role && other == print;
            }
            let used = state.used.get(&(slot.role, print)).copied().unwrap_or(0);
            left[*place] > 0 && apart && (again || rules.at_most.is_none_or(|most| used < most))
        };
        let places = from.map_or(0..0, |from| from..left.len());
        let mut places: Vec<usize> = places.filter(may).collect();
        places.sort_by_cached_key(|&place| self.slack(copy, shelf.prints[place], state, shelves));
        let missing = state.missing[&slot.bag] > 0;
        places.into_iter().map(Some).chain(missing.then_some(None)).collect()
    }

    /// What is left of a print, by bag.
    fn rest_of(&self, print: PrintId, state: &State, shelves: &[Shelf]) -> Vec<(usize, u32)> {
        let of = |(&bag, left): (&usize, &Vec<u32>)| {
            let place = shelves[bag].prints.iter().position(|&other| other == print)?;
            Some((bag, left[place]))
        };
        state.left.iter().filter_map(of).filter(|&(_, count)| count > 0).collect()
    }

    /// By how much the tightest limit on the later copies would be kept if this copy took nothing of the print.
    fn slack(&self, copy: usize, print: PrintId, state: &State, shelves: &[Shelf]) -> i64 {
        let rest = self.rest_of(print, state, shelves);
        let of = |limit: &Limit| match limit {
            Limit::Sum { weights, most } => {
                let weight = |bag: usize| weights.iter().find(|(b, _)| *b == bag).map_or(0, |&(_, w)| w);
                let sum: i64 = rest.iter().map(|&(bag, n)| i64::from(weight(bag)) * i64::from(n)).sum();
                (sum > 0).then(|| i64::from(*most) - sum)
            }
            Limit::FewOf { .. } => None,
        };
        self.after[copy].iter().filter_map(of).min().unwrap_or(i64::MAX)
    }

    /// Do the limits hold for what the copies after this one must take?
    fn rest_holds(&self, copy: usize, state: &State, shelves: &[Shelf]) -> bool {
        let prints: BTreeSet<PrintId> =
            state.left.keys().flat_map(|&bag| shelves[bag].prints.iter().copied()).collect();
        prints.into_iter().all(|print| {
            let rest = self.rest_of(print, state, shelves);
            self.after[copy].iter().all(|limit| limit.kept(&rest))
        })
    }
}
