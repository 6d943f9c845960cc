//! One way of cutting: equal sheets that are cut alike, with everything the person at the mat needs.

use crate::fabric::Family;
use crate::length::Units;
use crate::pattern::Shape;
use crate::planning::{SheetPlan, look};
use crate::report::paint::Paint;
use crate::report::situation::Situation;
use crate::report::view::drawing::Drawing;
use crate::report::view::stacks::Stacks;
use crate::report::view::steps::{self, Step};
use crate::report::view::{rest, words};
use crate::report::working;
use crate::stash::Lot;

/// A card.
pub(crate) struct Card {
    /// Its number, from 1.
    pub(crate) number: usize,
    /// Its anchor.
    pub(crate) id: String,
    /// The print, or how many sheets are cut alike.
    pub(crate) title: String,
    /// How the fabric comes and how large it is.
    pub(crate) fabric: String,
    /// The sheets.
    pub(crate) members: Vec<Member>,
    /// How to lay the fabric, stack it and where to measure from.
    pub(crate) lay: Vec<String>,
    /// What to do, in order.
    pub(crate) steps: Vec<Step>,
    /// What comes out.
    pub(crate) pieces: Vec<PieceRow>,
    /// What is left of each sheet.
    pub(crate) left: String,
    /// The least sheet on which this still works.
    pub(crate) least: String,
    /// To scale.
    pub(crate) drawing: Drawing,
}

/// One sheet of a card.
pub(crate) struct Member {
    /// Number of its stack.
    pub(crate) stack: u32,
    /// The user's name of the print.
    pub(crate) print: String,
    /// How it is painted.
    pub(crate) paint: Paint,
    /// The pattern's letters for it.
    pub(crate) roles: String,
    /// Which fabric of the stash it is, and where that is kept.
    pub(crate) source: String,
    /// Which blocks its pieces go to.
    pub(crate) uses: String,
}

/// Pieces of one label that come out of a card.
pub(crate) struct PieceRow {
    /// The label.
    pub(crate) label: String,
    /// The pattern's letter for its fabric.
    pub(crate) role: String,
    /// Size as cut.
    pub(crate) size: String,
    /// What to do with it afterwards, or nothing.
    pub(crate) then: String,
    /// How many from each sheet.
    pub(crate) each: usize,
    /// How many from all.
    pub(crate) all: usize,
    /// Which blocks they go to.
    pub(crate) uses: String,
}

/// Sheets cut alike, in order of lot and copy.
pub(crate) struct Group<'a> {
    /// The sheets.
    pub(crate) sheets: Vec<&'a SheetPlan>,
}

/// The opened sheets by the way they are cut: long and large fabric first, else in order of the stash.
pub(crate) fn groups<'a>(here: &Situation<'a>) -> Vec<Group<'a>> {
    let mut groups: Vec<Group<'a>> = Vec::new();
    for sheet in &here.outcome.plan.sheets {
        match groups.iter_mut().find(|group| cut_alike(here, group.sheets[0], sheet)) {
            Some(group) => group.sheets.push(sheet),
            None => groups.push(Group { sheets: vec![sheet] }),
        }
    }
    let rank = |group: &Group<'_>| match here.stash.lot(group.sheets[0].lot).cut.entry().family {
        Family::Yardage => 0,
        Family::FatQuarter => 1,
        Family::Precut => 2,
        Family::Scrap => 3,
    };
    // A stable sort: within a family the order of the stash remains.
    groups.sort_by_key(rank);
    groups
}

/// Number of the first of the cards before that has the same cuts through the same fabric, and only other pieces or prints.
pub(crate) fn like(here: &Situation<'_>, before: &[Group<'_>], group: &Group<'_>) -> Option<usize> {
    let sheet = group.sheets[0];
    let same = |other: &Group<'_>| {
        let other = other.sheets[0];
        same_fabric(here, other, sheet) && look(&other.layout) == look(&sheet.layout)
    };
    before.iter().position(same).map(|index| index + 1)
}

