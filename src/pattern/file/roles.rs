//! `[role]`: the fabrics of the pattern and their rules.

use crate::color::COLOR_WORDS;
use crate::diagnostic::visible_line;
use crate::fabric::Cut;
use crate::pattern::expand::RoleUse;
use crate::pattern::file::keys::{Item, Keys};
use crate::pattern::file::source::{Source, code, did_you_mean};
use crate::pattern::file::words::{DIRECTIONS, MATCHING, VALUES, word, word_list};
use crate::pattern::rules::{Choice, Contrast, Direction};
use crate::pattern::{Matching, Role, RoleId};
use crate::spreadsheet::{same_name, tidy};

/// The roles of a file, and how each is used.
#[derive(Default)]
pub(super) struct Roles {
    /// In file order.
    pub(super) roles: Vec<Role>,
    /// Matching and direction of each.
    pub(super) uses: Vec<RoleUse>,
}

const KEYS: &[&str] = &[
    "name",
    "matching",
    "from",
    "different",
    "at-most",
    "only",
    "never",
    "direction",
    "contrast",
    "meets",
    "blends",
];

impl Roles {
    /// The role with this name, or an error with the nearest one.
    pub(super) fn find(&self, name: &str, line: u64, field: &str, source: &mut Source) -> Option<RoleId> {
        let found = self.position(name);
        if found.is_none() {
            let known: Vec<&str> = self.names().collect();
            let all = if known.is_empty() {
                "declare it: [role] and under it  A = \"what it is\"".to_string()
            } else {
                format!("declare it under [role], or use one of: {}", known.join(", "))
            };
            let help = did_you_mean(name, known, &all);
            source.error(code::UNKNOWN_ROLE, line, field, format!("there is no role \"{name}\""), &help);
        }
        found
    }

    /// The role with this name, if there is one.
    pub(super) fn position(&self, name: &str) -> Option<RoleId> {
        self.roles.iter().position(|role| role.name == name).map(RoleId)
    }

    /// Their names.
    pub(super) fn names(&self) -> impl Iterator<Item = &str> {
        self.roles.iter().map(|role| role.name.as_str())
    }

    /// The role an item names.
    pub(super) fn of(&self, item: &Item, source: &mut Source) -> Option<RoleId> {
        let name = item.text(source)?;
        self.find(&name, item.line, &item.field, source)
    }

    /// The roles an item lists.
    pub(super) fn list(&self, item: &Item, source: &mut Source) -> Option<Vec<RoleId>> {
        let names = item.texts(source)?;
        let roles: Vec<RoleId> =
            names.iter().filter_map(|(name, line)| self.find(name, *line, &item.field, source)).collect();
        (roles.len() == names.len()).then_some(roles)
    }
}

/// Reads all roles; what one says of another is read once all are known.
pub(super) fn read(top: &Keys, source: &mut Source) -> Roles {
    let mut roles = Roles::default();
    let Some(table) = top.get("role", source).and_then(|item| item.table(source)) else { return roles };
    let names = table.names(source);
    for &(name, line) in &names {
        if tidy(name) != name || name.is_empty() {
            let message = format!("\"{name}\" has spaces that nobody would see");
            source.error(
                code::OUT_OF_RANGE,
                line,
                "role",
                message,
                "write the name with single spaces inside",
            );
        }
        if roles.names().any(|other| same_name(other, name)) {
            let message = format!("there is a role \"{name}\" already, whatever the size of its letters");
            source.error(code::NAME_TAKEN, line, "role", message, "give each role a name of its own");
        }
        // As texts are that name it.
        roles.roles.push(Role { name: visible_line(name).into_owned(), ..Role::default() });
        roles.uses.push(RoleUse { matching: Matching::Piece, keeps_up: false });
    }
    for (index, (name, _)) in names.iter().enumerate() {
        let Some(item) = table.get(name, source) else { continue };
        if item.is_text() {
            roles.roles[index].title = item.text(source).unwrap_or_default();
        } else if let Some(keys) = item.table(source) {
            read_one(RoleId(index), &keys, &mut roles, source);
        }
    }
    for (name, _) in &names {
        let item = table.get(name, source).filter(|item| !item.is_text());
        let Some(item) = item.and_then(|item| item.table(source)?.get("contrast", source)) else { continue };
        let Some(id) = roles.position(name) else { continue };
        let with = roles.roles[id.0].rules.contrast.iter().flat_map(|contrast| contrast.with.clone());
        for other in with.collect::<Vec<_>>() {
            if roles.uses[other.0].matching != Matching::Quilt {
                let message =
                    format!("\"{}\" is not one print over the whole quilt", roles.roles[other.0].name);
                let help = "a role can be made to stand out only from one with matching = \"quilt\"";
                source.error(code::OUT_OF_RANGE, item.line, &item.field, message, help);
            }
        }
    }
    roles
}

