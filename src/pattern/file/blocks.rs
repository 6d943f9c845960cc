//! `[[block]]`: pieces, units and rows of one kind of block.

use crate::length::Length;
use crate::pattern::assembly::Frame;
use crate::pattern::expand::expand;
use crate::pattern::file::block_rows::{self, Sewn};
use crate::pattern::file::keys::Keys;
use crate::pattern::file::pieces::read_pieces;
use crate::pattern::file::roles::Roles;
use crate::pattern::file::source::{Source, code};
use crate::pattern::file::units::{self, Described, Draft};
use crate::pattern::unit::{Kind, Method, Spec, Unit, Way};
use crate::pattern::{Block, Sewing, Size};

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

const KEYS: &[&str] = &["name", "letter", "make", "finished", "rows", "unit", "piece"];

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
