//! Rows of a block: what each word is, whether the sizes add up, how often every part is used.

use crate::length::Length;
use crate::pattern::assembly::{Frame, Place, solve};
use crate::pattern::file::cells::{self, Token};
use crate::pattern::file::keys::LONGEST;
use crate::pattern::file::pieces::Given;
use crate::pattern::file::roles::Roles;
use crate::pattern::file::source::{Source, code, did_you_mean};
use crate::pattern::file::units::{Described, Draft};
use crate::pattern::unit::Kind;
use crate::pattern::{Cell, Count, Part, RoleId, Shape, Size};

/// How a block is sewn, as far as its rows tell.
#[derive(Default)]
pub(super) struct Sewn {
    /// The block's rows; empty when there are none or they could not be read.
    pub(super) rows: Vec<Vec<Cell>>,
    /// Finished size by the rows.
    pub(super) whole: Option<Size>,
    /// How each described unit is used, in file order.
    pub(super) used: Vec<Used>,
    /// Plain patches that fill rows; their unit numbers follow those of the described units.
    pub(super) patches: Vec<Patch>,
}

/// How a described unit is used.
#[derive(Clone, Default)]
pub(super) struct Used {
    /// How many a block copy has.
    pub(super) each: u32,
    /// How many of them lie turned by a quarter.
    pub(super) turned: u32,
    /// For rows of other units: the rows.
    pub(super) rows: Vec<Vec<Cell>>,
    /// For rows of other units: the finished size by the rows.
    pub(super) whole: Option<Size>,
}

/// A plain patch named by its role alone.
pub(super) struct Patch {
    pub(super) role: RoleId,
    pub(super) name: String,
    pub(super) size: Size,
    pub(super) each: u32,
    pub(super) turned: u32,
    pub(super) line: u64,
}

/// How deep rows of rows may go: deeper than any block, shallow enough for the stack.
const DEEPEST: usize = 40;

/// What a word of a row may be.
#[derive(Clone, Copy, PartialEq, Eq)]
enum What {
    Unit(usize),
    Piece(usize),
    Plain(RoleId),
}

/// The work on one block.
struct Work<'a, 's, 'f> {
    drafts: &'a [Draft],
    roles: &'a Roles,
    frame: &'a Frame,
    source: &'s mut Source<'f>,
    sewn: Sewn,
    /// Units whose rows are worked out, or are being.
    state: Vec<State>,
    /// Units in the order they were worked out: what a unit is made of comes before it.
    order: Vec<usize>,
    /// How many units are being worked out.
    depth: usize,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum State {
    New,
    Open,
    Done,
}

/// Looks up the words of all rows, checks that the sizes add up, and counts.
pub(super) fn assemble(
    rows: &[(String, u64)],
    drafts: &[Draft],
    given: &mut [Given],
    roles: &Roles,
    frame: &Frame,
    source: &mut Source,
) -> Sewn {
    let sewn = Sewn { used: vec![Used::default(); drafts.len()], ..Sewn::default() };
    let state = vec![State::New; drafts.len()];
    let mut work = Work { drafts, roles, frame, source, sewn, state, order: Vec::new(), depth: 0 };
    work.check_names(given);
    for index in 0..drafts.len() {
        work.unit_rows(index, given);
    }
    let block = (!rows.is_empty()).then(|| work.solve_rows(rows, frame.whole, given)).flatten();
    if let Some((cells, whole)) = block {
        work.sewn.rows = cells;
        work.sewn.whole = Some(whole);
    }
    work.count(given, !rows.is_empty());
    work.sewn
}

