//! What is drawn of a sheet: true sizes and texts. How large it is on paper, and where a text goes that does not
//! fit, is left to `svg`.

use crate::cutting::Rect;
use crate::fabric::Family;
use crate::length::Length;
use crate::planning::SheetPlan;
use crate::report::situation::Situation;
use crate::report::view::words;
use crate::report::working::{Origin, Stroke, Task};
use crate::stash::Lot;

/// A drawing.
pub(crate) struct Drawing {
    /// Its anchor; unique in the file.
    pub(crate) id: String,
    /// What it shows, for those who do not see it.
    pub(crate) title: String,
    /// Width of the sheet.
    pub(crate) width: Length,
    /// Height of the sheet as far as it is drawn.
    pub(crate) height: Length,
    /// True when an uncut rest goes on beyond the upper edge of the drawing.
    pub(crate) torn: bool,
    /// Width as text.
    pub(crate) width_text: String,
    /// Full height as text.
    pub(crate) height_text: String,
    /// Where it goes, which says how large it can be.
    pub(crate) place: Place,
    /// True when the print has an up.
    pub(crate) up: bool,
    /// Pieces and leftovers.
    pub(crate) areas: Vec<Area>,
    /// The cuts.
    pub(crate) cuts: Vec<Cut>,
}

/// A cut.
pub(crate) struct Cut {
    /// Where it lies.
    pub(crate) stroke: Stroke,
    /// True when it cuts the whole sheet.
    pub(crate) whole: bool,
    /// True when it lies between two cuts of one ruler setting: where there is little room, the numbers of the
    /// first and the last are enough.
    pub(crate) between: bool,
}

/// Where a drawing goes on its card.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Place {
    /// Beside the steps: small fabric, or few steps.
    Beside,
    /// Above the steps, the pieces beside it.
    Above,
    /// Across the page: a long strip, or many steps.
    Across,
}

impl Place {
    /// The place for a sheet of this size that is cut in so many steps.
    fn of(width: Length, height: Length, steps: usize) -> Place {
        // With more steps than `many` labels and numbers need all the room there is; with more than `some` the
        // steps of a fabric wider than a square need the whole width of the page.
        let (some, many) = (8, 22);
        if steps > many || width.ticks() > 3 * height.ticks() {
            Place::Across
        } else if steps > some && width > Length::from_inches(12) {
            Place::Above
        } else {
            Place::Beside
        }
    }
}

/// A piece or a leftover.
pub(crate) struct Area {
    /// Where it lies.
    pub(crate) rect: Rect,
    /// Label of the piece; nothing for a leftover.
    pub(crate) label: Option<String>,
    /// Its size as it lies.
    pub(crate) size: String,
}

impl Drawing {
    /// The drawing of a sheet.
    pub(crate) fn of(
        here: &Situation<'_>,
        id: &str,
        lot: &Lot,
        sheet: &SheetPlan,
        tasks: &[Task],
        steps: usize,
    ) -> Drawing {
        let units = here.job.settings.units;
        let layout = &sheet.layout;
        let (height, torn) = drawn_height(lot, sheet);
        let mut areas: Vec<Area> = layout
            .pieces()
            .into_iter()
            .map(|(index, rect, _)| Area {
                rect,
                label: Some(here.piece(index).label.clone()),
                size: words::size(rect.width, rect.height, units),
            })
            .collect();
        areas.extend(layout.leftovers().into_iter().filter(|rect| rect.y < height).map(|rect| Area {
            rect: Rect { height: rect.height.min(height - rect.y), ..rect },
            label: None,
            size: words::fabric_size(rect.width, rect.height, units),
        }));
        let name = &here.stash.print(lot.print).name;
        Drawing {
            id: format!("{id}-drawing"),
            title: format!("{name}, {}", words::held(lot, units)),
            width: layout.width(),
            height,
            torn,
            place: Place::of(layout.width(), height, steps),
            width_text: words::fabric(layout.width(), units),
            height_text: words::fabric(layout.height(), units),
            up: lot.directional,
            areas,
            cuts: tasks.iter().flat_map(|task| cuts(task, height)).collect(),
        }
    }
}

/// The cuts of a task, as far as they are drawn.
fn cuts(task: &Task, height: Length) -> Vec<Cut> {
    let mut cuts = Vec::new();
    for run in &task.runs {
        let times = usize::try_from(run.times).expect("a sheet has few cuts");
        for (index, &stroke) in run.strokes.iter().enumerate() {
            // The strokes of a run go region by region.
            let place = index % times;
            if stroke.region.y < height {
                cuts.push(Cut {
                    stroke: clip(stroke, height),
                    whole: task.regions[0].1 == Origin::Whole,
                    between: place > 0 && place + 1 < times,
                });
            }
        }
    }
    cuts
}

/// Yardage of which most stays uncut is drawn to a little beyond the last cut only, so that the pieces can be read.
fn drawn_height(lot: &Lot, sheet: &SheetPlan) -> (Length, bool) {
    let whole = sheet.layout.height();
    let beyond = Length::from_inches(4);
    let used = sheet.layout.pieces().iter().map(|(_, rect, _)| rect.y + rect.height).max();
    match used {
        Some(used)
            if lot.cut.entry().family == Family::Yardage
                && whole - used > beyond + beyond
                && used > Length::ZERO =>
        {
            (used + beyond, true)
        }
        _ => (whole, false),
    }
}

fn clip(stroke: Stroke, height: Length) -> Stroke {
    let region = stroke.region;
    let reach = region.height.min(height - region.y);
    Stroke { region: Rect { height: reach, ..region }, ..stroke }
}