fn read_one(id: RoleId, keys: &Keys, roles: &mut Roles, source: &mut Source) {
    keys.only(KEYS, source);
    let mut role = roles.roles[id.0].clone();
    role.title = keys.text("name", source).unwrap_or_default();
    if let Some(item) = keys.get("matching", source)
        && let Some(matching) = word(&item, MATCHING, source)
    {
        roles.uses[id.0].matching = matching;
    }
    if let Some(item) = keys.get("from", source) {
        role.from = cuts(&item, source);
    }
    if let Some(item) = keys.get("different", source) {
        role.rules.different = roles.list(&item, source).unwrap_or_default();
        if role.rules.different.contains(&id) {
            let message = format!("role \"{}\" cannot be different from itself", role.name);
            source.error(code::UNKNOWN_ROLE, item.line, &item.field, message, "name another role");
        }
    }
    if let Some(item) = keys.get("at-most", source) {
        role.rules.at_most = item.count(source);
    }
    role.rules.only = choice("only", keys, source);
    role.rules.never = choice("never", keys, source);
    if let Some(item) = keys.get("direction", source) {
        role.rules.direction = word(&item, DIRECTIONS, source).unwrap_or_default();
        roles.uses[id.0].keeps_up = role.rules.direction == Direction::Kept;
    }
    role.rules.contrast = contrast(id, keys, roles, source);
    if let Some(item) = keys.get("meets", source) {
        role.looks.meets = roles.list(&item, source);
    }
    if let Some(item) = keys.get("blends", source) {
        role.looks.blends = item.yes(source).unwrap_or(false);
    }
    roles.roles[id.0] = role;
}

/// `contrast = { with = [..], at-least = 2 }`.
fn contrast(id: RoleId, keys: &Keys, roles: &Roles, source: &mut Source) -> Option<Contrast> {
    let table = keys.get("contrast", source)?.table(source)?;
    table.only(&["with", "at-least"], source);
    let with = table.need("with", "name the roles it must stand out from", source);
    let at_least = table.need("at-least", "write a contrast ratio such as 2", source);
    let with = with.and_then(|item| {
        let with = roles.list(&item, source)?;
        if with.contains(&id) {
            let message = "a role cannot stand out from itself".to_string();
            source.error(code::UNKNOWN_ROLE, item.line, &item.field, message, "name another role");
            return None;
        }
        Some(with)
    });
    let at_least = at_least.and_then(|item| {
        let text = item.text(source)?;
        let ratio = Contrast::ratio(&text);
        if ratio.is_none() {
            let message = format!("{text} is not a contrast ratio: expected a number from 1 to 21");
            source.error(
                code::OUT_OF_RANGE,
                item.line,
                &item.field,
                message,
                "write a number such as 2 or 1.5",
            );
        }
        ratio
    });
    Some(Contrast { with: with?, at_least: at_least? })
}

/// `only` or `never`: prints, colours or values.
fn choice(key: &str, keys: &Keys, source: &mut Source) -> Choice {
    let mut choice = Choice::default();
    let Some(table) = keys.get(key, source).and_then(|item| item.table(source)) else { return choice };
    table.only(&["print", "color", "value"], source);
    if let Some(item) = table.get("print", source) {
        let names = item.texts(source).unwrap_or_default();
        choice.prints = names.into_iter().map(|(name, _)| name).collect();
    }
    if let Some(item) = table.get("color", source) {
        choice.colors = word_list(&item, COLOR_WORDS, source).unwrap_or_default();
    }
    if let Some(item) = table.get("value", source) {
        choice.values = word_list(&item, VALUES, source).unwrap_or_default();
    }
    choice
}

/// Cuts of fabric by their names in the trade.
fn cuts(item: &Item, source: &mut Source) -> Vec<Cut> {
    let mut cuts = Vec::new();
    for (text, line) in item.texts(source).unwrap_or_default() {
        match Cut::find(&text) {
            Some(cut) => cuts.push(cut),
            None => {
                let known: Vec<&str> =
                    crate::fabric::table().iter().map(|entry| entry.name.as_str()).collect();
                let help =
                    did_you_mean(&text, known.iter().copied(), &format!("use one of: {}", known.join(", ")));
                let message = format!("\"{text}\" is not a cut of fabric we know");
                source.error(code::UNKNOWN_WORD, line, &item.field, message, &help);
            }
        }
    }
    cuts
}
