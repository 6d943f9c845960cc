//! What `at-most` and `different` let one print serve.
//!
//! Both speak of one print in the copies of one block: in no copy does it serve two roles that differ, and only so many
//! copies take it for a role. Whoever gives a print so much of each bag has thereby chosen, copy by copy, for which
//! roles the copy takes it; and all that it serves of a bag lies in copies chosen for the bag's role. Whether there is
//! such a choice is tried out: block by block, and of a block those roles together that differ, directly or by way of
//! others. What the pieces need and what other prints serve is left aside, so "no" is a proof, for this much and for
//! anything more.

use std::collections::{BTreeMap, BTreeSet};

use super::governed::{Copy, Governed};
use super::work::Work;

/// Of more roles that hang together nothing is said.
const MOST_ROLES: usize = 12;

/// Limits on counts of bags.
pub(super) struct Limits {
    parts: Vec<Part>,
}

/// Roles that hang together, in one block.
struct Part {
    roles: Vec<Ruled>,
    bags: Vec<Counted>,
    /// By copy, by bag: how many of its things have a piece there.
    copies: Vec<Vec<u64>>,
    /// By the counts of its bags.
    known: BTreeMap<Vec<u64>, bool>,
}

struct Ruled {
    at_most: Option<u64>,
    /// The roles it differs from, a bit for each.
    apart: u32,
}

struct Counted {
    /// Where its count stands.
    at: usize,
    role: usize,
    /// How many there are.
    all: u64,
    wide: bool,
}

impl Limits {
    /// Limits on the counts of `bags`, in their order: how many there are of each, and what the rules say of it.
    pub(super) fn new<'a>(bags: impl Iterator<Item = (u64, Option<&'a Governed>)>) -> Limits {
        let bags: Vec<(usize, u64, &Governed)> = bags
            .enumerate()
            .filter_map(|(at, (all, governed))| governed.map(|governed| (at, all, governed)))
            .collect();
        let blocks: BTreeSet<&str> =
            bags.iter().flat_map(|bag| bag.2.copies.keys().map(|(block, _)| block.as_str())).collect();
        let parts = blocks.into_iter().flat_map(|block| {
            let here: Vec<_> =
                bags.iter().filter(|bag| bag.2.copies.keys().any(|(b, _)| b == block)).collect();
            together(here.iter().map(|bag| bag.2))
                .into_iter()
                .filter(|roles| roles.len() <= MOST_ROLES)
                .map(|roles| Part::new(block, &roles, &here))
                .collect::<Vec<Part>>()
        });
        Limits { parts: parts.collect() }
    }

    /// False when the rules do not let one print serve so many of each bag, those without a count left aside; `None`
    /// when the work is done.
    pub(super) fn allow(&mut self, counts: &[u64], work: &mut Work<'_>) -> Option<bool> {
        for part in &mut self.parts {
            if !part.allows(counts, work)? {
                return Some(false);
            }
        }
        Some(true)
    }
}

/// The roles of these bags, in groups that have no `different` between them.
fn together<'a>(bags: impl Iterator<Item = &'a Governed>) -> Vec<BTreeSet<&'a str>> {
    let mut groups: Vec<BTreeSet<&str>> = Vec::new();
    // Roles without a bag here tie nothing together.
    let known: BTreeMap<&str, &BTreeSet<String>> = bags.map(|bag| (&*bag.role, &bag.different)).collect();
    for (&role, different) in &known {
        let tied = |group: &BTreeSet<&str>| group.iter().any(|other| different.contains(*other));
        let (joined, apart): (Vec<_>, Vec<_>) = groups.into_iter().partition(tied);
        groups = apart;
        groups.push(joined.into_iter().flatten().chain([role]).collect());
    }
    groups
}

impl Part {
    fn new(block: &str, names: &BTreeSet<&str>, bags: &[&(usize, u64, &Governed)]) -> Part {
        let names: Vec<&str> = names.iter().copied().collect();
        let bags: Vec<_> = bags.iter().filter(|bag| names.contains(&&*bag.2.role)).collect();
        let rules = |role: &&str| {
            let governed = bags.iter().find(|bag| bag.2.role == *role).expect("the role is one of a bag").2;
            let apart = (0..names.len()).filter(|&other| governed.different.contains(names[other]));
            Ruled { at_most: governed.at_most, apart: apart.map(|other| 1 << other).sum() }
        };
        let copies: BTreeSet<&Copy> =
            bags.iter().flat_map(|bag| bag.2.copies.keys()).filter(|(b, _)| b == block).collect();
        let things =
            |copy: &Copy| bags.iter().map(|bag| bag.2.copies.get(copy).copied().unwrap_or(0)).collect();
        Part {
            roles: names.iter().map(rules).collect(),
            copies: copies.into_iter().map(things).collect(),
            bags: bags
                .iter()
                .map(|&&&(at, all, governed)| Counted {
                    at,
                    role: names.iter().position(|name| *name == governed.role).expect("it is one of them"),
                    all,
                    wide: governed.wide,
                })
                .collect(),
            known: BTreeMap::new(),
        }
    }

