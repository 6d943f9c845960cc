//! The aim `look` against trying every print for every set. Every piece takes a whole 10-inch square, so that counting squares is
//! all there is to cutting, and every complete plan opens the same fabric.

mod table;

use cutcloth::looks::{Figures, Sight, Thresholds, Touches, measure, meetings};
use cutcloth::pattern::demand::Demand;
use cutcloth::pattern::{Block, Count, Matching, PieceLine, Role, RoleId, Shape};
use cutcloth::planning::Verdict;
use cutcloth::planning::rules::Aim;
use cutcloth::stash::PrintId;
use rand::rngs::SmallRng;
use rand::{Rng, SeedableRng};
use table::{Table, e};

/// Greys and two hues, some of which blend.
const COLORS: [&str; 6] = ["#ffffff", "#f2f0ee", "#8a8f94", "#1d3557", "#20304a", "#c0392b"];

fn random_table(random: &mut SmallRng) -> Table {
    let mut table = Table::default();
    let make = random.random_range(2..=3);
    let roles: usize = random.random_range(1..=2);
    let sets = make as usize * roles;
    for print in 0..random.random_range(sets..=sets + 1) {
        let lot = table.lot(&format!("print {print}"), "10-inch square", 80, 80, random.random_range(1..=2));
        lot.color = Some(COLORS[random.random_range(0..COLORS.len())].into());
    }
    let lot = table.lot("sand", "10-inch square", 80, 80, make);
    lot.color = Some(COLORS[random.random_range(0..COLORS.len())].into());
    let mut block = Block { name: "Rock pool".into(), make, ..Block::default() };
    for index in 0..=roles {
        let mut role = Role { name: format!("role {index}"), ..Role::default() };
        if index == 1 && roles == 2 && random.random_bool(0.3) {
            role.rules.different = vec![RoleId(0)];
        }
        table.pattern.roles.push(role);
        let loose = index < roles && random.random_bool(0.3);
        block.pieces.push(PieceLine {
            label: format!("piece {index}"),
            role: RoleId(index),
            width: e(80),
            height: e(80),
            count: Count::PerCopy(1),
            shape: Shape::Rectangle,
            matching: match (index == roles, loose) {
                (true, _) => Matching::Quilt,
                (false, true) => Matching::Piece,
                (false, false) => Matching::Block,
            },
            line: 0,
        });
    }
    table.pattern.blocks.push(block);
    table.rules.alternatives = false;
    table.rules.conflicts = false;
    table.rules.aim = Aim::Look;
    table
}

/// What a choice counts: a meeting of one print with itself 1000, a blend 100, alike in value or not known 10, two copies alike 1, all
/// in thousandths; and after that pairs of loose pieces alike, less the prints used.
fn worth(figures: &Figures) -> (i64, i64) {
    let tally = figures.tally;
    let count = |number: u64| i64::try_from(number).unwrap();
    let first = tally.same * 1000 + tally.blends * 100 + (tally.alike + tally.not_known) * 10;
    let after = count(figures.pieces_alike) - count(figures.prints as u64);
    (first + count(figures.copies_alike) * 1000, after)
}

struct Oracle<'a> {
    table: &'a Table,
    demand: &'a Demand,
    touches: Touches,
    sight: Sight,
    tried: u32,
}

impl Oracle<'_> {
    fn different(&self, prints: &[Option<PrintId>]) -> bool {
        self.demand.pieces.iter().all(|one| {
            self.demand.pieces.iter().all(|other| {
                let rule = self.demand.rules[one.role.0].different.contains(&other.role);
                !(rule && one.copy == other.copy && prints[one.set.0] == prints[other.set.0])
            })
        })
    }

    /// The least that any choice counts.
    fn least(&mut self, prints: &mut Vec<Option<PrintId>>, left: &mut [u32]) -> Option<(i64, i64)> {
        let Some(set) = self.demand.sets.get(prints.len()) else {
            self.tried += 1;
            let figures = measure(&self.touches, self.demand, prints, &self.sight);
            return self.different(prints).then(|| worth(&figures));
        };
        let takes = u32::try_from(set.pieces.len()).unwrap();
        let mut best: Option<(i64, i64)> = None;
        for print in 0..left.len() {
            if left[print] < takes {
                continue;
            }
            left[print] -= takes;
            prints.push(Some(PrintId(print)));
            best = best.into_iter().chain(self.least(prints, left)).min();
            prints.pop();
            left[print] += takes;
        }
        best
    }
}

#[test]
fn no_choice_of_prints_looks_better() {
    let mut random = SmallRng::seed_from_u64(16);
    let (mut fitting, mut better) = (0, 0);
    for number in 0..40 {
        let table = random_table(&mut random);
        let demand = table.demand();
        let touches = Touches::of(&meetings(&table.pattern), &demand);
        let sight = Sight::of(&table.stash, Thresholds::default());
        let mut left: Vec<u32> = vec![0; table.stash.prints.len()];
        table.stash.lots.iter().for_each(|lot| left[lot.print.0] += lot.count);
        let mut oracle = Oracle { table: &table, demand: &demand, touches, sight, tried: 0 };
        let least = oracle.least(&mut Vec::new(), &mut left);
        let outcome = oracle.table.plan();
        assert_eq!(outcome.verdict == Verdict::Fits, least.is_some(), "case {number}");
        let Some(least) = least else { continue };
        let of =
            |prints: &[Option<PrintId>]| worth(&measure(&oracle.touches, &demand, prints, &oracle.sight));
        assert!(oracle.different(&outcome.plan.prints), "case {number} breaks a rule");
        assert_eq!(of(&outcome.plan.prints), least, "case {number} of {} choices: {table:?}", oracle.tried);
        let mut saving = table.clone();
        saving.rules.aim = Aim::Save;
        let saved = saving.plan();
        assert_eq!(saved.fabric, outcome.fabric, "case {number}");
        fitting += 1;
        better += u32::from(of(&saved.plan.prints) > least);
    }
    assert!(fitting > 20 && better > 10, "{fitting} fit, {better} look better");
}