impl Work<'_, '_, '_> {
    /// One name must not mean two things in a row.
    fn check_names(&mut self, given: &[Given]) {
        for (index, draft) in self.drafts.iter().enumerate() {
            let unit_before = self.drafts[..index].iter().any(|other| other.name == draft.name);
            let piece = given.iter().any(|piece| piece.line.label == draft.name);
            let role = self.roles.position(&draft.name).is_some();
            if unit_before || piece || role {
                let other = if unit_before {
                    "another unit"
                } else if piece {
                    "a piece"
                } else {
                    "a role"
                };
                let message = format!("\"{}\" is the name of {other} already", draft.name);
                let help = "give the unit a name of its own";
                self.source.error(code::NAME_TAKEN, draft.line, "block.unit.name", message, help);
            }
        }
    }

    /// Works out the rows of a unit that is made of rows.
    fn unit_rows(&mut self, index: usize, given: &[Given]) {
        if self.state[index] != State::New {
            return;
        }
        let draft = &self.drafts[index];
        if self.depth == DEEPEST {
            let message = format!("rows within rows go deeper than {DEEPEST} at \"{}\"", draft.name);
            self.source.error(
                code::CIRCLE,
                draft.line,
                "rows",
                message,
                "describe the block with fewer levels",
            );
            return;
        }
        self.state[index] = State::Open;
        self.depth += 1;
        if let Some(Described::Rows(rows)) = &draft.kind
            && let Some((cells, whole)) = self.solve_rows(rows, draft.finished, given)
        {
            self.sewn.used[index].rows = cells;
            self.sewn.used[index].whole = Some(whole);
        }
        self.state[index] = State::Done;
        self.depth -= 1;
        self.order.push(index);
    }

    /// Cells and finished size of rows; `None` when something in them is wrong, which is then said.
    fn solve_rows(
        &mut self,
        rows: &[(String, u64)],
        whole: Option<Size>,
        given: &[Given],
    ) -> Option<(Vec<Vec<Cell>>, Size)> {
        let mut tokens: Vec<Vec<Token<What>>> = Vec::new();
        let mut good = true;
        for (text, line) in rows {
            let (row, unknown) = cells::row(text, |word| self.find(word, given));
            for word in unknown {
                self.unknown_word(&word, *line, given);
                good = false;
            }
            tokens.push(row);
        }
        let mut places = Vec::new();
        for (row, (_, line)) in tokens.iter().zip(rows) {
            let mut sized = Vec::new();
            for token in row {
                match self.place(token, *line, given) {
                    Some(place) => sized.push(place),
                    None => good = false,
                }
            }
            places.push(sized);
        }
        if !good {
            return None;
        }
        match solve(&places, &Frame { whole, ..*self.frame }) {
            Ok(solved) if solved.whole.width.max(solved.whole.height) > LONGEST => {
                let message = "these rows are longer than 100 yd".to_string();
                self.source.error(code::ROWS, rows[0].1, "rows", message, "check the sizes of their parts");
                None
            }
            Ok(solved) => {
                let cells = tokens.iter().zip(&solved.sizes).zip(rows).map(|((row, sizes), (_, line))| {
                    row.iter().zip(sizes).map(|(token, &size)| self.cell(token, size, *line, given)).collect()
                });
                Some((cells.collect(), solved.whole))
            }
            Err(mismatch) => {
                let line = mismatch.row.map_or(rows[0].1, |row| rows[row - 1].1);
                let which = mismatch.row.map_or(String::new(), |row| format!("row {row}: "));
                let help = "change a finished size, the parts of the row, or the size of the whole";
                self.source.error(code::ROWS, line, "rows", format!("{which}{}", mismatch.text), help);
                None
            }
        }
    }

    fn find(&self, word: &str, given: &[Given]) -> Option<What> {
        let unit = self.drafts.iter().position(|draft| draft.name == word).map(What::Unit);
        let piece = || given.iter().position(|piece| piece.line.label == word).map(What::Piece);
        unit.or_else(piece).or_else(|| self.roles.position(word).map(What::Plain))
    }

    fn unknown_word(&mut self, word: &str, line: u64, given: &[Given]) {
        let units = self.drafts.iter().map(|draft| draft.name.as_str());
        let known =
            units.chain(given.iter().map(|piece| piece.line.label.as_str())).chain(self.roles.names());
        let known: Vec<&str> = known.collect();
        let all = format!("use one of: {}", known.join(", "));
        let help = did_you_mean(word, known, &all);
        let message = format!("\"{word}\" is no unit, piece or role of this pattern");
        self.source.error(code::UNKNOWN_CELL, line, "rows", message, &help);
    }

    /// Name and finished size of a word, as it lies. `None` when there is none, which is then said here or was before.
    fn place(&mut self, token: &Token<What>, line: u64, given: &[Given]) -> Option<Place> {
        let name = token.word.clone();
        let size = match token.what {
            What::Plain(_) => return Some(Place { name, size: None }),
            What::Piece(index) => self.piece_size(index, line, given)?,
            What::Unit(index) => self.unit_size(index, line, given)?,
        };
        Some(Place { name, size: Some(size.turned(token.turn)) })
    }

    fn piece_size(&mut self, index: usize, line: u64, given: &[Given]) -> Option<Size> {
        let piece = &given[index].line;
        if piece.shape != Shape::Rectangle {
            self.no_triangles(&piece.label, line);
            return None;
        }
        let seams = self.frame.sewing.seam + self.frame.sewing.seam;
        let inside = Size { width: piece.width - seams, height: piece.height - seams };
        if inside.width <= Length::ZERO || inside.height <= Length::ZERO {
            let message = format!("nothing is left of \"{}\" inside its seams", piece.label);
            self.source.error(code::ROWS, line, "rows", message, "give the size as cut, seams included");
            return None;
        }
        Some(inside)
    }

    fn unit_size(&mut self, index: usize, line: u64, given: &[Given]) -> Option<Size> {
        let draft = &self.drafts[index];
        match draft.kind.as_ref()? {
            Described::Kind(Kind::TrianglesCutOnce { .. } | Kind::TrianglesCutTwice { .. }) => {
                self.no_triangles(&draft.name, line);
                None
            }
            Described::Kind(_) => draft.finished,
            Described::Rows(_) if self.state[index] == State::Open => {
                let message = format!("\"{}\" would be made of itself", draft.name);
                let help = "rows may only name units that do not contain them";
                self.source.error(code::CIRCLE, line, "rows", message, help);
                None
            }
            Described::Rows(_) => {
                self.unit_rows(index, given);
                self.sewn.used[index].whole
            }
        }
    }

    fn no_triangles(&mut self, name: &str, line: u64) {
        let message = format!("\"{name}\" is loose triangles, and rows are made of squares and rectangles");
        let help = "describe the unit the triangles are sewn into, or a free unit";
        self.source.error(code::ROWS, line, "rows", message, help);
    }

    /// The cell of a word whose size is known.
    fn cell(&mut self, token: &Token<What>, size: Size, line: u64, given: &[Given]) -> Cell {
        let part = match token.what {
            What::Unit(index) => Part::Unit(index),
            What::Piece(index) => Part::Piece(index, given[index].line.role),
            What::Plain(role) => Part::Unit(self.drafts.len() + self.patch(role, token, size, line)),
        };
        Cell { part, turn: token.turn }
    }

    /// The number of the plain patch of this role and size, new or known.
    fn patch(&mut self, role: RoleId, token: &Token<What>, size: Size, line: u64) -> usize {
        let size = size.turned(token.turn);
        let known = self.sewn.patches.iter().position(|patch| patch.role == role && patch.size == size);
        known.unwrap_or_else(|| {
            let name = token.word.clone();
            self.sewn.patches.push(Patch { role, name, size, each: 0, turned: 0, line });
            self.sewn.patches.len() - 1
        })
    }

    /// Counts how often every part is used, and compares with the counts the file gives.
    fn count(&mut self, given: &mut [Given], has_rows: bool) {
        let mut tally = Tally {
            units: vec![(0, 0); self.drafts.len() + self.sewn.patches.len()],
            pieces: vec![0; given.len()],
        };
        tally.add(&self.sewn.rows, 1, 0);
        let readable = !has_rows || !self.sewn.rows.is_empty();
        for &index in self.order.iter().rev() {
            if let Some(count) = self.drafts[index].count.filter(|_| tally.units[index].0 == 0) {
                tally.units[index].0 = count;
            }
            let (each, turned) = tally.units[index];
            tally.add(&self.sewn.used[index].rows, each - turned, turned);
        }
        for (index, draft) in self.drafts.iter().enumerate() {
            let (each, turned) = tally.units[index];
            self.sewn.used[index].each = each;
            self.sewn.used[index].turned = turned;
            match draft.count {
                Some(count) if count != each && readable => {
                    let message = format!("count says {count} of \"{}\", the rows have {each}", draft.name);
                    let help = "leave the count out where rows tell it";
                    self.source.error(code::COUNTS, draft.line, "block.unit.count", message, help);
                }
                None if each == 0 && readable && draft.kind.is_some() => {
                    let message = format!("\"{}\" is in no row, so there are none of it", draft.name);
                    let help = "name it in the rows, or give its count";
                    self.source.error(code::NOT_IN_ROWS, draft.line, "block.unit", message, help);
                }
                _ => {}
            }
        }
        for (index, patch) in self.sewn.patches.iter_mut().enumerate() {
            (patch.each, patch.turned) = tally.units[self.drafts.len() + index];
        }
        self.count_pieces(given, &tally);
    }

    fn count_pieces(&mut self, given: &mut [Given], tally: &Tally) {
        for (piece, &each) in given.iter_mut().zip(&tally.pieces) {
            if each == 0 {
                continue;
            }
            if !piece.counted {
                piece.line.count = Count::PerCopy(each);
            } else if piece.line.count != Count::PerCopy(each) {
                let message =
                    format!("the rows have {each} of \"{}\", its count says otherwise", piece.line.label);
                let line = piece.line.line;
                let help = "leave the count out where rows tell it";
                self.source.error(code::COUNTS, line, "block.piece.count", message, help);
            }
        }
    }
}

/// Counts while rows are walked.
struct Tally {
    /// Of each unit and patch: how many, and how many of them turned.
    units: Vec<(u32, u32)>,
    /// Of each given piece.
    pieces: Vec<u32>,
}

impl Tally {
    /// Adds the cells of rows that lie upright and turned by a quarter so many times.
    fn add(&mut self, rows: &[Vec<Cell>], upright: u32, turned: u32) {
        let times = upright.saturating_add(turned);
        for cell in rows.iter().flatten() {
            match cell.part {
                Part::Piece(index, _) => self.pieces[index] = self.pieces[index].saturating_add(times),
                Part::Unit(index) => {
                    let (each, quarter) = &mut self.units[index];
                    let more = if cell.turn.swaps() { upright } else { turned };
                    *each = each.saturating_add(times);
                    *quarter = quarter.saturating_add(more);
                }
            }
        }
    }
}
