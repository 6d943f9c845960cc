//! One case as a person runs it: the whole program, then `verify` on what it wrote.

use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};
use std::thread;
use std::time::{Duration, Instant};

use serde_json::Value;

use crate::drawn::Drawn;

/// What came of a case.
pub(crate) struct Ran {
    /// `fits`, `impossible` or `undecided`; else what went wrong: `panic`, `no answer`, `no plan`, `wrong plan`.
    pub(crate) end: String,
    /// Sets the plan leaves out.
    pub(crate) short: usize,
    /// In an impossible case: can the proof be made again without the search?
    pub(crate) weighed: bool,
    pub(crate) gap_percent: Option<f64>,
    pub(crate) alternatives: usize,
    pub(crate) wall: f64,
    /// Processor time of all threads, as Linux tells it; 0 elsewhere.
    pub(crate) busy: f64,
}

/// Plans the files in `folder` in at most `limit`, and has the plan verified.
pub(crate) fn run(folder: &Path, options: &[String], limit: Duration) -> Result<Ran, String> {
    let out = folder.join("plan");
    let program = env!("CARGO_BIN_EXE_cutcloth");
    let said = fs::File::create(folder.join("said.txt")).map_err(|error| error.to_string())?;
    let start = Instant::now();
    let mut child = Command::new(program)
        .arg("plan")
        .arg(folder.join("chart.csv"))
        .arg("--stash")
        .arg(folder.join("stash.csv"))
        .arg("--out")
        .arg(&out)
        .args(options)
        .stdout(Stdio::null())
        .stderr(said)
        .spawn()
        .map_err(|error| error.to_string())?;
    let mut busy = 0.0;
    let status = loop {
        if let Some(status) = child.try_wait().map_err(|error| error.to_string())? {
            break Some(status);
        }
        busy = processor_seconds(child.id()).unwrap_or(busy);
        if start.elapsed() > limit {
            // It may end at this very moment.
            let _ = child.kill();
            let _ = child.wait();
            break None;
        }
        thread::sleep(Duration::from_millis(10));
    };
    let wall = start.elapsed().as_secs_f64();
    let plan: Value = match fs::read(out.join("plan.json")) {
        Ok(bytes) => serde_json::from_slice(&bytes).map_err(|error| error.to_string())?,
        Err(_) => Value::Null,
    };
    let list = |name: &str| plan[name].as_array().map_or(0, Vec::len);
    let end = match (status.map(|status| status.code()), plan["verdict"].as_str()) {
        (None, _) => "no answer".to_owned(),
        (Some(Some(0 | 1 | 3)), Some(verdict)) => match verify(&out)? {
            true => verdict.to_owned(),
            false => "wrong plan".to_owned(),
        },
        (Some(Some(0 | 1 | 3)), None) => "no plan".to_owned(),
        (Some(_), _) => "panic".to_owned(),
    };
    let reasons = plan["reasons"].as_array().cloned().unwrap_or_default();
    let weighed = |reason: &Value| {
        reason["code"] == "area"
            || !reason["weighing"].is_null()
            || reason["cases"] != Value::Array(Vec::new())
    };
    let gap = plan["fabric"]["opened"].as_f64().zip(plan["fabric"]["bound"].as_f64());
    let gap = gap.filter(|_| plan["verdict"] == "fits");
    Ok(Ran {
        end,
        short: list("short"),
        weighed: reasons.iter().any(weighed),
        gap_percent: gap.map(|(opened, bound)| (opened - bound) / opened.max(1.0) * 100.0),
        alternatives: list("alternatives"),
        wall,
        busy,
    })
}

fn verify(out: &Path) -> Result<bool, String> {
    let verified = Command::new(env!("CARGO_BIN_EXE_cutcloth"))
        .arg("verify")
        .arg(out)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .status()
        .map_err(|error| error.to_string())?;
    // 3: right, but a refusal rests on the search.
    Ok(matches!(verified.code(), Some(0 | 3)))
}

/// Writes the files of a case.
pub(crate) fn write(drawn: &Drawn, folder: &Path) -> Result<(), String> {
    fs::create_dir_all(folder)
        .and_then(|()| fs::write(folder.join("stash.csv"), &drawn.stash))
        .and_then(|()| fs::write(folder.join("chart.csv"), &drawn.chart))
        .map_err(|error| error.to_string())
}

/// From `/proc`, in hundredths of a second on every Linux we know.
fn processor_seconds(process: u32) -> Option<f64> {
    let text = fs::read_to_string(format!("/proc/{process}/stat")).ok()?;
    // The name of the program may hold blanks; after it come the other fields, user and system time as 12th and 13th.
    let mut fields = text.rsplit_once(')')?.1.split_whitespace().skip(11);
    let mut ticks = || fields.next()?.parse::<u32>().ok();
    Some(f64::from(ticks()? + ticks()?) / 100.0)
}
