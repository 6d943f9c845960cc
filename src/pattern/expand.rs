//! Units -> lines of the block's cutting chart: batches, spares, labels.

use std::collections::BTreeMap;

use crate::pattern::unit::{CutPiece, Method, Recipe, Spec, Unit, Way};
use crate::pattern::{Block, BlockId, Count, Matching, Pattern, PieceLine, RoleId, Shape, Size};

/// What every line of a role has in common.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct RoleUse {
    /// The matching rule of its pieces.
    pub matching: Matching,
    /// Whether a print with an up must keep it, so that turned units get turned pieces.
    pub keeps_up: bool,
}

/// Like pieces of a block: what makes two lines one.
type Alike = (RoleId, Size, Shape);

/// Works out the lines of every way of every unit, and appends those of the chosen ways to the pieces the
/// block was given. What units gave before is replaced.
///
/// Pieces that are alike become one line. Labels are the role's name and a number, the largest piece first; they are
/// the same whichever ways are chosen, so that a decision about a piece means that piece and no other.
pub(super) fn expand(block: &mut Block, uses: &[RoleUse], roles: &[String]) {
    block.pieces.truncate(block.given);
    let make = block.make;
    let mut chosen: Vec<(Alike, Count, u64)> = Vec::new();
    let mut first: Vec<Alike> = Vec::new();
    let mut others: Vec<Alike> = Vec::new();
    for unit in &block.units {
        for (index, way) in unit.ways.iter().enumerate() {
            for (cut, count) in counted(unit, &way.recipe, make, uses) {
                let alike = (cut.role, cut.size, cut.shape);
                if index == 0 {
                    first.push(alike)
                } else {
                    others.push(alike)
                }
                if index != unit.chosen {
                    continue;
                }
                if let Some((_, sum, _)) = chosen.iter_mut().find(|(other, _, _)| *other == alike) {
                    *sum = plus(*sum, count, make);
                } else {
                    chosen.push((alike, count, unit.line));
                }
            }
        }
    }
    let order = |&(role, size, _): &Alike| (role, std::cmp::Reverse(size.width.by(size.height)));
    first.sort_by_key(order);
    chosen.sort_by_key(|(alike, _, _)| order(alike));
    let labels = labels(block, roles, first.into_iter().chain(others));
    for ((role, size, shape), count, line) in chosen {
        let label = labels.iter().find(|(alike, _)| *alike == (role, size, shape));
        block.pieces.push(PieceLine {
            label: label.map(|(_, label)| label.clone()).unwrap_or_default(),
            role,
            width: size.width,
            height: size.height,
            count,
            shape,
            matching: uses[role.0].matching,
            line,
        });
    }
    for unit in &mut block.units {
        let counted: Vec<_> = unit.ways.iter().map(|way| counted(unit, &way.recipe, make, uses)).collect();
        let each = unit.each;
        let line = unit.line;
        for (way, counted) in unit.ways.iter_mut().zip(counted) {
            way.spare = spare(each, make, &way.recipe, uses);
            way.lines = counted
                .into_iter()
                .map(|(cut, count)| PieceLine {
                    label: labels
                        .iter()
                        .find(|(alike, _)| *alike == (cut.role, cut.size, cut.shape))
                        .map(|(_, label)| label.clone())
                        .unwrap_or_default(),
                    role: cut.role,
                    width: cut.size.width,
                    height: cut.size.height,
                    count,
                    shape: cut.shape,
                    matching: uses[cut.role.0].matching,
                    line,
                })
                .collect();
        }
    }
}

/// True when the batches of a recipe must not mix block copies: one of its fabrics changes from copy to copy.
pub(super) fn within_copy(recipe: &Recipe, uses: &[RoleUse]) -> bool {
    recipe.cuts.iter().any(|cut| uses[cut.role.0].matching == Matching::Block)
}

/// Batches for one block copy, or for all of them together.
fn batches(each: u32, make: u32, recipe: &Recipe, uses: &[RoleUse]) -> Count {
    if within_copy(recipe, uses) {
        return Count::PerCopy(each.div_ceil(recipe.makes));
    }
    let all = each.saturating_mul(make).div_ceil(recipe.makes);
    if all.is_multiple_of(make) { Count::PerCopy(all / make) } else { Count::Total(all) }
}

/// Units that are left over when all copies are made.
fn spare(each: u32, make: u32, recipe: &Recipe, uses: &[RoleUse]) -> u32 {
    let made = total(batches(each, make, recipe, uses), make).saturating_mul(recipe.makes);
    made.saturating_sub(each.saturating_mul(make))
}

