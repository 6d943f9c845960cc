//! `[[block]]`: pieces, units and rows of one kind of block.

use crate::length::Length;
use crate::pattern::assembly::Frame;
use crate::pattern::expand::expand;
use crate::pattern::file::block_rows::{self, Sewn};
use crate::pattern::file::keys::Keys;
use crate::pattern::file::roles::Roles;
use crate::pattern::file::source::{Source, code};
use crate::pattern::file::units::{self, Described, Draft};
use crate::pattern::file::words::{MATCHING, SHAPES, word};
use crate::pattern::unit::{Kind, Method, Spec, Unit, Way};
use crate::pattern::{Block, Count, PieceLine, Sewing, Shape, Size};

/// A block, and what the layout needs to know of it.
#[derive(Clone)]
pub(super) struct Read {
    /// The block; its units are expanded once `make` is known.
    pub(super) block: Block,
    /// The letter that rows of blocks may use for it.
    pub(super) letter: Option<String>,
    /// Whether the file says how many to make.
    pub(super) make_given: bool,
    /// Line of its heading.
    pub(super) line: u64,
}

/// A `[[block.piece]]`: a line of the paper pattern's own chart.
#[derive(Clone)]
pub(super) struct Given {
    /// The line; its count is a guess while `counted` is false.
    pub(super) line: PieceLine,
    /// Whether the file gives the count.
    pub(super) counted: bool,
}

const KEYS: &[&str] = &["name", "letter", "make", "finished", "rows", "unit", "piece"];
const PIECE_KEYS: &[&str] = &["label", "role", "size", "count", "total", "shape", "matching"];

/// Reads one block.
pub(super) fn read(keys: &Keys, roles: &Roles, sewing: &Sewing, source: &mut Source) -> Option<Read> {
    keys.only(KEYS, source);
    let name = keys.need("name", "name the block", source).and_then(|item| item.text(source));
    let letter = keys.text("letter", source);
    let make = keys.get("make", source).map(|item| item.count(source));
    let finished = keys.get("finished", source).and_then(|item| item.size(source));
    let mut given = read_pieces(keys, roles, source);
    let unit_keys = keys.tables("unit", source);
    let drafts: Vec<Draft> = unit_keys
        .iter()
        .enumerate()
        .map(|(index, keys)| units::read(keys, index + 1, roles, sewing, source))
        .collect();
    let rows = keys.get("rows", source).and_then(|item| item.texts(source)).unwrap_or_default();
    let frame = Frame { whole: finished, sewing: *sewing, units: source.units() };
    let sewn = block_rows::assemble(&rows, &drafts, &mut given, roles, &frame, source);
    let units = work_out(drafts, &sewn, sewing, source);
    let name = name?;
    let block = Block {
        name,
        make: make.flatten().unwrap_or(1),
        given: given.len(),
        pieces: given.into_iter().map(|given| given.line).collect(),
        seams: sewing.seam + sewing.seam,
        finished: finished.or(sewn.whole),
        units,
        rows: sewn.rows,
    };
    Some(Read { block, letter, make_given: make.is_some(), line: keys.line })
}

/// Counts the units' pieces into the block's lines, now that `make` is settled.
pub(super) fn finish(block: &mut Block, roles: &Roles) {
    let names: Vec<String> = roles.roles.iter().map(|role| role.name.clone()).collect();
    expand(block, &roles.uses, &names);
}

/// `[[block.piece]]` or `[[piece]]`.
pub(super) fn read_pieces(keys: &Keys, roles: &Roles, source: &mut Source) -> Vec<Given> {
    let mut pieces: Vec<Given> = Vec::new();
    for piece in keys.tables("piece", source) {
        pieces.extend(read_piece(&piece, &pieces, roles, source));
    }
    pieces
}

/// One piece, to stand beside `others`.
pub(super) fn read_piece(
    piece: &Keys,
    others: &[Given],
    roles: &Roles,
    source: &mut Source,
) -> Option<Given> {
    piece.only(PIECE_KEYS, source);
    let role = piece.need("role", "name the role it is cut from", source);
    let role = role.and_then(|item| roles.of(&item, source));
    let help = "give its size as cut, such as size = \"4 1/2 x 2 1/2\"";
    let size = piece.need("size", help, source).and_then(|item| item.size(source));
    let shape = piece.get("shape", source).map_or(Some(Shape::Rectangle), |item| word(&item, SHAPES, source));
    let matching = piece.get("matching", source).and_then(|item| word(&item, MATCHING, source));
    let count = piece.get("count", source).map(|item| item.count(source).map(Count::PerCopy));
    let total = piece.get("total", source).map(|item| item.count(source).map(Count::Total));
    if count.is_some() && total.is_some() {
        let message = "both a count for each block copy and a total are given".to_string();
        source.error(code::COUNTS, piece.line, "piece.total", message, "keep one of count and total");
    }
    let label = piece.text("label", source);
    let counted = count.or(total);
    let (role, size, shape) = (role?, size?, shape?);
    if shape != Shape::Rectangle && size.width != size.height {
        let message =
            format!("{} is not square, and triangles are cut from squares", size.show(source.units()));
        let help = "give one length, or drop the shape";
        source.error(code::OUT_OF_RANGE, piece.line, "piece.size", message, help);
    }
    let label = label.unwrap_or_else(|| free_label(&roles.roles[role.0].name, others));
    if others.iter().any(|other| other.line.label == label) {
        let message = format!("two pieces are labelled \"{label}\"");
        source.error(code::NAME_TAKEN, piece.line, "piece.label", message, "give each piece its own label");
    }
    let line = PieceLine {
        label,
        role,
        width: size.width,
        height: size.height,
        count: counted.unwrap_or(Some(Count::PerCopy(1)))?,
        shape,
        matching: matching.unwrap_or(roles.uses[role.0].matching),
        line: piece.line,
    };
    Some(Given { line, counted: counted.is_some() })
}

