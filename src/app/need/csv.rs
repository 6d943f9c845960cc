//! The requirement for a spreadsheet: one row for each fabric, its strips and its amounts.

use crate::app::need::Assumptions;
use crate::length::Length;
use crate::need::{Need, Worked};
use crate::report::escape;

const HEADINGS: [&str; 13] = [
    "fabric",
    "title",
    "usable width",
    "strips",
    "exact by strips",
    "spare",
    "squaring up",
    "buy by strips",
    "least width",
    "exact at least",
    "bound",
    "buy at least",
    "saves",
];

/// The rows; lengths carry their unit.
pub(super) fn csv(answer: &Need, how: &Assumptions) -> Vec<u8> {
    let mut writer = ::csv::Writer::from_writer(Vec::new());
    // Writing to memory cannot fail, and every row has as many cells as the headings.
    let mut write = |cells: [String; 13]| {
        writer.write_record(cells.map(|cell| escape::cell(&cell))).expect("a row in memory");
    };
    write(HEADINGS.map(str::to_owned));
    let show = |length: Length| length.show(how.units);
    let plain = |name: &str, width: Length, strips: String, worked: &Worked| {
        let mut cells: [String; 13] = Default::default();
        cells[0] = name.to_owned();
        cells[2] = show(width);
        cells[3] = strips;
        cells[4] = show(worked.exact);
        cells[5] = show(worked.percent + worked.strip);
        cells[6] = show(worked.squaring);
        cells[7] = worked.amount.show();
        cells
    };
    for role in &answer.roles {
        let widths = role.others.iter().filter_map(|(width, at)| Some((*width, at.as_ref()?)));
        for (width, at) in std::iter::once((how.width, &role.at)).chain(widths) {
            let mut cells = plain(&role.name, width, at.strips.count().to_string(), &at.by_strips);
            cells[1] = role.title.clone();
            if width == how.width {
                cells[8] = role.holds.first().and_then(|(_, from)| *from).map(show).unwrap_or_default();
            }
            cells[9] = show(at.by_least.exact);
            cells[10] = show(at.bound);
            cells[11] = at.by_least.amount.show();
            cells[12] = show(at.by_strips.amount.length - at.by_least.amount.length);
            write(cells);
        }
    }
    if let Some(finish) = &answer.finish {
        if let Some(binding) = &finish.binding {
            write(plain("binding", how.width, binding.strips.to_string(), &binding.worked));
        }
        let panels = finish.panels.count.to_string();
        write(plain("backing", finish.backing_width, panels, &finish.backing_amount));
    }
    writer.into_inner().expect("a writer in memory")
}
