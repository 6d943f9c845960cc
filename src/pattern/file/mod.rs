//! The pattern language: TOML text -> [`Pattern`] and everything found wrong with it, in one run.
//!
//! The format is described, with examples that are tested, in `data/pattern-format.md`.

use toml::de::DeTable;

use crate::diagnostic::Diagnostic;
use crate::diagnostic::limits::{PIECES, grouped};
use crate::length::{Length, Unit};
use crate::pattern::expand::total;
use crate::pattern::file::keys::Keys;
use crate::pattern::file::roles::Roles;
use crate::pattern::file::sizes::Draft;
use crate::pattern::file::source::{Source, code};
use crate::pattern::file::words::word;
use crate::pattern::setting::{self, Frame};
use crate::pattern::{Block, Layout, Pattern, QuiltSize, Sewing, Size};
use crate::spreadsheet::same_name;

mod block_rows;
mod blocks;
mod cells;
mod keys;
mod layout;
mod pieces;
mod roles;
mod sizes;
mod source;
mod strips;
mod units;
mod words;

const KEYS: &[&str] = &["quilt", "role", "block", "layout", "piece", "size"];
const QUILT_KEYS: &[&str] = &["name", "seam", "ruler", "unit", "finished", "size", "blends"];
/// Name of the main size where the file gives none.
const MAIN_SIZE: &str = "main";
const UNITS: words::Words<Unit> = &[("in", Unit::Inch), ("cm", Unit::Centimetre), ("mm", Unit::Millimetre)];
/// Name of the block that holds what belongs to no block: sashing, borders, setting triangles.
const TOP: &str = "quilt top";

/// Reads a pattern in TOML.
///
/// The pattern may be used when no diagnostic is an error. Nothing that is wrong stops the reading: all of it is
/// reported, in the order of the file.
///
/// ```
/// let text = br#"
/// [role]
/// A = "urchin print"
/// B = "background"
///
/// [[block]]
/// name = "Nine-patch"
/// make = 12
/// finished = "6 in"
/// rows = ["A B A", "B A B", "A B A"]
/// "#;
/// let (pattern, problems) = cutcloth::pattern::read_toml("nine.toml", text);
/// assert!(problems.is_empty());
/// assert_eq!(pattern.blocks[0].pieces.len(), 2); // 5 of A and 4 of B, 2 1/2 in square
/// ```
pub fn read_toml(file_name: &str, bytes: &[u8]) -> (Pattern, Vec<Diagnostic>) {
    let name = file_stem(file_name);
    let Ok(text) = std::str::from_utf8(bytes) else {
        let mut source = Source::new(file_name, "");
        source.whole_file(code::NOT_TEXT, "this is not text in UTF-8", "save the file as plain text, UTF-8");
        return (Pattern { name, ..Pattern::default() }, source.into_problems());
    };
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let mut source = Source::new(file_name, text);
    let (document, errors) = DeTable::parse_recoverable(text);
    for error in errors {
        let line = error.span().map_or(1, |span| source.line(span.start));
        let message = error.message().trim().replace('\n', ", ");
        source.error(
            code::NOT_TOML,
            line,
            "",
            message,
            "texts go in quotes, lists in [ ], one key to a line",
        );
    }
    let mut pattern = read(&Keys::top(document.get_ref()), &mut source);
    if pattern.name.is_empty() {
        pattern.name = name;
    }
    (pattern, source.into_problems())
}