fn free_label(role: &str, pieces: &[Given]) -> String {
    let numbered = (1..).map(|number| crate::pattern::expand::label(role, number));
    let taken = |label: &String| pieces.iter().any(|piece| piece.line.label == *label);
    numbered.into_iter().find(|label| !taken(label)).unwrap_or_default()
}

/// Units with their ways, from what was described and how often the rows use it.
fn work_out(drafts: Vec<Draft>, sewn: &Sewn, sewing: &Sewing, source: &mut Source) -> Vec<Unit> {
    let mut units = Vec::new();
    for (index, draft) in drafts.into_iter().enumerate() {
        let used = &sewn.used[index];
        let kind = match draft.kind {
            Some(Described::Kind(kind)) => Some(kind),
            Some(Described::Rows(_)) => Some(Kind::Rows { rows: used.rows.clone() }),
            None => None,
        };
        let finished = draft.finished.or(used.whole);
        let Some(kind) = kind else {
            // Said already; a stand-in keeps the numbering of the units.
            units.push(plain_stand_in(draft.name, draft.line));
            continue;
        };
        let ways = ways(&kind, finished, &draft.methods, &draft.oversize, draft.line, sewing, source);
        let loose = matches!(kind, Kind::TrianglesCutOnce { .. } | Kind::TrianglesCutTwice { .. });
        units.push(Unit {
            name: draft.name,
            kind,
            finished: finished.filter(|_| !loose),
            each: used.each,
            turned: used.turned,
            ways,
            oversize: draft.oversize,
            chosen: 0,
            line: draft.line,
        });
    }
    for patch in &sewn.patches {
        let kind = Kind::Patch { role: patch.role };
        let ways = ways(&kind, Some(patch.size), &[], &[], patch.line, sewing, source);
        units.push(Unit {
            name: patch.name.clone(),
            kind,
            finished: Some(patch.size),
            each: patch.each,
            turned: patch.turned,
            ways,
            oversize: Vec::new(),
            chosen: 0,
            line: patch.line,
        });
    }
    units
}

fn plain_stand_in(name: String, line: u64) -> Unit {
    let kind = Kind::Rows { rows: Vec::new() };
    let (ways, oversize) = (Vec::new(), Vec::new());
    Unit { name, kind, finished: None, each: 0, turned: 0, ways, oversize, chosen: 0, line }
}

/// Every way of making a unit that the file names, or the usual one.
fn ways(
    kind: &Kind,
    finished: Option<Size>,
    methods: &[Method],
    oversize: &[Length],
    line: u64,
    sewing: &Sewing,
    source: &mut Source,
) -> Vec<Way> {
    let Some(&usual) = kind.methods().first() else { return Vec::new() };
    let Some(finished) = finished else { return Vec::new() };
    let methods = if methods.is_empty() { &[usual][..] } else { methods };
    let mut ways = Vec::new();
    for &method in methods {
        match kind.recipe(&Spec { finished, method, oversize, sewing: *sewing }) {
            Ok(recipe) => ways.push(Way { method, recipe, spare: 0, lines: Vec::new() }),
            Err(error) => {
                let known: Vec<&str> = kind.methods().iter().map(|method| method.name()).collect();
                let known: Vec<&str> = known.into_iter().filter(|name| !name.is_empty()).collect();
                let help = match error {
                    crate::pattern::unit::UnitError::NoSuchMethod(_) if known.is_empty() => {
                        "leave the method out: there is only one way".to_string()
                    }
                    crate::pattern::unit::UnitError::NoSuchMethod(_) => {
                        format!("use one of: {}", known.join(", "))
                    }
                    crate::pattern::unit::UnitError::NoOversize => "leave oversize out".to_string(),
                    _ => "check the sizes of this unit".to_string(),
                };
                source.error(code::UNIT, line, "block.unit", error.describe(source.units()), &help);
            }
        }
    }
    if matches!(kind, Kind::Patch { .. })
        && ways.first().is_some_and(|way| {
            let cut = way.recipe.cuts[0].size;
            sewing.unfinished(finished.width) != Ok(cut.width)
                || sewing.unfinished(finished.height) != Ok(cut.height)
        })
    {
        let message = format!(
            "{} finished and its seams end between two marks of the ruler",
            finished.show(source.units())
        );
        let help = "choose another size, or cut at the next mark and trim after sewing";
        source.warn(code::OFF_RULER, line, "finished", message, help);
    }
    ways
}
