//! The spreadsheet files: cuts, placements, leftovers as stash rows, and what to buy.

use std::collections::BTreeMap;

use crate::fabric::Value;
use crate::pattern::BlockId;
use crate::pattern::layout::Place;
use crate::planning::{Change, SheetPlan};
use crate::report::set_name::SetName;
use crate::report::situation::Situation;
use crate::report::view::{back, card, words};
use crate::report::working::{Gives, Stroke};
use crate::report::{Job, ReportError, escape, working};

/// Every CSV file of a run.
pub(super) fn files(job: &Job<'_>) -> Result<Vec<(String, Vec<u8>)>, ReportError> {
    let here = Situation::main(job);
    let mut files = vec![
        ("cuts.csv".to_owned(), cuts(&here)?),
        ("placements.csv".to_owned(), placements(&here)?),
        ("leftovers.csv".to_owned(), leftovers(&here)?),
    ];
    if let Some(bytes) = buy(job)? {
        files.push(("buy.csv".to_owned(), bytes));
    }
    Ok(files)
}

/// Rows of text to bytes; every cell passes through [`escape::cell`].
fn write(heading: &[&str], rows: &[Vec<String>]) -> Result<Vec<u8>, ReportError> {
    let fault = |fault: ::csv::Error| ReportError::Write(format!("a CSV file cannot be composed: {fault}"));
    let mut writer = ::csv::Writer::from_writer(Vec::new());
    writer.write_record(heading.iter().map(|text| escape::cell(text))).map_err(fault)?;
    for row in rows {
        writer.write_record(row.iter().map(|text| escape::cell(text))).map_err(fault)?;
    }
    writer
        .into_inner()
        .map_err(|fault| ReportError::Write(format!("a CSV file cannot be composed: {}", fault.error())))
}

/// Every cut of every sheet, in the order of the cards of the print sheet.
fn cuts(here: &Situation<'_>) -> Result<Vec<u8>, ReportError> {
    let mut rows = Vec::new();
    for (group, card) in card::groups(here).iter().zip(1..) {
        for sheet in &group.sheets {
            let tasks = working::tasks(&sheet.layout, &|one, other| here.alike(one, other));
            for run in tasks.iter().flat_map(|task| &task.runs) {
                rows.extend(run.strokes.iter().map(|stroke| cut(here, card, sheet, run.gives, stroke)));
            }
        }
    }
    write(
        &[
            "card",
            "stash row",
            "print",
            "cut",
            "sheet",
            "order",
            "part to cut",
            "ruler at",
            "from",
            "gives",
            "remains",
            "length of the cut",
        ],
        &rows,
    )
}

fn cut(here: &Situation<'_>, card: u32, sheet: &SheetPlan, gives: Gives, stroke: &Stroke) -> Vec<String> {
    let units = here.job.settings.units;
    let lot = here.stash.lot(sheet.lot);
    let rest = stroke.remains();
    vec![
        card.to_string(),
        lot.row.map(|row| row.to_string()).unwrap_or_default(),
        here.stash.print(lot.print).name.clone(),
        lot.cut.entry().name.clone(),
        sheet.copy.to_string(),
        stroke.number.to_string(),
        words::fabric_size(stroke.region.width, stroke.region.height, units),
        stroke.at.show(units),
        words::edge(stroke.axis).to_owned(),
        match gives {
            Gives::Piece(index) => here.piece(index).label.clone(),
            Gives::Strip => "strip".to_owned(),
            Gives::Leftover => "left over".to_owned(),
        },
        words::fabric_size(rest.width, rest.height, units),
        words::fabric(stroke.length(), units),
    ]
}

