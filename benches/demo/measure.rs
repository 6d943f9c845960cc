//! One case: timed runs of the whole process, its peak memory, and what the plan came to.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::thread;
use std::time::{Duration, Instant};

use serde_json::{Value, json};

/// What is planned from what.
pub(crate) struct Case {
    pub(crate) name: String,
    pub(crate) pattern: PathBuf,
    pub(crate) stash: PathBuf,
}

/// Runs `case` `runs` times and once more for its memory.
pub(crate) fn measure(case: &Case, runs: usize, folder: &Path) -> Result<Value, String> {
    let out = folder.join("plan");
    let mut seconds = Vec::new();
    let mut exit = None;
    for _ in 0..runs {
        let start = Instant::now();
        let status = start_run(case, &out)?.wait().map_err(|error| error.to_string())?;
        seconds.push(start.elapsed().as_secs_f64());
        exit = status.code();
    }
    seconds.sort_by(f64::total_cmp);
    let peak = peak_kilobytes(start_run(case, &out)?)?;
    let record = out.join("plan.json");
    let plan: Value = match fs::read(&record) {
        Ok(bytes) => serde_json::from_slice(&bytes).map_err(|error| error.to_string())?,
        Err(_) => Value::Null,
    };
    // The next case must not find this one's plan when it writes none.
    let _ = fs::remove_dir_all(&out);
    let opened = square_inches(&plan["fabric"]["opened"]);
    let bound = square_inches(&plan["fabric"]["bound"]);
    let fits = plan["verdict"] == "fits";
    let gap = opened.zip(bound).filter(|_| fits).map(|(opened, bound)| (opened - bound) / opened * 100.0);
    Ok(json!({
        "case": case.name,
        "exit": exit,
        "runs": runs,
        "median_s": rounded(seconds[seconds.len() / 2], 1000.0),
        "fastest_s": rounded(seconds[0], 1000.0),
        "peak_mb": peak.map(|kilobytes| rounded(f64::from(kilobytes) / 1024.0, 10.0)),
        "verdict": plan["verdict"],
        "sheets": plan["sheets"].as_array().map(Vec::len),
        "pieces": plan["totals"].as_array().map(|all| all.iter().filter_map(|line| line["need"].as_u64()).sum::<u64>()),
        "short": plan["short"].as_array().map(Vec::len),
        "alternatives": plan["alternatives"].as_array().map(Vec::len),
        "opened": opened.map(|area| rounded(area, 10.0)),
        "bound": bound.filter(|_| fits).map(|area| rounded(area, 10.0)),
        "gap_percent": gap.map(|gap| rounded(gap, 100.0)),
    }))
}

fn start_run(case: &Case, out: &Path) -> Result<Child, String> {
    Command::new(env!("CARGO_BIN_EXE_cutcloth"))
        .arg("plan")
        .arg(&case.pattern)
        .arg("--stash")
        .arg(&case.stash)
        .arg("--out")
        .arg(out)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .map_err(|error| error.to_string())
}

/// The peak resident memory of a process, from `/proc` while it runs. The mark only rises, so the last one read
/// is at most a millisecond old.
fn peak_kilobytes(mut child: Child) -> Result<Option<u32>, String> {
    let status = format!("/proc/{}/status", child.id());
    let mut peak = None;
    while child.try_wait().map_err(|error| error.to_string())?.is_none() {
        let text = fs::read_to_string(&status).unwrap_or_default();
        let line = text.lines().find_map(|line| line.strip_prefix("VmHWM:"));
        let kilobytes = line.and_then(|line| line.trim().strip_suffix(" kB")?.trim().parse().ok());
        peak = peak.max(kilobytes);
        thread::sleep(Duration::from_millis(1));
    }
    Ok(peak)
}

/// Square ticks times hundredths as weighted square inches.
fn square_inches(value: &Value) -> Option<f64> {
    Some(value.as_f64()? / (8128.0 * 8128.0 * 100.0))
}

pub(crate) fn rounded(value: f64, parts: f64) -> f64 {
    (value * parts).round() / parts
}
