//! `[[size]]`: the same quilt smaller or larger, each size saying only what differs from the main one.

use crate::pattern::expand::total;
use crate::pattern::file::blocks::Read;
use crate::pattern::file::keys::Keys;
use crate::pattern::file::layout;
use crate::pattern::file::pieces::{Given, read_piece};
use crate::pattern::file::roles::Roles;
use crate::pattern::file::source::{Source, code, did_you_mean};
use crate::pattern::{Block, BlockId, Count, Layout};
use crate::spreadsheet::same_name;

/// One size of the quilt before its setting is worked out and its units are counted.
pub(super) struct Draft {
    /// Name; `None` for the only size of a pattern.
    pub(super) name: Option<String>,
    /// Blocks with the numbers made.
    pub(super) blocks: Vec<Block>,
    /// How they are set.
    pub(super) layout: Option<Layout>,
    /// What belongs to no block, as the file gives it.
    pub(super) given: Vec<Given>,
}

const KEYS: &[&str] = &["name", "make", "piece"];
/// More sizes than any pattern comes in; each is counted out for itself.
const MOST_SIZES: usize = 24;
/// Keys of a `[[size.piece]]` that changes a piece of the main size.
const CHANGE_KEYS: &[&str] = &["label", "size", "count", "total"];

/// Every `[[size]]` of the file. `read` are the blocks of the main size, their numbers settled.
pub(super) fn read(
    top: &Keys,
    read: &[Read],
    main: Option<&Layout>,
    given: &[Given],
    roles: &Roles,
    source: &mut Source,
) -> Vec<Draft> {
    let mut drafts: Vec<Draft> = Vec::new();
    let tables = top.tables("size", source);
    if let Some(beyond) = tables.get(MOST_SIZES) {
        let message = format!("there are {} sizes; at most {MOST_SIZES} are read", tables.len());
        source.error(code::OUT_OF_RANGE, beyond.line, "size", message, "give the others a file of their own");
    }
    for keys in tables.into_iter().take(MOST_SIZES) {
        let known: Vec<&str> = KEYS.iter().chain(layout::SIZE_KEYS).copied().collect();
        keys.only(&known, source);
        let help = "name the size, such as name = \"baby\"";
        let name = keys.need("name", help, source).and_then(|item| item.text(source));
        let (layout, copies) = match main {
            Some(main) => {
                let (layout, copies) = layout::at_size(&keys, main, read, roles, source);
                (Some(layout), copies)
            }
            None => {
                refuse_layout(&keys, source);
                (None, vec![0; read.len()])
            }
        };
        let mut blocks = made(read, main, &copies);
        makes(&keys, read, &copies, &mut blocks, source);
        let given = pieces(&keys, given, roles, source);
        let mut draft = Draft { name, blocks, layout, given };
        draft.leave_out();
        drafts.push(draft);
    }
    drafts
}

/// Each size must have a name of its own.
pub(super) fn check_names(top: &Keys, main: &str, source: &mut Source) {
    let mut names = vec![main.to_string()];
    for keys in top.tables("size", source) {
        let Some(item) = keys.get("name", source).filter(super::keys::Item::is_text) else { continue };
        let Some(name) = item.text(source) else { continue };
        if names.iter().any(|other| same_name(other, &name)) {
            let message = format!("there is a size \"{name}\" already");
            let help = "give each size a name of its own; size = \"...\" in [quilt] names the main one";
            source.error(code::NAME_TAKEN, item.line, &item.field, message, help);
        }
        names.push(name);
    }
}

/// Without a `[layout]` there is nothing that rows or borders could change.
fn refuse_layout(keys: &Keys, source: &mut Source) {
    for key in layout::SIZE_KEYS {
        if let Some(item) = keys.get(key, source) {
            let message = format!("\"{key}\" changes a layout, and this pattern has none");
            let help = "describe the main size in [layout], or say how many of each block with make";
            source.error(code::LAYOUT, item.line, &item.field, message, help);
        }
    }
}