fn read(top: &Keys, source: &mut Source) -> Pattern {
    top.only(KEYS, source);
    let quilt = quilt(top, source);
    let roles = roles::read(top, source);
    let mut read: Vec<blocks::Read> = Vec::new();
    for keys in top.tables("block", source) {
        read.extend(blocks::read(&keys, &roles, &quilt.sewing, source));
    }
    check_names(&read, source);
    let mut layout = layout::read(top, &mut read, &roles, source);
    if let Some(layout) = &mut layout {
        layout.finished = quilt.finished.or(layout.finished);
    }
    let given = pieces::read_pieces(top, &roles, source);
    sizes::check_names(top, quilt.size.as_deref().unwrap_or(MAIN_SIZE), source);
    let others = sizes::read(top, &read, layout.as_ref(), &given, &roles, source);
    let name = quilt.size.or_else(|| (!others.is_empty()).then(|| MAIN_SIZE.to_string()));
    let blocks = read.into_iter().map(|read| read.block).collect();
    let main = Draft { name, blocks, layout, given };
    let sound = source.errors() == 0;
    let mut sizes: Vec<QuiltSize> = Vec::new();
    for draft in std::iter::once(main).chain(others) {
        sizes.push(count_out(draft, sound, &roles, &quilt.sewing, source));
    }
    let mut pattern = Pattern {
        name: quilt.name,
        roles: roles.roles,
        blocks: sizes[0].blocks.clone(),
        sewing: Some(quilt.sewing),
        layout: sizes[0].layout.clone(),
        blends: quilt.blends,
        ..Pattern::default()
    };
    if sizes[0].name.is_empty() {
        sizes.clear();
    }
    pattern.sizes = sizes;
    pattern
}

/// Works out the setting of one size, and counts the pieces of its blocks.
fn count_out(draft: Draft, sound: bool, roles: &Roles, sewing: &Sewing, source: &mut Source) -> QuiltSize {
    let Draft { name, mut blocks, layout, given } = draft;
    let pieces = given.into_iter().map(|given| given.line).collect();
    let mut top = Block { name: TOP.to_string(), make: 1, pieces, ..Block::default() };
    if let Some(layout) = layout.as_ref().filter(|_| sound) {
        set(name.as_deref(), layout, &blocks, &mut top, roles, sewing, source);
    }
    top.given = top.pieces.len();
    let finished = top.finished;
    if !top.pieces.is_empty() {
        blocks.push(top);
    }
    if check_size(name.as_deref(), &blocks, source) {
        for block in &mut blocks {
            blocks::finish(block, roles);
        }
    }
    QuiltSize { name: name.unwrap_or_default(), finished, blocks, layout }
}

/// What `[quilt]` says.
#[derive(Default)]
struct Quilt {
    name: String,
    sewing: Sewing,
    /// All fabrics are meant to blend.
    blends: bool,
    /// The size the designer states.
    finished: Option<Size>,
    /// What the main size is called.
    size: Option<String>,
}

/// `[quilt]`: name, seam, ruler, the unit of bare numbers, the size the designer states.
fn quilt(top: &Keys, source: &mut Source) -> Quilt {
    let mut sewing = Sewing::default();
    let Some(keys) = top.get("quilt", source).and_then(|item| item.table(source)) else {
        return Quilt::default();
    };
    keys.only(QUILT_KEYS, source);
    let name = keys.text("name", source).unwrap_or_default();
    if let Some(item) = keys.get("unit", source)
        && let Some(unit) = word(&item, UNITS, source)
    {
        source.unit = unit;
        sewing.ruler = source.units().mark();
    }
    if let Some(item) = keys.get("seam", source)
        && let Some(seam) = item.length(source)
    {
        sewing.seam = seam;
        if seam > Length::from_inches(2) {
            let message = format!("a seam of {} is wider than any in patchwork", seam.show(source.units()));
            source.error(code::OUT_OF_RANGE, item.line, &item.field, message, "the usual seam is 1/4 in");
        }
    }
    if let Some(item) = keys.get("ruler", source)
        && let Some(ruler) = item.length(source)
    {
        sewing.ruler = ruler;
        if ruler > Length::from_inches(1) {
            let message = format!("marks {} apart are no ruler", ruler.show(source.units()));
            source.error(
                code::OUT_OF_RANGE,
                item.line,
                &item.field,
                message,
                "the usual ruler has marks 1/8 in apart",
            );
        }
    }
    let blends = keys.get("blends", source).and_then(|item| item.yes(source)).unwrap_or(false);
    let finished = keys.get("finished", source).and_then(|item| item.size(source));
    Quilt { name, sewing, blends, finished, size: keys.text("size", source) }
}

