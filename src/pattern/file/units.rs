//! `[[block.unit]]`: one unit as the designer describes it.

use crate::length::Length;
use crate::pattern::file::keys::{Item, Keys};
use crate::pattern::file::roles::Roles;
use crate::pattern::file::source::{Source, code};
use crate::pattern::file::words::{CORNERS, KINDS, KindWord, METHODS, SHAPES, word, word_list};
use crate::pattern::unit::{Corner, CutPiece, Kind, Method, Recipe, Step};
use crate::pattern::{RoleId, Sewing, Shape, Size};

/// A unit as described, before its rows are looked up and its pieces worked out.
pub(super) struct Draft {
    /// What rows call it.
    pub(super) name: String,
    /// Line of its heading.
    pub(super) line: u64,
    /// What it is; `None` when that could not be read, so that nothing more is said of it.
    pub(super) kind: Option<Described>,
    /// Finished size, when given.
    pub(super) finished: Option<Size>,
    /// How many a block copy has, when given.
    pub(super) count: Option<u32>,
    /// The ways it may be made; empty for the usual way.
    pub(super) methods: Vec<Method>,
    /// What squares are cut larger by.
    pub(super) oversize: Vec<Length>,
}

/// What a unit is.
pub(super) enum Described {
    /// A kind with everything it needs.
    Kind(Kind),
    /// Rows of other units, still as text with their lines.
    Rows(Vec<(String, u64)>),
}

const KEYS: &[&str] = &[
    "name",
    "kind",
    "finished",
    "count",
    "role",
    "roles",
    "method",
    "oversize",
    "corners",
    "side",
    "strips",
    "strip-length",
    "rows",
    "piece",
    "steps",
    "trim",
    "makes",
];

/// Reads one unit. What is wrong is noted; the draft then has no kind.
pub(super) fn read(keys: &Keys, number: usize, roles: &Roles, sewing: &Sewing, source: &mut Source) -> Draft {
    keys.only(KEYS, source);
    let before = source.errors();
    let name = keys.text("name", source).unwrap_or_else(|| format!("unit {number}"));
    let mut finished = keys.get("finished", source).and_then(|item| item.size(source));
    if let Some(item) = keys.get("trim", source)
        && let Some(trim) = item.size(source)
    {
        finished = finished_of(trim, sewing, &item, source);
    }
    let count = keys.get("count", source).and_then(|item| item.count(source));
    let methods = keys.get("method", source).and_then(|item| word_list(&item, METHODS, source));
    let oversize = keys.get("oversize", source).map(|item| {
        item.items(source).iter().filter_map(|each| each.length_or_none(source)).collect::<Vec<_>>()
    });
    let help = "say what it is, such as kind = \"half-square triangles\"";
    let kind = keys
        .need("kind", help, source)
        .and_then(|item| word(&item, KINDS, source))
        .and_then(|word| describe(word, keys, finished, roles, sewing, source));
    let failed = source.errors() > before;
    Draft {
        name,
        line: keys.line,
        kind: kind.filter(|_| !failed),
        finished,
        count,
        methods: methods.unwrap_or_default(),
        oversize: oversize.unwrap_or_default(),
    }
}

/// The finished size of what is trimmed to `trim`.
fn finished_of(trim: Size, sewing: &Sewing, item: &Item, source: &mut Source) -> Option<Size> {
    let seams = sewing.seam + sewing.seam;
    if trim.width > seams && trim.height > seams {
        return Some(Size { width: trim.width - seams, height: trim.height - seams });
    }
    let message = "nothing is left of this size inside the seams".to_string();
    source.error(
        code::OUT_OF_RANGE,
        item.line,
        &item.field,
        message,
        "give the size before it is joined to others",
    );
    None
}

fn describe(
    word: KindWord,
    keys: &Keys,
    finished: Option<Size>,
    roles: &Roles,
    sewing: &Sewing,
    source: &mut Source,
) -> Option<Described> {
    if word != KindWord::Rows
        && word != KindWord::Free
        && finished.is_none()
        && keys.get("finished", source).is_none()
    {
        keys.need(
            "finished",
            "give its size in the quilt, without seams, such as finished = \"4 in\"",
            source,
        );
        return None;
    }
    let kind = match word {
        KindWord::Square | KindWord::Rectangle => {
            Kind::Patch { role: some_roles(keys, 1..=1, roles, source)?[0] }
        }
        KindWord::HalfSquare => {
            let two = some_roles(keys, 2..=2, roles, source)?;
            Kind::HalfSquare { roles: [two[0], two[1]] }
        }
        KindWord::QuarterSquare => Kind::QuarterSquare { roles: some_roles(keys, 2..=4, roles, source)? },
        KindWord::Geese => {
            let these = some_roles(keys, 2..=3, roles, source)?;
            Kind::Geese { goose: these[0], left: these[1], right: these[these.len() - 1] }
        }
        KindWord::FoldedCorners => folded(keys, roles, source)?,
        KindWord::SquareInSquare => {
            let two = some_roles(keys, 2..=2, roles, source)?;
            Kind::SquareInSquare { centre: two[0], corners: two[1] }
        }
        KindWord::CutOnce => {
            Kind::TrianglesCutOnce { role: some_roles(keys, 1..=1, roles, source)?[0], side: finished?.width }
        }
        KindWord::CutTwice => Kind::TrianglesCutTwice {
            role: some_roles(keys, 1..=1, roles, source)?[0],
            side: finished?.width,
        },
        KindWord::StripSet => strip_set(keys, finished?, roles, source)?,
        KindWord::Rows => {
            let help = "say how it is put together, such as rows = [\"A B\", \"B A\"]";
            return keys.need("rows", help, source)?.texts(source).map(Described::Rows);
        }
        KindWord::Free => free(keys, finished, roles, sewing, source)?,
    };
    Some(Described::Kind(kind))
}