/// The blocks with the numbers the layout of this size has; what is in no layout is made as in the main size.
fn made(read: &[Read], main: Option<&Layout>, copies: &[u32]) -> Vec<Block> {
    let before = main.map_or_else(|| vec![0; read.len()], |main| layout::copies(main, read.len()));
    let blocks = read.iter().zip(copies).zip(before).map(|((read, &now), before)| {
        let make = if now > 0 || before > 0 { now } else { read.block.make };
        Block { make, ..read.block.clone() }
    });
    blocks.collect()
}

/// `make = { Star = 6 }`: numbers of blocks by name or letter.
fn makes(keys: &Keys, read: &[Read], copies: &[u32], blocks: &mut [Block], source: &mut Source) {
    let Some(table) = keys.get("make", source).and_then(|item| item.table(source)) else { return };
    for (name, line) in table.names(source) {
        let found = read
            .iter()
            .position(|read| read.letter.as_deref() == Some(name) || same_name(&read.block.name, name));
        let Some(index) = found else {
            let known: Vec<&str> = read.iter().map(|read| read.block.name.as_str()).collect();
            let help =
                did_you_mean(name, known.iter().copied(), &format!("use one of: {}", known.join(", ")));
            let message = format!("\"{name}\" is no block of this pattern");
            source.error(code::UNKNOWN_CELL, line, "size.make", message, &help);
            continue;
        };
        let Some(count) = table.get(name, source).and_then(|item| item.count_or_none(source)) else {
            continue;
        };
        if copies[index] > 0 && copies[index] != count {
            let message =
                format!("make says {count} of \"{name}\", the layout of this size has {}", copies[index]);
            let help = "leave it out where the layout tells it";
            source.error(code::COUNTS, line, "size.make", message, help);
        }
        blocks[index].make = count;
    }
}

/// What belongs to no block: as in the main size, with what `[[size.piece]]` says of a piece by its label.
/// A count of 0 leaves a piece out; a label that the main size does not have is a new piece.
fn pieces(keys: &Keys, main: &[Given], roles: &Roles, source: &mut Source) -> Vec<Given> {
    let mut pieces = main.to_vec();
    let mut named: Vec<String> = Vec::new();
    for table in keys.tables("piece", source) {
        let help = "name the piece by its label in the main size, or give a new label";
        let Some(item) = table.need("label", help, source) else { continue };
        let Some(label) = item.text(source) else { continue };
        if named.contains(&label) {
            let message = format!("\"{label}\" is changed twice in this size");
            source.error(code::NAME_TAKEN, item.line, &item.field, message, "keep one of the two");
        }
        named.push(label.clone());
        match pieces.iter_mut().find(|piece| piece.line.label == label) {
            Some(piece) => change(piece, &table, source),
            None => pieces.extend(read_piece(&table, &pieces.clone(), roles, source)),
        }
    }
    pieces.retain(|piece| total(piece.line.count, 1) > 0);
    pieces
}

fn change(piece: &mut Given, table: &Keys, source: &mut Source) {
    table.only(CHANGE_KEYS, source);
    if let Some(size) = table.get("size", source).and_then(|item| item.size(source)) {
        (piece.line.width, piece.line.height) = (size.width, size.height);
    }
    for key in ["count", "total"] {
        if let Some(count) = table.get(key, source).and_then(|item| item.count_or_none(source)) {
            piece.line.count = Count::PerCopy(count);
        }
    }
    piece.line.line = table.line;
}

impl Draft {
    /// Drops the blocks that this size has none of.
    fn leave_out(&mut self) {
        let mut place = 0;
        let kept: Vec<Option<BlockId>> = self
            .blocks
            .iter()
            .map(|block| {
                let id = (block.make > 0).then_some(BlockId(place));
                place += usize::from(id.is_some());
                id
            })
            .collect();
        self.blocks.retain(|block| block.make > 0);
        let Some(layout) = &mut self.layout else { return };
        for row in layout.rows.iter_mut().chain(&mut layout.between) {
            row.retain_mut(|cell| match kept[cell.block.0] {
                Some(id) => {
                    cell.block = id;
                    true
                }
                None => false,
            });
        }
    }
}
