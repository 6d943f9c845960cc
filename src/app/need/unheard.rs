//! Options that would change nothing for this pattern: whoever gives them means something, so they are refused.

use crate::app::need::{Assumptions, Borders, Join};
use crate::diagnostic::{Diagnostic, Place};
use crate::need::Need;
use crate::pattern::Pattern;

/// Options about borders say nothing of a quilt whose borders are pieces like any other, or that has none; and borders
/// that may not be joined are joined in no way.
pub(super) fn about_borders(pattern: &Pattern, how: &Assumptions, file: &str) -> Vec<Diagnostic> {
    let mut said = Vec::new();
    let asked =
        how.borders != Borders::AsWritten || how.corners.is_some() || how.border_join.is_some() || !how.joins;
    if asked && pattern.layout.as_ref().is_none_or(|layout| layout.borders.is_empty()) {
        said.push(refuse(
            file,
            "an option asks how borders are cut, and this size of the pattern lays out no border",
            "leave out --borders, --border-corners, --border-join and --no-joins, or give each border in a pattern file",
        ));
    } else if !how.joins && how.border_join.is_some() {
        said.push(refuse(
            file,
            "--no-joins forbids joined borders, and --border-join says how they are joined",
            "leave out one of the two",
        ));
    }
    said
}

/// A stash is planned by the pattern file itself, so that the plan can be checked against it: it says how borders are cut.
pub(super) fn beside_a_stash(how: &Assumptions, file: &str) -> Vec<Diagnostic> {
    let asked =
        how.borders != Borders::AsWritten || how.corners.is_some() || how.border_join.is_some() || !how.joins;
    let refused = refuse(
        file,
        "an option asks for borders cut in another way, and with --stash they are planned as the pattern file says",
        "change corners, strip and join of the border in the pattern file, or leave out --stash",
    );
    if asked { vec![refused] } else { Vec::new() }
}

/// Options about binding, backing, batting and bed need a quilt whose size is known, and a binding that is not among its
/// pieces.
pub(super) fn about_finishing(need: &Need, how: &Assumptions, file: &str) -> Vec<Diagnostic> {
    let (given, usual) = (&how.finish, &Assumptions::usual(how.units).finish);
    let binding = given.bias
        || (given.strip_width, given.join, given.extra) != (usual.strip_width, usual.join, usual.extra);
    let rest = given.bed.is_some()
        || given.backing_width.is_some()
        || given.packages != usual.packages
        || given.overage != usual.overage;
    let mut said = Vec::new();
    match &need.finish {
        None if binding || rest => said.push(refuse(
            file,
            "an option asks about binding, backing, batting or a bed, and how large the quilt is the pattern does not say",
            "leave the option out, or give the pattern file a [layout]",
        )),
        Some(finish) if binding && finish.binding.is_none() => said.push(refuse(
            file,
            "an option asks how the binding is made, and the pattern lists its binding among its own pieces",
            "leave out --binding, --binding-join, --binding-extra and --bias, or take the binding out of the pattern",
        )),
        _ => {}
    }
    if given.bias && given.join == Join::Straight {
        said.push(refuse(
            file,
            "binding on the bias is joined diagonally, and --binding-join says straight",
            "leave out --binding-join",
        ));
    }
    said
}

fn refuse(file: &str, message: &str, help: &str) -> Diagnostic {
    Diagnostic::error("N100", Place::file(file), message.to_owned(), help)
}
