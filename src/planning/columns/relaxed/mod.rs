//! A bound on the fabric of any complete plan that forgets which pieces belong together: pieces of all sets are cut from all
//! sheets as if every print were alike.
//!
//! Prices of single pieces come from column generation over the kinds of sheet (Gilmore and Gomory 1965), within a box
//! around the best so far (Marsten, Hogan and Blankenship 1975). At any prices the pieces are worth at most what every sheet
//! can be worth beyond its cost (Farley 1990). It is strong where a print holds so much that its plans cannot be listed,
//! which is where the bounds by sets are weak.

use std::sync::Mutex;

use crate::cutting::Stop;
use crate::planning::columns::prices::Prices;
use crate::planning::columns::relaxed::unit::{Unit, units};
use crate::planning::instance::Instance;
use crate::planning::side_by_side;

mod bars;
mod unit;

/// Rounds of prices.
const ROUNDS: usize = 80;
/// Turns of inner loops in all tables, at the usual effort.
const STEPS: u64 = 2_000_000_000;
/// How far from the best prices others are looked for, in thousandths.
const WIDE: u32 = 200;
const NARROW: u32 = 5;
/// The search for prices ends when none nearby promise a bound better by one part in so many. As a function of the prices the
/// bound is concave, so there are none further away either.
const BETTER: i128 = 100_000;

/// The pieces of one size in the sets of one bag: what has a price.
#[derive(Clone, Copy, Debug)]
struct Member {
    bag: usize,
    size: usize,
    /// Pieces in one set.
    each: u32,
}

/// No complete plan opens less weighted fabric.
pub(crate) fn least(instance: &Instance, effort: u32, threads: usize, stop: &Stop) -> i128 {
    let members = members(instance);
    let demands: Vec<u32> =
        members.iter().map(|member| member.each * instance.bags[member.bag].demand()).collect();
    let mut units = units(instance, &members);
    if units.is_empty() {
        return 0;
    }
    let many: Vec<u32> = units.iter().map(|unit| unit.many).collect();
    let dearest = units.iter().map(Unit::cost).max().unwrap_or(1);
    let start = start(instance, &members, &demands, &mut units);
    let mut master = Prices::new(&demands, &many, &vec![dearest; demands.len()]);
    let turns: u64 = units.iter().map(Unit::steps).sum();
    let affordable = STEPS / 100 * u64::from(effort.max(1)) / turns.max(1);
    let rounds = ROUNDS.min(usize::try_from(affordable).unwrap_or(ROUNDS)).max(2);
    let units: Vec<Mutex<Unit>> = units.into_iter().map(Mutex::new).collect();
    let mut best: (i128, Vec<i64>) = (0, start);
    let mut at = best.1.clone();
    let mut near = WIDE;
    for _ in 0..rounds {
        if stop.seen() {
            break;
        }
        let worths =
            side_by_side::each(threads, &units, |unit| unit.lock().expect("no unit panics").worth(&at));
        let demanded = demands.iter().zip(&at).map(|(&n, &price)| i128::from(n) * i128::from(price));
        let given = worths.iter().zip(&many).map(|(worth, &many)| worth.gain.max(0) * i128::from(many));
        let least = demanded.sum::<i128>() - given.sum::<i128>();
        let columns = worths.into_iter().enumerate();
        let columns = columns.map(|(unit, worth)| (worth.counts, unit, worth.cost)).collect();
        if least > best.0 {
            best = (least, at);
            near = (near * 3 / 2).min(WIDE);
        } else {
            near = (near * 4 / 5).max(NARROW);
        }
        master.keep_near(&best.1, near);
        master.add_rows(columns);
        at = master.prices().to_vec();
        if master.promise() - best.0 < best.0 / BETTER {
            break;
        }
    }
    best.0
}

fn members(instance: &Instance) -> Vec<Member> {
    let of = |(bag, needs): (usize, &Vec<(usize, u32)>)| {
        needs.iter().map(move |&(size, each)| Member { bag, size, each }).collect::<Vec<Member>>()
    };
    instance.bags.iter().map(|bag| &bag.needs).enumerate().flat_map(of).collect()
}

/// Prices to begin with: every piece its area at the one rate that bounds best. As a function of the rate the bound is
/// concave and bends where a sheet begins to be worth its cost, so it is best at one of those.
fn start(instance: &Instance, members: &[Member], demands: &[u32], units: &mut [Unit]) -> Vec<i64> {
    let area = |member: &Member| {
        let size = &instance.sizes[member.size];
        size.width.by(size.height).square_ticks()
    };
    let areas: Vec<i64> = members.iter().map(area).collect();
    let all: i128 = demands.iter().zip(&areas).map(|(&n, &area)| i128::from(n) * i128::from(area)).sum();
    // (cost of a sheet, area of it that can be used, how many)
    let used: Vec<(i128, i128, i128)> = units
        .iter_mut()
        .map(|unit| (i128::from(unit.cost()), unit.most(&areas), i128::from(unit.many)))
        .filter(|&(_, area, _)| area > 0)
        .collect();
    let bound = |&(cost, area, _): &(i128, i128, i128)| {
        let given = |&(c, a, n): &(i128, i128, i128)| (a * cost / area - c).max(0) * n;
        all * cost / area - used.iter().map(given).sum::<i128>()
    };
    let Some((cost, area, _)) = used.iter().max_by_key(|rate| bound(rate)) else { return areas };
    let price = |&one: &i64| i64::try_from(i128::from(one) * cost / area).unwrap_or(i64::MAX / 1_000_000);
    areas.iter().map(price).collect()
}
