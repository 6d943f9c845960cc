//! `[layout]`: how blocks make the quilt top.

use crate::pattern::BlockId;
use crate::pattern::file::blocks::Read;
use crate::pattern::file::cells;
use crate::pattern::file::keys::Keys;
use crate::pattern::file::roles::Roles;
use crate::pattern::file::source::{Source, code, did_you_mean};
use crate::pattern::file::strips;
use crate::pattern::file::words::{SETS, word};
use crate::pattern::layout::{BlockCell, Layout};

const KEYS: &[&str] =
    &["set", "rows", "across", "down", "between", "setting", "oversize", "sashing", "border", "finished"];

/// A quilt of more blocks has more pieces than can be planned.
const MOST_PLACES: u32 = 50_000;

/// Reads the layout, if there is one, and settles how many of each block are made.
pub(super) fn read(top: &Keys, blocks: &mut [Read], roles: &Roles, source: &mut Source) -> Option<Layout> {
    let keys = top.get("layout", source)?.table(source)?;
    keys.only(KEYS, source);
    let mut layout = Layout { line: keys.line, ..Layout::default() };
    if let Some(item) = keys.get("set", source) {
        layout.set = word(&item, SETS, source).unwrap_or_default();
    }
    let mut copies = vec![0_u32; blocks.len()];
    layout.rows = match keys.get("rows", source) {
        Some(_) => block_rows(&keys, "rows", blocks, &mut copies, source),
        None => filled(&keys, blocks, &mut copies, source),
    };
    layout.between = block_rows(&keys, "between", blocks, &mut copies, source);
    layout.setting = keys.get("setting", source).and_then(|item| roles.of(&item, source));
    layout.oversize =
        keys.get("oversize", source).and_then(|item| item.length_or_none(source)).unwrap_or_default();
    layout.finished = keys.get("finished", source).and_then(|item| item.size(source));
    layout.sashing = strips::sashing(&keys, None, roles, source);
    layout.borders = strips::borders(&keys, &[], roles, source);
    settle_makes(blocks, &copies, source);
    Some(layout)
}

/// Keys of a `[[size]]` that change its layout.
pub(super) const SIZE_KEYS: &[&str] = &["rows", "across", "down", "between", "sashing", "border", "finished"];

/// The layout of another size and how many copies of each block it has: `main` with what `keys` says instead.
pub(super) fn at_size(
    keys: &Keys,
    main: &Layout,
    blocks: &[Read],
    roles: &Roles,
    source: &mut Source,
) -> (Layout, Vec<u32>) {
    let mut layout = Layout { line: keys.line, ..main.clone() };
    let mut copies = vec![0_u32; blocks.len()];
    let has = |key: &str, source: &Source| keys.get(key, source).is_some();
    if has("rows", source) {
        layout.rows = block_rows(keys, "rows", blocks, &mut copies, source);
    } else if has("across", source) || has("down", source) {
        layout.rows = filled(keys, blocks, &mut copies, source);
    } else {
        count_again(&mut layout.rows, &mut copies);
    }
    if has("between", source) {
        layout.between = block_rows(keys, "between", blocks, &mut copies, source);
    } else {
        count_again(&mut layout.between, &mut copies);
    }
    layout.finished = keys.get("finished", source).and_then(|item| item.size(source));
    if has("sashing", source) {
        layout.sashing = strips::sashing(keys, main.sashing.as_ref(), roles, source);
    } else if let Some(sashing) = &mut layout.sashing {
        sashing.strips = None;
    }
    if has("border", source) {
        layout.borders = strips::borders(keys, &main.borders, roles, source);
    } else {
        layout.borders.iter_mut().for_each(|border| border.strips = None);
    }
    (layout, copies)
}

/// How many cells each of `blocks` has in a layout.
pub(super) fn copies(layout: &Layout, blocks: usize) -> Vec<u32> {
    let mut copies = vec![0_u32; blocks];
    for cell in layout.rows.iter().chain(&layout.between).flatten() {
        copies[cell.block.0] = copies[cell.block.0].saturating_add(1);
    }
    copies
}

