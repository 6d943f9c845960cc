//! Blocks of which only the pieces are known, each as a bar of its prints.

use std::collections::BTreeMap;

use crate::looks::is_binding;
use crate::pattern::RoleId;
use crate::report::looked::Looked;
use crate::report::paint::Paint;
use crate::report::situation::Situation;
use crate::report::view::letters::Letters;
use crate::report::view::quilt::QuiltPrint;
use crate::report::view::words;
use crate::stash::PrintId;

/// Every block copy as a bar.
pub(crate) struct BarsView {
    /// What it shows.
    pub(crate) title: String,
    /// The bars, in the order of the chart.
    pub(crate) bars: Vec<Bar>,
    /// Their prints.
    pub(crate) key: Vec<QuiltPrint>,
}

/// One block copy.
pub(crate) struct Bar {
    /// Its name.
    pub(crate) name: String,
    /// Its prints, the most of it first.
    pub(crate) parts: Vec<Part>,
}

/// How much of a bar one print takes.
pub(crate) struct Part {
    /// Ten-thousandths of the bar: its share of the area as cut.
    pub(crate) share: i64,
    /// How it is painted.
    pub(crate) paint: Paint,
    /// The letters of its print.
    pub(crate) letters: String,
}

/// The bars of a plan; nothing when no piece is placed.
pub(crate) fn bars(here: &Situation<'_>) -> Option<BarsView> {
    let letters = Letters::of(here);
    let mut uses: BTreeMap<PrintId, Vec<RoleId>> = BTreeMap::new();
    for piece in &here.demand.pieces {
        if let Some(print) = here.print_of(piece) {
            let roles = uses.entry(print).or_default();
            if !roles.contains(&piece.role) {
                roles.push(piece.role);
            }
        }
    }
    let areas = Looked::areas(here, &|role| !is_binding(here.pattern, role));
    let bars = areas.into_iter().map(|((block, copy), prints)| {
        let all: i128 = prints.iter().map(|(_, area)| area).sum();
        let part = |&(print, area): &(PrintId, i128)| Part {
            share: i64::try_from(area * 10_000 / all.max(1)).unwrap_or(0),
            paint: here.paint(print),
            letters: letters.print(print).to_owned(),
        };
        Bar { name: words::copy_name(here, block, copy), parts: prints.iter().map(part).collect() }
    });
    let bars: Vec<Bar> = bars.collect();
    let role = |role: &RoleId| here.pattern.roles[role.0].name.clone();
    let mut key: Vec<QuiltPrint> = uses
        .iter()
        .map(|(&print, roles)| QuiltPrint {
            letters: letters.print(print).to_owned(),
            print: here.stash.print(print).name.clone(),
            paint: here.paint(print),
            roles: words::list(&roles.iter().map(role).collect::<Vec<_>>()),
        })
        .collect();
    key.sort_by(|one, other| one.letters.cmp(&other.letters));
    let title = format!("{}: how much of each print a block shows", here.pattern.name);
    (!bars.is_empty()).then_some(BarsView { title, bars, key })
}