/// `role` or `roles`, as many as the kind takes.
fn some_roles(
    keys: &Keys,
    many: std::ops::RangeInclusive<usize>,
    roles: &Roles,
    source: &mut Source,
) -> Option<Vec<RoleId>> {
    let item = match keys.get("role", source) {
        Some(item) => item,
        None => keys.need("roles", "name its fabrics, such as roles = [\"A\", \"B\"]", source)?,
    };
    let found = roles.list(&item, source)?;
    if many.contains(&found.len()) {
        return Some(found);
    }
    let (least, most) = (many.start(), many.end());
    let expected = if least == most { least.to_string() } else { format!("{least} to {most}") };
    let message = format!("{} roles are named, and this kind of unit takes {expected}", found.len());
    source.error(code::UNIT, item.line, &item.field, message, "name one role for each fabric of the unit");
    None
}

fn folded(keys: &Keys, roles: &Roles, source: &mut Source) -> Option<Kind> {
    let these = some_roles(keys, 2..=5, roles, source)?;
    let side =
        keys.need("side", "give the finished short side of the corner triangles", source)?.length(source)?;
    let corners: Vec<Corner> = match keys.get("corners", source) {
        Some(item) => word_list(&item, CORNERS, source)?,
        None => CORNERS.iter().map(|&(_, corner)| corner).collect(),
    };
    let mut distinct = corners.clone();
    distinct.sort_unstable();
    distinct.dedup();
    if distinct.len() != corners.len() {
        let message = "a corner is named twice".to_string();
        source.error(code::UNIT, keys.line, "block.unit.corners", message, "name every corner once");
        return None;
    }
    if these.len() != 2 && these.len() != corners.len() + 1 {
        let message = format!("{} roles do not suit {} corners", these.len() - 1, corners.len());
        let help = "name the base and one role for all corners, or the base and one role for each corner";
        source.error(code::UNIT, keys.line, "block.unit.roles", message, help);
        return None;
    }
    let corners = corners.into_iter().enumerate();
    let corners =
        corners.map(|(index, corner)| (corner, *these.get(index + 1).unwrap_or(&these[1]))).collect();
    Some(Kind::FoldedCorners { base: these[0], corners, side })
}

fn strip_set(keys: &Keys, finished: Size, roles: &Roles, source: &mut Source) -> Option<Kind> {
    let these = some_roles(keys, 1..=50, roles, source)?;
    let help = "give the length of the strips as cut, such as strip-length = \"42 in\"";
    let length = keys.need("strip-length", help, source)?.length(source)?;
    let widths: Vec<Length> = match keys.get("strips", source) {
        Some(item) => item.items(source).iter().filter_map(|each| each.length(source)).collect(),
        None => {
            let many = i64::try_from(these.len()).unwrap_or(1);
            vec![Length::from_ticks(finished.height.ticks() / many); these.len()]
        }
    };
    if widths.len() != these.len() {
        let message = format!("{} strips are named and {} roles", widths.len(), these.len());
        let help = "give one finished width for each role, top strip first";
        source.error(code::UNIT, keys.line, "block.unit.strips", message, help);
        return None;
    }
    Some(Kind::StripSet { strips: these.into_iter().zip(widths).collect(), length })
}

fn free(
    keys: &Keys,
    finished: Option<Size>,
    roles: &Roles,
    sewing: &Sewing,
    source: &mut Source,
) -> Option<Kind> {
    if finished.is_none() {
        let help = "give what it is trimmed to before it is joined, such as trim = \"4 1/2 in\", or its finished size";
        keys.need("trim", help, source);
    }
    let mut cuts = Vec::new();
    for piece in keys.tables("piece", source) {
        piece.only(&["role", "size", "count", "shape"], source);
        let role = piece.need("role", "name its role", source).and_then(|item| roles.of(&item, source));
        let size = piece.need("size", "give its size as cut", source).and_then(|item| item.size(source));
        let shape = piece.get("shape", source).and_then(|item| word(&item, SHAPES, source));
        let count = piece.get("count", source).map_or(Some(1), |item| item.count(source));
        if let (Some(role), Some(size), Some(count)) = (role, size, count) {
            cuts.push(CutPiece { role, size, count, shape: shape.unwrap_or(Shape::Rectangle) });
        }
    }
    if cuts.is_empty() {
        let help = "give at least one [[block.unit.piece]] with role, size and count";
        keys.need("piece", help, source);
        return None;
    }
    let texts = keys.get("steps", source).and_then(|item| item.texts(source)).unwrap_or_default();
    let mut steps: Vec<Step> = texts.into_iter().map(|(text, _)| Step { text, measures: None }).collect();
    if let Some(Size { width, height }) = finished {
        let seams = sewing.seam + sewing.seam;
        let text = if keys.get("trim", source).is_some() { "Trim each unit." } else { "Measure each unit." };
        let measures = Some(Size { width: width + seams, height: height + seams });
        steps.push(Step { text: text.to_string(), measures });
    }
    let makes = keys.get("makes", source).map_or(Some(1), |item| item.count(source))?;
    finished.map(|_| Kind::Free { recipe: Recipe { makes, cuts, steps } })
}
