//! Stash and demand, indexed and frozen for the search: sizes, bags and classes of prints.
//!
//! Sets that need the same pieces and may go to the same prints are one *bag* with a multiplicity, and
//! prints with the same sheets and permissions are one *class* with a multiplicity, so that nothing
//! symmetric is ever searched twice.

use std::collections::{BTreeMap, BTreeSet};

use itertools::Itertools;

use crate::cutting::Kind;
use crate::fabric::Cut;
use crate::length::Length;
use crate::pattern::BlockId;
use crate::pattern::demand::{Demand, PieceId, SetId};
use crate::pattern::rules::Direction;
use crate::planning::Rules;
use crate::planning::instance::holding::{
    SheetKind, SheetList, many_whole_sheets, one_by_one, only_print, sheets_of,
};
use crate::planning::instance::limits::{Governed, Group, Limit};
use crate::planning::instance::permits::permitted;
use crate::planning::rules::Solver;
use crate::stash::{LotId, PrintId, Stash};

pub(crate) mod holding;
pub(crate) mod limits;
pub(crate) mod permits;

/// A size of piece together with the cuts of fabric it may come from, and whether it may lie turned on any.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) struct Size {
    pub(crate) width: Length,
    pub(crate) height: Length,
    pub(crate) from: Vec<Cut>,
    /// True when its role leaves the direction of a print with an up free.
    pub(crate) free: bool,
}

impl Size {
    /// That of a piece; `has_up` when some print of the stash has an up, so that freedom to turn matters.
    fn of(demand: &Demand, piece: PieceId, has_up: bool) -> Size {
        let piece = demand.piece(piece);
        let set = demand.set(piece.set);
        let free = demand.rules.get(set.role.0).is_some_and(|rules| rules.direction == Direction::Free);
        Size { width: piece.width, height: piece.height, from: set.from.clone(), free: free && has_up }
    }
}

/// A set, or one piece of a set that only one print may serve anyway.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Item {
    pub(crate) set: SetId,
    pub(crate) pieces: Vec<PieceId>,
}

/// Sets alike: what each needs, how many there are.
#[derive(Clone, Debug)]
pub(crate) struct Bag {
    /// (size, count), ascending.
    pub(crate) needs: Vec<(usize, u32)>,
    /// What it stands for, ascending.
    pub(crate) items: Vec<Item>,
    /// Area of one, in square ticks.
    pub(crate) area: i64,
    /// The only prints allowed, where the quilter decided or a rule says so; ascending.
    pub(crate) prints: Option<Vec<PrintId>>,
    /// What the rules between fabrics know it by.
    pub(crate) group: Option<Group>,
}

impl Bag {
    /// How many there are of this bag.
    pub(crate) fn demand(&self) -> u32 {
        u32::try_from(self.items.len()).expect("fewer than four thousand million sets")
    }
}

/// One print (or one independent part of it) with the sheets it really has.
#[derive(Clone, Debug)]
pub(crate) struct Holder {
    pub(crate) print: PrintId,
    /// By sheet kind of the class.
    pub(crate) sheets: SheetList,
}

/// Prints alike: same sheets, same permissions.
#[derive(Clone, Debug)]
pub(crate) struct Class {
    pub(crate) holders: Vec<Holder>,
    /// Cheapest to open first.
    pub(crate) sheets: Vec<SheetKind>,
    /// True when all pieces may be turned, not only those of roles that leave the direction free.
    pub(crate) turn: bool,
    /// By bag: may it come from here?
    pub(crate) allowed: Vec<bool>,
}

impl Class {
    /// How many prints it stands for.
    pub(crate) fn many(&self) -> u32 {
        u32::try_from(self.holders.len()).expect("fewer than four thousand million prints")
    }

    /// Area of all sheets of one print, in square ticks.
    pub(crate) fn area(&self) -> i64 {
        self.sheets.iter().map(|kind| kind.area() * i64::from(kind.copies)).sum()
    }

    /// The least weight among its sheets, in hundredths.
    pub(crate) fn least_weight(&self) -> i64 {
        self.sheets.iter().map(|kind| kind.weight).min().unwrap_or(0)
    }

    /// True when every sheet counts whole once opened.
    pub(crate) fn whole_sheets(&self) -> bool {
        self.sheets.iter().all(|kind| !kind.by_length)
    }

    /// Number of sheets of one print.
    pub(crate) fn sheet_count(&self) -> u32 {
        self.sheets.iter().map(|kind| kind.copies).sum()
    }
}

