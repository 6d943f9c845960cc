//! Why it does not fit, or what the proof of "fits" rests on: numbers a person can check.

use std::collections::BTreeSet;

use itertools::Itertools;

use crate::cutting::{Cause, Proof};
use crate::length::{Area, Direction};
use crate::pattern::demand::SetId;
use crate::planning::Task;
use crate::planning::columns::bound;
use crate::planning::instance::holding::SheetKind;
use crate::planning::instance::{Class, Instance};
use crate::planning::plan::{Plan, Reason};
use crate::planning::refusal::cases;
use crate::planning::refusal::weighing;
use crate::planning::search::{Found, Refusal};
use crate::stash::PrintId;

/// Why nothing complete was found, the reason that matters most first.
pub(crate) fn reasons(
    task: &Task<'_>,
    instance: &Instance,
    found: &Found,
    stopped: Option<Cause>,
) -> Vec<Reason> {
    let words = Words { task, instance };
    match &found.refusal {
        Some(refusal) => vec![Reason {
            weighing: weighing::weighing(instance, task.demand, refusal),
            cases: match refusal {
                Refusal::Listed { plans } => cases::cases(instance, task.demand, plans),
                _ => Vec::new(),
            },
            ..words.refusal(refusal)
        }],
        None if stopped.is_some() => vec![Reason::new(
            "stopped",
            "the search was stopped before a complete plan or a proof was found; more time may decide".into(),
        )],
        None => vec![Reason::new(
            "budget",
            "the search ended before a complete plan or a proof was found; more effort may decide".into(),
        )],
    }
}

/// Gives every short set the sentence that fits it best.
pub(crate) fn explain_short(task: &Task<'_>, plan: &mut Plan, reasons: &[Reason], stopped: Option<Cause>) {
    if stopped.is_some() {
        for short in &mut plan.short {
            short.reason = "the search was stopped before it had a place".to_owned();
        }
        return;
    }
    let main = reasons.first().map_or_else(String::new, |reason| reason.text.clone());
    let roomiest = "no unused print is big enough for all its pieces";
    for short in &mut plan.short {
        let matched = task.demand.set(short.set).pieces.len() > 1;
        short.reason = if matched { roomiest.to_owned() } else { main.clone() };
    }
}

struct Words<'a> {
    task: &'a Task<'a>,
    instance: &'a Instance,
}

