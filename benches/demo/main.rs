//! The program as a person runs it: whole process, release build, files read and written.
//!
//! `cargo bench --bench demo` plans the demo's quilt from its three stashes;
//! `cargo bench --bench demo -- --scale` plans invented quilts from stashes of 10 to 500 lots, of few sets and sizes and of
//! up to 6,000 pieces in 40 sizes; a second line for each tells `first_s`, the time to the first complete plan, and
//! `gap_percent_at_10_s`, both through the library.
//! `--runs N` sets how often each is timed. One JSON line a case:
//!
//! `{"case", "exit", "median_s", "fastest_s", "peak_mb", "verdict", "opened", "bound", "gap_percent", ...}`
//!
//! `opened` and `bound` are weighted square inches. `peak_mb` is the peak resident memory as Linux tells it while
//! the process runs, asked every millisecond in a run of its own; null elsewhere.

mod first;
mod measure;
mod scale;

use std::path::Path;

use measure::Case;

fn main() -> Result<(), String> {
    let words: Vec<String> = std::env::args().skip(1).filter(|word| word != "--bench").collect();
    let mut runs = 11;
    let mut scaled = false;
    let mut words = words.iter();
    while let Some(word) = words.next() {
        match word.as_str() {
            "--scale" => scaled = true,
            "--runs" => {
                let number = words.next().and_then(|number| number.parse().ok()).filter(|&number| number > 0);
                runs = number.ok_or("--runs takes a number above 0")?;
            }
            other => return Err(format!("\"{other}\": expected --scale or --runs NUMBER")),
        }
    }
    let folder = tempfile::tempdir().map_err(|error| error.to_string())?;
    let cases = if scaled { scale::cases(folder.path())? } else { demo() };
    for case in cases {
        println!("{}", measure::measure(&case, runs, folder.path())?);
        if scaled {
            println!("{}", first::first(&case)?);
        }
    }
    Ok(())
}

/// The Tidepool Quilt from its stashes.
fn demo() -> Vec<Case> {
    let data = Path::new(env!("CARGO_MANIFEST_DIR")).join("data/tidepool");
    ["pack", "other-pack", "shelf"]
        .map(|name| Case {
            name: name.to_owned(),
            pattern: data.join("chart.csv"),
            stash: data.join(format!("{name}.csv")),
        })
        .into()
}