/// True when two sheets lie on one another edge to edge and are squared up alike.
fn same_fabric(here: &Situation<'_>, one: &SheetPlan, other: &SheetPlan) -> bool {
    let (a, b) = (here.stash.lot(one.lot), here.stash.lot(other.lot));
    a.cut == b.cut && (a.width, a.length, a.allowance) == (b.width, b.length, b.allowance)
}

/// True when two sheets may be cut in one stack from one drawing.
fn cut_alike(here: &Situation<'_>, one: &SheetPlan, other: &SheetPlan) -> bool {
    let (a, b) = (here.stash.lot(one.lot), here.stash.lot(other.lot));
    same_fabric(here, one, other)
        && a.directional == b.directional
        && one.layout.width() == other.layout.width()
        && one.layout.height() == other.layout.height()
        && working::same_tree(one.layout.root(), other.layout.root(), &|p, q| here.alike(p, q))
}

impl Card {
    /// The card of a group; `like` is the number of an earlier card with the same cuts.
    pub(crate) fn of(
        here: &Situation<'_>,
        prefix: &str,
        number: usize,
        group: &Group<'_>,
        like: Option<usize>,
    ) -> Card {
        let units = here.job.settings.units;
        let first = group.sheets[0];
        let lot = here.stash.lot(first.lot);
        let tasks = working::tasks(&first.layout, &|one, other| here.alike(one, other));
        let folded = working::strokes(&tasks).iter().any(|cut| cut.length() > steps::RULER);
        let stacks = Stacks::of(group.sheets.len(), here.job.settings.layers, folded);
        let id = format!("{prefix}card-{number}");
        let steps = steps::steps(here, lot, &first.layout, &tasks, &stacks);
        Card {
            number,
            title: title(here, group),
            fabric: words::held(lot, units),
            members: members(here, group, &stacks),
            lay: lay(lot, &stacks, folded, units)
                .into_iter()
                .chain(in_strips(first, working::strokes(&tasks).len(), units))
                .chain(like.map(like_card))
                .collect(),
            pieces: pieces(here, group),
            left: rest::left(lot, &first.layout, here.job.rules.useful_side, units),
            least: rest::least(lot, &first.layout, units),
            drawing: Drawing::of(here, &id, lot, first, &tasks, steps.len()),
            steps,
            id,
        }
    }
}

fn title(here: &Situation<'_>, group: &Group<'_>) -> String {
    let name = |sheet: &SheetPlan| here.stash.print(here.stash.lot(sheet.lot).print).name.as_str();
    let first = name(group.sheets[0]);
    let number = group.sheets.len();
    if group.sheets.iter().all(|sheet| name(sheet) == first) {
        if number == 1 { first.to_owned() } else { format!("{first}, {number} cut alike") }
    } else {
        format!("{number} cut alike")
    }
}

fn members(here: &Situation<'_>, group: &Group<'_>, stacks: &Stacks) -> Vec<Member> {
    let stack_of = stacks.sizes.iter().zip(1u32..).flat_map(|(&size, stack)| vec![stack; size]);
    group
        .sheets
        .iter()
        .zip(stack_of)
        .map(|(sheet, stack)| {
            let lot = here.stash.lot(sheet.lot);
            let indexes: Vec<usize> = sheet.layout.pieces().into_iter().map(|(index, _, _)| index).collect();
            Member {
                stack,
                print: here.stash.print(lot.print).name.clone(),
                paint: here.paint(lot.print),
                roles: roles(here, &indexes),
                source: source(lot, sheet.copy),
                uses: words::uses(here, &indexes),
            }
        })
        .collect()
}

/// The pattern's letters of some pieces, in order of first appearance.
fn roles(here: &Situation<'_>, indexes: &[usize]) -> String {
    let mut names: Vec<String> = Vec::new();
    for &index in indexes {
        let name = here.role_name(here.piece(index));
        if !names.iter().any(|known| known == name) {
            names.push(name.to_owned());
        }
    }
    words::list(&names)
}

