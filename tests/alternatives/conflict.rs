//! What together does not fit: the things named are impossible with everything else given up, and without any
//! one of them the others fit.

use std::collections::BTreeSet;

use cutcloth::fabric::Cut;
use cutcloth::pattern::Matching;
use cutcloth::pattern::rules::{Choice, Waived};
use cutcloth::pattern::{BlockId, RoleId};
use cutcloth::placements::Placements;
use cutcloth::planning::{Conflict, Outcome, Stop, Thing, Verdict, plan};
use cutcloth::stash::LotId;
use rand::rngs::SmallRng;
use rand::{Rng, SeedableRng};

use crate::choice;
use crate::table::Table;

/// A quilt, a stash and decisions.
type Case = (Table, Placements);

/// As for the choice of alternatives, with cuts named for roles, prints with an up, and rules between fabrics.
fn draw(random: &mut SmallRng) -> Case {
    let (mut table, placements) = choice::draw(random);
    for lot in &mut table.stash.lots {
        lot.directional = lot.print.0 == 0 && random.random_range(0..2) == 0;
    }
    let up = table.stash.lots.iter().any(|lot| lot.print.0 == 0 && lot.directional);
    for lot in table.stash.lots.iter_mut().filter(|lot| lot.print.0 == 0) {
        lot.directional = up;
    }
    let roles = table.pattern.roles.len();
    // Now and then a block of two roles, so that they can be asked to differ.
    if roles > 1 && random.random_range(0..2) == 0 {
        let line = table.pattern.blocks[1].pieces[0].clone();
        table.pattern.blocks[0].pieces.push(line);
        if random.random_range(0..2) == 0 {
            table.pattern.roles[0].rules.different = vec![RoleId(1)];
        }
    }
    for role in &mut table.pattern.roles {
        match random.random_range(0..8) {
            0 => role.from = vec![Cut::find("10-inch square").expect("a cut")],
            1 => role.rules.at_most = Some(1),
            2 => role.rules.only = Choice { prints: vec!["print 0".into()], ..Choice::default() },
            3 => role.rules.never = Choice { prints: vec!["print 1".into()], ..Choice::default() },
            _ => {}
        }
    }
    (table, placements)
}

fn planned((table, placements): &Case) -> Outcome {
    plan(&table.stash, &table.pattern, placements, &table.rules, &Stop::never(), &mut |_| {})
}

/// Everything that can be given up, listed for the test alone.
fn all((table, placements): &Case) -> BTreeSet<Thing> {
    let mut all = BTreeSet::new();
    for (index, block) in table.pattern.blocks.iter().enumerate() {
        for line in &block.pieces {
            let (block, role) = (BlockId(index), line.role);
            all.insert(Thing::Asked { block, role });
            all.insert(Thing::Matching { block: Some(block), role });
            all.insert(Thing::Matching { block: None, role });
        }
    }
    for (index, role) in table.pattern.roles.iter().enumerate() {
        let id = RoleId(index);
        all.insert(Thing::From { role: id });
        for rule in [Waived::AtMost(id), Waived::Only(id), Waived::Never(id)] {
            all.insert(Thing::Rule { rule });
        }
        for other in &role.rules.different {
            all.insert(Thing::Rule { rule: Waived::Different(id, *other) });
        }
    }
    for (index, lot) in table.stash.lots.iter().enumerate() {
        all.insert(Thing::Kept { lot: LotId(index) });
        all.insert(Thing::Up { print: lot.print });
    }
    all.extend((0..placements.rows.len()).map(|row| Thing::Decided { row }));
    all
}

