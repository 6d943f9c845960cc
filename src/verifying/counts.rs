//! Pieces against the pattern: all of them, of the right size, from a print and a cut they may come from.

use std::collections::{BTreeMap, BTreeSet};

use super::fault::{Faults, Rule, say};
use super::record::{CutPiece, Record, SetName, Sheet, Total};
use super::supply::Origin;
use super::wanted::{PieceKind, Want, Wanted};
use crate::pattern::Pattern;
use crate::pattern::rules::Direction;

/// How many pieces of each kind come from each print.
type Cut = BTreeMap<PieceKind, BTreeMap<String, u64>>;

/// A block copy's pieces of one label, whatever their size.
type Label<'a> = (&'a str, u64, &'a str, &'a str);

/// Checks pieces, sets and totals of `record`, whose sheets come from `origins` and are called `places`.
pub(super) fn check(
    record: &Record,
    origins: &[Origin],
    places: &[String],
    wanted: &Wanted,
    pattern: &Pattern,
    faults: &mut Faults,
) {
    let mut cut = Cut::new();
    for ((sheet, origin), place) in record.sheets.iter().zip(origins).zip(places) {
        for piece in &sheet.pieces {
            lies_right(piece, origin, pattern, place, faults);
            comes_from(piece, origin, pattern, place, faults);
            let kind = kind_of(piece);
            *cut.entry(kind).or_default().entry(origin.print.clone()).or_insert(0) += 1;
        }
    }
    let before = faults.count();
    known_and_sized(&record.sheets, places, &cut, wanted, faults);
    let known = faults.count() == before;
    let prints = sets_once(record, wanted, faults);
    let before = faults.count();
    counted(&cut, wanted, &prints, faults);
    matching(&cut, wanted, &prints, faults);
    let all_counted = known && faults.count() == before;
    totals(&record.totals, &cut, wanted, &prints, all_counted, faults);
}

/// The kind a piece claims to be, turned back upright.
fn kind_of(piece: &CutPiece) -> PieceKind {
    let (width, height) = match piece.turned {
        false => (piece.rect.width, piece.rect.height),
        true => (piece.rect.height, piece.rect.width),
    };
    PieceKind {
        block: piece.block.clone(),
        copy: piece.copy,
        role: piece.role.clone(),
        label: piece.label.clone(),
        width,
        height,
    }
}

fn lies_right(piece: &CutPiece, origin: &Origin, pattern: &Pattern, place: &str, faults: &mut Faults) {
    let role = pattern.roles.iter().find(|role| role.name == piece.role);
    let free = role.is_some_and(|role| role.rules.direction == Direction::Free);
    if piece.turned && origin.directional && !free {
        let message = format!("piece {} is turned, but {} has an up", piece.label, origin.print);
        faults.add(Rule::Direction, place, message);
    }
}

fn comes_from(piece: &CutPiece, origin: &Origin, pattern: &Pattern, place: &str, faults: &mut Faults) {
    let Some(role) = pattern.roles.iter().find(|role| role.name == piece.role) else { return };
    let Some(cut) = origin.cut else { return };
    if !role.from.is_empty() && !role.from.contains(&cut) {
        let allowed: Vec<&str> = role.from.iter().map(|cut| cut.entry().name.as_str()).collect();
        let message = format!(
            "piece {} comes from a {}; role {} allows only {}",
            piece.label,
            cut.entry().name,
            role.name,
            allowed.join(", ")
        );
        faults.add(Rule::From, place, message);
    }
}

fn label_of(kind: &PieceKind) -> Label<'_> {
    (&kind.block, kind.copy, &kind.role, &kind.label)
}

