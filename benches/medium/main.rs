//! Drawn medium stashes of many shapes, whole program: does every run end by itself with an answer that verifies?
//!
//! `cargo bench --bench medium -- [--count N] [--from K] [--limit SECONDS] [--keep FOLDER] [-- OPTIONS]` plans cases K to
//! K + N - 1 (500 from 0), each stopped after so many seconds (300), and prints one JSON line each and one for all. With
//! `--keep` the files of every case stay in the folder; what follows `--` is handed to the program.
//! It ends in an error when a run had no answer, or one that is wrong.

mod drawn;
mod run;

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::time::Duration;

use serde_json::json;

fn main() -> Result<(), String> {
    let (mut count, mut from, mut limit) = (500, 0, 300);
    let mut keep: Option<PathBuf> = None;
    let mut words = std::env::args().skip(1).filter(|word| word != "--bench");
    let mut options = Vec::new();
    while let Some(word) = words.next() {
        let mut number =
            || words.next().and_then(|text| text.parse().ok()).ok_or(format!("{word} takes a number"));
        match word.as_str() {
            "--count" => count = number()?,
            "--from" => from = number()?,
            "--limit" => limit = number()?,
            "--keep" => keep = Some(words.next().ok_or("--keep takes a folder")?.into()),
            "--" => options = words.by_ref().collect(),
            other => return Err(format!("\"{other}\": expected --count, --from, --limit, --keep or --")),
        }
    }
    let folder = tempfile::tempdir().map_err(|error| error.to_string())?;
    let folder: &Path = keep.as_deref().unwrap_or(folder.path());
    let mut ends: BTreeMap<String, u32> = BTreeMap::new();
    let (mut walls, mut busies, mut gaps) = (Vec::new(), Vec::new(), Vec::new());
    let (mut bad, mut weighed) = (0, 0);
    for number in from..from + count {
        let drawn = drawn::drawn(number);
        let folder = folder.join(number.to_string());
        run::write(&drawn, &folder)?;
        let ran = run::run(&folder, &options, Duration::from_secs(limit))?;
        println!(
            "{}",
            json!({
                "case": number, "shape": format!("{:?}", drawn.shape), "rows": drawn.rows,
                "wanted_percent": drawn.wanted, "end": ran.end, "short": ran.short, "weighed": ran.weighed,
                "alternatives": ran.alternatives, "gap_percent": ran.gap_percent.map(hundredths),
                "wall_s": hundredths(ran.wall), "processor_s": hundredths(ran.busy),
            })
        );
        bad += u32::from(!["fits", "impossible", "undecided"].contains(&ran.end.as_str()));
        weighed += u32::from(ran.end == "impossible" && ran.weighed);
        gaps.extend(ran.gap_percent);
        walls.push(ran.wall);
        busies.push(ran.busy);
        *ends.entry(ran.end).or_default() += 1;
        if keep.is_none() {
            // What is left is removed with the folder around it.
            let _ = std::fs::remove_dir_all(&folder);
        }
    }
    for list in [&mut walls, &mut busies, &mut gaps] {
        list.sort_by(f64::total_cmp);
    }
    let at = |list: &[f64], percent: usize| {
        list.get((list.len() * percent / 100).min(list.len().saturating_sub(1))).map(|&one| hundredths(one))
    };
    println!(
        "{}",
        json!({
            "ends": ends, "proofs_that_can_be_made_again": weighed,
            "gap_percent": {"half": at(&gaps, 50), "nine_in_ten": at(&gaps, 90), "most": at(&gaps, 100)},
            "wall_s": {"half": at(&walls, 50), "nine_in_ten": at(&walls, 90), "most": at(&walls, 100)},
            "processor_s": {"half": at(&busies, 50), "nine_in_ten": at(&busies, 90), "most": at(&busies, 100)},
        })
    );
    if bad > 0 { Err(format!("{bad} runs had no answer, or a wrong one")) } else { Ok(()) }
}

fn hundredths(value: f64) -> f64 {
    (value * 100.0).round() / 100.0
}
