//! Decisions -> the print of each set, with every contradiction named.

use std::collections::{BTreeMap, HashMap};

use crate::diagnostic::Diagnostic;
use crate::pattern::demand::{Demand, Piece, copies_in};
use crate::pattern::{Block, BlockId, Pattern, PieceLine, RoleId};
use crate::placements::{Placement, Placements};
use crate::spreadsheet::{key, list, near, same_name};
use crate::stash::{PrintId, Stash};

/// The print that is decided for each set of `demand`, by set number; `None` where nothing is.
///
/// Names are checked against the whole of `pattern`, so that a demand with fewer block copies finds no fault
/// with decisions about the others. A row names all pieces it does not exclude: without a copy, every copy;
/// without a block, the role over the whole quilt. A set takes the print of any of its pieces.
///
/// Faults: unknown block, copy, role, label, piece or print; a row that means no piece; two prints for one set; a print that is not held
/// in any cut the role may be taken from. A print held only as fabric kept back is a warning.
pub fn pins(
    placements: &Placements,
    stash: &Stash,
    pattern: &Pattern,
    demand: &Demand,
) -> (Vec<Option<PrintId>>, Vec<Diagnostic>) {
    let mut prints = HashMap::new();
    for (place, print) in stash.prints.iter().enumerate() {
        prints.entry(key(&print.name)).or_insert(PrintId(place));
    }
    let mut by_copy: HashMap<(BlockId, u32), Vec<&Piece>> = HashMap::new();
    for piece in &demand.pieces {
        by_copy.entry((piece.block, piece.copy)).or_default().push(piece);
    }
    let mut check = Check { placements, stash, prints, pattern, diagnostics: Vec::new() };
    let mut pins: Vec<Option<(PrintId, usize)>> = vec![None; demand.sets.len()];
    for (index, row) in placements.rows.iter().enumerate() {
        let found = check.place(row);
        let print = check.print(row);
        let (Some(found), Some(print)) = (found, print) else {
            continue;
        };
        check.holdings(row, found.role, print);
        let mut clashes: Vec<usize> = Vec::new();
        // Most rows name a copy; only others are held against every piece.
        let all: Vec<&Piece> = match (found.block, row.copy) {
            (Some(block), Some(copy)) => by_copy.get(&(block, copy)).cloned().unwrap_or_default(),
            _ => demand.pieces.iter().collect(),
        };
        for piece in all.into_iter().filter(|piece| found.covers(piece)) {
            match pins[piece.set.0] {
                Some((pinned, earlier)) if pinned != print => clashes.push(earlier),
                Some(_) => {}
                None => pins[piece.set.0] = Some((print, index)),
            }
        }
        clashes.sort_unstable();
        clashes.dedup();
        for earlier in clashes {
            check.contradiction(row, &placements.rows[earlier]);
        }
    }
    (pins.into_iter().map(|pin| pin.map(|(print, _)| print)).collect(), check.diagnostics)
}

/// Where a row points, with its names resolved.
struct Found<'r> {
    block: Option<BlockId>,
    role: RoleId,
    row: &'r Placement,
}

impl Found<'_> {
    fn covers(&self, piece: &Piece) -> bool {
        piece.role == self.role
            && self.block.is_none_or(|block| block == piece.block)
            && self.row.copy.is_none_or(|copy| copy == piece.copy)
            && self.row.label.as_ref().is_none_or(|label| same_name(label, &piece.label))
            && self.row.piece.is_none_or(|number| number == piece.number)
    }
}

struct Check<'a> {
    placements: &'a Placements,
    stash: &'a Stash,
    /// By compared form of the name.
    prints: HashMap<String, PrintId>,
    pattern: &'a Pattern,
    diagnostics: Vec<Diagnostic>,
}

