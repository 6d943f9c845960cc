//! What no complete plan that opens as little fabric can better: how much its useful leftovers are worth, and how few
//! layouts it is cut in. Both hold whatever the search did; neither need be reached.

use std::collections::{BTreeMap, BTreeSet};

use crate::cutting::{self, Fit, Kind, Sheet, Stop, Work};
use crate::fabric::Family;
use crate::length::Length;
use crate::planning::finish::preferences::{PreferenceBounds, in_inches};
use crate::planning::instance::holding::SheetKind;
use crate::planning::instance::{Bag, Class, Instance};
use crate::planning::rules::Rules;

/// Needs compared two and two, at most: a hundredth of a second.
const MOST_NEEDS: usize = 32;
/// Steps for the question whether two needs go on one sheet together.
const PAIR_STEPS: u64 = 20_000;

/// Both bounds for a plan that opens `opened` weighted fabric. `least` gives, by part, what it opens at least, so that
/// no other part can have that.
pub(crate) fn beyond(
    parts: &[Instance],
    least: &[i128],
    opened: i128,
    rules: &Rules,
    stop: &Stop,
) -> PreferenceBounds {
    let all = least.iter().sum::<i128>().min(opened);
    let most =
        parts.iter().zip(least).map(|(part, least)| leftovers(part, opened - all + least, rules.useful_side));
    PreferenceBounds { leftovers: Some(in_inches(most.sum())), layouts: Some(layouts(parts, opened, stop)) }
}

/// The most that useful leftovers can be worth when no more than `opened` weighted fabric is opened, in cubic ticks.
///
/// What is not a piece is at most the area that can be had for so much, less that of all pieces. On a sheet from which
/// at least one piece is cut, no leftover has a shorter side than that piece leaves it; so the uncut area is worth most
/// on the sheets where that side is longest.
fn leftovers(part: &Instance, opened: i128, useful_side: Length) -> i128 {
    let mut sheets: Vec<(i128, i128)> = Vec::new(); // cost and area, of all alike together
    let mut rooms: Vec<(i128, i128)> = Vec::new(); // shorter side and uncut area
    let pieces: i128 = part.bags.iter().map(|bag| i128::from(bag.area) * i128::from(bag.demand())).sum();
    for class in &part.classes {
        for kind in &class.sheets {
            let many = i128::from(kind.copies) * i128::from(class.many());
            let area = i128::from(kind.area());
            sheets.push((i128::from(kind.cost(kind.sheet.height)) * many, area * many));
            if kind.cut.entry().family != Family::Yardage
                && let Some((side, least)) = longest_side(part, class, kind)
                && side >= useful_side
            {
                rooms.push((i128::from(side.ticks()), (area - least) * many));
            }
        }
    }
    // Cheapest first by area; cross-multiplied, so exact.
    sheets.sort_by(|a, b| (a.0 * b.1).cmp(&(b.0 * a.1)).then_with(|| a.cmp(b)));
    let (mut left, mut had) = (opened, 0);
    for (cost, area) in sheets {
        if cost <= left {
            left -= cost;
            had += area;
        } else {
            had += area * left / cost + 1; // rounded up
            break;
        }
    }
    let mut uncut = (had - pieces).max(0);
    rooms.sort_unstable_by(|a, b| b.cmp(a));
    let mut worth = 0;
    for (side, area) in rooms {
        let here = area.min(uncut);
        worth += side * here;
        uncut -= here;
    }
    worth
}

/// The longest that the shorter side of a leftover can be on a sheet that yields a piece, and the area of the least piece.
fn longest_side(part: &Instance, class: &Class, kind: &SheetKind) -> Option<(Length, i128)> {
    let kinds = part.kinds(class.turn);
    let allowed = part.bags.iter().zip(&class.allowed).filter(|&(_, &yes)| yes).map(|(bag, _)| bag);
    let sizes: BTreeSet<usize> = allowed.flat_map(|bag| bag.needs.iter().map(|&(size, _)| size)).collect();
    let fitting: Vec<Kind> = sizes
        .into_iter()
        .filter(|&size| part.size_allowed(size, kind) && kinds[size].fits(kind.sheet))
        .map(|size| kinds[size])
        .collect();
    let width = |kind: &Kind| if kind.turn { kind.width.min(kind.height) } else { kind.width };
    let height = |kind: &Kind| if kind.turn { kind.width.min(kind.height) } else { kind.height };
    let (w, h) = (fitting.iter().map(width).min()?, fitting.iter().map(height).min()?);
    let least = fitting.iter().map(|kind| kind.width.by(kind.height).square_ticks()).min()?;
    let Sheet { width, height } = kind.sheet;
    // It lies beside the piece or above it.
    let side = (width - w).min(height).max(width.min(height - h));
    Some((side, i128::from(least)))
}

/// Something that lies on one sheet in every complete plan, and the sizes of sheet that may be.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Need {
    /// In square ticks.
    area: i64,
    pieces: BTreeMap<Kind, u32>,
    sheets: BTreeSet<(Length, Length)>,
}

