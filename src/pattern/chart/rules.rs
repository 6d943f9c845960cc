//! The rules between fabrics that a chart may have as columns; on one row of a role is enough.

use std::collections::BTreeMap;

use crate::color::COLOR_WORDS;
use crate::diagnostic::{Diagnostic, Gathered};
use crate::fabric::Value;
use crate::pattern::chart::line::Line;
use crate::pattern::rules::{Choice, Contrast, RoleRules};
use crate::pattern::{Matching, Role, RoleId, RoleLooks};
use crate::spreadsheet::{Cells, Sheet, key, list, near, same_name, tidy};

const VALUES: &[(&str, Value)] = &[("light", Value::Light), ("medium", Value::Medium), ("dark", Value::Dark)];

/// The columns with rules.
const RULES: &[&str] = &["different", "at most", "only", "never", "contrast", "meets", "blends"];

/// Gives each role its rules.
pub(super) fn read(sheet: &Sheet, lines: &[Line], roles: &mut [Role], diagnostics: &mut Gathered) {
    let names: Vec<String> = roles.iter().map(|role| role.name.clone()).collect();
    // Most charts have no rules, and a long one may have a role a line.
    let mut ruled: BTreeMap<String, Vec<&Line>> = BTreeMap::new();
    for line in lines.iter().filter(|line| RULES.iter().any(|rule| !sheet.cell(line.row, rule).is_empty())) {
        if let Some(role) = &line.role {
            ruled.entry(key(role)).or_default().push(line);
        }
    }
    for (id, role) in roles.iter_mut().enumerate().filter(|_| !ruled.is_empty()) {
        let Some(of_role) = ruled.get(&key(&role.name)) else { continue };
        for rule in RULES {
            let mut said = of_role.iter().filter(|line| !sheet.cell(line.row, rule).is_empty());
            let Some(first) = said.next() else { continue };
            for other in
                said.filter(|other| !same_name(sheet.cell(other.row, rule), sheet.cell(first.row, rule)))
            {
                let message = format!("\"{}\" has another \"{rule}\" on line {}", names[id], first.row.line);
                let help = "write the rule on one row of the role, or the same on all";
                diagnostics.push(Diagnostic::error("C119", sheet.place(other.row, rule), message, help));
            }
            let mut cells = Cells::new(sheet, first.row, diagnostics);
            let reader = Reader { names: &names, lines, id: RoleId(id), rule };
            reader.take(&mut cells, &mut role.rules, &mut role.looks);
        }
    }
}

/// Reads one cell with a rule of one role.
struct Reader<'a> {
    names: &'a [String],
    lines: &'a [Line<'a>],
    id: RoleId,
    rule: &'a str,
}

impl Reader<'_> {
    fn take(&self, cells: &mut Cells, rules: &mut RoleRules, looks: &mut RoleLooks) {
        let text = cells.text(self.rule);
        match self.rule {
            "different" => rules.different = self.roles(text, cells),
            "at most" => rules.at_most = cells.count(self.rule).unwrap_or(None),
            "only" => rules.only = choice(text),
            "never" => rules.never = choice(text),
            "contrast" => rules.contrast = self.contrast(text, cells),
            "meets" => looks.meets = Some(self.roles(text, cells)),
            _ => looks.blends = cells.yes_no(self.rule).ok().flatten().unwrap_or(false),
        }
    }

    /// Names of other roles.
    fn roles(&self, text: &str, cells: &mut Cells) -> Vec<RoleId> {
        let mut found = Vec::new();
        for name in parts(text) {
            match self.names.iter().position(|known| same_name(known, name)) {
                Some(other) if other != self.id.0 => found.push(RoleId(other)),
                Some(_) => {
                    let message = format!("\"{name}\" is the role of this row itself");
                    cells.error("C120", self.rule, message, "name another role");
                }
                None => {
                    let close = near(name, self.names.iter().map(String::as_str));
                    let help = match close.is_empty() {
                        true => "name a role of this chart".to_string(),
                        false => {
                            format!("did you mean {}?", list(close.iter().map(|name| format!("\"{name}\""))))
                        }
                    };
                    cells.error("C120", self.rule, format!("no row has a role \"{name}\""), &help);
                }
            }
        }
        found
    }

    /// `2 with background`.
    fn contrast(&self, text: &str, cells: &mut Cells) -> Option<Contrast> {
        let read =
            text.split_once(" with ").and_then(|(ratio, roles)| Some((Contrast::ratio(ratio)?, roles)));
        let Some((at_least, roles)) = read else {
            let message = format!("\"{text}\" does not say from what the role must stand out, and how much");
            let help = "write a ratio from 1 to 21 and a role of the whole quilt, e.g. 2 with background";
            cells.error("C121", self.rule, message, help);
            return None;
        };
        let with = self.roles(roles, cells);
        for &other in &with {
            let name = &self.names[other.0];
            let of_role = |line: &&Line| line.role.as_ref().is_some_and(|role| same_name(role, name));
            if self.lines.iter().filter(of_role).any(|line| line.matching != Matching::Quilt) {
                let message = format!("\"{name}\" is not one print over the whole quilt");
                let help = "a role can be made to stand out only from one whose matching is quilt";
                cells.error("C121", self.rule, message, help);
                return None;
            }
        }
        (!with.is_empty()).then_some(Contrast { with, at_least })
    }
}

/// Values, colours and names of prints; a word that is a value or a plain colour is taken for it.
fn choice(text: &str) -> Choice {
    let mut choice = Choice::default();
    for part in parts(text) {
        if let Some(&(_, value)) = VALUES.iter().find(|(word, _)| same_name(word, part)) {
            choice.values.push(value);
        } else if let Some(&(_, color)) = COLOR_WORDS.iter().find(|(word, _)| same_name(word, part)) {
            choice.colors.push(color);
        } else {
            choice.prints.push(tidy(part));
        }
    }
    choice
}

fn parts(text: &str) -> impl Iterator<Item = &str> {
    text.split(['/', ';', '|']).map(str::trim).filter(|part| !part.is_empty())
}