impl Check<'_> {
    fn error(&mut self, code: &'static str, row: &Placement, field: &str, message: String, help: &str) {
        self.diagnostics.push(Diagnostic::error(code, self.placements.place(row.line, field), message, help));
    }

    /// Resolves block, copy, role, label and piece of a row; reports what does not exist.
    fn place<'r>(&mut self, row: &'r Placement) -> Option<Found<'r>> {
        let block = match &row.block {
            None => None,
            Some(name) => Some(self.block(row, name)?),
        };
        let role = self.role(row, block)?;
        let blocks: Vec<&Block> = match block {
            Some(id) => vec![&self.pattern.blocks[id.0]],
            None => self.pattern.blocks.iter().collect(),
        };
        if let Some(label) = &row.label {
            let of_role = |line: &&PieceLine| line.role == role;
            let lines = || blocks.iter().flat_map(|block| block.pieces.iter()).filter(of_role);
            if !lines().any(|line| same_name(&line.label, label)) {
                let known = near(label, lines().map(|line| line.label.as_str()));
                let help = did_you_mean(&known, lines().map(|line| line.label.as_str()));
                let message = format!("role \"{}\" has no piece labelled \"{label}\" here", row.role);
                self.error("P105", row, "label", message, &help);
                return None;
            }
            let most = blocks.iter().map(|block| pieces_labelled(block, label, row.copy)).max().unwrap_or(0);
            if row.piece.is_some_and(|piece| piece > most) {
                let message = format!("there are {most} pieces \"{label}\" in a copy of the block");
                self.error(
                    "P106",
                    row,
                    "piece",
                    message,
                    "write a smaller number, or leave it empty for all of them",
                );
                return None;
            }
        }
        let found = Found { block, role, row };
        if !blocks.iter().any(|block| names_some_piece(&found, block)) {
            self.nothing(row);
            return None;
        }
        Some(found)
    }

    /// A row whose names all exist, and which yet means no piece.
    fn nothing(&mut self, row: &Placement) {
        let label = row.label.as_ref().map_or(String::new(), |label| format!(" labelled \"{label}\""));
        let number = row.piece.map_or(String::new(), |number| format!(" number {number}"));
        let whose = match (row.copy, &row.block) {
            (Some(copy), Some(block)) => format!("copy {copy} of \"{block}\""),
            (None, Some(block)) => format!("block \"{block}\""),
            (_, None) => "the pattern".to_owned(),
        };
        let message = format!("{whose} has no piece{label}{number} of role \"{}\"", row.role);
        let (field, help) = match (row.piece, row.copy) {
            (Some(_), _) => ("piece", "write another number, or leave it empty for all of them"),
            // A total that does not divide leaves the last copies with less, perhaps with none.
            (None, Some(_)) => {
                ("copy", "write a copy that has one, or leave the copy empty for all that have")
            }
            (None, None) => ("role", "remove the row"),
        };
        self.error("P106", row, field, message, help);
    }

    fn block(&mut self, row: &Placement, name: &str) -> Option<BlockId> {
        let found = find_block(self.placements, self.pattern, row.line, name, row.copy);
        found.map_err(|said| self.diagnostics.push(*said)).ok()
    }

    fn role(&mut self, row: &Placement, block: Option<BlockId>) -> Option<RoleId> {
        let roles = &self.pattern.roles;
        let role = roles.iter().position(|role| same_name(&role.name, &row.role)).map(RoleId);
        let is_in = |block: &Block, role| block.pieces.iter().any(|line| line.role == role);
        match (role, block) {
            (Some(role), None) => return Some(role),
            (Some(role), Some(block)) if is_in(&self.pattern.blocks[block.0], role) => return Some(role),
            _ => {}
        }
        let here =
            |index: usize| block.is_none_or(|block| is_in(&self.pattern.blocks[block.0], RoleId(index)));
        let names: Vec<&str> = roles
            .iter()
            .enumerate()
            .filter(|&(index, _)| here(index))
            .map(|(_, role)| role.name.as_str())
            .collect();
        let help = did_you_mean(&near(&row.role, names.iter().copied()), names.iter().copied());
        let whose = match &row.block {
            Some(block) => format!("block \"{block}\""),
            None => "the pattern".to_string(),
        };
        self.error("P103", row, "role", format!("{whose} has no role \"{}\"", row.role), &help);
        None
    }

    fn print(&mut self, row: &Placement) -> Option<PrintId> {
        let prints = &self.stash.prints;
        let found = self.prints.get(&key(&row.print)).copied();
        if found.is_none() {
            let close = near(&row.print, prints.iter().map(|print| print.name.as_str()));
            let help = match close.is_empty() {
                true => "write the print as it stands in the stash, or add its fabric there".to_string(),
                false => did_you_mean(&close, []),
            };
            let message = format!("the stash holds no fabric of the print \"{}\"", row.print);
            self.error("P104", row, "print", message, &help);
        }
        found
    }

    /// Whether fabric of `print` is there to be used for `role`.
    fn holdings(&mut self, row: &Placement, role: RoleId, print: PrintId) {
        let stash = self.stash;
        let lots = || stash.lots_of(print);
        let from = &self.pattern.roles[role.0].from;
        if !from.is_empty() && !lots().any(|lot| from.contains(&lot.cut)) {
            let allowed = list(from.iter().map(|cut| cut.entry().name.clone())).replace(" and ", " or ");
            let message = format!(
                "\"{}\" is not held as {allowed}, which role \"{}\" is taken from",
                row.print, row.role
            );
            let help = "decide on another print, or change what the role may be taken from";
            self.error("P109", row, "print", message, help);
        } else if lots().all(|lot| lot.keep) {
            let message = format!("all fabric of \"{}\" is kept back in the stash", row.print);
            let place = self.placements.place(row.line, "print");
            let help =
                "a plan will not use it as it stands; release it in the stash, or decide on another print";
            self.diagnostics.push(Diagnostic::warning("P108", place, message, help));
        }
    }

    fn contradiction(&mut self, row: &Placement, earlier: &Placement) {
        let message = format!(
            "\"{}\" is decided here and \"{}\" on line {}, for pieces that must come from one print",
            row.print, earlier.print, earlier.line
        );
        self.error("P107", row, "print", message, "keep one of the two rows");
    }
}

