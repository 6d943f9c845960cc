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
    /// True when the print has an up.
    pub(crate) up: bool,
    /// Pieces and leftovers.
    pub(crate) areas: Vec<Area>,
    /// The cuts, each with its level: 0 cuts the whole sheet.
    pub(crate) cuts: Vec<(Stroke, u32)>,
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
            size: words::size(rect.width, rect.height, units),
        }));
        let name = &here.stash.print(lot.print).name;
        Drawing {
            id: format!("{id}-drawing"),
            title: format!("{name}, {}", words::held(lot, units)),
            width: layout.width(),
            height,
            torn,
            width_text: layout.width().show(units),
            height_text: layout.height().show(units),
            up: lot.directional,
            areas,
            cuts: tasks
                .iter()
                .flat_map(|task| {
                    let level = u32::from(task.regions[0].1 != Origin::Whole);
                    let strokes = task.runs.iter().flat_map(|run| run.strokes.iter());
                    let drawn = strokes.filter(move |stroke| stroke.region.y < height);
                    drawn.map(move |&stroke| (clip(stroke, height), level))
                })
                .collect(),
        }
    }
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
