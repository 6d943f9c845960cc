//! The spreadsheet files: cuts, placements, leftovers as stash rows, and what to buy.

use std::collections::BTreeMap;

use crate::cutting::Rect;
use crate::fabric::{Cut, Family, Value};
use crate::length::Length;
use crate::planning::{Change, SheetPlan};
use crate::report::json::SetName;
use crate::report::situation::Situation;
use crate::report::view::words;
use crate::report::{Job, ReportError, escape, working};
use crate::stash::Lot;

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
    writer.write_record(heading).map_err(fault)?;
    for row in rows {
        writer.write_record(row.iter().map(|text| escape::cell(text))).map_err(fault)?;
    }
    writer
        .into_inner()
        .map_err(|fault| ReportError::Write(format!("a CSV file cannot be composed: {}", fault.error())))
}

fn cuts(here: &Situation<'_>) -> Result<Vec<u8>, ReportError> {
    let units = here.job.settings.units;
    let mut rows = Vec::new();
    for sheet in &here.outcome.plan.sheets {
        let lot = here.stash.lot(sheet.lot);
        let tasks = working::tasks(&sheet.layout, &|one, other| here.alike(one, other));
        for stroke in working::strokes(&tasks) {
            let rest = stroke.remains();
            rows.push(vec![
                lot.row.map(|row| row.to_string()).unwrap_or_default(),
                here.stash.print(lot.print).name.clone(),
                lot.cut.entry().name.clone(),
                sheet.copy.to_string(),
                stroke.number.to_string(),
                words::size(stroke.region.width, stroke.region.height, units),
                stroke.at.show(units),
                words::edge(stroke.axis).to_owned(),
                words::size(rest.width, rest.height, units),
                stroke.length().show(units),
            ]);
        }
    }
    write(
        &[
            "stash row",
            "print",
            "cut",
            "sheet",
            "order",
            "part to cut",
            "ruler at",
            "from",
            "remains",
            "length of the cut",
        ],
        &rows,
    )
}

fn placements(here: &Situation<'_>) -> Result<Vec<u8>, ReportError> {
    let placed = here.demand.sets.iter().zip(&here.outcome.plan.prints);
    let rows: Vec<Vec<String>> = placed
        .filter_map(|(set, print)| {
            let name = SetName::of(here.job.pattern, here.demand, set);
            Some(vec![
                name.block.unwrap_or_default(),
                name.copy.map(|copy| copy.to_string()).unwrap_or_default(),
                name.role,
                here.stash.print((*print)?).name.clone(),
                name.label.unwrap_or_default(),
                name.piece.map(|piece| piece.to_string()).unwrap_or_default(),
            ])
        })
        .collect();
    write(&["block", "copy", "role", "print", "label", "piece"], &rows)
}

/// Leftovers of opened sheets that are useful, as rows of a stash file; equal ones of one lot together.
fn leftovers(here: &Situation<'_>) -> Result<Vec<u8>, ReportError> {
    let units = here.job.settings.units;
    let mut found: Vec<(usize, Cut, Length, Length)> = Vec::new();
    let mut counts: BTreeMap<(usize, Cut, Length, Length), u32> = BTreeMap::new();
    for sheet in &here.outcome.plan.sheets {
        let lot = here.stash.lot(sheet.lot);
        for rect in sheet.layout.leftovers() {
            if rect.width.min(rect.height) < here.job.rules.useful_side {
                continue;
            }
            let key = (sheet.lot.0, left_as(lot, sheet, rect), rect.width, rect.height);
            let count = counts.entry(key).or_insert(0);
            if *count == 0 {
                found.push(key);
            }
            *count += 1;
        }
    }
    let rows: Vec<Vec<String>> = found
        .into_iter()
        .map(|key| {
            let (lot, cut, width, length) = key;
            let lot = &here.stash.lots[lot];
            let source = match lot.row {
                Some(row) => format!("left of stash row {row}, {}", words::held(lot, units)),
                None => format!("left of fabric bought, {}", words::held(lot, units)),
            };
            vec![
                here.stash.print(lot.print).name.clone(),
                cut.entry().name.clone(),
                counts[&key].to_string(),
                width.show(units),
                length.show(units),
                lot.color.clone().unwrap_or_default(),
                value_word(lot.value).to_owned(),
                if lot.directional { "yes" } else { "no" }.to_owned(),
                lot.place.clone(),
                source,
            ]
        })
        .collect();
    write(
        &["print", "cut", "count", "width", "length", "color", "value", "directional", "where", "note"],
        &rows,
    )
}

/// A leftover goes back as a scrap; across the whole bolt and at least a quarter yard long, as yardage again,
/// because no shop sells less by the yard.
fn left_as(lot: &Lot, sheet: &SheetPlan, rect: Rect) -> Cut {
    let yardage = lot.cut.entry().family == Family::Yardage;
    let quarter_yard = Length::from_inches(9);
    if yardage && rect.width == sheet.layout.width() && rect.height >= quarter_yard {
        Cut::yardage()
    } else {
        Cut::scrap()
    }
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
                    "piece {} of {}, role {}",
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
