//! The whole quilt: every block in its place, in its own prints, and how well like ones are spread.

use std::collections::{BTreeMap, BTreeSet};

use crate::arranging::{Arrangement, Crowding};
use crate::length::round;
use crate::pattern::layout::{Place, Set};
use crate::pattern::{BlockId, RoleId, geometry, patchwork};
use crate::report::paint::Paint;
use crate::report::situation::Situation;
use crate::report::view::patchwork::{Draughts, PatchView, Patchwork};
use crate::report::view::words;
use crate::stash::PrintId;

/// The quilt as it will look.
pub(crate) struct QuiltView {
    /// The drawing.
    pub(crate) drawing: Patchwork,
    /// Its prints.
    pub(crate) key: Vec<QuiltPrint>,
    /// What each row of the layout holds.
    pub(crate) rows: Vec<Vec<String>>,
    /// How the rows are counted, when that needs saying.
    pub(crate) counted: &'static str,
    /// How well like blocks are spread, a sentence each.
    pub(crate) spread: Vec<String>,
}

/// A print of the quilt.
pub(crate) struct QuiltPrint {
    /// Its letters in the drawing.
    pub(crate) letters: String,
    /// The user's name of it.
    pub(crate) print: String,
    /// How it is painted.
    pub(crate) paint: Paint,
    /// The roles it takes.
    pub(crate) roles: String,
}

/// The quilt; nothing when its blocks have no places or it is not said how they are made.
pub(crate) fn quilt(here: &Situation<'_>, draughts: Option<&Draughts>) -> Option<QuiltView> {
    let draughts = draughts?;
    let pattern = here.pattern;
    if here.outcome.plan.prints.iter().all(Option::is_none) {
        return None;
    }
    let layout = pattern.layout.as_ref()?;
    let top = geometry::top(pattern)?;
    let arranged = here.arrangement.map_or(&[][..], |arrangement| &arrangement.places);
    let at: BTreeMap<Place, u32> = arranged.iter().map(|&(place, _, copy)| (place, copy)).collect();
    // The layout's own copy of each place -> the copy that lies there; each on its own place while anything is short.
    let lies: BTreeMap<(BlockId, u32), u32> = layout
        .places()
        .into_iter()
        .filter_map(|(place, cell)| {
            Some(((cell.block, cell.copy), if at.is_empty() { cell.copy } else { *at.get(&place)? }))
        })
        .collect();
    let mut uses: BTreeMap<PrintId, BTreeSet<RoleId>> = BTreeMap::new();
    let mut looks: BTreeMap<(BlockId, u32), Vec<Option<PrintId>>> = BTreeMap::new();
    for (&(block, copy), &lying) in &lies {
        looks.insert((block, copy), draughts.prints(here, block, lying));
    }
    let setting = patchwork::setting(pattern, here.demand, &top);
    let mut setting = setting.into_iter();
    let mut drawn: BTreeMap<(BlockId, u32), usize> = BTreeMap::new();
    let mut patches: Vec<PatchView> = Vec::new();
    for quilt_patch in geometry::quilt(pattern)? {
        let print = match quilt_patch.block {
            Some(copy) => {
                let next = drawn.entry(copy).or_default();
                *next += 1;
                looks.get(&copy).and_then(|prints| *prints.get(*next - 1)?)
            }
            None => setting.next().flatten().and_then(|piece| here.print_of(here.demand.piece(piece))),
        };
        let patch = quilt_patch.patch;
        if let (Some(print), Some(role)) = (print, patch.role) {
            uses.entry(print).or_default().insert(role);
        }
        patches.push(draughts.patch(patch.corners, patch.role, print));
    }
    let mut key: Vec<QuiltPrint> = uses
        .into_iter()
        .map(|(print, roles)| QuiltPrint {
            letters: draughts.letters.print(print).to_owned(),
            print: here.stash.print(print).name.clone(),
            paint: draughts.paint(print),
            roles: words::list(
                &roles.iter().map(|role| pattern.roles[role.0].name.clone()).collect::<Vec<_>>(),
            ),
        })
        .collect();
    key.sort_by(|one, other| one.letters.cmp(&other.letters));
    let units = here.job.settings.units;
    // On point a size is no multiple of any mark of a ruler.
    let size = match layout.set {
        Set::Straight => words::size(top.size.width, top.size.height, units),
        Set::OnPoint => {
            let marked = |length| round::down(length, units.mark());
            format!("about {}", words::size(marked(top.size.width), marked(top.size.height), units))
        }
    };
    Some(QuiltView {
        drawing: Patchwork {
            title: match here.outcome.plan.short.is_empty() {
                true => format!("{}, {size} finished", pattern.name),
                false => format!("{}, {size} finished, as far as it can be cut", pattern.name),
            },
            size: top.size,
            patches,
            outlines: geometry::outlines(pattern, &top),
        },
        key,
        rows: here.arrangement.map_or(Vec::new(), |arrangement| rows(here, arrangement)),
        counted: match layout.set {
            Set::OnPoint if !layout.between.is_empty() => "Rows as one sees them: those between count too.",
            _ => "",
        },
        spread: here.arrangement.map_or(Vec::new(), |arrangement| spread(here, arrangement)),
    })
}

/// What each row holds.
fn rows(here: &Situation<'_>, arrangement: &Arrangement) -> Vec<Vec<String>> {
    let mut rows: Vec<Vec<String>> = Vec::new();
    for &(place, block, copy) in &arrangement.places {
        if place.column == 1 {
            rows.push(Vec::new());
        }
        if let Some(row) = rows.last_mut() {
            row.push(words::copy_name(here, block, copy));
        }
    }
    rows
}

/// How well like blocks are spread.
fn spread(here: &Situation<'_>, arrangement: &Arrangement) -> Vec<String> {
    let mut told = Vec::new();
    match arrangement.closest {
        None => told.push("No print comes in two blocks, so no two blocks are alike.".to_owned()),
        Some(closest) => {
            let [one, other] = closest.copies.map(|(block, copy, place)| {
                format!(
                    "{} (row {}, column {})",
                    words::copy_name(here, block, copy),
                    place.row,
                    place.column
                )
            });
            let apart = match closest.distance {
                1 => "next to each other".to_owned(),
                places => format!("{places} places apart"),
            };
            let print = &here.stash.print(closest.print).name;
            told.push(format!(
                "The closest two of one print: {one} and {other}, both with {print}, {apart}."
            ));
            told.push(crowding("prints", arrangement.prints));
        }
    }
    if arrangement.colors.reached > 0 {
        told.push(crowding("colours", arrangement.colors));
    }
    told
}

fn crowding(of: &str, Crowding { reached, bound }: Crowding) -> String {
    if reached == 0 {
        return format!("No two blocks with like {of} lie within three places of each other.");
    }
    if reached == bound {
        format!("The search claims that like {of} are as far apart as they can be.")
    } else {
        format!("Like {of} are as far apart as we could get them.")
    }
}