/// Everything the search needs.
#[derive(Clone, Debug)]
pub(crate) struct Instance {
    pub(crate) sizes: Vec<Size>,
    pub(crate) bags: Vec<Bag>,
    pub(crate) classes: Vec<Class>,
    /// What the rules between fabrics leave one print to serve.
    pub(crate) limits: Vec<Limit>,
    /// Who solves the integer master over it.
    pub(crate) solver: Solver,
    /// True when some print of the stash has an up.
    has_up: bool,
}

/// What decides whether an instance without limits fits: what each bag needs and how many there are, and the sheets
/// of each class, turning, which bags it may serve and how many prints it is.
pub(crate) type PartKey = (Vec<(Vec<(Size, u32)>, u32)>, Vec<(Vec<SheetKind>, bool, Vec<bool>, u32)>);

/// Which sets an instance holds, and how.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Scope<'a> {
    /// Sets to leave out.
    pub(crate) without: &'a BTreeSet<SetId>,
    /// Whether pieces of sets that only one print may serve may go free: right for a verdict, since a complete
    /// plan is the same either way; wrong for a partial one, where a set counts only whole. They do go where that lets
    /// the sheets of a print stand for themselves; on a bolt or a few sheets it would only ask more.
    pub(crate) free: bool,
    /// Blocks whose copies are told apart, because their prints could not be paired otherwise.
    pub(crate) apart: &'a BTreeSet<BlockId>,
}

impl Instance {
    /// Freezes `stash` and `demand`. `pins` gives, by set, the print the quilter decided;
    /// lots kept back are left out unless `released` names them.
    pub(crate) fn new(
        stash: &Stash,
        demand: &Demand,
        pins: &[Option<PrintId>],
        released: &[LotId],
        rules: &Rules,
        scope: Scope<'_>,
    ) -> Instance {
        let governed = Governed::new(demand, scope.without);
        let may: Vec<Option<Vec<PrintId>>> =
            demand.rules.iter().map(|rules| permitted(rules, stash)).collect();
        let prints = |set: SetId| -> Option<Vec<PrintId>> {
            let may = may.get(demand.set(set).role.0).and_then(Option::as_ref);
            match pins.get(set.0).copied().flatten() {
                Some(pin) => {
                    Some(vec![pin].into_iter().filter(|p| may.is_none_or(|m| m.contains(p))).collect())
                }
                None => may.cloned(),
            }
        };
        // Where no print has an up, all pieces may be turned, and alike sizes stay alike.
        let has_up = stash.lots.iter().any(|lot| lot.directional);
        let only = only_print(stash, released);
        let goes_free = |prints: Option<&[PrintId]>| match prints {
            Some(&[print]) => only.is_some() || many_whole_sheets(stash, print, released, rules),
            _ => only.is_some(),
        };
        let goes_free = |prints: Option<&[PrintId]>| scope.free && goes_free(prints);
        let (sizes, bags) = bags(demand, prints, has_up, goes_free, &governed, scope);
        let mut grouped: BTreeMap<(Vec<SheetKind>, bool, Vec<bool>), Vec<Holder>> = BTreeMap::new();
        for print in (0..stash.prints.len()).map(PrintId) {
            let (kinds, sheets, turn) = sheets_of(stash, print, released, rules);
            if kinds.is_empty() {
                continue;
            }
            let allowed: Vec<bool> = bags.iter().map(|bag| may_come(bag, &sizes, print, &kinds)).collect();
            let alone =
                |bag: &Bag| bag.group.is_none() && bag.needs.iter().map(|&(_, n)| n).sum::<u32>() == 1;
            let divides = allowed.iter().zip(&bags).all(|(&yes, bag)| !yes || alone(bag));
            for (kinds, sheets) in if divides { one_by_one(&kinds, &sheets) } else { vec![(kinds, sheets)] } {
                let allowed = bags.iter().map(|bag| may_come(bag, &sizes, print, &kinds)).collect();
                grouped.entry((kinds, turn, allowed)).or_default().push(Holder { print, sheets });
            }
        }
        let classes = grouped
            .into_iter()
            .map(|((sheets, turn, allowed), holders)| Class { holders, sheets, turn, allowed })
            .collect();
        let limits = limits(&governed, &bags, scope.apart);
        Instance { sizes, bags, classes, limits, solver: rules.solver, has_up }
    }

