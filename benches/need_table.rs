//! The table of published patterns: printed amount, plain strips, least length found, saving.
//!
//! `cargo bench --bench need_table` reads `tests/cases/need` and prints the table as Markdown.

use cutcloth::length::{Direction, Length, Unit, Units, parse};
use cutcloth::need::{Assumptions, at_width, wanted};
use cutcloth::pattern::read_chart;

fn main() {
    let folder = format!("{}/tests/cases/need", env!("CARGO_MANIFEST_DIR"));
    let mut rows = csv::Reader::from_path(format!("{folder}/printed.csv")).expect("the list of cases");
    println!("| pattern | fabric | width | printed | strips | least | bound | saving |");
    println!("|---|---|---:|---:|---:|---:|---:|---:|");
    for row in rows.records() {
        let row = row.expect("a row");
        let length = |text: &str, unit| parse(text, unit, Direction::Up).expect("a length").length;
        let (width, printed) = (length(&row[2], Unit::Inch), length(&row[3], Unit::Yard));
        let chart = std::fs::read(format!("{folder}/{}.csv", &row[0])).expect("the chart of a case");
        let (pattern, _) = read_chart("chart.csv", &chart);
        let how = Assumptions { width, ..Assumptions::default() };
        for (role, sizes) in wanted(&pattern, &how) {
            if pattern.roles[role.0].name != row[1] {
                continue;
            }
            let at = at_width(width, sizes, &how).expect("the pieces go into the width");
            let show = |length: Length| length.show_bare(Units::Inches);
            let (strips, least) = (at.by_strips.exact, at.by_least.exact);
            println!(
                "| {} | {} | {} | {} | {} | {} | {} | {} |",
                &row[0],
                &row[1],
                show(width),
                show(printed),
                show(strips),
                show(least),
                if at.is_proved() { "proved".to_owned() } else { show(at.bound) },
                show(strips - least)
            );
        }
    }
}