/// The block called `name`, which must have the copy.
pub(super) fn find_block(
    placements: &Placements,
    pattern: &Pattern,
    line: u64,
    name: &str,
    copy: Option<u32>,
) -> Result<BlockId, Box<Diagnostic>> {
    let error = |code, field: &str, message: String, help: &str| {
        Err(Box::new(Diagnostic::error(code, placements.place(line, field), message, help)))
    };
    let blocks = &pattern.blocks;
    let Some(index) = blocks.iter().position(|block| same_name(&block.name, name)) else {
        let names = || blocks.iter().map(|block| block.name.as_str());
        let help = did_you_mean(&near(name, names()), names());
        return error("P101", "block", format!("the pattern has no block \"{name}\""), &help);
    };
    let make = blocks[index].make;
    if let Some(copy) = copy.filter(|&copy| copy > make) {
        let message = format!("copy {copy} of \"{name}\" does not exist; the pattern makes {make}");
        return error("P102", "copy", message, "write a smaller number, or remove the row");
    }
    Ok(BlockId(index))
}

/// Pieces labelled `label` in copy `copy` of a block, or in the copy that has most.
fn pieces_labelled(block: &Block, label: &str, copy: Option<u32>) -> u32 {
    let lines = block.pieces.iter().filter(|line| same_name(&line.label, label));
    lines.map(|line| copies_in(line.count, block.make, copy.unwrap_or(1))).sum()
}

/// Does a row mean some piece of this block, in any of the copies that are made of it?
fn names_some_piece(found: &Found<'_>, block: &Block) -> bool {
    let copies = found.row.copy.map_or(1..=block.make, |copy| copy..=copy);
    copies.into_iter().any(|copy| {
        let mut numbered: BTreeMap<&str, u32> = BTreeMap::new();
        block.pieces.iter().any(|line| {
            let number = numbered.entry(&line.label).or_insert(0);
            let before = *number;
            *number += copies_in(line.count, block.make, copy);
            let numbers = before + 1..=*number;
            line.role == found.role
                && found.row.label.as_ref().is_none_or(|label| same_name(label, &line.label))
                && found.row.piece.map_or(!numbers.is_empty(), |piece| numbers.contains(&piece))
        })
    })
}

fn did_you_mean<'n>(close: &[&str], all: impl IntoIterator<Item = &'n str>) -> String {
    let quoted =
        |names: Vec<&str>| list(names.into_iter().map(|name| format!("\"{name}\""))).replace(" and ", " or ");
    if close.is_empty() {
        let mut names: Vec<&str> = all.into_iter().collect();
        names.dedup();
        format!("write {}", quoted(names))
    } else {
        format!("did you mean {}?", quoted(close.to_vec()))
    }
}