    /// Which of `sizes` a piece has.
    pub(crate) fn size_of(&self, demand: &Demand, piece: PieceId) -> usize {
        let size = Size::of(demand, piece, self.has_up);
        self.sizes.iter().position(|other| *other == size).expect("every piece has a size")
    }

    /// Do the rules between fabrics let one print serve all this?
    pub(crate) fn obeys(&self, bags: &[(usize, u32)]) -> bool {
        self.limits.iter().all(|limit| limit.kept(bags))
    }

    /// The instance in parts that have no print in common, each to be planned by itself. Sizes keep their
    /// numbers, so that answers about cutting hold in every part.
    pub(crate) fn parts(&self) -> Vec<Instance> {
        let mut part: Vec<usize> = (0..self.bags.len()).collect();
        for class in &self.classes {
            let together: Vec<usize> = (0..self.bags.len()).filter(|&bag| class.allowed[bag]).collect();
            for pair in together.windows(2) {
                let (from, to) = (part[pair[1]], part[pair[0]]);
                for known in &mut part {
                    if *known == from {
                        *known = to;
                    }
                }
            }
        }
        part.iter().copied().unique().map(|id| self.restricted(|bag| part[bag] == id)).collect()
    }

    /// What decides whether it fits; `None` where rules between fabrics have a say as well.
    pub(crate) fn key(&self) -> Option<PartKey> {
        let sizes = |bag: &Bag| bag.needs.iter().map(|&(size, n)| (self.sizes[size].clone(), n)).collect();
        let bags = self.bags.iter().map(|bag| (sizes(bag), bag.demand())).collect();
        let class = |class: &Class| (class.sheets.clone(), class.turn, class.allowed.clone(), class.many());
        let free = self.limits.is_empty() && self.bags.iter().all(|bag| bag.group.is_none());
        free.then(|| (bags, self.classes.iter().map(class).collect()))
    }

    fn restricted(&self, keeps: impl Fn(usize) -> bool) -> Instance {
        let kept: Vec<usize> = (0..self.bags.len()).filter(|&bag| keeps(bag)).collect();
        let classes = self.classes.iter().filter_map(|class| {
            let allowed: Vec<bool> = kept.iter().map(|&bag| class.allowed[bag]).collect();
            allowed.contains(&true).then(|| Class { allowed, ..class.clone() })
        });
        let renamed: BTreeMap<usize, usize> =
            kept.iter().copied().enumerate().map(|(i, bag)| (bag, i)).collect();
        Instance {
            sizes: self.sizes.clone(),
            bags: kept.iter().map(|&bag| self.bags[bag].clone()).collect(),
            classes: classes.collect(),
            limits: self.limits.iter().filter_map(|limit| limit.restricted(&renamed)).collect(),
            solver: self.solver,
            has_up: self.has_up,
        }
    }

    /// Area of all pieces, in square ticks.
    pub(crate) fn wanted(&self) -> i128 {
        self.bags.iter().map(|bag| i128::from(bag.area) * i128::from(bag.demand())).sum()
    }

    /// Area of all sheets, in square ticks.
    pub(crate) fn held(&self) -> i128 {
        self.classes.iter().map(|class| i128::from(class.area()) * i128::from(class.many())).sum()
    }

    /// Every piece covers its own area, which costs at least the least weight of what it may come from.
    pub(crate) fn area_at_least_weight(&self) -> i128 {
        let of = |(index, bag): (usize, &Bag)| {
            let may = self.classes.iter().filter(|class| class.allowed[index]);
            let weight = may.map(Class::least_weight).min().unwrap_or(0);
            i128::from(weight) * i128::from(bag.area) * i128::from(bag.demand())
        };
        self.bags.iter().enumerate().map(of).sum()
    }

    /// The sizes as the cutting engine takes them from a print that lets pieces be turned, or does not.
    pub(crate) fn kinds(&self, turn: bool) -> Vec<Kind> {
        let kind = |size: &Size| Kind { width: size.width, height: size.height, turn: turn || size.free };
        self.sizes.iter().map(kind).collect()
    }

    /// Pieces by size of `count` of each bag listed.
    pub(crate) fn pieces(&self, bags: &[(usize, u32)]) -> Vec<u32> {
        let mut counts = vec![0; self.sizes.len()];
        for &(bag, many) in bags {
            for &(size, each) in &self.bags[bag].needs {
                counts[size] += each * many;
            }
        }
        counts
    }