/// The case without these things.
fn without((table, placements): &Case, things: &BTreeSet<Thing>) -> Case {
    let (mut table, mut less) = (table.clone(), placements.clone());
    less.rows.clear();
    for (row, placement) in placements.rows.iter().enumerate() {
        if !things.contains(&Thing::Decided { row }) {
            less.rows.push(placement.clone());
        }
    }
    for thing in things {
        match *thing {
            Thing::Asked { block, role } => {
                table.pattern.blocks[block.0].pieces.retain(|line| line.role != role);
            }
            Thing::Matching { block, role } => {
                for (index, of) in table.pattern.blocks.iter_mut().enumerate() {
                    for line in of.pieces.iter_mut().filter(|line| line.role == role) {
                        let named = match line.matching {
                            Matching::Block => block == Some(BlockId(index)),
                            Matching::Quilt => block.is_none(),
                            Matching::Piece => false,
                        };
                        if named {
                            line.matching = Matching::Piece;
                        }
                    }
                }
            }
            Thing::From { role } => table.pattern.roles[role.0].from.clear(),
            Thing::Kept { lot } => table.stash.lots[lot.0].keep = false,
            Thing::Up { print } => {
                for lot in table.stash.lots.iter_mut().filter(|lot| lot.print == print) {
                    lot.directional = false;
                }
            }
            Thing::Rule { rule } => match rule {
                Waived::AtMost(role) => table.pattern.roles[role.0].rules.at_most = None,
                Waived::Only(role) => table.pattern.roles[role.0].rules.only = Choice::default(),
                Waived::Never(role) => table.pattern.roles[role.0].rules.never = Choice::default(),
                Waived::Different(one, other) => {
                    table.pattern.roles[one.0].rules.different.retain(|role| *role != other);
                    table.pattern.roles[other.0].rules.different.retain(|role| *role != one);
                }
            },
            Thing::Decided { .. } => {}
        }
    }
    (table, less)
}

/// The sort of a thing, for the test to know what it has seen.
fn sort(thing: &Thing) -> &'static str {
    match thing {
        Thing::Asked { .. } => "asked",
        Thing::Matching { .. } => "matching",
        Thing::From { .. } => "from",
        Thing::Decided { .. } => "decided",
        Thing::Kept { .. } => "kept",
        Thing::Rule { .. } => "rule",
        Thing::Up { .. } => "up",
    }
}

#[test]
fn a_conflict_is_impossible_alone_and_fits_without_any_one_of_its_things() {
    let mut random = SmallRng::seed_from_u64(31);
    let (mut cases, mut minimal, mut whole, mut sorts) = (0, 0, 0, BTreeSet::new());
    for number in 0..700 {
        let mut case = draw(&mut random);
        case.0.rules.alternatives = false;
        let outcome = planned(&case);
        if outcome.verdict != Verdict::Impossible {
            assert!(outcome.conflicts.is_empty(), "case {number}");
            continue;
        }
        cases += 1;
        assert_eq!(outcome.reasons[0].code, "conflict", "case {number}");
        case.0.rules.conflicts = false;
        let all = all(&case);
        for (index, conflict) in outcome.conflicts.iter().enumerate() {
            let Conflict { things, minimal: is_minimal, whole: is_whole } = conflict;
            let named: BTreeSet<Thing> = things.iter().copied().collect();
            assert_eq!(named.len(), things.len(), "case {number}: {things:?}");
            let others: BTreeSet<Thing> = all.difference(&named).copied().collect();
            let alone = planned(&without(&case, &others));
            assert_eq!(alone.verdict, Verdict::Impossible, "case {number}: {things:?} alone");
            if *is_minimal {
                minimal += 1;
                for thing in things {
                    let mut one_less = others.clone();
                    one_less.insert(*thing);
                    let fits = planned(&without(&case, &one_less));
                    assert_eq!(fits.verdict, Verdict::Fits, "case {number}: {things:?} without {thing:?}");
                }
            }
            if *is_whole == Verdict::Fits && index == 0 {
                whole += 1;
                for thing in things {
                    let fits = planned(&without(&case, &BTreeSet::from([*thing])));
                    assert_eq!(fits.verdict, Verdict::Fits, "case {number}: whole without {thing:?}");
                }
            }
            sorts.extend(things.iter().map(sort));
        }
    }
    println!("{cases} impossible, {minimal} minimal, {whole} whole");
    assert!(cases > 300 && whole > 100, "{cases} impossible, {whole} fit without any one thing");
    // Tiny cases are always shown minimal.
    assert!(minimal >= cases, "{minimal} of {cases}");
    assert_eq!(sorts.len(), 7, "{sorts:?}");
}
