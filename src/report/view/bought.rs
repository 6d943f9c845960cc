//! What a print that is still to be bought must be like, by the rules of the roles it takes.

use std::collections::BTreeSet;

use crate::fabric::Value;
use crate::pattern::RoleId;
use crate::pattern::rules::Choice;
use crate::planning::Alternative;
use crate::report::view::words;
use crate::stash::PrintId;

/// Colors and values that the rules ask of `print` in the plan of `alternative`; nothing for a print that is held,
/// and nothing where they ask nothing.
pub(crate) fn must_be(alternative: &Alternative, print: PrintId) -> Option<String> {
    if alternative.stash.lots_of(print).any(|lot| lot.row.is_some()) {
        return None;
    }
    let sets = alternative.demand.sets.iter().zip(&alternative.outcome.plan.prints);
    let roles: BTreeSet<RoleId> = sets.filter(|(_, p)| **p == Some(print)).map(|(set, _)| set.role).collect();
    let mut asked: Vec<String> = Vec::new();
    for rules in roles.iter().filter_map(|role| alternative.demand.rules.get(role.0)) {
        asked.extend(
            [either(&colors(&rules.only)), either(&values(&rules.only))]
                .into_iter()
                .filter(|words| !words.is_empty()),
        );
        let never: Vec<&str> = colors(&rules.never).into_iter().chain(values(&rules.never)).collect();
        asked.extend((!never.is_empty()).then(|| format!("not {}", either(&never))));
    }
    let mut said: Vec<String> = Vec::new();
    asked.retain(|words| {
        let new = !said.contains(words);
        said.push(words.clone());
        new
    });
    (!asked.is_empty()).then(|| words::list(&asked))
}

fn colors(choice: &Choice) -> Vec<&'static str> {
    choice.colors.iter().map(|color| color.name()).collect()
}

fn values(choice: &Choice) -> Vec<&'static str> {
    let word = |value: &Value| match value {
        Value::Light => "light",
        Value::Medium => "medium",
        Value::Dark => "dark",
    };
    choice.values.iter().map(word).collect()
}

fn either(words: &[&str]) -> String {
    words.join(" or ")
}