    /// By bag: may it come from a print of this class, and has some of `sheets` room for each of its pieces by itself?
    pub(crate) fn with_room(&self, class: &Class, sheets: &[SheetKind]) -> Vec<bool> {
        let kinds = self.kinds(class.turn);
        let placed =
            |size| sheets.iter().any(|kind| self.size_allowed(size, kind) && kinds[size].fits(kind.sheet));
        let placed: Vec<bool> = (0..self.sizes.len()).map(placed).collect();
        let has_room = |bag: &Bag| bag.needs.iter().all(|&(size, _)| placed[size]);
        self.bags.iter().zip(&class.allowed).map(|(bag, &allowed)| allowed && has_room(bag)).collect()
    }

    /// May a size be cut from a sheet kind?
    pub(crate) fn size_allowed(&self, size: usize, kind: &SheetKind) -> bool {
        let from = &self.sizes[size].from;
        from.is_empty() || from.contains(&kind.cut)
    }
}

/// The limits over all bags.
fn limits(governed: &Governed<'_>, bags: &[Bag], apart: &BTreeSet<BlockId>) -> Vec<Limit> {
    let mut by_group: BTreeMap<Group, Vec<usize>> = BTreeMap::new();
    for (index, bag) in bags.iter().enumerate() {
        if let Some(group) = bag.group {
            by_group.entry(group).or_default().push(index);
        }
    }
    let blocks = governed.blocks().into_iter();
    blocks.flat_map(|block| governed.limits(block, 0, apart.contains(&block), &by_group)).collect()
}

/// What makes two items alike: where they must come from, the rules on them, and their sizes.
type BagKey = (Option<Vec<PrintId>>, Option<Group>, Vec<(usize, u32)>);

fn bags(
    demand: &Demand,
    prints: impl Fn(SetId) -> Option<Vec<PrintId>>,
    has_up: bool,
    goes_free: impl Fn(Option<&[PrintId]>) -> bool,
    governed: &Governed<'_>,
    scope: Scope<'_>,
) -> (Vec<Size>, Vec<Bag>) {
    let mut sizes: Vec<Size> =
        (0..demand.pieces.len()).map(|piece| Size::of(demand, PieceId(piece), has_up)).collect();
    // Largest first: the search places big pieces early.
    sizes.sort_by(|a, b| b.width.by(b.height).cmp(&a.width.by(a.height)).then_with(|| a.cmp(b)));
    sizes.dedup();
    let index: BTreeMap<Size, usize> = sizes.iter().cloned().enumerate().map(|(i, size)| (size, i)).collect();
    let mut grouped: BTreeMap<BagKey, Vec<Item>> = BTreeMap::new();
    for (number, set) in demand.sets.iter().enumerate() {
        let id = SetId(number);
        if scope.without.contains(&id) {
            continue;
        }
        let prints = prints(id);
        let group = governed.group(id, scope.apart);
        // Where one print alone may serve a set, its matching holds by itself.
        let parts: Vec<Vec<PieceId>> = if goes_free(prints.as_deref()) && group.is_none() {
            set.pieces.iter().map(|&piece| vec![piece]).collect()
        } else {
            vec![set.pieces.clone()]
        };
        for pieces in parts {
            let mut needs: BTreeMap<usize, u32> = BTreeMap::new();
            for &piece in &pieces {
                *needs.entry(index[&Size::of(demand, piece, has_up)]).or_insert(0) += 1;
            }
            let key = (prints.clone(), group, needs.into_iter().collect());
            grouped.entry(key).or_default().push(Item { set: id, pieces });
        }
    }
    let mut bags: Vec<Bag> = grouped
        .into_iter()
        .map(|((prints, group, needs), items)| {
            let area = items[0].pieces.iter().map(|&p| demand.piece(p).area().square_ticks()).sum();
            Bag { needs, items, area, prints, group }
        })
        .collect();
    bags.sort_by(|a, b| b.area.cmp(&a.area).then_with(|| a.items.cmp(&b.items)));
    (sizes, bags)
}

fn may_come(bag: &Bag, sizes: &[Size], print: PrintId, kinds: &[SheetKind]) -> bool {
    bag.prints.as_ref().is_none_or(|prints| prints.contains(&print))
        && bag.needs.iter().all(|&(size, _)| {
            let from = &sizes[size].from;
            from.is_empty() || kinds.iter().any(|kind| from.contains(&kind.cut))
        })
}
