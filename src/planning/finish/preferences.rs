//! What a plan is measured by after its fabric: useful leftovers, different layouts, ruler settings, stages.

use std::collections::BTreeMap;

use crate::cutting::{self, Axis, Layout, Rect};
use crate::fabric::Family;
use crate::length::Length;
use crate::planning::{Plan, Rules, SheetPlan};
use crate::stash::Stash;

/// What no complete plan that opens as little fabric as this one can better. A claim of the search.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct PreferenceBounds {
    /// The most its useful leftovers could be worth, in the unit of [`Measures::leftovers`]; `None` where nothing is
    /// known, as of a plan that is not complete.
    pub leftovers: Option<i128>,
    /// The fewest different layouts.
    pub layouts: Option<usize>,
}

/// The measures of a plan, in the order in which they are looked for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Measures {
    /// What its useful leftovers are worth: area times shorter side, in square ticks times inches, rounded down. What
    /// is not used of yardage stays on the bolt and is no leftover.
    pub leftovers: i128,
    /// How many useful leftovers there are.
    pub useful: usize,
    /// Different layouts: sheets of one size with the same cuts.
    pub layouts: usize,
    /// Different ruler settings of each layout, summed over the layouts.
    pub settings: usize,
    /// Those of them between two marks of the ruler.
    pub off_ruler: usize,
    /// The most changes of direction that a layout takes, the first included.
    pub stages: usize,
}

impl Measures {
    /// Measures a plan.
    pub fn of(plan: &Plan, stash: &Stash, rules: &Rules) -> Measures {
        let mut all = Measures::default();
        for sheet in &plan.sheets {
            let useful = useful(sheet, stash, rules);
            all.useful += useful.len();
            all.leftovers +=
                useful.iter().map(|&rect| cutting::leftover_value(rect, rules.useful_side)).sum::<i128>();
        }
        all.leftovers = in_inches(all.leftovers);
        let different: BTreeMap<Look, &Layout> =
            plan.sheets.iter().map(|sheet| (look(&sheet.layout), &sheet.layout)).collect();
        for layout in different.values() {
            let effort = cutting::effort(layout, rules.units);
            all.settings += effort.settings;
            all.off_ruler += effort.off_ruler;
            all.stages = all.stages.max(effort.stages);
        }
        Measures { layouts: different.len(), ..all }
    }
}

/// Cubic ticks as square ticks times inches, rounded down.
pub(crate) fn in_inches(cubic: i128) -> i128 {
    cubic.div_euclid(i128::from(Length::TICKS_PER_INCH))
}

/// The useful leftovers of a sheet; of yardage none, as what is not used stays on the bolt.
fn useful(sheet: &SheetPlan, stash: &Stash, rules: &Rules) -> Vec<Rect> {
    if stash.lot(sheet.lot).cut.entry().family == Family::Yardage {
        return Vec::new();
    }
    let mut rects = sheet.layout.leftovers();
    rects.retain(|&rect| cutting::leftover_value(rect, rules.useful_side) > 0);
    rects
}

/// What two sheets that are cut alike have in common: size and cuts, whatever the pieces are called.
pub(crate) type Look = (Length, Length, Vec<(Rect, Axis, Length)>);

/// The look of a layout.
pub(crate) fn look(layout: &Layout) -> Look {
    let mut cuts: Vec<_> =
        cutting::steps(layout).iter().map(|step| (step.region, step.axis, step.at)).collect();
    cuts.sort_unstable();
    (layout.width(), layout.height(), cuts)
}