impl Words<'_> {
    fn refusal(&self, refusal: &Refusal) -> Reason {
        match refusal {
            Refusal::Homeless { bag, proof } => self.homeless(*bag, proof.as_ref()),
            Refusal::Count { bag, each } => self.count(*bag, each),
            Refusal::Area { pieces, fabric } => self.too_little(*pieces, *fabric),
            Refusal::Yield { size, needed, most } => Reason::new(
                "yield",
                format!(
                    "{needed} pieces of {} are needed; all the fabric they may come from gives at most {most}",
                    self.size(*size)
                ),
            ),
            Refusal::Priced { prices, .. } => self.priced(prices),
            Refusal::Listed { plans } => Reason::new(
                "every plan tried",
                format!(
                    "all {} ways of filling each print were listed, and no choice of them gives every piece",
                    plans.len()
                ),
            ),
        }
    }

    /// All pieces against all fabric where that is enough; else those of this part against its prints.
    fn too_little(&self, pieces: i128, fabric: i128) -> Reason {
        let all_pieces = self.task.demand.pieces.iter().map(|piece| i128::from(piece.area().square_ticks()));
        let (all_pieces, all_fabric) = (all_pieces.sum(), self.task.usable());
        let say = |area: i128, direction| self.area(area, direction);
        if all_pieces > all_fabric {
            let (need, has) = (say(all_pieces, Direction::Up), say(all_fabric, Direction::Down));
            return Reason::new("area", format!("the pieces need {need}, your stash has {has}"));
        }
        let items = self.instance.bags.iter().flat_map(|bag| &bag.items);
        let owners = items.map(|item| self.owner(item.set)).unique().collect_vec();
        let others = if owners.len() > 3 { format!(" and {} more", owners.len() - 3) } else { String::new() };
        let text = format!(
            "{}{others}: the pieces need {}, the prints they may come from have {}",
            owners.iter().take(3).join("; "),
            say(pieces, Direction::Up),
            say(fabric, Direction::Down)
        );
        Reason::new("area of these prints", text)
    }

    /// What a bag is to a person: `Urchin, fabric A (needs 2 of 9 1/2 x 4 in)`.
    fn bag(&self, bag: usize) -> String {
        let owners =
            self.instance.bags[bag].items.iter().map(|item| self.owner(item.set)).dedup().collect_vec();
        let (first, more) = (&owners[0], owners.iter().skip(1).unique().count());
        let others = if more > 0 { format!(" and {more} like it") } else { String::new() };
        format!("{first}{others} (each {})", self.needs(bag))
    }

    fn owner(&self, set: SetId) -> String {
        let set = self.task.demand.set(set);
        let role = &self.task.pattern.roles[set.role.0].name;
        match set.block {
            Some((block, _)) => format!("{}, fabric {role}", self.task.pattern.blocks[block.0].name),
            None => format!("fabric {role} of the whole quilt"),
        }
    }

    fn needs(&self, bag: usize) -> String {
        self.instance.bags[bag]
            .needs
            .iter()
            .map(|&(size, n)| format!("{n} of {}", self.size(size)))
            .join(" and ")
    }

    fn size(&self, size: usize) -> String {
        let units = self.task.rules.units;
        let size = &self.instance.sizes[size];
        format!("{} x {}", size.width.show_bare(units), size.height.show(units))
    }

    fn sheet(&self, kind: &SheetKind) -> String {
        let units = self.task.rules.units;
        let entry = kind.cut.entry();
        format!("{}, {} x {}", entry.name, kind.sheet.width.show_bare(units), kind.sheet.height.show(units))
    }

    fn print(&self, class: &Class) -> String {
        class.sheets.iter().map(|kind| format!("{} of {}", kind.copies, self.sheet(kind))).join(" and ")
    }

    fn area(&self, square_ticks: i128, direction: Direction) -> String {
        let area = Area::from_square_ticks(i64::try_from(square_ticks).unwrap_or(i64::MAX));
        area.show(self.task.rules.units, direction)
    }

    fn homeless(&self, bag: usize, proof: Option<&Proof>) -> Reason {
        let allowed: Vec<&Class> = self.instance.classes.iter().filter(|class| class.allowed[bag]).collect();
        let best = allowed.iter().max_by_key(|class| class.area());
        let text = match best {
            None => format!("{}: no fabric of the stash may be used for it", self.bag(bag)),
            Some(class) => format!(
                "{}: no print can give that; the one with most fabric has {}{}",
                self.bag(bag),
                self.print(class),
                self.partial_yield(bag, class, proof)
            ),
        };
        Reason::new("no print", text)
    }

    /// "which yields 3 of the 4", where one size alone is already too much.
    fn partial_yield(&self, bag: usize, class: &Class, proof: Option<&Proof>) -> String {
        for &(size, needed) in &self.instance.bags[bag].needs {
            let yields = bound::most_of_size(self.instance, class, size);
            if yields < u64::from(needed) {
                return format!(", which yields {yields} of the {needed} of {}", self.size(size));
            }
        }
        proof.map_or_else(String::new, |proof| format!(": {proof}"))
    }

    fn count(&self, bag: usize, each: &[u32]) -> Reason {
        let demand = self.instance.bags[bag].demand();
        let able: u64 = each
            .iter()
            .zip(&self.instance.classes)
            .map(|(&n, class)| u64::from(n) * u64::from(class.many()))
            .sum();
        let giving: Vec<(u32, &Class)> =
            each.iter().copied().zip(&self.instance.classes).filter(|&(n, _)| n > 0).collect();
        let able_prints = prints(giving.iter().map(|&(_, class)| class));
        let others = prints(self.instance.classes.iter()).difference(&able_prints).count();
        // Prints that differ only in what else they may serve are told together.
        let mut alike: Vec<((u32, &str, String), u32)> = Vec::new();
        for &(n, class) in &giving {
            // Where nothing ties pieces together, every sheet of a print stands for itself.
            let each = prints([class]).len() == class.holders.len();
            let told = (n, if each { "print" } else { "sheet" }, self.print(class));
            match alike.iter_mut().find(|(other, _)| *other == told) {
                Some((_, many)) => *many += class.many(),
                None => alike.push((told, class.many())),
            }
        }
        let mut clauses: Vec<String> = alike
            .iter()
            .map(|((n, what, has), many)| format!("{many} {what}{} ({has}) give {n} each", plural(*many)))
            .collect();
        if others > 0 {
            let others = u32::try_from(others).unwrap_or(u32::MAX);
            let more = if giving.is_empty() { "" } else { "the other " };
            clauses.push(format!("{more}{others} print{} give none", plural(others)));
        }
        if let [(size, 1)] = self.instance.bags[bag].needs[..] {
            return Reason::new(
                "yield",
                format!(
                    "{demand} pieces of {} are needed; your stash gives at most {able}: {}",
                    self.size(size),
                    clauses.join("; ")
                ),
            );
        }
        let alike =
            self.instance.bags[bag].group.and_then(|group| self.task.demand.rules[group.role.0].at_most);
        clauses.extend(alike.map(|most| match most {
            1 => "no two block copies may be alike".to_owned(),
            _ => format!("no more than {most} block copies may be alike"),
        }));
        Reason::new(
            "matching",
            format!(
                "{}: {demand} are needed, each from one print; your stash gives at most {able}: {}",
                self.bag(bag),
                clauses.join("; ")
            ),
        )
    }

    fn priced(&self, prices: &[i64]) -> Reason {
        let which = (0..prices.len())
            .filter(|&bag| prices[bag] > 0)
            .map(|bag| self.owner(self.instance.bags[bag].items[0].set))
            .unique()
            .join("; ");
        Reason::new(
            "together",
            format!("{which}: together they need more than these prints can give, however they are cut"),
        )
    }
}

/// The prints that classes stand for.
fn prints<'a>(classes: impl IntoIterator<Item = &'a Class>) -> BTreeSet<PrintId> {
    classes.into_iter().flat_map(|class| class.holders.iter().map(|holder| holder.print)).collect()
}

fn plural(count: u32) -> &'static str {
    if count == 1 { "" } else { "s" }
}