/// Names and letters of blocks must tell them apart.
fn check_names(blocks: &[blocks::Read], source: &mut Source) {
    for (index, read) in blocks.iter().enumerate() {
        let name = &read.block.name;
        if same_name(name, TOP) || blocks[..index].iter().any(|other| same_name(&other.block.name, name)) {
            let message = format!("there is a block \"{name}\" already");
            source.error(
                code::NAME_TAKEN,
                read.line,
                "block.name",
                message,
                "give each block a name of its own",
            );
        }
        let letter = read.letter.as_deref();
        if letter.is_some() && blocks[..index].iter().any(|other| other.letter.as_deref() == letter) {
            let message =
                format!("there is a block with the letter \"{}\" already", letter.unwrap_or_default());
            source.error(
                code::NAME_TAKEN,
                read.line,
                "block.letter",
                message,
                "give each block a letter of its own",
            );
        }
    }
}

/// Works out the quilt top and adds its pieces to the block of that name.
fn set(
    size: Option<&str>,
    layout: &Layout,
    blocks: &[Block],
    top: &mut Block,
    roles: &Roles,
    sewing: &Sewing,
    source: &mut Source,
) {
    let keeps_up: Vec<bool> = roles.uses.iter().map(|role| role.keeps_up).collect();
    let frame = Frame { blocks, sewing: *sewing, units: source.units(), keeps_up: &keeps_up };
    match setting::work_out(layout, &frame) {
        Ok(worked_out) => {
            for mut line in worked_out.lines {
                line.matching = roles.uses[line.role.0].matching;
                if top.pieces.iter().any(|given| given.label == line.label) {
                    let message = format!("\"{}\" is the label of a setting piece of the layout", line.label);
                    source.error(code::NAME_TAKEN, line.line, "piece.label", message, "choose another label");
                }
                top.pieces.push(line);
            }
            top.finished = Some(worked_out.size);
        }
        Err(message) => {
            let help = "change the layout, or the finished sizes of its blocks";
            let message = of_size(size, message);
            source.error(code::LAYOUT, layout.line, "layout", message, help);
        }
    }
}

/// A message about one size of several begins with its name.
fn of_size(size: Option<&str>, message: String) -> String {
    match size {
        Some(size) => format!("size \"{size}\": {message}"),
        None => message,
    }
}

/// There must be something to cut, and not more than a quilt can have.
fn check_size(size: Option<&str>, blocks: &[Block], source: &mut Source) -> bool {
    let mut pieces: u64 = 0;
    for block in blocks {
        for line in &block.pieces {
            pieces = pieces.saturating_add(total(line.count, block.make).into());
        }
        for unit in &block.units {
            let each: u64 =
                unit.way().map_or(0, |way| way.recipe.cuts.iter().map(|cut| u64::from(cut.count)).sum());
            let all = each.saturating_mul(unit.each.into()).saturating_mul(block.make.into());
            pieces = pieces.saturating_add(all);
        }
    }
    if pieces == 0 && source.errors() == 0 {
        let help = "describe a [[block]] with rows, units or pieces";
        let message = of_size(size, "this pattern has nothing to cut".to_string());
        source.whole_file(code::EMPTY, &message, help);
    }
    if pieces > PIECES {
        let message = format!("this pattern has {pieces} pieces; at most {} can be planned", grouped(PIECES));
        let message = of_size(size, message);
        source.whole_file(code::OUT_OF_RANGE, &message, "check the counts and how many blocks are made");
    }
    pieces <= PIECES
}

fn file_stem(file_name: &str) -> String {
    let base = file_name.rsplit(['/', '\\']).next().unwrap_or(file_name);
    base.rsplit_once('.').map_or(base, |(stem, _)| stem).to_string()
}
