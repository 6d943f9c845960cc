//! `[layout.sashing]` and `[[layout.border]]`: the strips between and around the blocks.

use crate::length::Length;
use crate::pattern::RoleId;
use crate::pattern::file::keys::Keys;
use crate::pattern::file::roles::Roles;
use crate::pattern::file::source::{Source, code};
use crate::pattern::file::words::{BORDER_CORNERS, JOINS, word};
use crate::pattern::layout::{Border, Corners, Join, MITRE_EXTRA, Sashing};

const SASHING_KEYS: &[&str] = &["width", "role", "cornerstones", "around", "strip", "strips", "join"];
const BORDER_KEYS: &[&str] =
    &["width", "role", "corners", "cornerstones", "extra", "strip", "strips", "join"];

/// The sashing; what it does not say is taken from `like`, the sashing of the main size.
pub(super) fn sashing(
    keys: &Keys,
    like: Option<&Sashing>,
    roles: &Roles,
    source: &mut Source,
) -> Option<Sashing> {
    let table = keys.get("sashing", source)?.table(source)?;
    table.only(SASHING_KEYS, source);
    let width = width(&table, like.map(|like| like.width), source);
    let role = role(&table, like.map(|like| like.role), roles, source);
    let cornerstones = table.get("cornerstones", source).and_then(|item| roles.of(&item, source));
    let around = table.get("around", source).and_then(|item| item.yes(source));
    let (strip, strips) = strips(&table, like.and_then(|like| like.strip), source);
    Some(Sashing {
        width: width?,
        role: role?,
        cornerstones: cornerstones.or(like.and_then(|like| like.cornerstones)),
        around: around.unwrap_or(like.is_some_and(|like| like.around)),
        strip,
        strips,
        join: join(&table, like.map(|like| like.join), source),
    })
}

/// Borders, innermost first; what one does not say is taken from the border of the main size in its place.
pub(super) fn borders(keys: &Keys, main: &[Border], roles: &Roles, source: &mut Source) -> Vec<Border> {
    let mut borders = Vec::new();
    for (index, table) in keys.tables("border", source).into_iter().enumerate() {
        let like = main.get(index);
        table.only(BORDER_KEYS, source);
        let width = width(&table, like.map(|like| like.width), source);
        let role = role(&table, like.map(|like| like.role), roles, source);
        let corners = corners(&table, like.map(|like| like.corners), roles, source);
        let (strip, strips) = strips(&table, like.and_then(|like| like.strip), source);
        let join = join(&table, like.map(|like| like.join), source);
        if let (Some(width), Some(role)) = (width, role) {
            borders.push(Border { width, role, corners, strip, strips, join });
        }
    }
    borders
}

fn width(table: &Keys, like: Option<Length>, source: &mut Source) -> Option<Length> {
    match (table.get("width", source), like) {
        (None, Some(_)) => like,
        _ => table.need("width", "give its finished width", source)?.length(source),
    }
}

fn role(table: &Keys, like: Option<RoleId>, roles: &Roles, source: &mut Source) -> Option<RoleId> {
    match (table.get("role", source), like) {
        (None, Some(_)) => like,
        _ => roles.of(&table.need("role", "name the role it is cut from", source)?, source),
    }
}

/// How the strips of a border meet: squares when `cornerstones` names their role, else as `corners` says.
fn corners(table: &Keys, like: Option<Corners>, roles: &Roles, source: &mut Source) -> Corners {
    let squares = table.get("cornerstones", source).and_then(|item| roles.of(&item, source));
    let says = table.get("corners", source);
    let extra = table.get("extra", source);
    if let (Some(_), Some(item)) = (squares, &says) {
        let message = "a border with cornerstones has squares in its corners".to_string();
        let help = "leave out corners, or leave out cornerstones";
        source.error(code::LAYOUT, item.line, &item.field, message, help);
    }
    let mitred = says.as_ref().map(|item| word(item, BORDER_CORNERS, source).unwrap_or_default());
    let corners = match (squares, mitred, like.unwrap_or_default()) {
        (Some(role), _, _) => Corners::Squares(role),
        (None, Some(false), _) => Corners::Butted,
        (None, Some(true), same @ Corners::Mitred { .. }) => same,
        (None, Some(true), _) => Corners::Mitred { extra: MITRE_EXTRA },
        (None, None, same) => same,
    };
    match (corners, extra) {
        (Corners::Mitred { extra: usual }, Some(item)) => {
            Corners::Mitred { extra: item.length_or_none(source).unwrap_or(usual) }
        }
        (_, Some(item)) => {
            let message = "extra is what mitred strips are cut longer, and these are not mitred".to_string();
            let help = "leave it out, or say corners = \"mitred\"";
            source.error(code::LAYOUT, item.line, &item.field, message, help);
            corners
        }
        (_, None) => corners,
    }
}

/// Length and number of the strips something long is joined from. The number belongs to one size only.
fn strips(table: &Keys, like: Option<Length>, source: &mut Source) -> (Option<Length>, Option<u32>) {
    let strip = table.get("strip", source).and_then(|item| item.length(source)).or(like);
    let strips = table.get("strips", source).and_then(|item| item.count(source));
    if strips.is_some() && strip.is_none() && table.get("strip", source).is_none() {
        table.need("strip", "give the usable length of one strip, such as strip = \"42 in\"", source);
    }
    (strip, strips)
}

/// How they are joined.
fn join(table: &Keys, like: Option<Join>, source: &mut Source) -> Join {
    let says = table.get("join", source).and_then(|item| word(&item, JOINS, source));
    says.or(like).unwrap_or_default()
}