    fn allows(&mut self, counts: &[u64], work: &mut Work<'_>) -> Option<bool> {
        let counts: Vec<u64> = self.bags.iter().map(|bag| counts.get(bag.at).copied().unwrap_or(0)).collect();
        if let Some(&known) = self.known.get(&counts) {
            return Some(known);
        }
        let allows = Choice::new(self, &counts).goes_on(0, work)?;
        self.known.insert(counts, allows);
        Some(allows)
    }
}

/// For which roles each copy takes the print.
struct Choice<'a> {
    part: &'a Part,
    /// By copy: the roles for which it takes the print in any case, a bit for each.
    forced: Vec<u32>,
    /// By copy, by bag: things in this copy and those after it.
    ahead: Vec<Vec<u64>>,
    /// By bag: how many still need a copy.
    left: Vec<u64>,
    /// By role: how many copies take the print for it.
    taken: Vec<u64>,
    /// What was found to lead nowhere: copy, `left` and `taken`.
    dead: BTreeSet<(usize, Vec<u64>, Vec<u64>)>,
}

impl<'a> Choice<'a> {
    fn new(part: &'a Part, counts: &[u64]) -> Choice<'a> {
        let forced = part.copies.iter().map(|things| {
            // More of a bag than have no piece here.
            let bags = part.bags.iter().zip(counts).zip(things);
            bags.filter(|((bag, count), things)| **count > bag.all.saturating_sub(**things))
                .fold(0, |roles, ((bag, _), _)| roles | 1 << bag.role)
        });
        let mut ahead = vec![vec![0; part.bags.len()]];
        for things in part.copies.iter().rev() {
            let after = &ahead[ahead.len() - 1];
            ahead.push(after.iter().zip(things).map(|(after, things)| after + things).collect());
        }
        ahead.reverse();
        // A thing in several copies needs all of them: what is known of it is where it is forced.
        let left = part.bags.iter().zip(counts).map(|(bag, &count)| if bag.wide { 0 } else { count });
        Choice {
            part,
            forced: forced.collect(),
            ahead,
            left: left.collect(),
            taken: vec![0; part.roles.len()],
            dead: BTreeSet::new(),
        }
    }

    /// Is there a choice for this copy and those after it?
    fn goes_on(&mut self, copy: usize, work: &mut Work<'_>) -> Option<bool> {
        work.take(1)?;
        if self.left.iter().zip(&self.ahead[copy]).any(|(left, ahead)| left > ahead) {
            return Some(false);
        }
        if copy == self.part.copies.len() {
            return Some(true);
        }
        let at = (copy, self.left.clone(), self.taken.clone());
        if self.dead.contains(&at) {
            return Some(false);
        }
        let part = self.part;
        let things = &part.copies[copy];
        let of_use = part.bags.iter().enumerate().filter(|&(bag, _)| self.left[bag] > 0 && things[bag] > 0);
        let of_use = of_use.fold(0u32, |roles, (_, bag)| roles | 1 << bag.role) & !self.forced[copy];
        // All parts of what is of use, the whole first.
        let mut more = of_use;
        loop {
            work.take(1)?;
            let roles = more | self.forced[copy];
            if self.may_take(roles) {
                self.take(copy, roles);
                if self.goes_on(copy + 1, work)? {
                    return Some(true);
                }
                (self.left, self.taken) = (at.1.clone(), at.2.clone());
            }
            if more == 0 {
                break;
            }
            more = (more - 1) & of_use;
        }
        self.dead.insert(at);
        Some(false)
    }

    fn may_take(&self, roles: u32) -> bool {
        let all = self.part.roles.iter().enumerate().filter(|(role, _)| roles >> role & 1 == 1);
        all.into_iter().all(|(role, ruled)| {
            ruled.apart & roles == 0 && ruled.at_most.is_none_or(|most| self.taken[role] < most)
        })
    }

    fn take(&mut self, copy: usize, roles: u32) {
        for (bag, counted) in self.part.bags.iter().enumerate() {
            if roles >> counted.role & 1 == 1 {
                self.left[bag] = self.left[bag].saturating_sub(self.part.copies[copy][bag]);
            }
        }
        for (role, ruled) in self.part.roles.iter().enumerate() {
            // Only those that are counted tell one state from another.
            self.taken[role] += u64::from(roles >> role & 1 == 1 && ruled.at_most.is_some());
        }
    }
}
