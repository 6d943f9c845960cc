//! The requirement for a spreadsheet: one row for each fabric, its strips and its amounts.

use crate::app::need::{Requirement, shopping, sizes, text};
use crate::length::Length;
use crate::need::Worked;
use crate::report::escape;

const HEADINGS: [&str; 15] = [
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
    "shrinkage",
    "exact at least if turned",
];

/// The rows; lengths carry their unit. A pattern of several sizes has two more columns for each.
pub(super) fn csv(answer: &Requirement) -> Vec<u8> {
    let (how, sizes) = (&answer.how, &answer.sizes);
    if let Some(shopping) = &answer.shopping {
        return shopping::csv(answer, shopping);
    }
    let need = &answer.need;
    let mut writer = ::csv::Writer::from_writer(Vec::new());
    // Writing to memory cannot fail, and every row has as many cells as the headings.
    let mut write = |cells: [String; 15], more: Vec<String>| {
        let all = cells.into_iter().chain(more);
        writer.write_record(all.map(|cell| escape::cell(&cell))).expect("a row in memory");
    };
    write(HEADINGS.map(str::to_owned), sizes::csv_headings(sizes));
    let show = |length: Length| length.show(how.units);
    let plain = |name: &str, width: Length, strips: String, worked: &Worked| {
        let mut cells: [String; 15] = Default::default();
        cells[0] = name.to_owned();
        cells[2] = show(width);
        cells[3] = strips;
        cells[4] = show(worked.exact);
        cells[5] = show(worked.percent + worked.strip);
        cells[6] = show(worked.squaring);
        cells[7] = worked.amount.show();
        cells[13] = show(worked.shrinkage);
        cells
    };
    for role in &need.roles {
        let widths = role.others.iter().filter_map(|(width, at)| Some((*width, at.as_ref()?)));
        for (width, at) in std::iter::once((how.width, &role.at)).chain(widths) {
            let mut cells = plain(&role.name, width, at.strips.count().to_string(), &at.by_strips);
            cells[1] = role.title.clone();
            if width == how.width {
                cells[14] = role.free.as_ref().map(|free| show(free.by_least.exact)).unwrap_or_default();
                cells[8] = role.holds.first().and_then(|(_, from)| *from).map(show).unwrap_or_default();
            }
            cells[9] = show(at.by_least.exact);
            cells[10] = show(at.bound);
            cells[11] = at.by_least.amount.show();
            cells[12] = text::mark_down(at.by_strips.amount.length - at.by_least.amount.length, how);
            let here = sizes.iter().map(|size| size.role(&role.name).filter(|_| width == how.width));
            write(cells, here.flat_map(|role| sizes::csv_cells(role.map(|role| &role.at))).collect());
        }
    }
    if let Some(finish) = &need.finish {
        if let Some(binding) = &finish.binding {
            let cells = plain("binding", how.width, binding.strips.to_string(), &binding.worked);
            write(
                cells,
                sizes::csv_finish(sizes, |finish| Some(finish.binding.as_ref()?.worked.amount.show())),
            );
        }
        let panels = finish.panels.count.to_string();
        let cells = plain("backing", finish.backing_width, panels, &finish.backing_amount);
        write(cells, sizes::csv_finish(sizes, |finish| Some(finish.backing_amount.amount.show())));
        let mut cells: [String; 15] = Default::default();
        cells[0] = "batting".to_owned();
        cells[4] = finish.batting.show(how.units);
        cells[7] = finish.packaged.as_ref().map(|package| text::package(package, how)).unwrap_or_default();
        write(cells, sizes::csv_finish(sizes, |finish| Some(finish.batting.show(how.units))));
    }
    writer.into_inner().expect("a writer in memory")
}