/// No complete plan that opens at most `opened` is cut in fewer layouts: needs of which no two go on one sheet together,
/// with places for both, take a layout each (a clique, found greedily).
fn layouts(parts: &[Instance], opened: i128, stop: &Stop) -> usize {
    // Where any piece may be turned somewhere, all are taken to: that only makes the bound lower.
    let turn = parts
        .iter()
        .any(|part| part.classes.iter().any(|class| class.turn) || part.sizes.iter().any(|size| size.free));
    let mut needs: Vec<Need> = parts.iter().flat_map(|part| needs_of(part, turn)).collect();
    needs.extend(crowded(parts, opened, turn));
    needs.retain(|need| !need.sheets.is_empty());
    needs.sort_unstable_by(|a, b| b.cmp(a));
    needs.dedup();
    needs.truncate(MOST_NEEDS);
    let apart: Vec<Vec<bool>> = (0..needs.len())
        .map(|one| {
            (0..needs.len()).map(|other| other < one && apart(&needs[one], &needs[other], stop)).collect()
        })
        .collect();
    let apart = |one: usize, other: usize| apart[one.max(other)][one.min(other)];
    let clique = |first: usize| {
        let mut clique = vec![first];
        for next in (0..needs.len()).filter(|&next| next != first) {
            if clique.iter().all(|&member| apart(member, next)) {
                clique.push(next);
            }
        }
        clique.len()
    };
    (0..needs.len()).map(clique).max().unwrap_or(0)
}

/// A whole bag where every print that may serve it has one sheet, else each of its pieces by itself.
fn needs_of(part: &Instance, turn: bool) -> Vec<Need> {
    let mut all = Vec::new();
    for (index, bag) in part.bags.iter().enumerate() {
        let classes: Vec<&Class> = part.classes.iter().filter(|class| class.allowed[index]).collect();
        if classes.iter().all(|class| class.sheet_count() == 1) {
            all.push(need(part, &bag.needs, turn, &classes));
        } else {
            all.extend(bag.needs.iter().map(|&(size, _)| need(part, &[(size, 1)], turn, &classes)));
        }
    }
    all
}

/// Of each size: some sheet holds at least the mean of those that can be had for so much (the pigeonhole).
fn crowded(parts: &[Instance], opened: i128, turn: bool) -> Vec<Need> {
    let mut all = Vec::new();
    for part in parts {
        for size in 0..part.sizes.len() {
            let of_size = |bag: &Bag| {
                let each: u32 = bag.needs.iter().filter(|(of, _)| *of == size).map(|&(_, n)| n).sum();
                u64::from(each) * u64::from(bag.demand())
            };
            let wanted: u64 = part.bags.iter().map(of_size).sum();
            if wanted == 0 {
                continue;
            }
            let serves = |class: &&Class| {
                let bags = part.bags.iter().zip(&class.allowed);
                bags.into_iter().any(|(bag, &yes)| yes && of_size(bag) > 0)
            };
            let classes: Vec<&Class> = part.classes.iter().filter(serves).collect();
            let may = |kind: &&SheetKind| part.size_allowed(size, kind);
            let mut costs: Vec<(i128, u64)> = Vec::new();
            for class in &classes {
                for kind in class.sheets.iter().filter(may) {
                    // Of yardage little may be opened.
                    let cost = if kind.by_length { 0 } else { i128::from(kind.cost(kind.sheet.height)) };
                    costs.push((cost, u64::from(kind.copies) * u64::from(class.many())));
                }
            }
            costs.sort_unstable();
            let (mut left, mut sheets) = (opened, 0);
            for (cost, many) in costs {
                let most =
                    if cost == 0 { many } else { many.min(u64::try_from(left / cost).unwrap_or(u64::MAX)) };
                sheets += most;
                left -= cost * i128::from(most);
            }
            let mean = wanted.div_ceil(sheets.max(1));
            let mean = u32::try_from(mean).unwrap_or(u32::MAX);
            all.push(need(part, &[(size, mean)], turn, &classes));
        }
    }
    all
}

fn need(part: &Instance, needs: &[(usize, u32)], turn: bool, classes: &[&Class]) -> Need {
    let kind = |size: usize| {
        let size = &part.sizes[size];
        let (long, short) = (size.width.max(size.height), size.width.min(size.height));
        if turn {
            Kind { width: long, height: short, turn }
        } else {
            Kind { width: size.width, height: size.height, turn }
        }
    };
    let mut pieces = BTreeMap::new();
    for &(size, count) in needs {
        *pieces.entry(kind(size)).or_insert(0) += count;
    }
    let holds = |sheet: &&SheetKind| {
        needs.iter().all(|&(size, _)| part.size_allowed(size, sheet) && kind(size).fits(sheet.sheet))
    };
    let sheets = classes.iter().flat_map(|class| class.sheets.iter().filter(holds));
    let sheets = sheets.map(|kind| (kind.sheet.width, kind.sheet.height)).collect();
    Need { area: area(&pieces), pieces, sheets }
}

fn area(pieces: &BTreeMap<Kind, u32>) -> i64 {
    pieces.iter().map(|(kind, &n)| kind.width.by(kind.height).square_ticks() * i64::from(n)).sum()
}

/// Proved: no sheet has places for both.
fn apart(one: &Need, other: &Need, stop: &Stop) -> bool {
    let mut both = one.pieces.clone();
    for (&kind, &count) in &other.pieces {
        let most = both.entry(kind).or_insert(0);
        *most = count.max(*most);
    }
    let (kinds, counts): (Vec<Kind>, Vec<u32>) = both.iter().map(|(&kind, &count)| (kind, count)).unzip();
    one.sheets.intersection(&other.sheets).all(|&(width, height)| {
        let mut work = Work::steps(PAIR_STEPS).unless(stop);
        area(&both) > width.by(height).square_ticks()
            || matches!(cutting::fit_one(Sheet { width, height }, &kinds, &counts, &mut work), Fit::No(_))
    })
}
