//! The sheets a print holds, alike ones counted once.

use std::collections::BTreeMap;

use crate::cutting::Sheet;
use crate::fabric::{Cut, Family};
use crate::length::Length;
use crate::planning::Rules;
use crate::stash::{LotId, PrintId, Stash};

/// Sheets alike within a print.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) struct SheetKind {
    pub(crate) sheet: Sheet,
    pub(crate) cut: Cut,
    pub(crate) copies: u32,
    /// Weight of opened fabric, in hundredths; of one with a fixed cost what that comes to, rounded down.
    pub(crate) weight: i64,
    /// What opening one counts, when that is not its weighted area.
    pub(crate) fixed: Option<i64>,
    /// True when only the length used counts as opened.
    pub(crate) by_length: bool,
}

impl SheetKind {
    /// Area of one sheet, in square ticks.
    pub(crate) fn area(&self) -> i64 {
        self.sheet.width.by(self.sheet.height).square_ticks()
    }

    /// What opening `used` of its length counts.
    pub(crate) fn cost(&self, used: Length) -> i64 {
        self.fixed.unwrap_or_else(|| self.sheet.width.by(used).square_ticks() * self.weight)
    }
}

/// For each sheet kind, the sheets as (lot, copy from 1).
pub(crate) type SheetList = Vec<Vec<(LotId, u32)>>;

/// The usable sheets of a print by kind, the sheets themselves, and whether pieces may be turned.
pub(crate) fn sheets_of(
    stash: &Stash,
    print: PrintId,
    released: &[LotId],
    rules: &Rules,
) -> (Vec<SheetKind>, SheetList, bool) {
    let mut turn = true;
    let mut by_kind: BTreeMap<(i64, i64, SheetKind), Vec<(LotId, u32)>> = BTreeMap::new();
    for id in stash.places_of(print) {
        let lot = stash.lot(id);
        if lot.keep && !released.contains(&id) {
            continue;
        }
        turn &= !lot.directional;
        let family = lot.cut.entry().family;
        let sheet = Sheet { width: lot.sheet_width(), height: lot.sheet_length() };
        let fixed = rules.costs.get(&id).copied();
        let kind = SheetKind {
            sheet,
            cut: lot.cut,
            copies: 0,
            weight: fixed.map_or(i64::from(rules.weights.of(family)), |cost| {
                cost.div_euclid(sheet.width.by(sheet.height).square_ticks().max(1))
            }),
            fixed,
            by_length: family == Family::Yardage && fixed.is_none(),
        };
        let order = (i64::from(kind.by_length), kind.cost(sheet.height), kind);
        by_kind.entry(order).or_default().extend((1..=lot.count).map(|copy| (id, copy)));
    }
    let mut kinds = Vec::new();
    let mut sheets = Vec::new();
    for ((_, _, kind), list) in by_kind {
        let copies = u32::try_from(list.len()).expect("fewer than four thousand million sheets");
        kinds.push(SheetKind { copies, ..kind });
        sheets.push(list);
    }
    (kinds, sheets, turn)
}

/// The one print of a stash that has no other.
pub(crate) fn only_print(stash: &Stash, released: &[LotId]) -> Option<PrintId> {
    let usable = stash.lots.iter().enumerate().filter(|(n, lot)| !lot.keep || released.contains(&LotId(*n)));
    let mut prints = usable.map(|(_, lot)| lot.print);
    let first = prints.next()?;
    prints.all(|print| print == first).then_some(first)
}

/// Sheets of a print up to which what it serves is one question to the cutting engine, sets whole.
const FEW_SHEETS: u32 = 4;

/// Has the print more whole sheets than one question is asked about, and none that opens by its length?
pub(crate) fn many_whole_sheets(stash: &Stash, print: PrintId, released: &[LotId], rules: &Rules) -> bool {
    let (kinds, ..) = sheets_of(stash, print, released, rules);
    let copies: u32 = kinds.iter().map(|kind| kind.copies).sum();
    copies > FEW_SHEETS && kinds.iter().all(|kind| !kind.by_length)
}

/// Where nothing ties pieces together, every sheet stands for itself.
pub(crate) fn one_by_one(kinds: &[SheetKind], sheets: &SheetList) -> Vec<(Vec<SheetKind>, SheetList)> {
    let mut parts = Vec::new();
    for (kind, list) in kinds.iter().zip(sheets) {
        for &sheet in list {
            parts.push((vec![SheetKind { copies: 1, ..*kind }], vec![vec![sheet]]));
        }
    }
    parts
}