fn count_again(rows: &mut [Vec<BlockCell>], copies: &mut [u32]) {
    for cell in rows.iter_mut().flatten() {
        copies[cell.block.0] = copies[cell.block.0].saturating_add(1);
        cell.copy = copies[cell.block.0];
    }
}

/// Rows of block names.
fn block_rows(
    keys: &Keys,
    key: &str,
    blocks: &[Read],
    copies: &mut [u32],
    source: &mut Source,
) -> Vec<Vec<BlockCell>> {
    let Some(item) = keys.get(key, source) else { return Vec::new() };
    let Some(rows) = item.texts(source) else { return Vec::new() };
    let mut cells = Vec::new();
    for (text, line) in rows {
        let (tokens, unknown) = cells::row(&text, |word| find(word, blocks));
        for word in unknown {
            let letters = blocks.iter().filter_map(|read| read.letter.as_deref());
            let known: Vec<&str> =
                letters.chain(blocks.iter().map(|read| read.block.name.as_str())).collect();
            let all = format!("give a block the letter \"{word}\", or use one of: {}", known.join(", "));
            let help = did_you_mean(&word, known, &all);
            let message = format!("\"{word}\" is no block of this pattern");
            source.error(code::UNKNOWN_CELL, line, &item.field, message, &help);
        }
        let row = tokens.into_iter().map(|token| {
            copies[token.what.0] = copies[token.what.0].saturating_add(1);
            BlockCell { block: token.what, copy: copies[token.what.0], turn: token.turn }
        });
        cells.push(row.collect());
    }
    cells
}

fn find(word: &str, blocks: &[Read]) -> Option<BlockId> {
    let letter = blocks.iter().position(|read| read.letter.as_deref() == Some(word));
    letter.or_else(|| blocks.iter().position(|read| read.block.name == word)).map(BlockId)
}

/// `across` and `down`: the only block, over and over.
fn filled(keys: &Keys, blocks: &[Read], copies: &mut [u32], source: &mut Source) -> Vec<Vec<BlockCell>> {
    let help = "give rows = [\"...\"] of block letters, or across and down for a quilt of one block";
    let Some(across) = keys.need("across", help, source).and_then(|item| item.count(source)) else {
        return Vec::new();
    };
    let Some(down) = keys.need("down", help, source).and_then(|item| item.count(source)) else {
        return Vec::new();
    };
    let places = across.checked_mul(down).filter(|&places| places <= MOST_PLACES);
    if blocks.len() != 1 || places.is_none() {
        let message = format!("across and down fill a quilt of one block, {MOST_PLACES} places at most");
        let field = keys.get("across", source).map(|item| item.field).unwrap_or_default();
        source.error(code::LAYOUT, keys.line, &field, message, help);
        return Vec::new();
    }
    copies[0] = across * down;
    let row = |row: u32| (1..=across).map(move |column| row * across + column);
    let cell = |copy| BlockCell { block: BlockId(0), copy, turn: crate::pattern::Turn::Up };
    (0..down).map(|index| row(index).map(cell).collect()).collect()
}

/// The layout says how many of each block there are; what the block itself says must agree.
fn settle_makes(blocks: &mut [Read], copies: &[u32], source: &mut Source) {
    for (read, &count) in blocks.iter_mut().zip(copies) {
        let name = &read.block.name;
        if read.make_given && count > 0 && count != read.block.make {
            let message = format!("make says {} of \"{name}\", the layout has {count}", read.block.make);
            let help = "leave make out where the layout tells it";
            source.error(code::COUNTS, read.line, "block.make", message, help);
        } else if !read.make_given && count > 0 {
            read.block.make = count;
        } else if !read.make_given {
            let message = format!("\"{name}\" is not in the layout, so there are none of it");
            let help = "put it in the rows of the layout, or say how many to make";
            source.error(code::NOT_IN_ROWS, read.line, "block", message, help);
        }
    }
}
