//! Which prints a role may take: `only` and `never`, by name, colour group or value.

use crate::pattern::rules::{Choice, RoleRules};
use crate::stash::{PrintId, Stash};

/// The prints that `rules` let a role take, ascending; `None` when they rule out none.
///
/// Of what `only` names (names, colours, values) each must hold; of what `never` names none may. A print
/// whose colour or value is not said is not among those that must have one. A print still to be bought is
/// chosen to please, so colours and values do not rule it out; a list of names does.
pub fn permitted(rules: &RoleRules, stash: &Stash) -> Option<Vec<PrintId>> {
    if rules.only.is_empty() && rules.never.is_empty() && rules.excluded.is_empty() {
        return None;
    }
    let all = (0..stash.prints.len()).map(PrintId);
    let out = Choice { prints: rules.excluded.clone(), ..Choice::default() };
    let may = |print: &PrintId| {
        only(&rules.only, stash, *print) && !never(&rules.never, stash, *print) && !named(&out, stash, *print)
    };
    Some(all.filter(may).collect())
}

fn only(choice: &Choice, stash: &Stash, print: PrintId) -> bool {
    let open = to_be_bought(stash, print);
    (choice.prints.is_empty() || named(choice, stash, print))
        && (choice.colors.is_empty() || open || colored(choice, stash, print))
        && (choice.values.is_empty() || open || valued(choice, stash, print))
}

fn never(choice: &Choice, stash: &Stash, print: PrintId) -> bool {
    named(choice, stash, print) || colored(choice, stash, print) || valued(choice, stash, print)
}

fn named(choice: &Choice, stash: &Stash, print: PrintId) -> bool {
    choice.names(&stash.print(print).name)
}

fn colored(choice: &Choice, stash: &Stash, print: PrintId) -> bool {
    let group = stash.print_color_group(print);
    group.is_some_and(|group| choice.colors.contains(&group))
}

fn valued(choice: &Choice, stash: &Stash, print: PrintId) -> bool {
    stash.print_value(print).is_some_and(|value| choice.values.contains(&value))
}

/// True for a print that the stash holds in no row of its file.
fn to_be_bought(stash: &Stash, print: PrintId) -> bool {
    stash.lots_of(print).all(|lot| lot.row.is_none())
}
