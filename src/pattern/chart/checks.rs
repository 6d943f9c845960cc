//! What the rows of a chart say together: copies, counts, roles and matching.

use std::collections::BTreeMap;

use crate::diagnostic::limits::{PIECES, grouped};
use crate::diagnostic::{Diagnostic, Gathered};
use crate::pattern::chart::line::Line;
use crate::pattern::chart::{Roles, top};
use crate::pattern::{Count, Matching, Pattern, RoleId};
use crate::spreadsheet::{Cells, Reported, Sheet, key};

/// How many copies each block has, by the compared form of its name. Without a column for it every block is made once.
pub(super) fn makes<'l>(
    sheet: &Sheet,
    lines: &'l [Line],
    diagnostics: &mut Gathered,
) -> BTreeMap<&'l str, u32> {
    let mut blocks: BTreeMap<&str, Vec<&Line>> = BTreeMap::new();
    for line in lines {
        blocks.entry(&line.block_key).or_default().push(line);
    }
    let mut makes = BTreeMap::new();
    for (block, of_block) in blocks {
        let first = of_block.iter().find_map(|line| Some((line.make?, line.row.line)));
        for line in &of_block {
            if let (Some((make, at)), Some(now)) = (first, line.make)
                && now != make
            {
                let message =
                    format!("\"{}\" is made {now} times here and {make} times on line {at}", line.block);
                let help = "write one number, or give the blocks different names";
                diagnostics.push(Diagnostic::error("C103", sheet.place(line.row, "make"), message, help));
            }
        }
        // A cell that could not be read was reported already.
        let is_silent = of_block.iter().all(|line| sheet.cell(line.row, "make").is_empty());
        if sheet.has("make") && is_silent {
            let message = format!("how many copies of \"{}\" to make is not said", of_block[0].block);
            diagnostics.push(Diagnostic::error(
                "C102",
                sheet.place(of_block[0].row, "make"),
                message,
                "write 1 if there is only one",
            ));
        }
        makes.insert(block, first.map_or(1, |(make, _)| make));
    }
    if !sheet.has("make") && !lines.is_empty() {
        let message = "there is no column \"make\"; every block is made once".to_string();
        diagnostics.push(Diagnostic::note("C102", top(sheet), message, ""));
    }
    makes
}

/// The count of a row, from `count`, `total` or both.
pub(super) fn count(
    cells: &mut Cells,
    count: Option<u32>,
    total: Option<u32>,
    make: u32,
) -> Result<Count, Reported> {
    match (count, total) {
        (Some(each), None) => Ok(Count::PerCopy(each)),
        (Some(each), Some(total)) if u64::from(each) * u64::from(make) == u64::from(total) => {
            Ok(Count::PerCopy(each))
        }
        (Some(each), Some(total)) => {
            let message = format!(
                "{each} in each of {make} copies are {}, not {total}",
                u64::from(each) * u64::from(make)
            );
            Err(cells.error("C104", "total", message, "correct one of them, or leave one empty"))
        }
        (None, Some(total)) if total % make == 0 => Ok(Count::PerCopy(total / make)),
        (None, Some(total)) => {
            let message = format!("{total} do not divide over {make} copies; the first copies get one more");
            cells.note("C113", "total", message, "write the count per copy if that is not meant");
            Ok(Count::Total(total))
        }
        (None, None) => {
            let name = if cells.sheet.has("count") { "count" } else { "total" };
            let message = "how many to cut is not said".to_string();
            Err(cells.error("C105", name, message, "write the number for one copy of the block"))
        }
    }
}

/// Gives each role the cuts it may be taken from; a list on one row holds for the role everywhere.
pub(super) fn from(sheet: &Sheet, lines: &[Line], roles: &mut Roles, diagnostics: &mut Gathered) {
    let mut first: BTreeMap<RoleId, u64> = BTreeMap::new();
    for line in lines {
        let (Some(name), Some(cuts)) = (&line.role, &line.from) else { continue };
        let role = roles.called(name);
        let known = &mut roles.list[role.0];
        match first.get(&role) {
            None => {
                known.from.clone_from(cuts);
                first.insert(role, line.row.line);
            }
            Some(earlier) if known.from != *cuts => {
                let message =
                    format!("\"{}\" is taken from other cuts of fabric on line {earlier}", known.name);
                let help = "write the same list on both, or leave one empty";
                diagnostics.push(Diagnostic::error("C111", sheet.place(line.row, "from"), message, help));
            }
            Some(_) => {}
        }
    }
}

/// Warns of a role that must match over the whole quilt on one row and not on another.
pub(super) fn matching(sheet: &Sheet, lines: &[Line], diagnostics: &mut Gathered) {
    let mut first: BTreeMap<String, &Line> = BTreeMap::new();
    for line in lines {
        let Some(role) = &line.role else { continue };
        let first = first.entry(key(role)).or_insert(line);
        if (line.matching == Matching::Quilt) != (first.matching == Matching::Quilt) {
            let message = format!(
                "\"{role}\" must come from one print over the whole quilt on one row and not on another (line {})",
                first.row.line
            );
            let help = "write the same matching on every row of the role, or give the roles different names";
            diagnostics.push(Diagnostic::warning("C112", sheet.place(line.row, "matching"), message, help));
        }
    }
}

/// Refuses a chart that asks for more pieces than anyone cuts.
pub(super) fn size_of_quilt(pattern: &Pattern, sheet: &Sheet, diagnostics: &mut Gathered) {
    let pieces: u64 = pattern
        .blocks
        .iter()
        .flat_map(|block| block.pieces.iter().map(|line| (block.make, line.count)))
        .map(|(make, count)| match count {
            Count::PerCopy(each) => u64::from(make) * u64::from(each),
            Count::Total(total) => u64::from(total),
        })
        .sum();
    if pieces > PIECES {
        let message =
            format!("the chart asks for {pieces} pieces; at most {} can be planned", grouped(PIECES));
        diagnostics.push(Diagnostic::error("C114", top(sheet), message, "check the counts and copies"));
    }
}
