//! The table of published patterns: printed amount, plain strips, least length found, saving.
//!
//! `cargo bench --bench need_table` reads `tests/cases/need` and prints the table as Markdown.

use cutcloth::length::{Length, Units};
use cutcloth::need::Assumptions;

#[path = "../tests/need/cases.rs"]
#[allow(dead_code, unreachable_pub)] // the tests use more of it
mod cases;

fn main() {
    println!("| pattern | fabric | width | printed | strips | least | bound | saving |");
    println!("|---|---|---:|---:|---:|---:|---:|---:|");
    for (row, strips, least, bound) in cases::all(Assumptions::default().work) {
        let show = |length: Length| length.show_bare(Units::Inches);
        println!(
            "| {} | {} | {} | {} | {} | {} | {} | {} |",
            row.case,
            row.role,
            show(row.width),
            show(row.amount),
            show(strips.exact),
            show(least.exact),
            if bound == least.exact { "proved".to_owned() } else { show(bound) },
            show(strips.exact - least.exact)
        );
    }
}
