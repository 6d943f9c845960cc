//! The requirement in every size the pattern comes in, side by side.

use std::collections::BTreeSet;

use crate::app::need::Assumptions;
use crate::diagnostic::{Diagnostic, Place};
use crate::length::round;
use crate::need::{AtWidth, Finish, Need, NeedError, RoleNeed, need};
use crate::pattern::{Pattern, Size};

/// The requirement of one size.
#[derive(Clone, Debug)]
pub(super) struct SizeNeed {
    /// The size's name.
    pub(super) name: String,
    /// Finished size of the quilt, when the pattern says how it is set.
    pub(super) finished: Option<Size>,
    /// What it needs; `None` when that cannot be worked out as asked.
    pub(super) need: Option<Need>,
}

/// Every size of `pattern` with its requirement, in the pattern's order; empty when it comes in one. What has no
/// answer in another size than the one at hand is a warning about `file`.
pub(super) fn sizes(
    pattern: &Pattern,
    answer: &Need,
    how: &Assumptions,
    file: &str,
) -> (Vec<SizeNeed>, Vec<Diagnostic>) {
    let mut said = Vec::new();
    if pattern.sizes.len() < 2 {
        return (Vec::new(), said);
    }
    // Beside each other stand the amounts at one width only.
    let how = Assumptions { other_widths: Vec::new(), ..how.clone() };
    let mut all = Vec::new();
    for (index, size) in pattern.sizes.iter().enumerate() {
        let need = if index == pattern.size {
            Some(answer.clone())
        } else {
            let there = pattern.at_size(index).unwrap_or_default();
            let warn = |error: NeedError| {
                let message = format!("size \"{}\": {}", size.name, error.message(how.units));
                Diagnostic::warning("N100", Place::file(file), message, error.help())
            };
            need(&there, &how).map_err(|wrong| said.extend(wrong.into_iter().map(warn))).ok()
        };
        all.push(SizeNeed { name: size.name.clone(), finished: size.finished, need });
    }
    (all, said)
}

impl SizeNeed {
    /// The requirement of a role in this size.
    pub(super) fn role(&self, name: &str) -> Option<&RoleNeed> {
        self.need.as_ref()?.roles.iter().find(|role| role.name == name)
    }

    /// Name and finished size: `baby, 28 x 36 in`.
    pub(super) fn title(&self, how: &Assumptions) -> String {
        match self.finished {
            Some(size) => {
                // On point a size is no multiple of any mark of a ruler.
                let down = |length| round::down(length, how.units.finest_mark());
                let marked = Size { width: down(size.width), height: down(size.height) };
                let about = if marked == size { "" } else { "about " };
                format!("{}, {about}{}", self.name, marked.show(how.units))
            }
            None => self.name.clone(),
        }
    }
}

/// Rows of text: a heading, then for every fabric its amount in each size, as `told` tells it, then binding, backing
/// and batting.
pub(super) fn rows(
    pattern: &Pattern,
    sizes: &[SizeNeed],
    how: &Assumptions,
    told: &dyn Fn(&RoleNeed) -> String,
) -> Vec<Vec<String>> {
    let used: BTreeSet<&str> = sizes
        .iter()
        .filter_map(|size| size.need.as_ref())
        .flat_map(|need| &need.roles)
        .map(|r| r.name.as_str())
        .collect();
    let heading = std::iter::once("fabric".to_owned()).chain(sizes.iter().map(|size| size.title(how)));
    let mut rows: Vec<Vec<String>> = vec![heading.collect()];
    let mut row = |name: &str, cell: &dyn Fn(&SizeNeed) -> Option<String>| {
        let cells: Vec<Option<String>> = sizes.iter().map(cell).collect();
        if cells.iter().any(Option::is_some) {
            let shown = cells.into_iter().map(|cell| cell.unwrap_or_else(|| "-".to_owned()));
            rows.push(std::iter::once(name.to_owned()).chain(shown).collect());
        }
    };
    for role in pattern.roles.iter().filter(|role| used.contains(role.name.as_str())) {
        row(&role.name, &|size| size.role(&role.name).map(told));
    }
    let finish = |size: &SizeNeed| size.need.as_ref()?.finish.clone();
    row("binding, bought apart", &|size| finish(size)?.binding.map(|binding| binding.worked.amount.show()));
    row("backing", &|size| finish(size).map(|finish| finish.backing_amount.amount.show()));
    row("batting", &|size| finish(size).map(|finish| finish.batting.show(how.units)));
    rows
}

/// The amount by strips, and the least where it is smaller.
pub(super) fn amounts(role: &RoleNeed) -> String {
    let AtWidth { by_strips, by_least, .. } = &role.at;
    let (strips, least) = (by_strips.amount, by_least.amount);
    if least.length < strips.length { format!("{} ({})", strips.show(), least.show()) } else { strips.show() }
}

/// Headings of the columns of every size.
pub(super) fn csv_headings(sizes: &[SizeNeed]) -> Vec<String> {
    let headings =
        |size: &SizeNeed| ["by strips", "at least"].map(|what| format!("{}: buy {what}", size.name));
    sizes.iter().flat_map(headings).collect()
}

/// The two cells of one size.
pub(super) fn csv_cells(at: Option<&AtWidth>) -> [String; 2] {
    at.map(|at| [&at.by_strips, &at.by_least].map(|worked| worked.amount.show())).unwrap_or_default()
}

/// The cells of every size for what finishes the quilt.
pub(super) fn csv_finish(sizes: &[SizeNeed], told: impl Fn(&Finish) -> Option<String>) -> Vec<String> {
    let of = |size: &SizeNeed| told(size.need.as_ref()?.finish.as_ref()?);
    sizes.iter().flat_map(|size| [of(size).unwrap_or_default(), String::new()]).collect()
}