/// Every piece must be known by its label, and then have a size that this label is cut in.
fn known_and_sized(sheets: &[Sheet], places: &[String], cut: &Cut, wanted: &Wanted, faults: &mut Faults) {
    let mut sizes: BTreeMap<Label<'_>, Vec<&PieceKind>> = BTreeMap::new();
    for kind in wanted.pieces.keys() {
        sizes.entry(label_of(kind)).or_default().push(kind);
    }
    for kind in cut.keys().filter(|kind| !wanted.pieces.contains_key(*kind)) {
        let home = sheets.iter().position(|sheet| sheet.pieces.iter().any(|piece| kind_of(piece) == *kind));
        let place = home.map_or("", |index| places[index].as_str());
        let name = name(kind);
        match sizes.get(&label_of(kind)) {
            None => {
                let message = format!("the pattern asks for no piece {name}");
                faults.add(Rule::UnknownPiece, place, message);
            }
            Some(kinds) => {
                let sizes: Vec<String> =
                    kinds.iter().map(|kind| format!("{} x {}", say(kind.width), say(kind.height))).collect();
                let message = format!(
                    "piece {name} is cut {} x {} as it will be sewn; the pattern gives {}",
                    say(kind.width),
                    say(kind.height),
                    sizes.join(" or ")
                );
                faults.add(Rule::PieceSize, place, message);
            }
        }
    }
}

/// The print of each set; `None` for a set listed as short.
type Prints<'a> = BTreeMap<&'a SetName, Option<&'a str>>;

fn sets_once<'a>(record: &'a Record, wanted: &Wanted, faults: &mut Faults) -> Prints<'a> {
    let mut prints = Prints::new();
    let placed = record.sets.iter().map(|placed| (&placed.set, Some(placed.print.as_str())));
    let short = record.short.iter().map(|short| (&short.set, None));
    for (set, print) in placed.chain(short) {
        if !wanted.sets.contains_key(set) {
            faults.add(Rule::SetList, "", format!("the pattern has no set {}", set.say()));
        } else if prints.contains_key(set) {
            faults.add(Rule::SetList, "", format!("the set {} is listed twice", set.say()));
        } else {
            prints.insert(set, print);
        }
    }
    for set in wanted.sets.keys().filter(|set| !prints.contains_key(set)) {
        faults.add(Rule::SetList, "", format!("the set {} is neither placed nor short", set.say()));
    }
    prints
}

/// Numbers only: which print comes under matching. A label with pieces of a wrong size was reported already.
fn counted(cut: &Cut, wanted: &Wanted, prints: &Prints<'_>, faults: &mut Faults) {
    let mut by_label: BTreeMap<Label<'_>, (u64, u64)> = BTreeMap::new();
    for (kind, wants) in &wanted.pieces {
        // A set on neither list was reported; its pieces are taken as they come.
        let unlisted = wants.iter().any(|want| !prints.contains_key(&want.set));
        let due = if unlisted { number_cut(cut, kind) } else { due(wants, prints) };
        by_label.entry(label_of(kind)).or_default().0 += due;
    }
    for kind in cut.keys() {
        if let Some(numbers) = by_label.get_mut(&label_of(kind)) {
            numbers.1 += number_cut(cut, kind);
        }
    }
    let mut wrong_labels: BTreeSet<Label<'_>> =
        cut.keys().filter(|kind| !wanted.pieces.contains_key(*kind)).map(label_of).collect();
    for (label, (due, found)) in by_label {
        if due != found {
            wrong_labels.insert(label);
            let (block, copy, role, name) = label;
            let message =
                format!("{block} copy {copy}, role {role}: {found} pieces {name} are cut, {due} must be");
            faults.add(Rule::PieceCount, "", message);
        }
    }
    // Right in sum, but too many of one size and too few of another.
    for (kind, wants) in &wanted.pieces {
        let unlisted = wants.iter().any(|want| !prints.contains_key(&want.set));
        let (due, found) = (due(wants, prints), number_cut(cut, kind));
        if due != found && !unlisted && !wrong_labels.contains(&label_of(kind)) {
            let message = format!("piece {}: {found} are cut in this size, {due} must be", name(kind));
            faults.add(Rule::PieceCount, "", message);
        }
    }
}

fn number_cut(cut: &Cut, kind: &PieceKind) -> u64 {
    cut.get(kind).map_or(0, |by_print| by_print.values().sum())
}

fn due(wants: &[Want], prints: &Prints<'_>) -> u64 {
    let placed = wants.iter().filter(|want| matches!(prints.get(&want.set), Some(Some(_)))).count();
    u64::try_from(placed).unwrap_or(u64::MAX)
}