/// The cuts of a unit with their counts. Units that lie turned take turned pieces where the up is kept.
fn counted(unit: &Unit, recipe: &Recipe, make: u32, uses: &[RoleUse]) -> Vec<(CutPiece, Count)> {
    let batches = batches(unit.each, make, recipe, uses);
    let mut lines: Vec<(CutPiece, Count)> = Vec::new();
    for &cut in &recipe.cuts {
        let turned =
            if uses[cut.role.0].keeps_up && recipe.makes == 1 { unit.turned.min(unit.each) } else { 0 };
        if turned > 0 && cut.size.width != cut.size.height {
            let size = Size { width: cut.size.height, height: cut.size.width };
            let upright = unit.each - turned;
            if upright > 0 {
                lines.push((cut, Count::PerCopy(cut.count.saturating_mul(upright))));
            }
            lines.push((CutPiece { size, ..cut }, Count::PerCopy(cut.count.saturating_mul(turned))));
        } else {
            lines.push((cut, times(batches, cut.count)));
        }
    }
    lines
}

fn times(count: Count, by: u32) -> Count {
    match count {
        Count::PerCopy(each) => Count::PerCopy(each.saturating_mul(by)),
        Count::Total(all) => Count::Total(all.saturating_mul(by)),
    }
}

fn plus(one: Count, other: Count, make: u32) -> Count {
    if let (Count::PerCopy(one), Count::PerCopy(other)) = (one, other) {
        return Count::PerCopy(one.saturating_add(other));
    }
    let all = total(one, make).saturating_add(total(other, make));
    if all.is_multiple_of(make) { Count::PerCopy(all / make) } else { Count::Total(all) }
}

/// A count over all copies of a block.
pub(super) fn total(count: Count, make: u32) -> u32 {
    match count {
        Count::PerCopy(each) => each.saturating_mul(make),
        Count::Total(all) => all,
    }
}

/// `A1` for the role `A`, `background 1` for the role `background`.
pub(super) fn label(role: &str, number: u32) -> String {
    let space = if role.chars().count() > 2 { " " } else { "" };
    format!("{role}{space}{number}")
}

/// A label for every kind of piece, none of which the block's given pieces have.
fn labels(block: &Block, roles: &[String], alike: impl Iterator<Item = Alike>) -> Vec<(Alike, String)> {
    let mut numbers: BTreeMap<RoleId, u32> = BTreeMap::new();
    let mut labels: Vec<(Alike, String)> = Vec::new();
    for kind in alike {
        if labels.iter().any(|(other, _)| *other == kind) {
            continue;
        }
        let number = numbers.entry(kind.0).or_insert(0);
        let label = loop {
            *number += 1;
            let label = label(&roles[kind.0.0], *number);
            if block.pieces.iter().all(|line| line.label != label) {
                break label;
            }
        };
        labels.push((kind, label));
    }
    labels
}

impl Pattern {
    /// The same quilt with a unit made another of its ways; the sewn result is the same, the cuts are not.
    ///
    /// `None` when there is no such block, unit or way.
    pub fn with_way(&self, block: BlockId, unit: usize, way: usize) -> Option<Pattern> {
        let mut pattern = self.clone();
        let uses = pattern.role_uses(block);
        let names: Vec<String> = pattern.roles.iter().map(|role| role.name.clone()).collect();
        let changed = pattern.blocks.get_mut(block.0)?;
        let unit = changed.units.get_mut(unit).filter(|unit| way < unit.ways.len())?;
        unit.chosen = way;
        expand(changed, &uses, &names);
        Some(pattern)
    }

    /// The same quilt with a unit made by a method that the file does not name for it; the sewn result is the same.
    ///
    /// `None` when there is no such block or unit, when it may be made so anyway, or cannot be made so.
    pub fn with_method(&self, block: BlockId, unit: usize, method: Method) -> Option<Pattern> {
        let mut pattern = self.clone();
        let changed = pattern.blocks.get_mut(block.0)?.units.get_mut(unit)?;
        if changed.ways.is_empty() || changed.ways.iter().any(|way| way.method == method) {
            return None;
        }
        let (finished, sewing) = (changed.finished?, self.sewing?);
        let spec = Spec { finished, method, oversize: &changed.oversize, sewing };
        let recipe = changed.kind.recipe(&spec).ok()?;
        changed.ways.push(Way { method, recipe, spare: 0, lines: Vec::new() });
        let way = changed.ways.len() - 1;
        pattern.with_way(block, unit, way)
    }

    /// How each role is used in a block, taken from its lines.
    pub(super) fn role_uses(&self, block: BlockId) -> Vec<RoleUse> {
        let lines: Vec<&PieceLine> = self.blocks.get(block.0).map_or(Vec::new(), |block| {
            let ways = block.units.iter().flat_map(|unit| &unit.ways);
            block.pieces.iter().skip(block.given).chain(ways.flat_map(|way| &way.lines)).collect()
        });
        let uses = self.roles.iter().enumerate().map(|(index, role)| RoleUse {
            matching: lines
                .iter()
                .find(|line| line.role == RoleId(index))
                .map_or(Matching::Piece, |line| line.matching),
            keeps_up: role.rules.direction == crate::pattern::rules::Direction::Kept,
        });
        uses.collect()
    }
}
