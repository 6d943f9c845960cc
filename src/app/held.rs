//! What a pattern's rules ask of prints, against the prints that are held.

use crate::diagnostic::{Diagnostic, Gathered, Place, Severity};
use crate::looks::{Sight, Thresholds};
use crate::pattern::rules::Choice;
use crate::pattern::{Pattern, Role, RoleId};
use crate::planning;
use crate::spreadsheet::{list, near};
use crate::stash::{PrintId, Stash};

/// Names of prints written out in one message.
const MOST_NAMES: usize = 5;

/// Rules that name a print the stash does not have, leave a role no print of it, or pass over prints of which the
/// stash does not say enough.
pub(super) fn rules(pattern: &Pattern, file: &str, stash: &Stash) -> Vec<Diagnostic> {
    let mut said = Gathered::default();
    for role in &pattern.roles {
        let mut tell = |severity: Severity, code: &'static str, rule: &str, message: String, help: String| {
            let place =
                Place { file: file.to_owned(), line: None, field: Some(format!("role.{}{rule}", role.name)) };
            said.push(Diagnostic { code, severity, place, message, help });
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
                tell(Severity::Warning, "T130", rule, format!("the stash has no print \"{name}\""), help);
            }
        }
        if planning::permitted(&role.rules, stash).is_some_and(|prints| prints.is_empty()) {
            let message = format!("the rules of role \"{}\" leave it no print of this stash", role.name);
            tell(Severity::Warning, "T131", "", message, way_out(role, stash));
            continue;
        }
        if let Some((message, help)) = role.rules.contrast.as_ref().and_then(|contrast| {
            contrast.with.iter().find_map(|&with| out_of_reach(pattern, role, with, contrast.at_least, stash))
        }) {
            tell(Severity::Error, "T134", ".contrast", message, help);
        }
        let only = &role.rules.only;
        for (what, asked) in [("color", !only.colors.is_empty()), ("value", !only.values.is_empty())] {
            let silent = silent(what, stash);
            if asked && !silent.is_empty() {
                let shown = silent.iter().take(MOST_NAMES).map(|&name| name.to_owned());
                let more = silent.len().saturating_sub(MOST_NAMES);
                let more = (more > 0).then(|| format!("{more} more"));
                let names = list(shown.chain(more));
                let message = format!("prints whose {what} is not known are not taken for it: {names}");
                let help = format!("state the {what} in the stash where it would suit");
                tell(Severity::Note, "T132", ".only", message, help);
            }
        }
    }
    said.into_list()
}

/// A contrast that no print of the stash can have: the most that can be had, and by which print.
fn out_of_reach(
    pattern: &Pattern,
    role: &Role,
    with: RoleId,
    at_least: u32,
    stash: &Stash,
) -> Option<(String, String)> {
    let other = &pattern.roles[with.0];
    let sight = Sight::of(stash, Thresholds::default());
    let comes = |role: &Role, print: PrintId| {
        let allowed = planning::permitted(&role.rules, stash);
        let from = |cut| role.from.is_empty() || role.from.contains(cut);
        allowed.is_none_or(|allowed| allowed.contains(&print))
            && stash.lots_of(print).any(|lot| from(&lot.cut))
    };
    let all = || (0..stash.prints.len()).map(PrintId);
    let pairs = all().filter(|&one| comes(role, one)).flat_map(|one| {
        let others = all().filter(|&two| comes(other, two));
        let sight = &sight;
        others.filter_map(move |two| Some((sight.contrast(one, two)?, one, two))).collect::<Vec<_>>()
    });
    let said = |ratio: u32| format!("{}.{:02}", ratio / 100, ratio % 100);
    let asked = format!("no print stands out from fabric {} by {}", other.name, said(at_least));
    match pairs.max_by_key(|&(ratio, one, two)| (ratio, std::cmp::Reverse((one, two)))) {
        Some((ratio, ..)) if ratio >= at_least => None,
        Some((ratio, one, two)) => {
            let (one, two) = (&stash.print(one).name, &stash.print(two).name);
            let message =
                format!("{asked}: the most there is is {}, \"{one}\" beside \"{two}\"", said(ratio));
            let help =
                format!("ask for {} or less, or add a print that is much lighter or darker", said(ratio));
            Some((message, help))
        }
        None => {
            let message = format!("{asked}: of none that may be taken the stash says colour or value");
            Some((message, "state the color or value of the prints in the stash".to_owned()))
        }
    }
}

fn unheld<'c>(choice: &'c Choice, stash: &'c Stash) -> impl Iterator<Item = &'c str> {
    let named = choice.prints.iter().map(String::as_str);
    let is_held = move |name: &str| {
        let only = Choice { prints: vec![name.to_owned()], ..Choice::default() };
        stash.prints.iter().any(|print| only.names(&print.name))
    };
    named.filter(move |name| !is_held(name))
}

/// The prints that state no color or value that we know.
fn silent<'s>(what: &str, stash: &'s Stash) -> Vec<&'s str> {
    let prints = stash.prints.iter().enumerate();
    let is_silent = |print: PrintId| match what {
        "color" => stash.print_color_group(print).is_none(),
        _ => stash.print_value(print).is_none(),
    };
    prints.filter(|&(index, _)| is_silent(PrintId(index))).map(|(_, print)| print.name.as_str()).collect()
}

/// What to do: a print that does not state what `only` asks for may only want a cell filled.
fn way_out(role: &Role, stash: &Stash) -> String {
    let only = &role.rules.only;
    let parts = [("color", !only.colors.is_empty()), ("value", !only.values.is_empty())].into_iter();
    let parts = parts.filter(|&(_, asked)| asked).map(|(what, _)| (what, silent(what, stash).len()));
    let parts: Vec<String> = parts
        .filter(|&(_, count)| count > 0)
        .map(|(what, count)| format!("{count} of its prints state no {what} that we know"))
        .collect();
    if parts.is_empty() {
        return "change the rules, or add a print they allow to the stash".to_owned();
    }
    format!("{}; fill these cells in the stash, or change the rules", list(parts))
}
