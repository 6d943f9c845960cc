//! What a pattern's rules ask of prints, against the prints that are held.

use crate::diagnostic::{Diagnostic, Place, Severity};
use crate::pattern::rules::Choice;
use crate::pattern::{Pattern, Role};
use crate::planning;
use crate::spreadsheet::{list, near};
use crate::stash::Stash;

/// Warnings about rules that name a print the stash does not have, or leave a role no print of it.
pub(super) fn rules(pattern: &Pattern, file: &str, stash: &Stash) -> Vec<Diagnostic> {
    let mut said = Vec::new();
    for role in &pattern.roles {
        let mut warn = |code: &'static str, rule: &str, message: String, help: String| {
            let place =
                Place { file: file.to_owned(), line: None, field: Some(format!("role.{}{rule}", role.name)) };
            said.push(Diagnostic { code, severity: Severity::Warning, place, message, help });
        };
        for (rule, choice) in [(".only", &role.rules.only), (".never", &role.rules.never)] {
            for name in unheld(choice, stash) {
                let held = stash.prints.iter().map(|print| print.name.as_str());
                let close: Vec<String> =
                    near(name, held).into_iter().map(|other| format!("\"{other}\"")).collect();
                let help = if close.is_empty() {
                    "write it as the stash does".to_owned()
                } else {
                    format!("did you mean {}?", list(close).replace(" and ", " or "))
                };
                warn("T130", rule, format!("the stash has no print \"{name}\""), help);
            }
        }
        if planning::permitted(&role.rules, stash).is_some_and(|prints| prints.is_empty()) {
            let message = format!("the rules of role \"{}\" leave it no print of this stash", role.name);
            warn("T131", "", message, way_out(role, stash));
        }
    }
    said
}

fn unheld<'c>(choice: &'c Choice, stash: &'c Stash) -> impl Iterator<Item = &'c str> {
    let named = choice.prints.iter().map(String::as_str);
    let is_held = move |name: &str| {
        let only = Choice { prints: vec![name.to_owned()], ..Choice::default() };
        stash.prints.iter().any(|print| only.names(&print.name))
    };
    named.filter(move |name| !is_held(name))
}

/// What to do: a print that does not state what `only` asks for may only want a cell filled.
fn way_out(role: &Role, stash: &Stash) -> String {
    let only = &role.rules.only;
    let ids = || (0..stash.prints.len()).map(crate::stash::PrintId);
    let silent = |what: &str, asked: bool, count: usize| {
        (asked && count > 0).then(|| format!("{count} of its prints state no {what} that we know"))
    };
    let colors = ids().filter(|&print| stash.print_color_group(print).is_none()).count();
    let values = ids().filter(|&print| stash.print_value(print).is_none()).count();
    let parts: Vec<String> =
        [silent("color", !only.colors.is_empty(), colors), silent("value", !only.values.is_empty(), values)]
            .into_iter()
            .flatten()
            .collect();
    match parts.is_empty() {
        true => "change the rules, or add a print they allow to the stash".to_owned(),
        false => format!("{}; fill these cells in the stash, or change the rules", list(parts)),
    }
}
