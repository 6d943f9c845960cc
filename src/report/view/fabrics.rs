//! The fabric key, and which prints are held how often.

use std::collections::{BTreeMap, BTreeSet};

use crate::fabric::Cut;
use crate::pattern::RoleId;
use crate::planning::Change;
use crate::report::paint::Paint;
use crate::report::situation::Situation;
use crate::report::view::card::Group;
use crate::report::view::patchwork::Draughts;
use crate::report::view::words;
use crate::stash::PrintId;

/// The prints that take one role.
pub(crate) struct KeyRow {
    /// The role.
    pub(crate) role: String,
    /// What the designer calls it, or nothing.
    pub(crate) title: String,
    /// Its prints.
    pub(crate) prints: Vec<KeyPrint>,
}

/// One print in one role.
pub(crate) struct KeyPrint {
    /// The user's name of it.
    pub(crate) print: String,
    /// Its letters in the drawings; nothing where there are none.
    pub(crate) letters: Option<String>,
    /// How it is painted.
    pub(crate) paint: Paint,
    /// Where it goes, on which card it is cut, where it is kept.
    pub(crate) about: String,
}

/// How often the prints of one cut of fabric are held.
pub(crate) struct HeldRow {
    /// The cut of fabric.
    pub(crate) cut: String,
    /// `30 prints once`, with their names; one entry a number of times.
    pub(crate) counts: Vec<String>,
    /// Doubles of which some stay uncut; nothing when no print is held more than once.
    pub(crate) kept: Option<String>,
}

/// Role by role, the prints the plan gives it.
pub(crate) fn key(here: &Situation<'_>, groups: &[Group<'_>], draughts: Option<&Draughts>) -> Vec<KeyRow> {
    let mut uses: BTreeMap<RoleId, Vec<(PrintId, Vec<usize>)>> = BTreeMap::new();
    for (index, piece) in here.demand.pieces.iter().enumerate() {
        let Some(print) = here.print_of(piece) else { continue };
        let prints = uses.entry(piece.role).or_default();
        match prints.iter_mut().find(|(known, _)| *known == print) {
            Some((_, pieces)) => pieces.push(index),
            None => prints.push((print, vec![index])),
        }
    }
    let cards = cards(here, groups);
    uses.into_iter()
        .map(|(role, prints)| KeyRow {
            role: here.pattern.roles[role.0].name.clone(),
            title: here.pattern.roles[role.0].title.clone(),
            prints: prints
                .into_iter()
                .map(|(print, pieces)| KeyPrint {
                    print: here.stash.print(print).name.clone(),
                    letters: draughts.map(|draughts| draughts.letters.print(print).to_owned()),
                    paint: here.paint(print),
                    about: about(here, &pieces, cards.get(&(role, print)), &place(here, print)),
                })
                .collect(),
        })
        .collect()
}

fn about(here: &Situation<'_>, pieces: &[usize], cards: Option<&Vec<u32>>, place: &str) -> String {
    let mut text = format!(": {}", words::block_names(here, pieces));
    if let Some(cards) = cards {
        let word = if cards.len() == 1 { "card" } else { "cards" };
        text.push_str(&format!("; {word} {}", words::ranges(cards)));
    }
    if !place.is_empty() {
        text.push_str(&format!("; stored in: {place}"));
    }
    text
}

/// On which cards each role is cut from each print.
fn cards(here: &Situation<'_>, groups: &[Group<'_>]) -> BTreeMap<(RoleId, PrintId), Vec<u32>> {
    let mut on: BTreeMap<(RoleId, PrintId), BTreeSet<u32>> = BTreeMap::new();
    for (group, number) in groups.iter().zip(1..) {
        for sheet in &group.sheets {
            let print = here.stash.lot(sheet.lot).print;
            for (index, _, _) in sheet.layout.pieces() {
                on.entry((here.piece(index).role, print)).or_default().insert(number);
            }
        }
    }
    on.into_iter().map(|(key, numbers)| (key, numbers.into_iter().collect())).collect()
}

/// Every place where the print is kept.
fn place(here: &Situation<'_>, print: PrintId) -> String {
    let mut places: Vec<String> = Vec::new();
    for lot in here.stash.lots_of(print).filter(|lot| !lot.place.is_empty()) {
        if !places.contains(&lot.place) {
            places.push(lot.place.clone());
        }
    }
    words::list(&places)
}

/// Prints held once, twice and more, cut by cut where more than one print is held.
pub(crate) fn held(here: &Situation<'_>) -> Vec<HeldRow> {
    let mut sheets: BTreeMap<Cut, BTreeMap<PrintId, (u32, u32)>> = BTreeMap::new();
    for lot in here.stash.lots.iter().filter(|lot| lot.row.is_some()) {
        sheets.entry(lot.cut).or_default().entry(lot.print).or_insert((0, 0)).0 += lot.count;
    }
    for sheet in &here.outcome.plan.sheets {
        let lot = here.stash.lot(sheet.lot);
        if let Some(counts) = sheets.get_mut(&lot.cut).and_then(|prints| prints.get_mut(&lot.print)) {
            counts.1 += 1;
        }
    }
    sheets
        .into_iter()
        .filter(|(_, prints)| prints.len() > 1)
        .map(|(cut, prints)| {
            let name = |print: &PrintId| here.stash.print(*print).name.clone();
            let mut times: BTreeMap<u32, Vec<String>> = BTreeMap::new();
            for (print, (number, _)) in &prints {
                times.entry(*number).or_default().push(name(print));
            }
            let doubles = prints.values().any(|(number, _)| *number > 1);
            let kept: Vec<String> = prints
                .iter()
                .filter(|(_, (number, opened))| *number > 1 && opened < number)
                .map(|(print, (number, opened))| format!("{} ({} of {number})", name(print), number - opened))
                .collect();
            HeldRow {
                cut: cut.entry().name.clone(),
                counts: times
                    .into_iter()
                    .map(|(number, names)| {
                        let prints = words::count(names.len(), "print", "prints");
                        format!("{prints} {}: {}", often(number), words::list(&names))
                    })
                    .collect(),
                kept: doubles.then(|| if kept.is_empty() { "none".to_owned() } else { words::list(&kept) }),
            }
        })
        .collect()
}

fn often(number: u32) -> String {
    match number {
        1 => "once".to_owned(),
        2 => "twice".to_owned(),
        3 => "three times".to_owned(),
        _ => format!("{number} times"),
    }
}

/// What this plan buys.
pub(crate) fn bought(here: &Situation<'_>) -> Vec<String> {
    let units = here.job.settings.units;
    here.changes
        .iter()
        .filter_map(|change| match change {
            Change::Buy { print, cut, width, length, count, .. } => Some(format!(
                "{} of {}, {}",
                words::cuts(*count, *cut),
                here.stash.print(*print).name,
                words::fabric_size(*width, *length, units)
            )),
            _ => None,
        })
        .collect()
}
