//! The limits against all choices of things in small blocks, tried one by one.

use std::collections::{BTreeMap, BTreeSet};

use rand::rngs::SmallRng;
use rand::{Rng, SeedableRng};

use super::governed::{Copy, Governed};
use super::limits::Limits;
use super::work::Work;

/// One thing that a print may serve: its bag, and the copies it lies in.
type Thing = (usize, Vec<Copy>);

struct Small {
    bags: Vec<(u64, Governed)>,
    things: Vec<Thing>,
}

fn copy(block: usize, number: u64) -> Copy {
    (["Urchin", "Shell"][block].to_owned(), number)
}

/// Up to four roles in one or two blocks; a role may have several bags, and one bag of a single thing in many copies.
fn small(random: &mut SmallRng) -> Small {
    let roles = random.random_range(1..5);
    let name = |role: usize| format!("R{role}");
    let mut different = vec![BTreeSet::new(); roles];
    for one in 0..roles {
        for other in 0..one {
            if random.random_bool(0.5) {
                different[one].insert(name(other));
                different[other].insert(name(one));
            }
        }
    }
    let at_most: Vec<Option<u64>> =
        (0..roles).map(|_| random.random_bool(0.4).then(|| random.random_range(1..3))).collect();
    let mut small = Small { bags: Vec::new(), things: Vec::new() };
    let makes: Vec<u64> = (0..random.random_range(1..3)).map(|_| random.random_range(1..4)).collect();
    for role in 0..roles {
        let copies: Vec<Copy> = makes
            .iter()
            .enumerate()
            .flat_map(|(block, &make)| (1..=make).map(move |n| copy(block, n)))
            .collect();
        let mut add = |things: Vec<Vec<Copy>>| {
            if things.is_empty() || small.things.len() + things.len() > 11 {
                return;
            }
            let mut held: BTreeMap<Copy, u64> = BTreeMap::new();
            things.iter().flatten().for_each(|copy| *held.entry(copy.clone()).or_insert(0) += 1);
            let wide = things.iter().any(|copies| copies.len() > 1);
            let governed = Governed {
                role: name(role),
                at_most: at_most[role],
                different: different[role].clone(),
                copies: held,
                wide,
            };
            let bag = small.bags.len();
            small.bags.push((things.len() as u64, governed));
            small.things.extend(things.into_iter().map(|copies| (bag, copies)));
        };
        if random.random_bool(0.2) {
            add(vec![copies.iter().filter(|_| random.random_bool(0.7)).cloned().collect()]);
            continue;
        }
        for block in 0..makes.len() {
            for _ in 0..random.random_range(1..3) {
                let here = copies.iter().filter(|(name, _)| *name == copy(block, 1).0);
                let things = here.flat_map(|copy| vec![vec![copy.clone()]; random.random_range(0..3)]);
                add(things.collect());
            }
        }
    }
    small
}

/// Do the rules let one print serve these things? As a person would look: copy by copy.
fn obeys(small: &Small, chosen: u32) -> bool {
    let mut here: BTreeMap<&Copy, BTreeSet<&str>> = BTreeMap::new();
    let mut rules: BTreeMap<&str, &Governed> = BTreeMap::new();
    for (index, (bag, copies)) in small.things.iter().enumerate() {
        let governed = &small.bags[*bag].1;
        rules.insert(&governed.role, governed);
        if chosen >> index & 1 == 1 {
            copies.iter().for_each(|copy| {
                here.entry(copy).or_default().insert(&governed.role);
            });
        }
    }
    let differ = here.values().all(|roles| {
        roles.iter().all(|role| roles.iter().all(|other| !rules[role].different.contains(*other)))
    });
    let mut taken: BTreeMap<(&str, &str), u64> = BTreeMap::new();
    for ((block, _), roles) in &here {
        roles.iter().for_each(|role| *taken.entry((block, role)).or_insert(0) += 1);
    }
    differ && taken.iter().all(|((_, role), &taken)| rules[role].at_most.is_none_or(|most| taken <= most))
}

#[test]
fn limits_refuse_exactly_what_no_choice_of_things_gives() {
    let mut random = SmallRng::seed_from_u64(31);
    let (mut allowed, mut refused) = (0, 0);
    for round in 0..300 {
        let small = small(&mut random);
        let possible: BTreeSet<Vec<u64>> = (0..1u32 << small.things.len())
            .filter(|&chosen| obeys(&small, chosen))
            .map(|chosen| {
                let mut counts = vec![0; small.bags.len()];
                let chosen = small.things.iter().enumerate().filter(|(index, _)| chosen >> index & 1 == 1);
                chosen.for_each(|(_, (bag, _))| counts[*bag] += 1);
                counts
            })
            .collect();
        let mut limits = Limits::new(small.bags.iter().map(|(all, governed)| (*all, Some(governed))));
        let mut counts = vec![0; small.bags.len()];
        loop {
            let allows =
                limits.allow(&counts, &mut Work::steps(1_000_000, &|| false)).expect("it is little work");
            assert_eq!(allows, possible.contains(&counts), "round {round}: {counts:?} of {:#?}", small.bags);
            (allowed, refused) = (allowed + u32::from(allows), refused + u32::from(!allows));
            let Some(next) = (0..counts.len()).find(|&bag| counts[bag] < small.bags[bag].0) else { break };
            counts[..next].fill(0);
            counts[next] += 1;
        }
    }
    assert!(allowed > 1_000 && refused > 1_000, "{allowed} are allowed, {refused} refused");
}

#[test]
fn several_things_in_many_copies_are_known_only_where_too_many_are_served() {
    let copies = BTreeMap::from([(copy(0, 1), 2), (copy(0, 2), 1)]);
    let wide = |role: &str, other: &str| Governed {
        role: role.to_owned(),
        at_most: None,
        different: BTreeSet::from([other.to_owned()]),
        copies: copies.clone(),
        wide: true,
    };
    let bags = [wide("R0", "R1"), wide("R1", "R0")];
    let mut limits = Limits::new(bags.iter().map(|governed| (2, Some(governed))));
    let mut allow = |counts: [u64; 2]| {
        limits.allow(&counts, &mut Work::steps(1_000, &|| false)).expect("it is little work")
    };
    assert!(allow([2, 0]) && allow([0, 1]));
    // One of each lies in the first copy, whichever they are.
    assert!(!allow([1, 1]));
}

#[test]
fn limits_that_take_too_much_work_are_not_known() {
    let copies: BTreeMap<Copy, u64> = (1..20).map(|n| (copy(0, n), 1)).collect();
    let of = |role: usize| Governed {
        role: format!("R{role}"),
        at_most: Some(7),
        different: (0..6).filter(|other| *other != role).map(|other| format!("R{other}")).collect(),
        copies: copies.clone(),
        wide: false,
    };
    let bags: Vec<Governed> = (0..6).map(of).collect();
    let mut limits = Limits::new(bags.iter().map(|governed| (19, Some(governed))));
    assert_eq!(limits.allow(&[4; 6], &mut Work::steps(1_000, &|| false)), None);
    assert_eq!(limits.allow(&[4; 6], &mut Work::steps(10_000_000, &|| false)), Some(false));
    assert_eq!(limits.allow(&[3; 6], &mut Work::steps(10_000_000, &|| false)), Some(true));
}
