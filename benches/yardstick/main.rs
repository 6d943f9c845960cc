//! Yardstick: published instances in a neutral format, each solved on one thread under a time limit.
//!
//! `cargo bench --bench yardstick -- FILE.jsonl [...] --limit SECONDS [--only ID] [--plans DIR]`
//! prints one JSON line an instance: `{"id", "objective", "bound", "proven", "wall_s"}`.

mod format;
mod quilt;

use std::path::PathBuf;
use std::time::{Duration, Instant};

use cutcloth::cutting::{Layout, Purchasable, Work, cheapest, knapsack, knapsacks, two_stage_knapsack};
use format::Instance;
use serde_json::json;

/// What the command line asks for.
struct Args {
    files: Vec<PathBuf>,
    limit: Duration,
    only: Option<String>,
    plans: Option<PathBuf>,
}

/// An answer: layouts with the sheet they are for and how often, the value reached, the bound.
struct Answer {
    layouts: Vec<(usize, Layout, u32)>,
    /// Ticks of the layouts to one unit of the instance.
    unit: i64,
    objective: Option<i64>,
    bound: Option<i64>,
}

const USAGE: &str = "yardstick FILE.jsonl [...] --limit SECONDS [--only ID] [--plans DIR]";

fn args() -> Result<Args, String> {
    let mut all = Args { files: Vec::new(), limit: Duration::from_secs(10), only: None, plans: None };
    let mut words = std::env::args().skip(1);
    while let Some(word) = words.next() {
        let mut value = || words.next().ok_or(format!("{word} needs a value; {USAGE}"));
        match word.as_str() {
            // Passed by `cargo bench` itself.
            "--bench" => {}
            "--limit" => {
                let seconds: f64 = value()?.parse().map_err(|_| "--limit takes seconds".to_string())?;
                all.limit = Duration::from_secs_f64(seconds);
            }
            "--only" => all.only = Some(value()?),
            "--plans" => all.plans = Some(PathBuf::from(value()?)),
            file => all.files.push(PathBuf::from(file)),
        }
    }
    Ok(all)
}

fn main() -> Result<(), String> {
    let args = args()?;
    if args.files.is_empty() {
        println!("{USAGE}");
        return Ok(());
    }
    for file in &args.files {
        let text = std::fs::read_to_string(file).map_err(|e| format!("{}: {e}", file.display()))?;
        for line in text.lines().filter(|l| !l.trim().is_empty()) {
            let instance: Instance =
                serde_json::from_str(line).map_err(|e| format!("{}: {e}", file.display()))?;
            if args.only.as_ref().is_some_and(|id| *id != instance.id) {
                continue;
            }
            let start = Instant::now();
            let answer = solve(&instance, start + args.limit);
            let wall = start.elapsed().as_secs_f64();
            if let Some(dir) = &args.plans {
                std::fs::create_dir_all(dir).map_err(|e| format!("{}: {e}", dir.display()))?;
                let path = dir.join(format!("{}.json", instance.id));
                let plan = instance.plan(&answer.layouts, answer.unit).to_string();
                std::fs::write(&path, plan).map_err(|e| format!("{}: {e}", path.display()))?;
            }
            let proven = answer.objective.is_some() && answer.objective == answer.bound;
            println!(
                "{}",
                json!({"id": instance.id, "objective": answer.objective, "bound": answer.bound,
                       "proven": proven, "wall_s": (wall * 1000.0).round() / 1000.0})
            );
        }
    }
    Ok(())
}

/// Solves one instance until `deadline`; the budget of steps is beyond any time limit.
fn solve(instance: &Instance, deadline: Instant) -> Answer {
    let mut work = Work::steps(u64::MAX).until(deadline);
    let nothing = Answer { layouts: Vec::new(), unit: 1, objective: None, bound: None };
    let least_cost = ["binpack", "cutting-stock"].contains(&instance.objective.as_str());
    let limited = instance.sheets.iter().any(|s| s.copies.is_some());
    if least_cost && (limited || instance.items.iter().any(|i| i.group.is_some())) && instance.stages == 0 {
        return quilt::solve(instance, deadline);
    }
    let single = instance.sheets.len() == 1 && instance.sheets[0].copies == Some(1);
    match instance.objective.as_str() {
        "knapsack" if single && instance.stages == 0 => one_knapsack(instance, &mut work),
        "knapsack" if single && instance.stages == 2 => staged_knapsack(instance, &mut work),
        "knapsack" if instance.sheets.len() == 1 && instance.stages == 0 => {
            several_knapsacks(instance, &mut work)
        }
        "binpack" | "cutting-stock" if instance.sheets.iter().all(|s| s.copies.is_none()) => {
            cheapest_sheets(instance, &mut work)
        }
        _ => nothing,
    }
}

fn staged_knapsack(instance: &Instance, work: &mut Work) -> Answer {
    let values: Vec<i64> = instance.items.iter().map(|i| i.profit).collect();
    let counts: Vec<u32> = instance.items.iter().map(|i| i.demand.unwrap_or(u32::MAX)).collect();
    let found = two_stage_knapsack(instance.sheet(0), &instance.kinds(), &values, &counts, work);
    Answer {
        layouts: vec![(0, found.layout, 1)],
        unit: 1,
        objective: Some(found.value),
        bound: Some(found.bound),
    }
}

fn several_knapsacks(instance: &Instance, work: &mut Work) -> Answer {
    let values: Vec<i64> = instance.items.iter().map(|i| i.profit).collect();
    let counts: Vec<u32> = instance.items.iter().map(|i| i.demand.unwrap_or(u32::MAX)).collect();
    let copies = instance.sheets[0].copies.unwrap_or(1);
    let found = knapsacks(instance.sheet(0), copies, &instance.kinds(), &values, &counts, work);
    let layouts = found.layouts.into_iter().map(|layout| (0, layout, 1)).collect();
    Answer { layouts, unit: 1, objective: Some(found.value), bound: Some(found.bound) }
}

fn cheapest_sheets(instance: &Instance, work: &mut Work) -> Answer {
    let sheets: Vec<Purchasable> = (0..instance.sheets.len())
        .map(|s| Purchasable { sheet: instance.sheet(s), cost: instance.sheets[s].cost })
        .collect();
    let counts: Vec<u32> = instance.items.iter().map(|i| i.demand.unwrap_or(0)).collect();
    let found = cheapest(&sheets, &instance.kinds(), &counts, work);
    let layouts = found.layouts.into_iter().map(|(sheet, layout)| (sheet, layout, 1)).collect();
    Answer { layouts, unit: 1, objective: found.cost, bound: Some(found.bound) }
}

fn one_knapsack(instance: &Instance, work: &mut Work) -> Answer {
    let values: Vec<i64> = instance.items.iter().map(|i| i.profit).collect();
    let unlimited = instance.items.iter().all(|i| i.demand.is_none());
    let counts: Vec<u32> = instance.items.iter().map(|i| i.demand.unwrap_or(u32::MAX)).collect();
    let counts = (!unlimited).then_some(counts.as_slice());
    let found = knapsack(instance.sheet(0), &instance.kinds(), &values, counts, work);
    Answer {
        layouts: vec![(0, found.layout, 1)],
        unit: 1,
        objective: Some(found.value),
        bound: Some(found.bound),
    }
}