/// Pieces of one kind cannot be told apart, so each print must give as many as the sets of that print ask.
///
/// With matching `block` and `quilt` a set has one entry and so one print: what it ties together can pass
/// here only when all of it comes from that print.
fn matching(cut: &Cut, wanted: &Wanted, prints: &Prints<'_>, faults: &mut Faults) {
    let nothing = BTreeMap::new();
    for (kind, wants) in &wanted.pieces {
        let found = cut.get(kind).unwrap_or(&nothing);
        let mut asked: BTreeMap<String, u64> = BTreeMap::new();
        for print in wants.iter().filter_map(|want| prints.get(&want.set).copied().flatten()) {
            *asked.entry(print.to_owned()).or_insert(0) += 1;
        }
        // Where the number is wrong, that was said; here only the prints count.
        if asked != *found && asked.values().sum::<u64>() == found.values().sum::<u64>() {
            let message =
                format!("piece {}: listed from {}, cut from {}", name(kind), list(&asked), list(found));
            faults.add(Rule::Matching, "", message);
        }
    }
}

fn list(prints: &BTreeMap<String, u64>) -> String {
    let parts: Vec<String> = prints.iter().map(|(print, count)| format!("{print} ({count})")).collect();
    parts.join(", ")
}

fn name(kind: &PieceKind) -> String {
    format!("{} of {} copy {}, role {}", kind.label, kind.block, kind.copy, kind.role)
}

/// What a line of totals is about: block, label, role, width, height.
type Line<'a> = (&'a str, &'a str, &'a str, i64, i64);

/// Checks need, cut and short of every line; that they close is asked only `when_counted` right, as a spare
/// or missing piece was reported already.
fn totals(
    listed: &[Total],
    cut: &Cut,
    wanted: &Wanted,
    prints: &Prints<'_>,
    when_counted: bool,
    faults: &mut Faults,
) {
    let mut lines: BTreeMap<Line<'_>, (u64, u64, u64)> = BTreeMap::new();
    for (kind, wants) in &wanted.pieces {
        let numbers = lines.entry(line_of(kind)).or_default();
        numbers.0 += u64::try_from(wants.len()).unwrap_or(u64::MAX);
        numbers.1 += number_cut(cut, kind);
        let short = wants.iter().filter(|want| prints.get(&want.set) == Some(&None)).count();
        numbers.2 += u64::try_from(short).unwrap_or(u64::MAX);
    }
    let mut seen: Vec<Line<'_>> = Vec::new();
    for total in listed {
        let line =
            (total.block.as_str(), total.label.as_str(), total.role.as_str(), total.width, total.height);
        let said = format!("{} {}, role {}, {} x {}", line.0, line.1, line.2, say(line.3), say(line.4));
        if seen.contains(&line) {
            faults.add(Rule::Totals, "", format!("the total of {said} is listed twice"));
            continue;
        }
        seen.push(line);
        let Some(&(need, cut, short)) = lines.get(&line) else {
            faults.add(
                Rule::Totals,
                "",
                format!("there is a total of {said}, which the pattern does not ask"),
            );
            continue;
        };
        if (total.need, total.cut, total.short) != (need, cut, short) {
            let message = format!(
                "the total of {said} says need {}, cut {}, short {}; counted: need {need}, cut {cut}, short {short}",
                total.need, total.cut, total.short
            );
            faults.add(Rule::Totals, "", message);
        } else if when_counted && need != cut + short {
            let message =
                format!("the total of {said} does not close: need {need}, cut {cut}, short {short}");
            faults.add(Rule::Totals, "", message);
        }
    }
    for line in lines.keys().filter(|line| !seen.contains(line)) {
        let message = format!("there is no total of {} {}, role {}", line.0, line.1, line.2);
        faults.add(Rule::Totals, "", message);
    }
}

fn line_of(kind: &PieceKind) -> Line<'_> {
    (&kind.block, &kind.label, &kind.role, kind.width, kind.height)
}