fn placements(here: &Situation<'_>) -> Result<Vec<u8>, ReportError> {
    let placed = here.demand.sets.iter().zip(&here.outcome.plan.prints);
    let arranged = here.arrangement.map_or([].as_slice(), |arrangement| arrangement.places.as_slice());
    // A copy's place stands in the first of its rows, so that one cell moves it.
    let mut places: BTreeMap<(BlockId, u32), Place> =
        arranged.iter().map(|&(place, block, copy)| ((block, copy), place)).collect();
    let cells = |place: Option<Place>| {
        let cell = |number: fn(Place) -> u32| place.map_or(String::new(), |place| number(place).to_string());
        [cell(|place| place.row), cell(|place| place.column)]
    };
    let mut rows: Vec<Vec<String>> = placed
        .filter_map(|(set, print)| {
            let name = SetName::of(here.pattern, here.demand, set);
            let [row, column] = cells(set.block.and_then(|copy| places.remove(&copy)));
            Some(vec![
                name.block.unwrap_or_default(),
                name.copy.map(|copy| copy.to_string()).unwrap_or_default(),
                name.role,
                here.stash.print((*print)?).name.clone(),
                name.label.unwrap_or_default(),
                name.piece.map(|piece| piece.to_string()).unwrap_or_default(),
                row,
                column,
            ])
        })
        .collect();
    // What has no print of its own has a place all the same.
    for ((block, copy), place) in places {
        let [row, column] = cells(Some(place));
        let block = here.pattern.blocks[block.0].name.clone();
        let blank = String::new;
        rows.push(vec![block, copy.to_string(), blank(), blank(), blank(), blank(), row, column]);
    }
    write(&["block", "copy", "role", "print", "label", "piece", "row", "column"], &rows)
}

/// Leftovers of opened sheets that are large enough to be useful, as rows of a stash file. Columns of the
/// quilter's own follow the usual ones, filled as in the row the sheet is from.
fn leftovers(here: &Situation<'_>) -> Result<Vec<u8>, ReportError> {
    let own = &here.stash.other_columns;
    let rows: Vec<Vec<String>> = back::leftovers(here)
        .into_iter()
        .filter(|row| row.useful)
        .map(|row| {
            let lot = here.stash.lot(row.lot);
            let mut cells = vec![
                row.print,
                row.cut.entry().name.clone(),
                row.count.to_string(),
                row.width,
                row.length,
                lot.color.clone().unwrap_or_default(),
                value_word(lot.value).to_owned(),
                if lot.directional { "yes" } else { "no" }.to_owned(),
                row.place,
                row.source,
            ];
            // Bought fabric has no cells of its own.
            cells.extend((0..own.len()).map(|column| lot.other.get(column).cloned().unwrap_or_default()));
            cells
        })
        .collect();
    let mut heading =
        vec!["print", "cut", "count", "width", "length", "color", "value", "directional", "where", "note"];
    heading.extend(own.iter().map(String::as_str));
    write(&heading, &rows)
}

fn value_word(value: Option<Value>) -> &'static str {
    match value {
        Some(Value::Light) => "light",
        Some(Value::Medium) => "medium",
        Some(Value::Dark) => "dark",
        None => "",
    }
}

/// What each alternative buys or, where none buys anything, the pieces that are short; `None` when nothing is.
fn buy(job: &Job<'_>) -> Result<Option<Vec<u8>>, ReportError> {
    let units = job.settings.units;
    let mut rows = Vec::new();
    for (index, alternative) in job.outcome.alternatives.iter().enumerate() {
        for change in &alternative.changes {
            let Change::Buy { print, cut, width, length, count, price } = change else {
                continue;
            };
            rows.push(vec![
                format!("alternative {}", index + 1),
                alternative.stash.print(*print).name.clone(),
                cut.entry().name.clone(),
                count.to_string(),
                width.show(units),
                length.show(units),
                price.map(words::money).unwrap_or_default(),
                String::new(),
            ]);
        }
    }
    if rows.is_empty() {
        for total in Situation::main(job).totals()?.iter().filter(|total| total.short > 0) {
            rows.push(vec![
                "short".to_owned(),
                String::new(),
                String::new(),
                total.short.to_string(),
                total.width.show(units),
                total.height.show(units),
                String::new(),
                format!(
                    "piece {} of {}, fabric {}",
                    total.label, job.pattern.blocks[total.block.0].name, job.pattern.roles[total.role.0].name
                ),
            ]);
        }
    }
    if rows.is_empty() {
        return Ok(None);
    }
    write(&["for", "print", "cut", "count", "width", "length", "price", "note"], &rows).map(Some)
}
