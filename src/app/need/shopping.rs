//! What is still to buy, in words and as a spreadsheet.

use std::fmt::Write as _;

use crate::app::need::owned::{Served, Shopping};
use crate::app::need::{Assumptions, Requirement, text};
use crate::app::summary::Verdict;
use crate::length::Length;
use crate::need::{AtWidth, RoleNeed};
use crate::pattern::Pattern;
use crate::report::escape;

/// The whole answer.
pub(super) fn text(answer: &Requirement) -> String {
    let Requirement { pattern, how, need, shopping: Some(shopping), .. } = answer else {
        return String::new();
    };
    let mut out = format!("{}: fabric still to buy beside {}\n\n", pattern.title(), shopping.file);
    out += &text::assumed(pattern, how);
    out += &taken_from_stash(shopping, how);
    let _ = writeln!(out, "{}", verdict(shopping));
    if shopping.kept > 0 {
        let _ = writeln!(out, "What is kept back is not used: {}.", text::many(shopping.kept, "row"));
    }
    out += "\n";
    out += &table(pattern, shopping, how);
    for served in &shopping.served {
        let Some(rest) = rest_of(shopping, served) else { continue };
        let _ = write!(out, "\nStill to buy of ");
        out += &text::fabric(rest, how);
        out += &limits(pattern, served);
        if let Some(more) = shopping.more.iter().find(|more| more.role == served.role) {
            let _ = writeln!(
                out,
                "  or stay with {}: what no other fabric is cut from gives {} of {} pieces, then buy of the same print\n    by strips {}\n    at least  {}; {}",
                more.print,
                more.pieces,
                served.pieces,
                text::steps(&more.rest.by_strips, how),
                text::steps(&more.rest.by_least, how),
                bound(&more.rest, how),
            );
        }
    }
    if let Some(finish) = &need.finish {
        out += &text::finishing(finish, how);
        out += "  What finishes the quilt is not looked for in the stash.\n";
    }
    out
}

/// How the stash is used, as far as no reader could guess it.
fn taken_from_stash(shopping: &Shopping, how: &Assumptions) -> String {
    let mut out = "Any owned print may become any fabric of the pattern whose rules (from, matching, different, at-most, only, never) \
                   allow it; names of prints are not compared with those of the pattern's fabrics.\n"
        .to_owned();
    if shopping.allowance > Length::ZERO {
        let _ = writeln!(
            out,
            "Squaring up takes at most {} off the width and, once more, off the length of a sheet you own; off the width only \
             of strips, off the length only of yardage.",
            shopping.allowance.show(how.units)
        );
    }
    if how.prewash.is_some() {
        out += "What is owned is taken as the stash measures it; only what is bought is washed.\n";
    }
    if !how.directional.is_empty() {
        out +=
            "Of what is owned the stash says which prints have an up; --directional is for what is bought.\n";
    }
    out
}

fn verdict(shopping: &Shopping) -> String {
    match shopping.verdict {
        Verdict::Fits => "Nothing to buy for the quilt top: every piece comes out of the stash.".to_owned(),
        Verdict::Impossible => "The stash alone is not enough, that is proved. It serves whole blocks first, as many as were \
             found, then whatever else it can; used in another way it may leave other amounts to buy."
            .to_owned(),
        Verdict::Undecided => "Whether the stash alone is enough is not known: the search stopped. The amounts are enough; less may \
             do. A greater --effort searches longer."
            .to_owned(),
    }
}

fn table(pattern: &Pattern, shopping: &Shopping, how: &Assumptions) -> String {
    let mut rows = vec![
        ["fabric", "pieces", "from the stash", "to buy for", "by strips", "at least"]
            .map(str::to_owned)
            .to_vec(),
    ];
    for served in &shopping.served {
        let amounts = rest_of(shopping, served)
            .map(|role| [&role.at.by_strips, &role.at.by_least].map(|worked| worked.amount.show()));
        let [strips, least] = amounts.unwrap_or(["nothing".to_owned(), "nothing".to_owned()]);
        rows.push(vec![
            pattern.roles[served.role.0].name.clone(),
            served.pieces.to_string(),
            served.owned().to_string(),
            (served.pieces - served.owned()).to_string(),
            strips,
            least,
        ]);
    }
    let mut out = text::columns(&rows);
    for served in shopping.served.iter().filter(|served| !served.prints.is_empty()) {
        let prints = served.prints.iter().map(|(print, pieces)| format!("{print} ({pieces})"));
        let prints: Vec<String> = prints.collect();
        let _ = writeln!(out, "  {} from: {}", pattern.roles[served.role.0].name, prints.join(", "));
    }
    let _ = writeln!(out, "  amounts are rounded up to {}", how.step.name());
    out
}

fn rest_of<'a>(shopping: &'a Shopping, served: &Served) -> Option<&'a RoleNeed> {
    shopping.rest.roles.iter().find(|role| role.role == served.role)
}

fn bound(at: &AtWidth, how: &Assumptions) -> String {
    match at.is_proved() {
        true => "no cutting of these pieces takes less".to_owned(),
        false => format!("no cutting of these pieces takes less than {}", text::mark_down(at.bound, how)),
    }
}

/// What is to be heeded in choosing the print that is bought.
fn limits(pattern: &Pattern, served: &Served) -> String {
    let rules = &pattern.roles[served.role.0].rules;
    let mut out = String::new();
    if let Some(most) = rules.at_most {
        let _ = writeln!(
            out,
            "  no more than {most} blocks may be of one print: buy it in as many prints as that takes"
        );
    }
    if !rules.different.is_empty() {
        let others: Vec<&str> =
            rules.different.iter().map(|role| pattern.roles[role.0].name.as_str()).collect();
        let _ = writeln!(out, "  another print than that of {} in the same block", others.join(", "));
    }
    out
}

const HEADINGS: [&str; 10] = [
    "fabric",
    "title",
    "pieces",
    "from the stash",
    "prints",
    "usable width",
    "buy by strips",
    "exact at least",
    "bound",
    "buy at least",
];

/// One row for each fabric; what is not to be bought is left blank.
pub(super) fn csv(answer: &Requirement, shopping: &Shopping) -> Vec<u8> {
    let mut writer = ::csv::Writer::from_writer(Vec::new());
    // Writing to memory cannot fail, and every row has as many cells as the headings.
    let mut write = |cells: [String; 10]| {
        writer.write_record(cells.map(|cell| escape::cell(&cell))).expect("a row in memory");
    };
    write(HEADINGS.map(str::to_owned));
    let (how, roles) = (&answer.how, &answer.pattern.roles);
    let show = |length: Length| length.show(how.units);
    for served in &shopping.served {
        let rest = rest_of(shopping, served).map(|role| &role.at);
        let cell = |of: &dyn Fn(&AtWidth) -> String| rest.map(of).unwrap_or_default();
        let prints: Vec<String> =
            served.prints.iter().map(|(print, pieces)| format!("{print} ({pieces})")).collect();
        write([
            roles[served.role.0].name.clone(),
            roles[served.role.0].title.clone(),
            served.pieces.to_string(),
            served.owned().to_string(),
            prints.join("; "),
            show(how.width),
            cell(&|at| at.by_strips.amount.show()),
            cell(&|at| show(at.by_least.exact)),
            cell(&|at| show(at.bound)),
            cell(&|at| at.by_least.amount.show()),
        ]);
    }
    writer.into_inner().expect("a writer in memory")
}