fn source(lot: &Lot, copy: u32) -> String {
    let which = match lot.line {
        Some(line) => format!("line {line} of your list"),
        None => "to buy".to_owned(),
    };
    let of = if lot.count > 1 { format!(", {copy} of {}", lot.count) } else { String::new() };
    let place = if lot.place.is_empty() { String::new() } else { format!("stored in: {}; ", lot.place) };
    format!("{place}{which}{of}")
}

/// What cutting in strips costs and saves; nothing where it costs no fabric.
fn in_strips(sheet: &SheetPlan, cuts: usize, units: Units) -> Option<String> {
    let tighter = sheet.instead_of.filter(|tighter| tighter.used < sheet.used)?;
    let more = words::fabric(sheet.used - tighter.used, units);
    let saved = tighter.cuts.saturating_sub(cuts);
    let saves =
        if saved > 0 { format!("; saves {}", words::count(saved, "cut", "cuts")) } else { String::new() };
    Some(format!("Cut in strips: {more} more than the tightest cutting found{saves}."))
}

fn like_card(number: usize) -> String {
    format!(
        "The cuts are those of card {number}: sheets of both may lie in one stack. Keep them apart afterwards, the \
         pieces are not the same."
    )
}

fn lay(lot: &Lot, stacks: &Stacks, folded: bool, units: Units) -> Vec<String> {
    let entry = lot.cut.entry();
    let mut lines = Vec::new();
    let (width, length) = (words::fabric(lot.width, units), words::fabric(lot.length, units));
    lines.push(match entry.family {
        Family::Yardage => format!(
            "Lay it with its {width} width from left to right, selvages at the sides, \
             and its {length} length going away from you. The lower edge is the one nearest you."
        ),
        _ if lot.width == lot.length && !lot.directional => {
            format!("Lay it flat: {width} each way. The lower edge is the one nearest you.")
        }
        _ => format!(
            "Lay it with {width} from left to right and {length} going away from you. \
             The lower edge is the one nearest you."
        ),
    });
    if lot.directional {
        lines.push(
            "One-way print: top edge away from you. Stack all layers face up, the same way up; turn none."
                .to_owned(),
        );
    }
    let sheets: usize = stacks.sizes.iter().sum();
    if sheets > 1 {
        lines.push(stacks.sentence(sheets, folded));
    }
    let narrow = entry.width.is_some_and(|usual| lot.width < usual);
    let short = entry.length.is_some_and(|usual| lot.length < usual);
    // Fabric that is still to be bought is not kept among other cuts.
    if lot.row.is_some() && (narrow || short) {
        let usual = match (entry.width, entry.length) {
            (Some(width), Some(length)) => format!(" of {}", words::fabric_size(width, length, units)),
            _ => String::new(),
        };
        let how = match (narrow, short) {
            (true, true) => "Narrow and short",
            (true, false) => "Narrow",
            _ => "Short",
        };
        lines
            .push(format!("{how}: less than the usual {}{usual}. Keep it apart from full ones.", entry.name));
    }
    lines
}

fn pieces(here: &Situation<'_>, group: &Group<'_>) -> Vec<PieceRow> {
    let units = here.job.settings.units;
    let mut found: Vec<(usize, Vec<usize>)> = Vec::new();
    for sheet in &group.sheets {
        for (index, _, _) in sheet.layout.pieces() {
            match found.iter_mut().find(|(model, _)| here.alike(*model, index)) {
                Some((_, all)) => all.push(index),
                None => found.push((index, vec![index])),
            }
        }
    }
    found
        .into_iter()
        .map(|(model, all)| {
            let piece = here.piece(model);
            PieceRow {
                label: piece.label.clone(),
                role: here.role_name(piece).to_owned(),
                size: words::size(piece.width, piece.height, units),
                then: then(piece.shape).to_owned(),
                each: all.len() / group.sheets.len(),
                all: all.len(),
                uses: words::blocks_of(here, &all),
            }
        })
        .collect()
}

/// What a square becomes after it is cut out.
pub(crate) fn then(shape: Shape) -> &'static str {
    match shape {
        Shape::Rectangle => "",
        Shape::CutOnce => "then cut once corner to corner: 2 triangles",
        Shape::CutTwice => "then cut on both diagonals: 4 triangles",
    }
}
